//! What water that moves and fibres that char are worth where something was measured: each case
//! predicted once more with one effect left out.

use rayon::prelude::*;

use crate::bench::effects::{Effect, Without};
use crate::evidence::measured::ask::{Predicted, disc_without};
use crate::evidence::measured::felts::{Felt, Test, middle};
use crate::evidence::measured::spread::Spread;
use crate::evidence::measured::suit;
use crate::garment::layup::Layup;
use crate::shelf::materials::Shelf;

/// The effects left out, one at a time.
pub const LEFT_OUT: [Effect; 3] = [Effect::MovingVapour, Effect::Charring, Effect::Blowing];

/// A figure of a measured case, predicted with every effect and without each of [`LEFT_OUT`]; NaN
/// where a time was not reached [s].
#[derive(Debug, Clone, PartialEq)]
pub struct Ablation {
    /// The specimen.
    pub specimen: String,
    /// The figure.
    pub figure: String,
    /// As printed; the dead time follows from both times printed.
    pub measured: f64,
    /// With every effect.
    pub predicted: f64,
    /// Without each.
    pub without: [f64; LEFT_OUT.len()],
}

/// A specimen in one of the tests, and what is predicted of it with every effect.
struct Tested<'a> {
    specimen: &'a str,
    layup: Layup,
    test: Test,
    /// Printed time to 24 K and printed difference [s].
    printed: (f64, f64),
    predicted: &'a Predicted,
}

/// Figures of the felts and the suit, in the middle of what their sources leave open.
pub fn ablations(shelf: &Shelf, felts: &[Felt], suit: Option<&Spread>) -> Vec<Ablation> {
    let mut cases: Vec<Tested> = Vec::new();
    for test in Test::ALL {
        for felt in felts {
            if let Some(layup) = middle(shelf, &felt.row) {
                let (specimen, printed) = (felt.row.text("specimen"), test.printed(&felt.row));
                let predicted = test.times(&felt.spread.middle);
                cases.push(Tested { specimen, layup, test, printed, predicted });
            }
        }
        if let (Some(layup), Some(times), Some(spread)) =
            (suit::middle(shelf), suit::printed(), suit)
        {
            let first = if test == Test::Flame { 0 } else { 2 };
            let middle = |(low, high): (f64, f64)| 0.5 * (low + high);
            let printed = (middle(times.printed[first]), middle(times.printed[first + 1]));
            let predicted = test.times(&spread.middle);
            cases.push(Tested { specimen: "suit", layup, test, printed, predicted });
        }
    }
    cases.par_iter().flat_map_iter(|case| of_case(shelf, case)).collect()
}

fn of_case(shelf: &Shelf, case: &Tested) -> Vec<Ablation> {
    let Tested { layup, test, printed: (t24, between), .. } = case;
    let Ok(exposure) = shelf.exposure(test.exposure()) else { return Vec::new() };
    let without =
        LEFT_OUT.map(|effect| disc_without(shelf, layup, exposure, Without::these(&[effect])));
    let of = test.letters();
    type Read = fn(&Predicted) -> f64;
    let figures: [(String, f64, Read); 4] = [
        (format!("{of}12"), t24 - between, |t| t.rise12),
        (format!("{of}24"), *t24, |t| t.rise24),
        (format!("{of}24 − {of}12"), *between, |t| t.between),
        (format!("{of} dead time"), t24 - 2.0 * between, Predicted::dead),
    ];
    let told = |(figure, measured, read): (String, f64, Read)| Ablation {
        specimen: case.specimen.to_owned(),
        figure,
        measured,
        predicted: read(case.predicted),
        without: without.each_ref().map(read),
    };
    figures.into_iter().map(told).collect()
}
