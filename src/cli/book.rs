//! `stillair book`: the tests of the workshop's own laboratory.

use std::path::{Path, PathBuf};

use clap::Subcommand;

use super::anchored::{anchored_bands, needs_lapack, place_of_book};
use super::error::{BadOption, CliError};
use super::{arguments, expose, output};
use crate::bench::figure::{figure_name, of_outcome};
use crate::bench::watch_disc::DiscEvents;
use crate::bench::{Behind, Question};
use crate::garment::book::{
    Book, COLUMNS, figure_of, parse_date, read_book, specimens, unit_of, word_of,
};
use crate::garment::book_cases::{Tested, digest, tested};
use crate::garment::curve::read_curve;
use crate::garment::exposure::Exposure;
use crate::garment::inputs;
use crate::garment::shelf::Shelf;
use crate::garment::target::Figure;
use crate::report::anchored::Told;
use crate::report::book::{added_text, book_text, changed_text, checked_text};
use crate::report::book_far::{anchored_text, how_far_text};
use crate::report::book_file::{AppendError, Cells, append};
use crate::study::answer::{Quilts, answer};
use crate::study::book::how_far::{HowFar, how_far};
use crate::study::book::predict::predict;

/// Arguments of `book`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// The book [default: bench-book.csv in the last folder given by --shelf]
    #[arg(long, global = true, value_name = "FILE.csv")]
    book: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// List the tests; so does the command without a word
    List,
    /// Tell all that is wrong with the book
    Check,
    /// Hold predictions against every test, group by group
    HowFar(How),
    /// Predict a figure and anchor it to the tests of layups like it
    Anchor(Anchor),
    /// Add a test; what stands in the book already is never changed
    Add(Box<Add>),
}

/// How predictions are computed.
#[derive(Debug, clap::Args)]
struct How {
    /// Skin model on the shelf [default: the first on the shelf]
    #[arg(long, value_name = "NAME")]
    skin: Option<String>,
    /// Numerical error allowed to each time
    #[arg(long = "error", value_name = "PERCENT", default_value = "0.5",
          value_parser = arguments::error_goal)]
    error_goal: f64,
}

/// A figure to anchor.
#[derive(Debug, clap::Args)]
struct Anchor {
    /// Layup: a file (.toml), or a name on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    /// Figure, such as HTI24, RHTI24, TPP or "second degree"
    #[arg(long, value_name = "FIGURE", default_value = "HTI24")]
    figure: String,
    #[command(flatten)]
    how: How,
}

/// A test to add.
#[derive(Debug, clap::Args)]
struct Add {
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

/// Lists, checks or adds.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let path = place_of_book(args.book.as_deref(), dirs)?;
    match args.command.as_ref().unwrap_or(&Command::List) {
        Command::List => output::print(&book_text(&read(&path)?)),
        Command::Check => {
            let book = read(&path)?;
            let all = tested(&book, shelf).map_err(CliError::Faults)?;
            output::print(&checked_text(&book, &all))
        }
        Command::HowFar(how) => {
            let book = read(&path)?;
            let all = tested(&book, shelf).map_err(CliError::Faults)?;
            let far = far(&all, how, shelf)?;
            let changed = changed_text(&all);
            output::print(&format!("{changed}{}", how_far_text(&far)))
        }
        Command::Anchor(asked) => anchored(asked, &path, shelf),
        Command::Add(test) => add(test, &path, shelf),
    }
}

fn read(path: &Path) -> Result<Book, CliError> {
    read_book(path).map_err(CliError::Faults)
}

