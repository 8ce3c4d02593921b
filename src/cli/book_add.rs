//! Rows for the bench book: tests given as values, or read from curves of the bench.

use std::path::{Path, PathBuf};

use super::error::{BadOption, CliError};
use super::{expose, output};
use crate::bench::watch_disc::DiscEvents;
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::report::book::added_text;
use crate::report::book_file::{AppendError, append};
use crate::shelf::file::regular::folder_of;
use crate::shelf::inputs;
use crate::shelf::lab::book::{
    COLUMNS, READ_FROM, figure_of, read_book, specimens, unit_of, word_of,
};
use crate::shelf::lab::book_row::Cells;
use crate::shelf::lab::cases::digest;
use crate::shelf::lab::curve::{Curve, read_curve};
use crate::shelf::lab::day::parse_date;
use crate::shelf::materials::Shelf;

/// What a time read off a curve is rounded to, finer than any bench reads [1/s].
const HUNDREDTHS: f64 = 100.0;

/// A test to add.
#[derive(Debug, clap::Args)]
pub struct Add {
    /// Layup that was tested: a file (.toml), or a name on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    /// Figure, such as HTI24, RHTI24, TPP or "second degree"
    #[arg(long, value_name = "FIGURE", requires = "values")]
    figure: Option<String>,
    /// Each specimen's value between commas, in s, TPP in cal/cm²
    #[arg(long, value_name = "VALUE,VALUE…", value_delimiter = ',', allow_hyphen_values = true)]
    values: Vec<String>,
    /// Curve of the bench, once for each specimen, instead of a figure: the times are read from it
    #[arg(long = "curve", value_name = "CURVE.csv", conflicts_with_all = ["figure", "values"],
          required_unless_present = "figure")]
    curves: Vec<PathBuf>,
    /// Day of the test, year-month-day
    #[arg(long, value_name = "DATE")]
    date: String,
    /// The laboratory's report number
    #[arg(long, value_name = "WORDS", default_value = "")]
    report: String,
    /// How the specimens were conditioned
    #[arg(long, value_name = "WORDS", default_value = "")]
    conditioning: String,
    /// How often the specimens had been washed
    #[arg(long, value_name = "TIMES", default_value = "0")]
    washed: u32,
    /// Anything else worth keeping
    #[arg(long, value_name = "WORDS", default_value = "")]
    note: String,
}

/// What was tested, beside its figures.
#[derive(Debug, Clone, Copy)]
pub struct Round<'a> {
    /// The layup as named.
    pub layup: &'a Path,
    /// The exposure as named.
    pub exposure: &'a Path,
    /// The day, checked.
    pub date: &'a str,
    /// The laboratory's report number.
    pub report: &'a str,
    /// How the specimens were conditioned.
    pub conditioning: &'a str,
    /// How often they had been washed.
    pub washed: u32,
    /// Anything else, with the curves that the figures were read from.
    pub note: &'a str,
}

/// Figures with a value of each specimen, in the book's unit.
pub type Figures = Vec<(String, Vec<f64>)>;

