//! CSV files: commas, or semicolons with decimal commas; one header row, units below it or not; quotes doubled
//! inside quotes, `#` lines skipped.
//!
//! Stricter than a general reader, so that every cell has its place and a slip of
//! the keyboard is said instead of shifting the cells of a row.

use std::ops::Range;
use std::sync::Arc;

use crate::shelf::fault::{Fault, Faults, enough};
use crate::shelf::file::text::Text;
use crate::shelf::file::told;
use crate::shelf::notation::manner::{self, Piece};
use crate::shelf::notation::record::{Cell, Record, Value};
use crate::shelf::wording::plural;

/// No table has more columns; most have ten.
const COLUMNS_MOST: usize = 200;

/// A CSV file taken apart.
pub(crate) struct Sheet {
    /// The header's cells; only their keys and places count.
    pub header: Record,
    /// The rows whose number of cells is right.
    pub records: Vec<Record>,
}

/// Takes a CSV file apart; none when nothing of it can be used.
pub(crate) fn parse(text: &Arc<Text>, faults: &mut Vec<Fault>) -> Option<Sheet> {
    if !text.ours {
        faults.push(text.foreign());
        return None;
    }
    let mut rows: Vec<(Range<usize>, Option<Vec<Piece>>)> = Vec::new();
    let mut start = 0;
    let mut between = ',';
    for line in text.body.split('\n') {
        let span = start..start + line.len();
        start = span.end + 1;
        if line.trim().is_empty() || line.starts_with('#') {
            continue;
        }
        if enough(faults) {
            return None;
        }
        if rows.len() > text.rows_most {
            let what = format!("the file has more than {}", plural(text.rows_most, "row"));
            let expected = format!("at most {} below the header", plural(text.rows_most, "row"));
            let mend = "look whether it is the file that was meant, or split it";
            faults.push(Fault::new(what, text.place(span, ""), expected, mend));
            return None;
        }
        if rows.is_empty() {
            between = manner::between(line);
        }
        match split_line(line, span.start, between) {
            Ok(pieces) => rows.push((span, Some(pieces))),
            Err(fault) => {
                faults.push(fault.at(text));
                rows.push((span, None));
            }
        }
    }
    if between == ';' {
        points_for_commas(text, &mut rows).map_err(|found| faults.extend(found.0)).ok()?;
    }
    let mut rows = rows.into_iter().peekable();
    let Some((head_span, head)) = rows.next() else {
        let mend = "write a header row, then one row for each entry";
        faults.push(Fault::new("the file is empty", text.place(0..0, ""), "a header row", mend));
        return None;
    };
    let mut header = header(text, head_span, head?, faults)?;
    if let Some((_, Some(row))) = rows.peek() {
        if let Some(units) = manner::units(&header, row) {
            manner::with_units(&mut header, row, units, faults);
            told::tell(format!("{}: the row below the header holds units", text.path));
            rows.next();
        }
    }
    let keys: Vec<Cell> = header.cells.clone();
    let mut records = Vec::new();
    for (span, pieces) in rows {
        if enough(faults) {
            break;
        }
        let Some(pieces) = pieces else { continue };
        if pieces.iter().all(|(word, _)| word.is_empty()) {
            continue;
        }
        if pieces.len() == keys.len() {
            records.push(record(text, span, &keys, pieces));
        } else {
            faults.push(wrong_length(text, span, &keys, &pieces));
        }
    }
    Some(Sheet { header, records })
}

/// Decimal points in all numbers of a table with semicolons between its cells.
fn points_for_commas(
    text: &Arc<Text>,
    rows: &mut [(Range<usize>, Option<Vec<Piece>>)],
) -> Result<(), Faults> {
    let cells = rows.iter().filter_map(|(_, pieces)| pieces.as_ref()).flatten();
    let mark = manner::decimal_mark(cells, text)?;
    if mark == Some(',') {
        let cells = rows.iter_mut().filter_map(|(_, pieces)| pieces.as_mut()).flatten();
        cells.for_each(|(word, _)| manner::with_points(word));
    }
    let commas = if mark == Some(',') { ", and commas in numbers are decimal" } else { "" };
    told::tell(format!("{}: semicolons stand between cells{commas}", text.path));
    Ok(())
}

