//! Questions put to the program itself: what it computes held against closed forms, standards' tables and
//! libraries ([`verify`]), and against what was measured ([`measured`]); [`verification`] is both of one run.
//!
//! It asks `study` and the floors below, and nothing of theirs asks it: an answer takes what measurements
//! make of it from `materials/bands.csv`, which [`measured::shelf_rows`] writes.

pub mod measured;
pub mod verification;
pub mod verify;
