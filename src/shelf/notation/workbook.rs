//! Workbooks (.xlsx) as tables: the rows of the one sheet that is seen, as lines of CSV.
//!
//! Line 7 of the text is row 7 of the sheet, so that a fault of the table is found in the workbook. What a
//! table cannot hold is refused: merged cells, errors, formulas that were never computed, several sheets.

use std::collections::BTreeMap;
use std::io::{self, Cursor, Read};

use calamine::{DataRef, ExcelDateTime, Reader, SheetType, SheetVisible, Xlsx, XlsxError};

use crate::shelf::fault::{Fault, Faults, Place};
use crate::shelf::file::plain;
use crate::shelf::file::sizes::Format;
use crate::shelf::file::told;
use crate::shelf::wording::plural;

/// Bytes of all that a workbook unfolds to.
const UNFOLDED_MOST: u64 = 100_000_000;
/// Parts of a workbook: sheets, styles and the like.
const PARTS_MOST: usize = 1_000;
/// Rows for comments and blanks, beyond those that a format may have.
const FURTHER_ROWS: usize = 1_000;
/// No table of ours has more columns.
const COLUMNS_MOST: u32 = 1_000;

type Book = Xlsx<Cursor<Vec<u8>>>;

/// Cells of a row by their column, from 0; rows by their number, from 0.
type Rows = BTreeMap<u32, BTreeMap<u32, String>>;

/// Whether those bytes are a workbook's, told by how it begins.
pub(crate) fn is_workbook(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04")
}

/// The table of a workbook as CSV text; `shown` is the file as the user named it.
///
/// Errors: what is no workbook, or holds what a table does not.
pub(crate) fn table(shown: &str, bytes: Vec<u8>, format: Format) -> Result<String, Faults> {
    let of = Of { shown, format };
    of.unfolds(&bytes)?;
    let mut book: Book = Xlsx::new(Cursor::new(bytes)).map_err(|error| of.unread(&error))?;
    let sheets = book.sheets_metadata().to_vec();
    let mut found: Vec<(String, Rows)> = Vec::new();
    for sheet in sheets.iter().filter(|sheet| sheet.typ == SheetType::WorkSheet) {
        let name = plain::shown(&sheet.name);
        if sheet.visible != SheetVisible::Visible {
            told::tell(format!("{shown}: the hidden sheet `{name}` is not read"));
            continue;
        }
        let rows = of.rows(&mut book, &sheet.name)?;
        if !rows.is_empty() {
            found.push((sheet.name.clone(), rows));
        }
    }
    let [(name, rows)] = found.as_slice() else {
        return Err(of.sheets(&found).into());
    };
    let merged = book.worksheet_merge_cells(name).unwrap_or(Ok(Vec::new()));
    if let Some(merged) = merged.map_err(|error| of.unread(&error))?.first() {
        let (from, to) = (cell_name(merged.start), cell_name(merged.end));
        let what = format!("the cells {from} to {to} are merged into one");
        let mend = "unmerge them, and fill in each cell";
        return Err(of.at(merged.start, what, "one value in each cell of a table", mend).into());
    }
    of.formulas(&mut book, name, rows)?;
    Ok(lines(rows))
}

/// A workbook's name and bounds.
struct Of<'a> {
    shown: &'a str,
    format: Format,
}

