//! What was asked beside the exposure itself.

use crate::bench::figure::Told;
use crate::study::sensitivity::Row;
use crate::study::worth::Worth;

/// Results of further studies; empty where none was asked for.
#[derive(Debug, Clone, Copy, Default)]
pub struct Studies<'a> {
    /// What effects are worth.
    pub worths: &'a [Worth],
    /// What each property moves, largest first; none when not asked for.
    pub sensitivity: Option<&'a [Row]>,
    /// What own tests make of the figures.
    pub anchored: &'a [Told],
}
