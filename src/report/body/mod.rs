//! A suit on a body: its columns, its sentences, its text.

pub mod beside;
pub mod columns;
pub mod keep;
pub mod odds;
pub mod text;
pub mod words;

use crate::study::body::keep::Kept;
use crate::study::body::odds::BodyOdds;

/// What was asked beside the shares.
#[derive(Debug, Clone, Copy, Default)]
pub struct Beside<'a> {
    /// The odds of a share.
    pub odds: Option<&'a BodyOdds>,
    /// The lightest layups that keep one.
    pub kept: Option<&'a Kept>,
}
