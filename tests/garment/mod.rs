//! What the readers of the shelf and of layups promise: one module a claim.

mod bad;
mod boundary;
mod charring;
mod clash;
mod good;
mod layups;
mod office;
mod plain;
mod press;
mod sheets;
mod shelf;
