//! What the readers of the shelf and of layups promise: one module a claim.

mod bad;
mod boundary;
mod charring;
mod clash;
mod good;
mod layups;
#[path = "../shared/messages.rs"]
mod messages;
mod plain;
mod press;
mod sheets;
mod shelf;
