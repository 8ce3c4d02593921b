//! Predictions beside measurements as CSV.

use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::study::measured::Measured;

/// One row a comparison; an end that a range does not have is blank.
///
/// Errors: a value that is not a number.
pub fn comparisons_csv(measured: &Measured) -> Result<String, CurvesError> {
    let mut columns = Columns::new([
        "case",
        "class",
        "exposure",
        "unit",
        "measured_low",
        "measured_high",
        "predicted",
        "predicted_low",
        "predicted_high",
        "difference_pct",
        "known_by",
        "source",
    ]);
    let end = |value: f64| Cell::maybe((value != f64::INFINITY).then_some(value));
    for one in &measured.comparisons {
        columns.rows.push(vec![
            Cell::word(&one.name),
            Cell::word(one.class.word()),
            Cell::word(one.kind.word()),
            Cell::word(&one.unit),
            end(one.measured.0),
            end(one.measured.1),
            end(one.predicted),
            end(one.range.0),
            end(one.range.1),
            end(100.0 * one.difference()),
            Cell::word(&one.provenance),
            Cell::word(&one.source),
        ]);
    }
    columns.csv()
}
