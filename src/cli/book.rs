//! `stillair book`: the tests of the workshop's own laboratory.

use std::path::{Path, PathBuf};

use clap::Subcommand;

use super::anchored::{anchored_bands, needs_lapack, place_of_book};
use super::asked::{TableArgs, ViewArgs, Views};
use super::book_add::{Add, add, known_figure};
use super::error::{BadOption, CliError};
use super::how::{ErrorArg, SkinArg};
use super::{book_next, expose, output};
use crate::bench::figure::{Told, figure_name, of_outcome};
use crate::bench::{Behind, Question};
use crate::chart::book_chart;
use crate::evidence::measured;
use crate::garment::target::Figure;
use crate::report::book::{book_csv, book_text, changed_text, checked_text};
use crate::report::book_far::{Far, anchored_csv, anchored_text, how_far_csv, how_far_text};
use crate::report::book_next::{next_csv, next_text};
use crate::report::json::book::{anchor_json, book_json, far_json, next_json};
use crate::shelf::lab::book::{Book, read_book};
use crate::shelf::lab::cases::tested;
use crate::shelf::materials::Shelf;
use crate::study::answer::{AnswerError, Quilts, answer};
use crate::study::book::explain::explanations;
use crate::study::book::how_far::how_far;
use crate::study::book::predict::predict;

/// Arguments of `book`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// The book [default: bench-book.csv in the last folder given by --shelf]
    #[arg(long, global = true, value_name = "FILE.csv|.xlsx")]
    book: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// List the tests; so does the command without a word
    List(TableArgs),
    /// Tell all that is wrong with the book
    Check,
    /// Hold predictions against every test: ratios, groups, what would explain them, drift
    HowFar(Box<FarArgs>),
    /// Predict a figure and anchor it to the tests of layups like it
    Anchor(Box<Anchor>),
    /// Tell which candidate's test would settle most
    Next(Box<Next>),
    /// Add a test; what stands in the book already is never changed
    Add(Box<Add>),
}

/// How predictions are computed.
#[derive(Debug, clap::Args)]
struct How {
    #[command(flatten)]
    skin: SkinArg,
    #[command(flatten)]
    error: ErrorArg,
}

/// Arguments of `book how-far`.
#[derive(Debug, clap::Args)]
struct FarArgs {
    #[command(flatten)]
    how: How,
    #[command(flatten)]
    views: ViewArgs,
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
    #[command(flatten)]
    views: TableArgs,
}

/// Arguments of `book next`.
#[derive(Debug, clap::Args)]
struct Next {
    #[command(flatten)]
    asked: book_next::Args,
    #[command(flatten)]
    views: TableArgs,
}

/// Lists, checks, holds, advises or adds.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let given = args.book.as_deref();
    if let Some(Command::Next(next)) = &args.command {
        let opened = next.views.try_out()?;
        let held = book_next::held(&next.asked, given, (shelf, dirs))?;
        let all: Vec<_> = held.iter().map(book_next::Held::view).collect();
        let (text, json) = (|| next_text(&all), || next_json(&all));
        return next.views.deliver(opened, &text, &json, &|| next_csv(&all));
    }
    let path = place_of_book(given, dirs)?;
    let list = |views: &TableArgs| {
        let opened = views.try_out()?;
        let book = read(&path)?;
        views.deliver(opened, &|| book_text(&book), &|| book_json(&book), &|| book_csv(&book))
    };
    match &args.command {
        None => list(&TableArgs::default()),
        Some(Command::List(views)) => list(views),
        Some(Command::Check) => {
            let book = read(&path)?;
            let all = tested(&book, shelf).map_err(CliError::Faults)?;
            output::print(&checked_text(&book, &all))
        }
        Some(Command::HowFar(asked)) => far(asked, &path, shelf),
        Some(Command::Anchor(asked)) => anchored(asked, &path, shelf),
        Some(Command::Add(test)) => add(test, &path, shelf),
        Some(Command::Next(_)) => Ok(()),
    }
}

fn read(path: &Path) -> Result<Book, CliError> {
    read_book(path).map_err(CliError::Faults)
}

/// Holds every test against its prediction.
fn far(asked: &FarArgs, path: &Path, shelf: &Shelf) -> Result<(), CliError> {
    let skin = asked.how.skin.on(shelf)?;
    let opened = asked.views.try_out()?;
    let book = read(path)?;
    let all = tested(&book, shelf).map_err(CliError::Faults)?;
    let far = how_far(&all, predict(&all, shelf.bands(), skin, asked.how.error.goal)?);
    let mut explained = Vec::with_capacity(far.rows.len());
    for row in &far.rows {
        explained.push(explanations(row, skin).map_err(AnswerError::Bench)?);
    }
    let of = Far { far: &far, explained: &explained };
    asked.views.deliver(
        opened,
        &Views {
            text: &|| format!("{}{}", changed_text(&all), how_far_text(&of)),
            json: &|| far_json(&of),
            csv: &|| how_far_csv(&of),
            chart: &|| book_chart(&far, &measured::run(shelf, || {})),
        },
    )
}

/// Predicts a figure and anchors it.
fn anchored(asked: &Anchor, path: &Path, shelf: &Shelf) -> Result<(), CliError> {
    needs_lapack("book anchor")?;
    let figure = known_figure(&asked.figure)?;
    let layup = expose::layup(&asked.layup, shelf)?;
    let exposure = expose::exposure(&asked.exposure, shelf)?;
    let skin = asked.how.skin.on(shelf)?;
    let opened = asked.views.try_out()?;
    let bands = anchored_bands(path, shelf, skin, asked.how.error.goal)?;
    let behind = if figure == Figure::SecondDegree { Behind::Skin } else { Behind::Disc };
    let question = Question::plain(behind, skin, asked.how.error.goal);
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
    let text = || anchored_text(&told, &exposure);
    let csv = || anchored_csv(&told, &exposure);
    asked.views.deliver(opened, &text, &|| anchor_json(&told), &csv)
}
