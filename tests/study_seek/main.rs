//! The search for the lightest layups: against brute force, hand sums, kills and splits.

mod bad;
mod brute;
mod dominance;
mod fixtures;
#[path = "../shared/messages.rs"]
mod messages;
mod odds;
mod parts;
mod program;
mod quilted;
mod resume;
#[path = "../shared/program.rs"]
mod run;
mod space;
mod tighten;