/// All tests held against their predictions.
fn far<'a>(all: &'a [Tested<'a>], how: &How, shelf: &Shelf) -> Result<HowFar<'a>, CliError> {
    let skin = expose::skin(how.skin.as_deref(), shelf)?;
    Ok(how_far(all, predict(all, shelf.bands(), skin, how.error_goal)?))
}

/// Predicts a figure and anchors it.
fn anchored(asked: &Anchor, path: &Path, shelf: &Shelf) -> Result<(), CliError> {
    needs_lapack("book anchor")?;
    let figure = known_figure(&asked.figure)?;
    let layup = expose::layup(&asked.layup, shelf)?;
    let exposure = expose::exposure(&asked.exposure, shelf)?;
    let skin = expose::skin(asked.how.skin.as_deref(), shelf)?;
    let bands = anchored_bands(path, shelf, skin, asked.how.error_goal)?;
    let behind = if figure == Figure::SecondDegree { Behind::Skin } else { Behind::Disc };
    let question = Question::plain(behind, skin, asked.how.error_goal);
    let outcome = answer(&layup, &exposure, &question, Quilts::Computed)?;
    let found = of_outcome(&outcome, figure);
    let band = bands.of(&outcome.computed(), figure, &exposure);
    let name = figure_name(figure, &exposure);
    let Some(told) = Told::new(&layup.name, name, (figure, found), &band) else {
        return Err(CliError::Option(BadOption {
            what: format!("{} has no value", asked.figure),
            given: format!("{} under {}", layup.name, exposure.name),
            expected: "a figure that the exposure reaches".into(),
            mend: "take an exposure with a larger until_s, or another figure".into(),
        }));
    };
    output::print(&anchored_text(&told, &exposure))
}

/// The figure of a word given as an option.
fn known_figure(figure: &str) -> Result<Figure, CliError> {
    figure_of(figure).map_err(|words| {
        CliError::Option(BadOption {
            what: format!("no figure is called `{figure}`"),
            given: format!("--figure {figure}"),
            expected: words,
            mend: "take one of these words".into(),
        })
    })
}

/// Figures with a value of each specimen, in the book's unit.
type Figures = Vec<(String, Vec<f64>)>;

fn add(test: &Add, path: &Path, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    expose::layup(&test.layup, shelf).map_err(|e| errors.push(e)).ok();
    let exposure = expose::exposure(&test.exposure, shelf).map_err(|e| errors.push(e)).ok();
    if parse_date(&test.date).is_none() {
        errors.push(CliError::Option(BadOption {
            what: format!("`{}` is not a day", test.date),
            given: format!("--date {}", test.date),
            expected: "year-month-day".into(),
            mend: "write it as 2026-11-26".into(),
        }));
    }
    let Some(exposure) = exposure.filter(|_| errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let figures = match &test.figure {
        Some(figure) => vec![(figure.clone(), given_values(figure, &test.values)?)],
        None => from_curves(&test.curves, &exposure)?,
    };
    let word = test.layup.to_string_lossy();
    let text = inputs::of_layup(&word, &test.layup, shelf).map_err(CliError::Faults)?;
    let layup = named_from(path, &test.layup, shelf.layup_text(&word).is_ok());
    let exposure_word = test.exposure.to_string_lossy();
    let on_shelf = shelf.exposure(&exposure_word).is_ok();
    let exposure = named_from(path, &test.exposure, on_shelf);
    let row = |(figure, values): &(String, Vec<f64>)| {
        let values: Vec<String> = values.iter().map(f64::to_string).collect();
        let unit = figure_of(figure).map_or("", |figure| unit_of(figure).2);
        COLUMNS.map(|column| match column {
            "date" => test.date.clone(),
            "report" => test.report.clone(),
            "layup" => layup.clone(),
            "layup_digest" => digest(&text),
            "exposure" => exposure.clone(),
            "figure" => figure.clone(),
            "conditioning" => test.conditioning.clone(),
            "washed" => test.washed.to_string(),
            "note" => test.note.clone(),
            _ if column == unit => values.join(" "),
            _ => String::new(),
        })
    };
    let rows: Vec<Cells> = figures.iter().map(row).collect();
    append(path, &rows).map_err(|error| match error {
        AppendError::Faults(faults) => CliError::Faults(faults),
        AppendError::Write(error) => CliError::Write(error),
    })?;
    output::print(&added_text(&read(path)?, figures.len()))
}

/// A name on the shelf as it is; a file as seen from the book's folder.
fn named_from(book: &Path, named: &Path, on_shelf: bool) -> String {
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let folder = match book.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => whole(parent),
        _ => whole(Path::new(".")),
    };
    if on_shelf {
        return named.display().to_string();
    }
    let file = whole(named);
    file.strip_prefix(&folder).unwrap_or(&file).display().to_string()
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
fn from_curves(curves: &[PathBuf], exposure: &Exposure) -> Result<Figures, CliError> {
    let radiant = exposure.is_radiant();
    let figures = [Figure::Rise12, Figure::Rise24, Figure::Stoll];
    let mut read: [Vec<f64>; 3] = Default::default();
    for path in curves {
        let curve = read_curve(path).map_err(CliError::Faults)?;
        for note in &curve.notes {
            output::say(&format!("note: {} {note}", curve.name));
        }
        let events = DiscEvents::of_curve(&curve.points, exposure.disc.cap_area());
        let times = [events.rises[0], events.rises[1], events.stoll];
        for (values, t) in read.iter_mut().zip(times) {
            // a hundredth of a second is finer than any bench reads
            values.extend(t.map(|t| (100.0 * t).round() / 100.0));
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
