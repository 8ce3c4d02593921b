//! Predictions beside measurements as CSV.

use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::verification::json::basis;
use crate::study::measured::Measured;

/// One row a comparison, then what is derived of the same measurements; an end that a range does not
/// have is blank.
///
/// Errors: a value that is not a number.
pub fn comparisons_csv(measured: &Measured) -> Result<String, CurvesError> {
    let mut columns = Columns::new([
        "case",
        "class",
        "exposure",
        "layers",
        "figure",
        "basis",
        "counted",
        "unit",
        "measured_low",
        "measured_high",
        "predicted",
        "predicted_low",
        "predicted_high",
        "difference_pct",
        "ratio",
        "known_by",
        "source",
    ]);
    // what is not reached is blank, and so is what failed, which the summary tells
    let end = |value: f64| Cell::maybe(Some(value).filter(|value| value.is_finite()));
    let counted = measured.comparisons.iter().map(|one| (one, "yes"));
    let derived = measured.derived.iter().map(|one| (one, "no: derived"));
    for (one, counts) in counted.chain(derived) {
        columns.rows.push(vec![
            Cell::word(&one.name),
            Cell::word(one.class.word()),
            Cell::word(one.kind.word()),
            Cell::word(one.subject.word()),
            Cell::word(&one.figure),
            Cell::word(basis(one.basis)),
            Cell::word(counts),
            Cell::word(&one.unit),
            end(one.measured.0),
            end(one.measured.1),
            end(one.predicted),
            end(one.range.0),
            end(one.range.1),
            end(100.0 * one.difference()),
            end(one.ratio()),
            Cell::word(&one.provenance),
            Cell::word(&one.source),
        ]);
    }
    columns.csv()
}
