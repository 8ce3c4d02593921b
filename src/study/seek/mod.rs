//! The lightest or thinnest layups that keep a margin: all combinations of a brief.
//!
//! How it searches: combinations have numbers, mass and thickness of each are known before it is
//! exposed, and one beyond a limit is left out there. Every other one is exposed. None is skipped
//! for being heavier than one that keeps the margin already: it may protect more, and then it
//! stands on the frontier.

pub mod checkpoint;
pub mod digest;
pub mod finding;
pub mod part;
pub mod score;
pub mod search;
pub mod space;
pub mod summary;
pub mod tighten;

mod frame;
