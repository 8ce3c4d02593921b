//! Curves as CSV: one row a time, units in the headers, the notice in the last header.
//!
//! The first line is the header and nothing stands before it, so that spreadsheets
//! and libraries read the file without being told. The notice and the version are the
//! header of a last, empty column: they travel with the file and disturb no number.

use std::fmt;

use crate::NOTICE;
use crate::bench::outcome::{Column, ColumnKind, Curves, Outcome};
use crate::physics::units::{KILOWATTS_PER_AREA, celsius};
use crate::shelf::notation::table::rounded;

/// The curves of all runs of an outcome as CSV text.
///
/// Columns: `behind` (disc or skin, and where skin stands behind a quilted layup, whose disc has the
/// means over a cell), `time_s`, then every column of either run; a cell
/// is empty where the run has no such column.
/// Errors: a value that is not a finite number, or columns of unequal length.
pub fn curves_csv(outcome: &Outcome) -> Result<String, CurvesError> {
    let all = outcome.runs();
    let runs: Vec<(String, &Curves)> =
        all.iter().map(|one| (one.label(), &one.run.curves)).collect();
    let mut headers: Vec<&str> = Vec::new();
    for column in runs.iter().flat_map(|(_, curves)| &curves.columns) {
        if !headers.contains(&column.header.as_str()) {
            headers.push(&column.header);
        }
    }
    let mut rows = Vec::new();
    for (behind, curves) in &runs {
        for (i, t) in curves.t.iter().enumerate() {
            let mut row = vec![behind.clone(), cell(*t, i, "time_s")?];
            for header in &headers {
                row.push(match curves.columns.iter().find(|c| c.header == *header) {
                    Some(column) => cell(outside(column, i)?, i, header)?,
                    None => String::new(),
                });
            }
            rows.push(row);
        }
    }
    written(["behind", "time_s"].into_iter().chain(headers), rows)
}

/// Headers and rows as CSV text; the version and the notice are the header of a last, empty column.
///
/// - `rows`: each as long as the headers
pub(crate) fn written<S: AsRef<str>>(
    headers: impl IntoIterator<Item = S>,
    rows: Vec<Vec<String>>,
) -> Result<String, CurvesError> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    let mut put = |cells: Vec<&str>| writer.write_record(cells).map_err(CurvesError::Csv);
    let last = format!("stillair {}: {NOTICE}", env!("CARGO_PKG_VERSION"));
    let headers: Vec<S> = headers.into_iter().collect();
    put(headers.iter().map(AsRef::as_ref).chain([last.as_str()]).collect())?;
    for row in &rows {
        put(row.iter().map(String::as_str).chain([""]).collect())?;
    }
    let bytes = writer.into_inner().map_err(|_| CurvesError::Text)?;
    String::from_utf8(bytes).map_err(|_| CurvesError::Text)
}

/// A word that no spreadsheet takes for a formula: one that begins as a formula does has an
/// apostrophe before it, which a spreadsheet leaves out of sight.
///
/// Source: common practice, no source.
pub(crate) fn guarded(word: String) -> String {
    let is_formula = word.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if is_formula && word.parse::<f64>().is_err() { format!("'{word}") } else { word }
}

/// One value in the unit of its header.
pub fn outside(column: &Column, i: usize) -> Result<f64, CurvesError> {
    let missing = || CurvesError::Length { header: column.header.clone() };
    let value = column.values.get(i).copied().ok_or_else(missing)?;
    Ok(match column.kind {
        ColumnKind::Temperature => celsius(value),
        ColumnKind::Flux => KILOWATTS_PER_AREA.outside(value),
        ColumnKind::Rise | ColumnKind::Omega => value,
    })
}

/// Seven digits: more than any error leaves, and no trail of binary noise.
pub(crate) fn cell(value: f64, row: usize, header: &str) -> Result<String, CurvesError> {
    if !value.is_finite() {
        return Err(CurvesError::NotFinite { header: header.to_string(), row });
    }
    Ok(rounded(value).to_string())
}

/// Curves that cannot be written.
#[derive(Debug)]
pub enum CurvesError {
    /// A value is not a finite number.
    NotFinite { header: String, row: usize },
    /// A column is shorter than the times.
    Length { header: String },
    /// The writer's own fault.
    Csv(::csv::Error),
    /// Bytes that are not text.
    Text,
}

impl fmt::Display for CurvesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CurvesError::NotFinite { header, row } => {
                write!(f, "error: the curve `{header}` holds no finite number in row {row}")
            }
            CurvesError::Length { header } => {
                write!(f, "error: the curve `{header}` is shorter than its times")
            }
            CurvesError::Csv(error) => write!(f, "error: the curves cannot be written: {error}"),
            CurvesError::Text => write!(f, "error: the curves cannot be written as text"),
        }
    }
}

impl std::error::Error for CurvesError {}

#[cfg(test)]
mod tests {
    use super::{CurvesError, curves_csv};
    use crate::NOTICE;
    use crate::report::sample;

    #[test]
    fn header_first_units_named_and_both_runs_in_one_file() {
        let text = curves_csv(&sample::outcome()).unwrap();
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        let head = reader.headers().unwrap().clone();
        let expected =
            ["behind", "time_s", "outer_face_C", "flux_to_disc_kW_m2", "flux_to_skin_kW_m2"];
        assert_eq!(head.iter().take(5).collect::<Vec<_>>(), expected);
        assert!(head.get(5).unwrap().ends_with(NOTICE));
        let rows: Vec<Vec<String>> =
            reader.records().map(|row| row.unwrap().iter().map(str::to_string).collect()).collect();
        assert_eq!(rows.len(), 4);
        assert_eq!(rows[1], ["disc", "0.5", "250", "12.5", "", ""]);
        assert_eq!(rows[3], ["skin", "0.5", "250", "", "12.5", ""]);
    }

    #[test]
    fn no_word_begins_as_a_formula_does() {
        let words = ["=1+1", "+cmd", "-2+3", "@sum", "-7.5", "−8.1", "plain = word"];
        let guarded = words.map(|word| super::guarded(word.to_string()));
        assert_eq!(guarded, ["'=1+1", "'+cmd", "'-2+3", "'@sum", "-7.5", "−8.1", "plain = word"]);
    }

    #[test]
    fn refuses_what_is_no_number() {
        let mut outcome = sample::outcome();
        outcome.disc.as_mut().unwrap().curves.columns[0].values[1] = f64::NAN;
        assert!(matches!(curves_csv(&outcome), Err(CurvesError::NotFinite { row: 1, .. })));
        outcome.disc.as_mut().unwrap().curves.columns[0].values.pop();
        assert!(matches!(curves_csv(&outcome), Err(CurvesError::Length { .. })));
    }
}
