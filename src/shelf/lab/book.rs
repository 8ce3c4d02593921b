//! The bench book: a workshop's own tests, one row each.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;

use crate::garment::target::Figure;
use crate::physics::units::from_cal_cm2;
use crate::shelf::fault::{Fault, Faults, Place, enough};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::key::field::{Companions, Keys};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::lab::day::parse_date;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::sheet;
use crate::shelf::stock::exposure::{FIGURES, check_columns};
use crate::shelf::wording::or_list;

/// The book's file on a shelf.
pub const FILE: &str = crate::shelf::stock::raw::BOOK;
/// Before the names of the curves that a test's figures were read from, in its note.
pub const READ_FROM: &str = "read from ";
/// Most specimens of one test.
pub const N_SPECIMENS_MOST: usize = 50;
/// Longest time and largest heat that a specimen may have read [s], [cal/cm²].
const VALUE_MOST: f64 = 3600.0;

/// The columns, in the order in which a row is written.
pub const COLUMNS: [&str; 11] = [
    "date",
    "report",
    "layup",
    "layup_digest",
    "exposure",
    "figure",
    VALUES_S,
    VALUES_CAL,
    "conditioning",
    "washed",
    "note",
];

pub const VALUES_S: &str = "values_s";
pub const VALUES_CAL: &str = "values_cal_cm2";

const KEYS: Keys<'_> =
    Keys { kind: "bench book", fields: &[], words: &COLUMNS, provenance: Companions::Without };

/// One test of the workshop's own laboratory.
#[derive(Debug, Clone, PartialEq)]
pub struct Test {
    /// When it was tested.
    pub date: Date,
    /// The laboratory's report number; may be empty.
    pub report: String,
    /// The layup: a name on the shelf, or a file seen from the book.
    pub layup: String,
    /// Digest of the layup's file as it was tested; empty when it was not noted.
    pub layup_digest: String,
    /// The exposure: a name on the shelf, or a file seen from the book.
    pub exposure: String,
    /// The figure as written, such as "HTI24".
    pub figure_name: String,
    /// The figure.
    pub figure: Figure,
    /// Each specimen's value [s or J/m²], at least one.
    pub values: Vec<f64>,
    /// How the specimens were conditioned, in words; may be empty.
    pub conditioning: String,
    /// How often they had been washed.
    pub washed: u32,
    /// Anything else.
    pub note: String,
    /// Where its layup stands.
    pub place_of_layup: Place,
    /// Where its exposure stands.
    pub place_of_exposure: Place,
    /// Where its figure stands.
    pub place_of_figure: Place,
}

/// All tests of a book, oldest row first.
#[derive(Debug, Clone, PartialEq)]
pub struct Book {
    /// The file.
    pub path: PathBuf,
    /// Its rows.
    pub tests: Vec<Test>,
}

impl Book {
    /// A path or name as a row has it, seen from where the program runs.
    pub fn beside(&self, word: &str) -> PathBuf {
        crate::shelf::layup::named::beside(&self.path, word)
    }
}

/// The book in a file.
///
/// Errors: every fault of the file.
pub fn read_book(path: &Path) -> Result<Book, Faults> {
    let text = Text::load(path, sizes::BOOK)?;
    let tests = tests_of(&text)?;
    Ok(Book { path: path.to_path_buf(), tests })
}

/// The tests in a text that stands for the file `path`.
///
/// Errors: every fault of the text.
pub fn read_book_text(text: &str, path: &Path) -> Result<Book, Faults> {
    let text = Text::new(path.display().to_string(), text, Form::Csv).checked()?;
    Ok(Book { path: path.to_path_buf(), tests: tests_of(&text)? })
}

fn tests_of(text: &Arc<Text>) -> Result<Vec<Test>, Faults> {
    let mut faults = Vec::new();
    let Some(sheet) = sheet::parse(text, &mut faults) else { return Err(Faults(faults)) };
    let needed = ["date", "layup", "exposure", "figure"];
    let before = faults.len();
    check_columns(&KEYS, &needed, &sheet.header, &mut faults);
    if faults.len() > before {
        return Err(Faults(faults));
    }
    let mut tests = Vec::new();
    for record in &sheet.records {
        if enough(&faults) {
            break;
        }
        tests.extend(read_test(record, &mut faults));
    }
    if faults.is_empty() { Ok(tests) } else { Err(Faults(faults)) }
}

