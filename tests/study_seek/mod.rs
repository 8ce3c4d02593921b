//! The search for the lightest layups: against brute force, hand sums, kills and splits.

mod bad;
mod brute;
mod dominance;
mod fixtures;
mod odds;
mod parts;
mod program;
mod quilted;
mod resume;
mod space;
mod tighten;
