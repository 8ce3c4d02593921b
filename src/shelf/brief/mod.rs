//! Briefs.

pub(crate) mod gap;
pub(crate) mod quilting;
pub mod read;
