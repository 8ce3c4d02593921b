//! What the readers of the shelf and of layups promise: one module a claim.

mod bad;
mod clash;
mod good;
mod layups;
mod press;
mod shelf;
