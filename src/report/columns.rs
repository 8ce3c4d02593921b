//! Rows of a study as CSV: units in the headers, the notice in the last header.

use crate::NOTICE;
use crate::bench::outcome::{Valued, When};
use crate::report::csv::CurvesError;

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A number.
    Number(f64),
    /// A word.
    Word(String),
    /// Nothing: not reached, or not asked for.
    Blank,
}

impl Cell {
    /// Time and numerical error of an event, both blank if it did not happen [s].
    pub fn when(when: &When) -> [Cell; 2] {
        match when {
            When::At { t, error } => [Cell::Number(*t), Cell::Number(*error)],
            _ => [Cell::Blank, Cell::Blank],
        }
    }

    /// A value and its numerical error, scaled.
    pub fn valued(valued: &Valued, scale: f64) -> [Cell; 2] {
        [Cell::Number(scale * valued.value), Cell::Number(scale * valued.error)]
    }

    /// A number, or nothing.
    pub fn maybe(value: Option<f64>) -> Cell {
        value.map_or(Cell::Blank, Cell::Number)
    }

    /// A word.
    pub fn word(text: &str) -> Cell {
        Cell::Word(text.to_string())
    }
}

/// Headers and rows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Columns {
    /// One name a column, ending in its unit.
    pub headers: Vec<String>,
    /// The rows, as long as the headers.
    pub rows: Vec<Vec<Cell>>,
}

impl Columns {
    /// Columns without rows.
    pub fn new<S: Into<String>>(headers: impl IntoIterator<Item = S>) -> Columns {
        Columns { headers: headers.into_iter().map(Into::into).collect(), rows: Vec::new() }
    }

    /// The rows as CSV text; the first line is the header, its last cell the version and the notice.
    ///
    /// Errors: a number that is not finite, a row of another length.
    pub fn csv(&self) -> Result<String, CurvesError> {
        let mut writer = ::csv::Writer::from_writer(Vec::new());
        let last = format!("stillair {}: {NOTICE}", env!("CARGO_PKG_VERSION"));
        let head = self.headers.iter().map(String::as_str).chain([last.as_str()]);
        writer.write_record(head).map_err(CurvesError::Csv)?;
        for (i, row) in self.rows.iter().enumerate() {
            let mut cells = Vec::with_capacity(row.len() + 1);
            for (cell, header) in row.iter().zip(&self.headers) {
                cells.push(text(cell, header, i)?);
            }
            cells.push(String::new());
            writer.write_record(&cells).map_err(CurvesError::Csv)?;
        }
        let bytes = writer.into_inner().map_err(|_| CurvesError::Text)?;
        String::from_utf8(bytes).map_err(|_| CurvesError::Text)
    }
}

/// A word that no spreadsheet takes for a formula: one that begins as a formula does has an
/// apostrophe before it, which a spreadsheet leaves out of sight.
///
/// Source: common practice, no source.
fn guarded(word: &str) -> String {
    let is_formula = word.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if is_formula && word.parse::<f64>().is_err() { format!("'{word}") } else { word.to_string() }
}

/// Seven digits, as in the curves.
fn text(cell: &Cell, header: &str, row: usize) -> Result<String, CurvesError> {
    match cell {
        Cell::Blank => Ok(String::new()),
        Cell::Word(word) => Ok(guarded(word)),
        Cell::Number(value) if value.is_finite() => {
            let rounded: f64 = format!("{value:.6e}").parse().map_err(|_| CurvesError::Text)?;
            Ok(rounded.to_string())
        }
        Cell::Number(_) => Err(CurvesError::NotFinite { header: header.to_string(), row }),
    }
}

#[cfg(test)]
mod tests {
    use super::{Cell, Columns};

    #[test]
    fn no_word_begins_as_a_formula_does() {
        let mut columns = Columns::new(["layup"]);
        let words = ["=1+1", "+cmd", "-2+3", "@sum", "-7.5", "−8.1", "plain = word"];
        columns.rows.extend(words.map(|word| vec![Cell::word(word)]));
        let csv = columns.csv().unwrap();
        let cells: Vec<&str> = csv.lines().skip(1).map(|line| line.trim_end_matches(',')).collect();
        assert_eq!(cells, ["'=1+1", "'+cmd", "'-2+3", "'@sum", "-7.5", "−8.1", "plain = word"]);
    }

    #[test]
    fn blanks_stay_blank_and_no_number_is_refused() {
        let mut columns = Columns::new(["a_s", "b"]);
        columns.rows.push(vec![Cell::Number(0.1 + 0.2), Cell::Blank]);
        let csv = columns.csv().unwrap();
        assert!(csv.lines().nth(1).unwrap().starts_with("0.3,,"), "{csv}");
        columns.rows.push(vec![Cell::Number(f64::NAN), Cell::word("x")]);
        assert!(columns.csv().is_err());
    }
}
