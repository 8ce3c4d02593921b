//! What each effect is worth: the exposure again without it.

use crate::bench::effects::{Effect, Without};
use crate::bench::expose::Question;
use crate::bench::outcome::{Figures, Outcome, When};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::study::answer::{AnswerError, Quilts, answer};

/// The two times that effects are held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Times {
    /// Time to a rise of 24 K; none when the disc was not asked for.
    pub rise24: Option<When>,
    /// Time of the second-degree burn; none when skin was not asked for.
    pub second_degree: Option<When>,
}

impl Times {
    /// The times of an outcome.
    pub fn of(outcome: &Outcome) -> Times {
        let mut times = Times { rise24: None, second_degree: None };
        for run in [&outcome.disc, &outcome.skin].into_iter().flatten() {
            match &run.figures {
                Figures::Disc(disc) => times.rise24 = Some(disc.rise24),
                Figures::Skin(skin) => times.second_degree = Some(skin.second_degree),
            }
        }
        times
    }
}

/// The exposure without some effects.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// What was left out.
    pub left_out: Vec<Effect>,
    /// The times without it.
    pub times: Times,
}

/// Exposes the layup again without each of `effects`, and, if they are several, without all of them.
///
/// Errors: those of the answer.
pub fn worths(
    (layup, quilts): (&Layup, Quilts),
    exposure: &Exposure,
    question: &Question,
    effects: &[Effect],
) -> Result<Vec<Worth>, AnswerError> {
    let mut cases: Vec<Vec<Effect>> = Vec::new();
    for effect in effects {
        if !cases.contains(&vec![*effect]) {
            cases.push(vec![*effect]);
        }
    }
    if cases.len() > 1 {
        cases.push(cases.concat());
    }
    let without = |left_out: Vec<Effect>| {
        let question = Question { without: Without::these(&left_out), ..*question };
        let times = Times::of(&answer(layup, exposure, &question, quilts)?);
        Ok(Worth { left_out, times })
    };
    cases.into_iter().map(without).collect()
}
