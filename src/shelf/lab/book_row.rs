//! A row of a bench book, as the book that stands has its rows.

use std::io;

use crate::shelf::lab::book::{COLUMNS, VALUES_CAL, VALUES_S};
use crate::shelf::notation::manner::{between, has_commas};

/// A row's cells, one a column of [`COLUMNS`].
pub type Cells = [String; COLUMNS.len()];

/// A book without tests.
pub fn empty() -> String {
    format!(
        "# Tests of our own laboratory, one row each; rows are only ever added.\n\
         # values_s (times) or values_cal_cm2 (TPP): each specimen's value, blanks between.\n{}\n",
        COLUMNS.join(",")
    )
}

/// The book's text with a row at its end, cells in the order of the book's own header.
///
/// Errors: a cell for which the book has no column.
pub fn with_row(old: &str, cells: &Cells) -> io::Result<String> {
    let header = old.lines().find(|line| !line.starts_with('#') && !line.trim().is_empty());
    let between = between(header.unwrap_or_default());
    let header: Vec<&str> = header.unwrap_or_default().split(between).map(str::trim).collect();
    let cell_of = |key: &&str| {
        COLUMNS.iter().position(|column| column == key).map_or("", |j| cells[j].as_str())
    };
    let left_out: Vec<&str> = COLUMNS
        .iter()
        .zip(cells)
        .filter(|(column, cell)| !cell.is_empty() && !header.contains(column))
        .map(|(column, _)| *column)
        .collect();
    if !left_out.is_empty() {
        let said = format!("the book has no column {}", left_out.join(", "));
        return Err(io::Error::new(io::ErrorKind::InvalidInput, said));
    }
    // between semicolons numbers may have commas: a row says what the others say
    let commas = between == ';' && has_commas(old);
    let cell = |key: &&str| match (commas, *key) {
        (true, VALUES_S | VALUES_CAL) => cell_of(key).replace('.', ","),
        _ => cell_of(key).to_owned(),
    };
    let mut writer = csv::WriterBuilder::new().delimiter(between as u8).from_writer(Vec::new());
    writer.write_record(header.iter().map(cell))?;
    let row = writer.into_inner().map_err(|error| error.into_error())?;
    let row = String::from_utf8_lossy(&row);
    let end = if old.ends_with('\n') { "" } else { "\n" };
    Ok(format!("{old}{end}{row}"))
}
