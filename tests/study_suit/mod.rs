//! Suits and reports: masses against hand sums, savings against brute force, pages against a parser.

mod bad;
mod body;
mod body_beside;
mod body_error;
mod body_keep;
mod body_odds;
mod body_program;
mod demo;
mod mass;
mod on_body;
mod page;
mod program;
mod quilted;
mod saving;
