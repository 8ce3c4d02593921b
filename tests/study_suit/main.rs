//! Suits and reports: masses against hand sums, savings against brute force, pages against a parser.

mod bad;
mod body;
mod body_odds;
mod body_program;
mod demo;
mod mass;
#[path = "../shared/messages.rs"]
mod messages;
mod on_body;
mod page;
mod program;
mod quilted;
#[path = "../shared/program.rs"]
mod run;
mod saving;
