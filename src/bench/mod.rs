//! A test method run on a layup: what the copper disc reads and what skin suffers.

pub mod outcome;