fn read_test(record: &Record, faults: &mut Vec<Fault>) -> Option<Test> {
    let before = faults.len();
    let layup = record.word("layup");
    let owner = if layup.is_empty() { "a test".into() } else { format!("the test of `{layup}`") };
    let mut reader = Reader { record, owner, faults };
    let date = date(&mut reader);
    let layup = reader.need_word("layup");
    let exposure = reader.need_word("exposure");
    let figure = reader.need_choice("figure", &FIGURES);
    let values = figure.and_then(|figure| values(&mut reader, figure));
    let washed = reader.whole(&kinds::WASHED).unwrap_or(0);
    let mut word = |key: &str| reader.word(key).unwrap_or_default();
    let (report, layup_digest) = (word("report"), word("layup_digest"));
    let (conditioning, note) = (word("conditioning"), word("note"));
    if faults.len() > before {
        return None;
    }
    Some(Test {
        date: date?,
        report,
        layup: layup?,
        layup_digest,
        exposure: exposure?,
        figure_name: record.word("figure").to_owned(),
        figure: figure?,
        values: values?,
        conditioning,
        washed,
        note,
        place_of_layup: record.place_of("layup"),
        place_of_exposure: record.place_of("exposure"),
        place_of_figure: record.place_of("figure"),
    })
}

fn date(reader: &mut Reader<'_>) -> Option<Date> {
    let word = reader.need_word("date")?;
    let parsed = parse_date(&word);
    if parsed.is_none() {
        let what = format!("date of {} is `{word}`", reader.owner);
        let place = reader.record.place_of("date");
        let mend = "write the day of the test, for example 2026-11-26";
        reader.fault(Fault::new(what, place, "a date as year-month-day", mend));
    }
    parsed
}

/// Unit and factor to SI of a figure's values, and the column that they stand in.
pub fn unit_of(figure: Figure) -> (&'static str, f64, &'static str) {
    match figure {
        Figure::Tpp => ("cal/cm²", from_cal_cm2(1.0), VALUES_CAL),
        _ => ("s", 1.0, VALUES_S),
    }
}

/// The specimens' values in SI.
fn values(reader: &mut Reader<'_>, figure: Figure) -> Option<Vec<f64>> {
    let (unit, scale, column) = unit_of(figure);
    let wrong = if column == VALUES_S { VALUES_CAL } else { VALUES_S };
    if let Some(cell) = reader.record.get(wrong) {
        let what = format!("{} has its values in `{wrong}`", reader.owner);
        let mend = format!("leave `{wrong}` blank and fill in `{column}`");
        let expected = format!("`{column}` for its figure, in {unit}");
        reader.fault(Fault::new(what, cell.place(), expected, mend));
        return None;
    }
    let word = reader.need_word(column)?;
    match specimens(&word) {
        Ok(values) => Some(values.into_iter().map(|value| scale * value).collect()),
        Err(slip) => {
            let what = format!("{column} of {}: {slip}", reader.owner);
            let expected = format!(
                "1 to {N_SPECIMENS_MOST} numbers between blanks, each more than 0 and at most \
                 {VALUE_MOST} {unit}"
            );
            let mend = "give each specimen's value, for example 14.1 13.7 14.6";
            let place = reader.record.place_of(column);
            reader.fault(Fault::new(what, place, expected, mend));
            None
        }
    }
}

/// Values between blanks, in the file's unit.
///
/// Errors: what is wrong, in words.
pub fn specimens(word: &str) -> Result<Vec<f64>, String> {
    let mut values = Vec::new();
    for piece in word.split_whitespace() {
        let value: f64 = piece.parse().map_err(|_| format!("`{piece}` is no number"))?;
        match value {
            _ if !value.is_finite() => return Err(format!("`{piece}` is not finite")),
            _ if value <= 0.0 => return Err(format!("`{piece}` is not above 0")),
            _ if value > VALUE_MOST => return Err(format!("`{piece}` is above {VALUE_MOST}")),
            _ => values.push(value),
        }
    }
    match values.len() {
        0 => Err("there is no specimen".to_owned()),
        n if n > N_SPECIMENS_MOST => Err(format!("there are {n} specimens")),
        _ => Ok(values),
    }
}

/// The figure of a word such as "HTI24".
///
/// Errors: the words there are.
pub fn figure_of(word: &str) -> Result<Figure, String> {
    let found = FIGURES.iter().find(|(name, _)| *name == word).map(|(_, figure)| *figure);
    found.ok_or_else(|| or_list(&FIGURES.map(|(name, _)| name)))
}

/// The word of a figure in a book, by whether all of the flux is radiant.
pub fn word_of(figure: Figure, radiant: bool) -> &'static str {
    let all = FIGURES.iter().filter(|(_, known)| *known == figure).map(|(word, _)| *word);
    let words: Vec<&str> = all.collect();
    // the radiant name stands after the other where a figure has two
    let at = if radiant { words.len() - 1 } else { 0 };
    words[at]
}