impl Of<'_> {
    /// A fault at a cell.
    fn at(&self, (row, column): (u32, u32), what: String, expected: &str, mend: &str) -> Fault {
        let place = Place {
            line: row as usize + 1,
            column: column as usize + 1,
            label: format!("cell {}", cell_name((row, column))),
            ..Place::file(self.shown)
        };
        Fault::new(what, place, expected, mend)
    }

    fn whole(&self, what: String, expected: &str, mend: &str) -> Fault {
        Fault::new(what, Place::file(self.shown), expected, mend)
    }

    fn unread(&self, error: &XlsxError) -> Faults {
        let said = plain::shown(&error.to_string().to_lowercase());
        let what = format!("`{}` is no workbook that can be read: {said}", self.shown);
        self.whole(what, "a workbook (.xlsx) or a CSV file", "save it again as .xlsx or .csv")
            .into()
    }

    /// Unfolds every part once, without keeping it: what is small on the disk may be without end.
    fn unfolds(&self, bytes: &[u8]) -> Result<(), Faults> {
        let broken = |error: &dyn std::fmt::Display| {
            let said = plain::shown(&error.to_string().to_lowercase());
            let what = format!("`{}` is no workbook that can be read: {said}", self.shown);
            let mend = "save it again as .xlsx or .csv";
            self.whole(what, "a workbook (.xlsx) or a CSV file", mend)
        };
        let mut parts = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|e| broken(&e))?;
        let mut left = UNFOLDED_MOST;
        let too_large = || {
            let what = format!("the workbook `{}` unfolds to more than it may", self.shown);
            let most = UNFOLDED_MOST / 1_000_000;
            let expected = format!("at most {PARTS_MOST} parts, and {most} MB in all");
            self.whole(what, &expected, "save the sheet that is meant in a workbook of its own")
        };
        if parts.len() > PARTS_MOST {
            return Err(too_large().into());
        }
        for i in 0..parts.len() {
            let part = parts.by_index(i).map_err(|e| broken(&e))?;
            let n = io::copy(&mut part.take(left + 1), &mut io::sink()).map_err(|e| broken(&e))?;
            left = left.checked_sub(n).ok_or_else(too_large)?;
        }
        Ok(())
    }

    /// All filled cells of a sheet.
    fn rows(&self, book: &mut Book, name: &str) -> Result<Rows, Faults> {
        let mut rows = Rows::new();
        let mut cells = book.worksheet_cells_reader(name).map_err(|error| self.unread(&error))?;
        while let Some(cell) = cells.next_cell().map_err(|error| self.unread(&error))? {
            let (row, column) = cell.get_position();
            let Some(word) = self.word((row, column), cell.get_value())? else { continue };
            if row as usize > self.format.rows_most.saturating_add(FURTHER_ROWS) {
                let most = plural(self.format.rows_most, "row");
                let what = format!("the sheet has more than {most}");
                let mend = "look whether it is the file that was meant, or split it";
                return Err(self.at((row, column), what, &format!("at most {most}"), mend).into());
            }
            if column >= COLUMNS_MOST {
                let what = format!("the sheet has more than {COLUMNS_MOST} columns");
                let mend = "remove what stands to the right of the table";
                let expected = format!("at most {COLUMNS_MOST} columns");
                return Err(self.at((row, column), what, &expected, mend).into());
            }
            rows.entry(row).or_default().insert(column, word);
        }
        Ok(rows)
    }

    /// A cell as a word; none for an empty one.
    fn word(&self, at: (u32, u32), value: &DataRef<'_>) -> Result<Option<String>, Faults> {
        let word = match value {
            DataRef::Empty => return Ok(None),
            DataRef::Int(number) => number.to_string(),
            DataRef::Float(number) => number.to_string(),
            DataRef::String(word) => one_line(word),
            DataRef::SharedString(word) => one_line(word),
            DataRef::Bool(yes) => yes.to_string(),
            DataRef::DateTime(moment) => day(moment),
            DataRef::DateTimeIso(word) | DataRef::DurationIso(word) => one_line(word),
            DataRef::Error(error) => {
                let what = format!("the cell shows the error {error}");
                let mend = "correct its formula, or type the value";
                return Err(self.at(at, what, "a value in each cell", mend).into());
            }
        };
        Ok(Some(word).filter(|word| !word.trim().is_empty()))
    }

    /// Says that formulas were read by their values, and which has none.
    fn formulas(&self, book: &mut Book, name: &str, rows: &Rows) -> Result<(), Faults> {
        let mut cells = book.worksheet_cells_reader(name).map_err(|error| self.unread(&error))?;
        let (mut n, mut first) = (0, None);
        while let Some(cell) = cells.next_formula().map_err(|error| self.unread(&error))? {
            if cell.get_value().is_empty() {
                continue;
            }
            let at = cell.get_position();
            if rows.get(&at.0).is_none_or(|row| !row.contains_key(&at.1)) {
                let what = "the cell holds a formula that was never computed".to_owned();
                let mend = "open the workbook in a spreadsheet and save it, or type the value";
                return Err(self.at(at, what, "a value in each cell", mend).into());
            }
            n += 1;
            first = first.or(Some(at));
        }
        if let Some(first) = first {
            let which = cell_name(first);
            let of = plural(n, "formula");
            told::tell(format!(
                "{}: {of}, the first in {which}, read by the value as last saved",
                self.shown
            ));
        }
        Ok(())
    }

    /// There is not one sheet that is seen.
    fn sheets(&self, found: &[(String, Rows)]) -> Fault {
        let names: Vec<String> =
            found.iter().map(|(name, _)| format!("`{}`", plain::shown(name))).collect();
        let what = match names.is_empty() {
            true => "no sheet of the workbook that is seen holds anything".to_owned(),
            false => format!("the workbook has several sheets: {}", names.join(", ")),
        };
        let mend = "save the sheet that is meant in a workbook of its own, or hide the others";
        self.whole(what, "one sheet with a table", mend)
    }
}

