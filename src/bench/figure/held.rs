//! An outcome held against a target.

use crate::bench::figure::call::{Under, Verdict, hold};
use crate::bench::figure::read::of_outcome;
use crate::bench::outcome::Outcome;
use crate::garment::band::Bands;
use crate::garment::exposure::Exposure;
use crate::garment::target::Target;

/// Holds an outcome against a target.
///
/// - `as_given`: the exposure before its duration was changed for this run
pub fn hold_outcome(
    outcome: &Outcome,
    target: &Target,
    as_given: &Exposure,
    bands: &Bands,
) -> Verdict {
    let (layup, exposure) = (&outcome.computed(), &outcome.exposure);
    hold(of_outcome(outcome, target.figure), target, &Under { layup, exposure, as_given, bands })
}
