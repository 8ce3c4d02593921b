//! A layup under pressure, as at straps, knees and the seat: thinner plies, no air between them.

use rayon::prelude::*;

use crate::bench::expose::{Behind, Question, expose};
use crate::bench::outcome::Outcome;
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Layup};
use crate::garment::press::pressed_layup;
use crate::study::answer::{AnswerError, answer};
use crate::study::run::Terms;

/// How the layup stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stand {
    /// With its gaps and its quilting, as the layup says.
    AsItLies,
    /// Its gaps and its loft closed, the plies not pressed.
    Touching,
    /// Its gaps closed and the plies under this pressure [Pa].
    Under(f64),
}

/// The layup in one stand.
#[derive(Debug, Clone, PartialEq)]
pub struct PressedRow {
    /// How it stands.
    pub stand: Stand,
    /// The layup with its plies as thick as they are then.
    pub layup: Layup,
    /// Its outcome.
    pub outcome: Outcome,
}

/// A layup under one pressure after another.
#[derive(Debug, Clone, PartialEq)]
pub struct PressedStudy {
    /// The layup as given.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// As it lies, touching if it has gaps, then the pressures in the order given.
    pub rows: Vec<PressedRow>,
}

/// The layup as it stands, plies pressed.
pub fn standing(layup: &Layup, stand: Stand) -> Layup {
    let pressure = match stand {
        Stand::AsItLies => return pressed_layup(layup),
        Stand::Touching => None,
        Stand::Under(pressure) => Some(Known::new(pressure, Provenance::Invented, "study")),
    };
    let plies = layup.stack.iter().filter(|entry| matches!(entry, Entry::Ply(_)));
    pressed_layup(&Layup { stack: plies.cloned().collect(), pressure, ..layup.clone() })
}

/// Exposes a layup under `pressures` [Pa], each above 0, spread over the threads; the result does
/// not depend on their number.
///
/// Errors: the first stand, in order, that could not be computed.
pub fn expose_pressed(
    layup: &Layup,
    terms: &Terms,
    pressures: &[f64],
) -> Result<PressedStudy, AnswerError> {
    let question = Question::plain(Behind::Both, terms.skin, terms.error_goal);
    let mut stands = vec![Stand::AsItLies];
    let is_apart = layup.gaps().next().is_some() || layup.quilting.is_some();
    stands.extend(is_apart.then_some(Stand::Touching));
    stands.extend(pressures.iter().map(|pressure| Stand::Under(*pressure)));
    let rows: Vec<Result<PressedRow, AnswerError>> = stands
        .par_iter()
        .map(|stand| {
            let stands = standing(layup, *stand);
            let outcome = match stand {
                Stand::AsItLies => answer(&stands, terms.exposure, &question, terms.quilts)?,
                // pressure leaves no loft
                _ => expose(&stands, terms.exposure, &question).map_err(AnswerError::Bench)?,
            };
            Ok(PressedRow { stand: *stand, layup: stands, outcome })
        })
        .collect();
    Ok(PressedStudy {
        layup: layup.clone(),
        exposure: terms.exposure.clone(),
        rows: rows.into_iter().collect::<Result<_, _>>()?,
    })
}
