//! Layups side by side under the same exposures.

use rayon::prelude::*;

use crate::bench::expose::{Behind, Question};
use crate::bench::outcome::Outcome;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::study::answer::{AnswerError, Quilts, answer};

/// Exposes every layup to every exposure, in front of disc and skin.
///
/// Returns a list for each exposure, in it an outcome for each layup, both in the order given. The
/// work is spread over the threads; the result does not depend on their number.
/// Errors: the first exposure, in that order, that could not be computed.
pub fn side_by_side(
    layups: &[Layup],
    exposures: &[Exposure],
    (skin, quilts): (&Skin, Quilts),
    error_goal: f64,
) -> Result<Vec<Vec<Outcome>>, AnswerError> {
    let question = Question::plain(Behind::Both, skin, error_goal);
    let pairs: Vec<(&Exposure, &Layup)> = exposures
        .iter()
        .flat_map(|exposure| layups.iter().map(move |layup| (exposure, layup)))
        .collect();
    let answered =
        |(exposure, layup): &(&Exposure, &Layup)| answer(layup, exposure, &question, quilts);
    let done: Vec<Result<Outcome, AnswerError>> = pairs.par_iter().map(answered).collect();
    let mut done = done.into_iter().collect::<Result<Vec<Outcome>, AnswerError>>()?;
    let mut lists = Vec::with_capacity(exposures.len());
    while !done.is_empty() {
        let rest = done.split_off(layups.len().min(done.len()));
        lists.push(std::mem::replace(&mut done, rest));
    }
    Ok(lists)
}