/// A word without the line breaks that a cell may hold.
fn one_line(word: &str) -> String {
    word.split(['\n', '\r'])
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// A date as year-month-day, with the time of the day if it has one.
fn day(moment: &ExcelDateTime) -> String {
    let (year, month, day, hour, minute, second, _) = moment.to_ymd_hms_milli();
    match (hour, minute, second) {
        (0, 0, 0) => format!("{year:04}-{month:02}-{day:02}"),
        _ => format!("{year:04}-{month:02}-{day:02} {hour:02}:{minute:02}:{second:02}"),
    }
}

/// A cell's name as spreadsheets have it, such as "C5".
fn cell_name((row, column): (u32, u32)) -> String {
    let mut letters = Vec::new();
    let mut n = column + 1;
    while n > 0 {
        letters.push(char::from(b'A' + ((n - 1) % 26) as u8));
        n = (n - 1) / 26;
    }
    letters.reverse();
    format!("{}{}", letters.into_iter().collect::<String>(), row + 1)
}

/// The rows as lines of CSV, those without a cell blank; each at least as long as the header.
fn lines(rows: &Rows) -> String {
    let is_comment = |row: &BTreeMap<u32, String>| {
        row.values().next().is_some_and(|first| first.starts_with('#'))
    };
    let last = |row: &BTreeMap<u32, String>| row.keys().next_back().map_or(0, |last| last + 1);
    let n_columns = rows.values().find(|row| !is_comment(row)).map_or(0, last);
    let n_rows = rows.keys().next_back().map_or(0, |last| last + 1);
    let mut text = String::new();
    for i in 0..n_rows {
        if let Some(row) = rows.get(&i) {
            if is_comment(row) {
                text.push_str(&row.values().cloned().collect::<Vec<_>>().join(" "));
            } else {
                let cell = |j: u32| row.get(&j).map_or(String::new(), |word| in_quotes(word));
                let cells: Vec<String> = (0..n_columns.max(last(row))).map(cell).collect();
                text.push_str(&cells.join(","));
            }
        }
        text.push('\n');
    }
    text
}

fn in_quotes(word: &str) -> String {
    match word.contains([',', '"', ';', '\t']) {
        true => format!("\"{}\"", word.replace('"', "\"\"")),
        false => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::cell_name;

    #[test]
    fn cells_have_the_names_of_spreadsheets() {
        for (at, name) in
            [((0, 0), "A1"), ((4, 2), "C5"), ((9, 25), "Z10"), ((0, 26), "AA1"), ((1, 702), "AAA2")]
        {
            assert_eq!(cell_name(at), name);
        }
    }
}