/// Adds a test and tells which rows it made.
pub fn add(test: &Add, path: &Path, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    expose::layup(&test.layup, shelf).map_err(|e| errors.push(e)).ok();
    let exposure = expose::exposure(&test.exposure, shelf).map_err(|e| errors.push(e)).ok();
    day(&test.date).map_err(|e| errors.push(e)).ok();
    let Some(exposure) = exposure.filter(|_| errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let (figures, read_from) = match &test.figure {
        Some(figure) => (vec![(figure.clone(), given_values(figure, &test.values)?)], None),
        None => {
            let mut curves = Vec::new();
            for curve in &test.curves {
                curves.push(read_curve(curve).map_err(CliError::Faults)?);
            }
            (from_curves(&curves, &exposure)?, Some(read_from(&curves)))
        }
    };
    let notes = [read_from, Some(test.note.clone()).filter(|note| !note.is_empty())];
    let note = notes.into_iter().flatten().collect::<Vec<_>>().join("; ");
    let round = Round {
        layup: &test.layup,
        exposure: &test.exposure,
        date: &test.date,
        report: &test.report,
        conditioning: &test.conditioning,
        washed: test.washed,
        note: &note,
    };
    output::print(&put(&round, &figures, path, shelf)?)
}

/// Whether a word is a day.
pub fn day(word: &str) -> Result<(), CliError> {
    if parse_date(word).is_some() {
        return Ok(());
    }
    Err(CliError::Option(BadOption {
        what: format!("`{word}` is not a day"),
        given: format!("--date {word}"),
        expected: "year-month-day".into(),
        mend: "write it as 2026-11-26".into(),
    }))
}

/// The note of figures that were read from curves.
pub fn read_from(curves: &[Curve]) -> String {
    let names: Vec<&str> = curves.iter().map(|curve| curve.name.as_str()).collect();
    format!("{READ_FROM}{}", names.join(" and "))
}

/// Adds the figures of a test to a book, all or none; returns which rows were added, in words.
pub fn put(
    round: &Round<'_>,
    figures: &Figures,
    path: &Path,
    shelf: &Shelf,
) -> Result<String, CliError> {
    let word = round.layup.to_string_lossy();
    let text = inputs::of_layup(&word, round.layup, shelf).map_err(CliError::Faults)?;
    let layup = named_from(path, round.layup, shelf.layup_text(&word).is_ok());
    let exposure_word = round.exposure.to_string_lossy();
    let on_shelf = shelf.exposure(&exposure_word).is_ok();
    let exposure = named_from(path, round.exposure, on_shelf);
    let row = |(figure, values): &(String, Vec<f64>)| {
        let values: Vec<String> = values.iter().map(f64::to_string).collect();
        let unit = figure_of(figure).map_or("", |figure| unit_of(figure).2);
        COLUMNS.map(|column| match column {
            "date" => round.date.to_owned(),
            "report" => round.report.to_owned(),
            "layup" => layup.clone(),
            "layup_digest" => digest(&text),
            "exposure" => exposure.clone(),
            "figure" => figure.clone(),
            "conditioning" => round.conditioning.to_owned(),
            "washed" => round.washed.to_string(),
            "note" => round.note.to_owned(),
            _ if column == unit => values.join(" "),
            _ => String::new(),
        })
    };
    let rows: Vec<Cells> = figures.iter().map(row).collect();
    append(path, &rows).map_err(|error| match error {
        AppendError::Faults(faults) => CliError::Faults(faults),
        AppendError::Write(error) => CliError::Write(error),
    })?;
    Ok(added_text(&read_book(path).map_err(CliError::Faults)?, figures.len()))
}

/// A name on the shelf as it is; a file as seen from the book's folder.
fn named_from(book: &Path, named: &Path, on_shelf: bool) -> String {
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let folder = whole(folder_of(book));
    if on_shelf {
        return named.display().to_string();
    }
    let file = whole(named);
    file.strip_prefix(&folder).unwrap_or(&file).display().to_string()
}

/// The figure of a word given as an option.
pub fn known_figure(figure: &str) -> Result<Figure, CliError> {
    figure_of(figure).map_err(|words| {
        CliError::Option(BadOption {
            what: format!("no figure is called `{figure}`"),
            given: format!("--figure {figure}"),
            expected: words,
            mend: "take one of these words".into(),
        })
    })
}

/// The specimens of a figure as given.
fn given_values(figure: &str, values: &[String]) -> Result<Vec<f64>, CliError> {
    let known = known_figure(figure)?;
    specimens(&values.join(" ")).map_err(|slip| {
        let expected = format!("each specimen's value, more than 0, in {}", unit_of(known).0);
        let given = format!("--values {}", values.join(","));
        let mend = "give them between commas, as 14.1,13.7,14.6".to_owned();
        CliError::Option(BadOption { what: slip, given, expected, mend })
    })
}

/// Times read from curves of the bench, as our own are; figures that a specimen did not reach are left out.
pub fn from_curves(curves: &[Curve], exposure: &Exposure) -> Result<Figures, CliError> {
    let radiant = exposure.is_radiant();
    let figures = [Figure::Rise12, Figure::Rise24, Figure::Stoll];
    let mut read: [Vec<f64>; 3] = Default::default();
    for curve in curves {
        for note in &curve.notes {
            output::say(&format!("note: {} {note}", curve.name));
        }
        let events = DiscEvents::of_curve(&curve.points, exposure.disc.cap_area());
        let times = [events.rises[0], events.rises[1], events.stoll];
        for (values, t) in read.iter_mut().zip(times) {
            values.extend(t.map(|t| (HUNDREDTHS * t).round() / HUNDREDTHS));
        }
    }
    let whole = |(figure, values): (Figure, Vec<f64>)| {
        (values.len() == curves.len()).then(|| (word_of(figure, radiant).to_owned(), values))
    };
    let found: Figures = figures.into_iter().zip(read).filter_map(whole).collect();
    match found.is_empty() {
        false => Ok(found),
        true => Err(CliError::Option(BadOption {
            what: "no figure was reached by every specimen".into(),
            given: format!("--curve, {} of them", curves.len()),
            expected: "curves that rise by 12 K at least".into(),
            mend: "add the specimens that reached it one by one".into(),
        })),
    }
}
