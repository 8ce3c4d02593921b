//! Each published felt predicted as if the others were a workshop's own tests.

use crate::evidence::measured::felts::{Felt, ROUNDING, Test, comparison, middle};
use crate::evidence::measured::record::Comparison;
use crate::garment::band::Factors;
use crate::garment::target::Figure;
use crate::shelf::materials::Shelf;
use crate::study::book::anchor::{Anchored, Compared, anchor};
use crate::study::book::likeness::{Likeness, key};

const NOTE: &str = "Each felt left out in its turn and anchored to the other felts of the paper, as `--anchored` \
anchors to own tests; range: the anchored band. The shelf's band, which is believed before any test, was taken \
from these same felts, so that the gain is less than that of a workshop whose cloth lies elsewhere in it.";

/// Mean size of the error of the felts, left out one at a time.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Errors {
    /// Of the prediction itself [–].
    unanchored: f64,
    /// Of the prediction times the middle of the shelf's band [–].
    by_band: f64,
    /// Of the anchored prediction [–].
    anchored: f64,
}

/// The felts' times to 24 K, each anchored to the other felts; empty without linear algebra.
pub fn left_out(shelf: &Shelf, felts: &[Felt]) -> Vec<Comparison> {
    Test::ALL.into_iter().flat_map(|test| of_test(shelf, felts, test).unwrap_or_default()).collect()
}

fn of_test(shelf: &Shelf, felts: &[Felt], test: Test) -> Option<Vec<Comparison>> {
    let exposure = shelf.exposure(test.exposure()).ok()?;
    let mut compared: Vec<(Compared, f64)> = Vec::new();
    for (row, felt) in felts.iter().enumerate() {
        let layup = middle(shelf, &felt.row)?;
        let predicted = test.times(&felt.spread.middle).rise24;
        let factors = shelf.bands().of(&layup, Figure::Rise24, exposure).factors;
        let ratios = vec![test.printed(&felt.row).0 / predicted];
        // nominally equal felts of the paper are different cloth: each is a layup of its own
        let key = format!("{} {}", felt.row.text("specimen"), key(&layup));
        let likeness = Likeness::of(&layup);
        compared.push((Compared { row, key, likeness, ratios, factors }, predicted));
    }
    let mut found = Vec::new();
    let mut errors = Errors { unanchored: 0.0, by_band: 0.0, anchored: 0.0 };
    for (i, felt) in felts.iter().enumerate() {
        let (own, predicted) = &compared[i];
        let others: Vec<Compared> =
            compared.iter().filter(|(other, _)| other.row != i).map(|(c, _)| c.clone()).collect();
        let Anchored { factor, factors, .. } =
            anchor(&others, (&own.key, &own.likeness), own.factors)?;
        let measured = test.printed(&felt.row).0;
        let off = |factor: f64| (factor * predicted / measured - 1.0).abs() / felts.len() as f64;
        let Factors { lower, upper } = own.factors;
        errors.unanchored += off(1.0);
        errors.by_band += off((lower * upper).sqrt());
        errors.anchored += off(factor);
        let range = (factors.lower * predicted, factors.upper * predicted);
        let figure = format!("{}24 anchored to the other felts", test.letters());
        let measured = (measured - ROUNDING, measured + ROUNDING);
        let predicted = (factor * predicted, range);
        found.push(comparison(&felt.row, (test.kind(), figure), measured, predicted));
    }
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    let note = format!(
        "{}24 of {} felts, mean size of the error: {} as predicted, {} times the middle of the shelf's band, {} \
         anchored. {NOTE}",
        test.letters(),
        felts.len(),
        percent(errors.unanchored),
        percent(errors.by_band),
        percent(errors.anchored)
    );
    found.iter_mut().for_each(|one| one.note.clone_from(&note));
    Some(found)
}
