//! Tables as workbooks (.xlsx): what stands in a CSV text, numbers as numbers.

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, XlsxError};

/// Letters that a cell of a workbook holds at most.
const LETTERS_MOST: usize = 32_767;

/// A CSV text as a workbook of one sheet; the same text gives the same bytes.
///
/// Errors: what the format does not hold, such as too many rows.
pub fn workbook(csv: &str) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // no moment of writing, so that the same table is the same file
    let created = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&created));
    let bold = Format::new().set_bold();
    let sheet = book.add_worksheet();
    let mut reader =
        ::csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(csv.as_bytes());
    let mut is_header = true;
    for (row, record) in (0u32..).zip(reader.records()) {
        let record = record.map_err(|error| XlsxError::ParameterError(error.to_string()))?;
        let is_comment = record.get(0).is_some_and(|first| first.starts_with('#'));
        if is_comment {
            // a comment is no row: its commas part nothing
            let whole = record.iter().collect::<Vec<_>>().join(",");
            sheet.write_string(row, 0, text(&whole))?;
            continue;
        }
        for (column, cell) in (0u16..).zip(record.iter()) {
            match number(cell) {
                _ if cell.is_empty() => {}
                Some(number) => drop(sheet.write_number(row, column, number)?),
                None if is_header => {
                    sheet.write_string_with_format(row, column, text(cell), &bold)?;
                }
                None => drop(sheet.write_string(row, column, text(cell))?),
            }
        }
        is_header = false;
    }
    book.save_to_buffer()
}

/// A cell's number, where it is written as numbers are: a lot named 007 is none.
fn number(cell: &str) -> Option<f64> {
    let digits = cell.trim_start_matches('-');
    let begins = digits.starts_with(|c: char| c.is_ascii_digit());
    let named = digits.len() > 1 && digits.starts_with('0') && !digits.starts_with("0.");
    let value: f64 = cell.parse().ok()?;
    (begins && !named && value.is_finite()).then_some(value)
}

/// A cell's text: no workbook takes text for a formula, so that the sign which guards it goes.
fn text(cell: &str) -> String {
    let guarded = cell.strip_prefix('\'').filter(|rest| rest.starts_with(['=', '+', '-', '@']));
    guarded.unwrap_or(cell).chars().take(LETTERS_MOST).collect()
}

#[cfg(test)]
mod tests {
    use super::{number, workbook};
    use crate::shelf::file::sizes::ANY_ROWS;
    use crate::shelf::notation::workbook::table;

    #[test]
    fn numbers_are_numbers_and_names_are_names() {
        for (cell, value) in [("195", 195.0), ("-0.5", -0.5), ("1e-3", 1e-3), ("0", 0.0)] {
            assert_eq!(number(cell), Some(value));
        }
        for cell in ["007", "+1", "inf", "1 2", "", "2026-11-26", "L1"] {
            assert_eq!(number(cell), None, "{cell}");
        }
    }

    #[test]
    fn a_table_comes_back_as_it_was() {
        let csv = "# rolls, as delivered\nlot,thickness_mm,note\n007,0.47,\"a, b\"\nB,1,\n";
        let back = table("a.xlsx", workbook(csv).unwrap(), ANY_ROWS).unwrap();
        assert_eq!(back, csv);
    }

    #[test]
    fn the_same_table_is_the_same_file() {
        let table = "lot,thickness_mm\nA,0.47\n'=B,1\n";
        let first = workbook(table).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(2100));
        assert!(first.starts_with(b"PK") && first == workbook(table).unwrap());
    }
}