fn header(
    text: &Arc<Text>,
    span: Range<usize>,
    pieces: Vec<Piece>,
    faults: &mut Vec<Fault>,
) -> Option<Record> {
    if pieces.len() == 1 && pieces[0].0.contains('\t') {
        let at = span.start + text.body[span.clone()].find('\t').unwrap_or(0);
        let what = "the columns are separated by tabs";
        let mend = "export the sheet again with the comma as separator and the point as \
                    decimal mark";
        faults.push(Fault::new(what, text.place(at..at + 1, ""), "commas", mend));
        return None;
    }
    if pieces.len() > COLUMNS_MOST {
        let what = format!("the header has {}", plural(pieces.len(), "column"));
        let expected = format!("at most {}", plural(COLUMNS_MOST, "column"));
        let mend = "remove the columns that are not needed";
        faults.push(Fault::new(
            what,
            text.place(pieces[COLUMNS_MOST].1.clone(), ""),
            expected,
            mend,
        ));
        return None;
    }
    let mut cells: Vec<Cell> = Vec::new();
    for (word, span) in pieces {
        let cell = Cell {
            value: Value::Word(word.clone()),
            key: word,
            text: text.clone(),
            key_span: span.clone(),
            span,
        };
        if let Some(first) = cells.iter().find(|other| other.key == cell.key) {
            let what = format!("column `{}` is there twice", cell.key);
            let fault = Fault::new(what, first.key_place(), "each column once", "remove one");
            faults.push(fault.and_at(cell.key_place()));
        }
        cells.push(cell);
    }
    Some(Record { cells, text: text.clone(), span })
}

fn record(text: &Arc<Text>, span: Range<usize>, keys: &[Cell], pieces: Vec<Piece>) -> Record {
    let cells = keys.iter().zip(pieces).map(|(key, (word, span))| Cell {
        key: key.key.clone(),
        value: if word.is_empty() { Value::Blank } else { Value::Word(word) },
        text: text.clone(),
        key_span: key.key_span.clone(),
        span,
    });
    Record { cells: cells.collect(), text: text.clone(), span: span.start..span.start }
}

fn wrong_length(text: &Text, span: Range<usize>, keys: &[Cell], pieces: &[Piece]) -> Fault {
    let what = format!("the row has {}, the header {}", plural(pieces.len(), "cell"), keys.len());
    let expected = format!("{}, as in the header", plural(keys.len(), "cell"));
    if pieces.len() < keys.len() {
        let mend = format!(
            "add the missing commas; the first column without a cell is {}",
            keys[pieces.len()].key
        );
        return Fault::new(what, text.place(span.end..span.end, ""), expected, mend);
    }
    let mend = "remove the extra comma; text that holds a comma stands in double quotes, and the \
                decimal mark is a point";
    Fault::new(what, text.place(pieces[keys.len()].1.clone(), ""), expected, mend)
}

/// What is wrong with the quotes of a line.
struct QuoteSlip {
    span: Range<usize>,
    what: &'static str,
    mend: &'static str,
}

impl QuoteSlip {
    fn at(self, text: &Text) -> Fault {
        let expected = "a cell either without quotes or between two, inner ones doubled";
        Fault::new(self.what, text.place(self.span, ""), expected, self.mend)
    }
}

/// The cells of one line; places count from `offset`.
fn split_line(line: &str, offset: usize, between: char) -> Result<Vec<Piece>, QuoteSlip> {
    let mut pieces = Vec::new();
    let mut at = 0;
    loop {
        let blanks = line[at..].len() - line[at..].trim_start_matches(' ').len();
        let (word, span, next) = if line[at + blanks..].starts_with('"') {
            quoted(line, at + blanks, offset, between)?
        } else {
            plain(line, at, offset, between)?
        };
        pieces.push((word, offset + span.start..offset + span.end));
        if next == line.len() {
            return Ok(pieces);
        }
        at = next + 1;
    }
}

/// A cell without quotes: its text, its span in the line and where the next cell or the end is.
fn plain(
    line: &str,
    at: usize,
    offset: usize,
    between: char,
) -> Result<(String, Range<usize>, usize), QuoteSlip> {
    let end = line[at..].find(between).map_or(line.len(), |n| at + n);
    if let Some(n) = line[at..end].find('"') {
        let span = offset + at + n..offset + at + n + 1;
        let mend = "remove the quote, or put the whole cell between quotes";
        return Err(QuoteSlip { span, what: "a stray quote inside a cell", mend });
    }
    let raw = &line[at..end];
    let start = at + raw.len() - raw.trim_start().len();
    let word = raw.trim().to_owned();
    let span = start..start + word.len();
    Ok((word, if span.is_empty() { at..end } else { span }, end))
}

/// A cell between quotes.
fn quoted(
    line: &str,
    at: usize,
    offset: usize,
    between: char,
) -> Result<(String, Range<usize>, usize), QuoteSlip> {
    let mut word = String::new();
    let mut from = at + 1;
    loop {
        let Some(n) = line[from..].find('"') else {
            let span = offset + at..offset + at + 1;
            let mend = "close the quote on the same line; a cell has no line break inside";
            return Err(QuoteSlip { span, what: "a quote is opened and never closed", mend });
        };
        word.push_str(&line[from..from + n]);
        from += n + 1;
        if !line[from..].starts_with('"') {
            break;
        }
        word.push('"');
        from += 1;
    }
    let rest = &line[from..];
    let next = from + rest.find(between).unwrap_or(rest.len());
    if !line[from..next].trim().is_empty() {
        let span = offset + from..offset + next;
        let mend = "double a quote that belongs to the text";
        return Err(QuoteSlip { span, what: "text after a closing quote", mend });
    }
    Ok((word.trim().to_owned(), at..from, next))
}
