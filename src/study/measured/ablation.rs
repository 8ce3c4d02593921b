//! What water that moves and fibres that char are worth where something was measured: each case
//! predicted once more with one effect left out.

use rayon::prelude::*;

use crate::bench::effects::{Effect, Without};
use crate::garment::layup::Layup;
use crate::garment::shelf::Shelf;
use crate::study::measured::ask::{DiscTimes, disc_without};
use crate::study::measured::felts::{Felt, Test, middle};
use crate::study::measured::spread::EXPOSURES;
use crate::study::measured::suit;

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

/// Figures of the felts and the suit, in the middle of what their sources leave open.
pub fn ablations(shelf: &Shelf, felts: &[Felt]) -> Vec<Ablation> {
    let mut cases: Vec<(String, Layup, Test, (f64, f64))> = Vec::new();
    for test in Test::ALL {
        for felt in felts {
            if let Some(layup) = middle(shelf, &felt.row) {
                let name = felt.row.text("specimen").to_owned();
                cases.push((name, layup, test, test.printed(&felt.row)));
            }
        }
        if let (Some(layup), Some(printed)) = (suit::middle(shelf), suit::printed()) {
            let first = if test == Test::Flame { 0 } else { 2 };
            let printed =
                [0, 1].map(|i| printed.printed[first + i]).map(|(low, high)| 0.5 * (low + high));
            cases.push(("suit".to_owned(), layup, test, printed.into()));
        }
    }
    cases.par_iter().flat_map_iter(|case| of_case(shelf, case)).collect()
}

fn of_case(
    shelf: &Shelf,
    (specimen, layup, test, (t24, between)): &(String, Layup, Test, (f64, f64)),
) -> Vec<Ablation> {
    let Ok(exposure) = shelf.exposure(EXPOSURES[usize::from(*test == Test::Radiant)]) else {
        return Vec::new();
    };
    let times =
        |left_out: &[Effect]| disc_without(shelf, layup, exposure, Without::these(left_out));
    let all = times(&[]);
    let without = LEFT_OUT.map(|effect| times(&[effect]));
    let of = test.letters();
    type Read = fn(&DiscTimes) -> f64;
    let figures: [(String, f64, Read); 4] = [
        (format!("{of}12"), t24 - between, |t| t.rise12),
        (format!("{of}24"), *t24, |t| t.rise24),
        (format!("{of}24 − {of}12"), *between, |t| t.between),
        (format!("{of} dead time"), t24 - 2.0 * between, |t| t.rise12 - t.between),
    ];
    let told = |(figure, measured, read): (String, f64, Read)| Ablation {
        specimen: specimen.clone(),
        figure,
        measured,
        predicted: read(&all),
        without: [0, 1, 2].map(|i| read(&without[i])),
    };
    figures.into_iter().map(told).collect()
}
