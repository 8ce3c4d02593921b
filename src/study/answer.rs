//! The answer of a layup under an exposure: the one place that decides whether quilting is computed.
//!
//! A quilted layup is computed as quilted everywhere, the disc behind a whole cell and skin at places
//! of its own, unless the flat stack is asked for or pressure leaves no loft.

use std::fmt;

use crate::bench::expose::{BenchError, Question, expose_seen};
use crate::bench::lies::Stack;
use crate::bench::outcome::Outcome;
use crate::bench::seen::Seen;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::study::quilt::ask::N_POINTS;
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::lay::check;
use crate::study::quilt::record::record_seen;
use crate::study::quilt::run::Asked;

/// Whether quilting is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quilts {
    /// Through the paths of a cell, in front of one disc and of skin.
    Computed,
    /// It is left out: the flat stack is exposed.
    LeftOut,
}

/// Why a layup has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum AnswerError {
    /// A flat stack could not be computed.
    Bench(BenchError),
    /// A quilting could not.
    Quilt(QuiltError),
}

impl fmt::Display for AnswerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            AnswerError::Bench(error) => write!(f, "{error}"),
            AnswerError::Quilt(error) => write!(f, "{}", error.what()),
        }
    }
}

impl std::error::Error for AnswerError {}

impl From<QuiltError> for AnswerError {
    fn from(error: QuiltError) -> AnswerError {
        AnswerError::Quilt(error)
    }
}

/// The quilting that a layup is computed with; none for one that is flat, for whatever reason.
pub fn quilting(layup: &Layup, quilts: Quilts) -> Option<&Quilting> {
    let own = layup.quilting.as_ref();
    own.filter(|_| quilts == Quilts::Computed && layup.pressure.is_none())
}

/// Refuses a layup whose quilting is to be computed and cannot be.
///
/// Errors: [`QuiltError`].
pub fn admit(layup: &Layup, quilts: Quilts) -> Result<(), QuiltError> {
    quilting(layup, quilts).map_or(Ok(()), |quilting| check(layup, quilting))
}

/// The layup as it is computed: without its quilting where that is not.
pub fn as_computed(layup: &Layup, quilts: Quilts) -> Layup {
    Layup { quilting: quilting(layup, quilts).cloned(), ..layup.clone() }
}

/// How a layup lies in a study whose figures hold no record of their own.
pub fn stack(layup: &Layup, quilts: Quilts) -> Stack<'_> {
    match quilting(layup, quilts) {
        Some(quilting) => Stack::Quilted(quilting),
        None => Stack::flat(layup),
    }
}

/// Exposes a layup as it lies, in front of disc and skin as asked.
///
/// Errors: [`AnswerError`].
pub fn answer(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
    quilts: Quilts,
) -> Result<Outcome, AnswerError> {
    answer_seen(layup, exposure, question, quilts, N_POINTS).map(|(outcome, _)| outcome)
}

/// The same, with what each run did at every node.
///
/// - `n_points`: points over the lofted part of a cell; half as many tell their error
///
/// Errors: [`AnswerError`].
pub fn answer_seen(
    layup: &Layup,
    exposure: &Exposure,
    question: &Question,
    quilts: Quilts,
    n_points: usize,
) -> Result<(Outcome, Vec<Seen>), AnswerError> {
    match quilting(layup, quilts) {
        Some(quilting) => {
            let asked = Asked { layup, quilting, exposure, question, patch: None };
            record_seen(&asked, n_points).map_err(AnswerError::Quilt)
        }
        None => expose_seen(layup, exposure, question).map_err(AnswerError::Bench),
    }
}
