//! The program as its users meet it, and as those do who mean it no good.

#[path = "shared/flat.rs"]
mod flat;
#[path = "shared/messages.rs"]
mod messages;
#[path = "shared/program.rs"]
mod program;

mod command;
mod desk;
mod golden;
mod harden;
