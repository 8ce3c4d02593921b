//! What the model claims, floor by floor, against sources outside the project.

#[path = "shared/close.rs"]
mod close;
#[path = "shared/messages.rs"]
mod messages;
#[path = "shared/reference.rs"]
mod reference;

mod bench;
mod garment;
mod physics;
mod solver;
