//! What the model says of the tests of a bench book.

use rayon::prelude::*;

use crate::bench::figure::{Found, of_outcome};
use crate::bench::outcome::Outcome;
use crate::bench::{Behind, Question};
use crate::garment::band::{Bands, Class, Factors};
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;
use crate::shelf::lab::cases::Tested;
use crate::study::answer::{AnswerError, Quilts, answer};

/// What the model says of a test.
#[derive(Debug, Clone, PartialEq)]
pub struct Predicted {
    /// The figure.
    pub found: Found,
    /// The layup as it was computed, pressed if it stands under pressure.
    pub layup: Layup,
    /// The class of the layup, in words.
    pub class: String,
    /// The shelf's band of that class [–].
    pub factors: Factors,
}

/// Exposes every tested layup as it was tested, each layup and exposure once.
///
/// Returns what is said of each test, in their order. The work is spread over the threads; the
/// result does not depend on their number.
/// Errors: the first, in that order, that could not be computed.
pub fn predict(
    tested: &[Tested<'_>],
    bands: &Bands,
    skin: &Skin,
    error_goal: f64,
) -> Result<Vec<Predicted>, AnswerError> {
    let mut cases: Vec<(&Tested<'_>, Behind)> = Vec::new();
    let mut case_of = Vec::with_capacity(tested.len());
    for one in tested {
        let behind = behind(one.test.figure);
        let same = |(other, at): &(&Tested<'_>, Behind)| {
            *at == behind && other.layup == one.layup && other.exposure == one.exposure
        };
        let known = cases.iter().position(same);
        case_of.push(known.unwrap_or(cases.len()));
        if known.is_none() {
            cases.push((one, behind));
        }
    }
    let exposed = |(one, behind): &(&Tested<'_>, Behind)| {
        let question = Question::plain(*behind, skin, error_goal);
        answer(&one.layup, &one.exposure, &question, Quilts::Computed)
    };
    let outcomes: Vec<Result<Outcome, AnswerError>> = cases.par_iter().map(exposed).collect();
    let outcomes = outcomes.into_iter().collect::<Result<Vec<Outcome>, AnswerError>>()?;
    let said = tested.iter().zip(case_of).map(|(one, case)| Predicted {
        found: of_outcome(&outcomes[case], one.test.figure),
        layup: outcomes[case].computed(),
        class: Class::of(&one.layup).in_words().to_owned(),
        factors: bands.of(&one.layup, one.test.figure, &one.exposure).factors,
    });
    Ok(said.collect())
}

fn behind(figure: Figure) -> Behind {
    if figure == Figure::SecondDegree { Behind::Skin } else { Behind::Disc }
}
