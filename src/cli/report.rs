//! `stillair report`: a document to hand round.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::anchored::AnchoredArg;
use super::error::{BadOption, CliError};
use super::expose::{exposure, layup};
use super::flat::FlatArg;
use super::gap::{swept, swept_word};
use super::holds::holds;
use super::how::{ErrorArg, SkinArg};
use super::report_body::on_body;
use super::report_gap::{self, Opened};
use super::report_layup::one_layup;
use super::report_seek::{self, Sought};
use super::suit::suit;
use super::typed::as_typed;
use super::{arguments, output, rank as rank_command, suit as suit_command};
use crate::chart::rank::MOST;
use crate::garment::band::Bands;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::source::Source;
use crate::garment::suit::Suit;
use crate::garment::target::{Figure, Target};
use crate::physics::units::PERCENT;
use crate::report::document::html::document_html;
use crate::report::document::markdown::{chart_name, document_markdown};
use crate::report::document::rank::rank_document;
use crate::report::document::shared::{Again, Input};
use crate::report::document::suit::suit_document;
use crate::report::document::terminal::document_text;
use crate::report::document::{Document, Drawing};
use crate::report::suit::words;
use crate::report::write::{Destination, put_all};
use crate::shelf::inputs::{self, Holds, InputText};
use crate::shelf::lab::cases::texts as texts_of_book;
use crate::shelf::materials::Shelf;
use crate::shelf::suit::body_map::built_in_text;
use crate::study::answer::Quilts;
use crate::study::gap::Swept;
use crate::study::ordering::{By, Versus, ranking};
use crate::study::rank::side_by_side;
use crate::study::run::Terms;
use crate::study::suit::expose_suit;
use crate::study::suit_judged::judge;

/// Arguments of `report`.
#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("outputs").multiple(true))]
pub struct Args {
    /// A layup, several layups side by side, or a suit: files (.toml) or names on the shelf; or a
    /// brief (.toml), which is searched, or the checkpoints of all parts of a finished search
    #[arg(value_name = "PATH", required = true, num_args = 1..)]
    paths: Vec<PathBuf>,
    /// Write one page that needs nothing else; without a file the report is told here
    #[arg(long, value_name = "FILE.html", group = "outputs", value_parser = arguments::page_file)]
    out: Option<PathBuf>,
    /// Write Markdown, its charts as .svg files beside it
    #[arg(long, value_name = "FILE.md", group = "outputs",
          value_parser = arguments::markdown_file)]
    markdown: Option<PathBuf>,
    /// The question that the report answers, in your words
    #[arg(long, value_name = "TEXT", value_parser = arguments::plain_text)]
    question: Option<String>,
    /// Exposure of layups: a name on the shelf, or a file [default: flame-80]
    #[arg(long, value_name = "NAME|FILE")]
    exposure: Option<PathBuf>,
    /// Hold layups against a target on the shelf; may be given several times
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    /// Of several layups: the gap that is opened in each, as `stillair gap` names it [default: all, where each
    /// of them has gaps]
    #[arg(long, value_name = "N|behind|PLACE|all", value_parser = swept)]
    gap: Option<Swept>,
    /// Of a quilted layup: solve its cells in two dimensions, too, so that heat goes sideways
    #[arg(long, conflicts_with = "flat")]
    sideways: bool,
    #[command(flatten)]
    skin: SkinArg,
    #[command(flatten)]
    error: ErrorArg,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    anchored: AnchoredArg,
    /// Put this date on the report; none is put by itself
    #[arg(long, value_name = "TEXT", value_parser = arguments::plain_text)]
    date: Option<String>,
}

/// How many times as well plies conduct along as through them, as `stillair quilt --sideways` takes it.
const ALONG: f64 = 1.0;
/// The exposure of layups where none is named.
const EXPOSURE: &str = "flame-80";

/// What the paths stand for.
enum Subject<'a> {
    Layups {
        layups: Vec<Layup>,
        exposure: Box<Exposure>,
        targets: Vec<&'a Target>,
        /// The gap opened in each of several, with the plies that it lies behind.
        gap: Option<Opened>,
    },
    Suit(Box<Suit>),
    Search(Box<Sought>),
}

/// Computes what is named and writes the document, on the terminal where no file is asked for.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let subject = subject(args, (shelf, dirs), &mut errors);
    let skin = args.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let (Some(subject), Some(skin), true) = (subject, skin, errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let page_file = args.out.as_deref().map(Destination::try_out).transpose();
    let page_file = page_file.map_err(CliError::Write)?;
    let markdown_file = args.markdown.as_deref().map(Destination::try_out).transpose();
    let markdown_file = markdown_file.map_err(CliError::Write)?;

    let again = Again {
        command: command(args, dirs),
        inputs: hashed(args, (shelf, dirs), &subject)?,
        date: args.date.clone(),
        question: args.question.clone(),
    };
    let bands = match &subject {
        // a search has its own
        Subject::Search(_) => shelf.bands().clone(),
        _ => args.anchored.bands((shelf, dirs), skin, args.error.goal)?,
    };
    let document = document(args, (shelf, &bands), &subject, skin, &again)?;
    if page_file.is_none() && markdown_file.is_none() {
        return output::print(&document_text(&document));
    }
    let mut ready: Vec<(Destination, Vec<u8>)> = Vec::new();
    let mut written: Vec<PathBuf> =
        [&args.out, &args.markdown].into_iter().flatten().cloned().collect();
    if let Some(file) = page_file {
        ready.push((file, document_html(&document).into_bytes()));
    }
    if let (Some(file), Some(path)) = (markdown_file, &args.markdown) {
        let stem = path.file_stem().unwrap_or(OsStr::new("report")).to_string_lossy();
        for (i, chart) in document.charts().enumerate() {
            let beside = path.with_file_name(format!("{}.svg", chart_name(&stem, i + 1)));
            let place = Destination::try_out(&beside).map_err(CliError::Write)?;
            ready.push((place, chart.svg.clone().into_bytes()));
            written.push(beside);
        }
        ready.push((file, document_markdown(&document, &stem).into_bytes()));
    }
    // what goes down a pipe may be standard output itself
    let kept = !ready.iter().any(|(file, _)| file.is_stream());
    put_all(ready).map_err(CliError::Write)?;
    let written: Vec<String> = written.iter().map(|path| path.display().to_string()).collect();
    if kept { output::print(&format!("Wrote\n  {}\n", written.join("\n  "))) } else { Ok(()) }
}

/// Resolves every name and file, telling all that is wrong with them in one go.
fn subject<'a>(
    args: &Args,
    (shelf, dirs): (&'a Shelf, &[PathBuf]),
    errors: &mut Vec<CliError>,
) -> Option<Subject<'a>> {
    let mut kinds = Vec::new();
    for path in &args.paths {
        match holds(path, shelf) {
            Ok(Holds::Neither) => errors.push(neither(path)),
            Ok(kind) => kinds.push(kind),
            Err(error) => errors.push(error),
        }
    }
    let refused = || {
        bad(
            "heat goes sideways in the cell of one quilted layup",
            &format!("--sideways with {}", shown(&args.paths)),
            "one layup with a quilting",
            "name one, or leave --sideways out",
        )
    };
    if args.sideways && (args.paths.len() > 1 || kinds.iter().any(|kind| *kind != Holds::Layup)) {
        errors.push(refused());
    }
    let are_layups = kinds.iter().all(|kind| *kind == Holds::Layup) && args.paths.len() > 1;
    if args.gap.is_some() && !are_layups {
        errors.push(bad(
            "only of several layups the same gap is shown",
            &format!("--gap with {}", shown(&args.paths)),
            "several layups",
            "name several layups, or look at one of them, or at a brief, with `stillair gap`",
        ));
    }
    if kinds.contains(&Holds::Brief) {
        let given = (args.exposure.is_none() && args.against.is_empty()).then_some(());
        if given.is_none() {
            errors.push(bad(
                "a brief names its targets and their exposures",
                "--exposure or --against with a brief",
                "neither of the two",
                "set the targets in the brief's file",
            ));
        }
        let own = (&args.anchored, dirs);
        let sought = report_seek::sought(&args.paths, shelf, own, args.error.goal);
        let found = sought.map_err(|e| errors.push(e)).ok();
        return found.map(|sought| Subject::Search(Box::new(sought)));
    }
    if kinds.contains(&Holds::Suit) {
        if args.paths.len() > 1 {
            errors.push(bad(
                "a suit has a report of its own",
                &format!("report {}", shown(&args.paths)),
                "one suit, or layups alone",
                "name the suit alone, and the layups in another report",
            ));
            return None;
        }
        if args.exposure.is_some() || !args.against.is_empty() {
            errors.push(bad(
                "a suit's panels name what they are held against",
                "--exposure or --against with a suit",
                "neither of the two",
                "set `target` in the suit's file",
            ));
        }
        let found = suit(&args.paths[0], shelf).map_err(|e| errors.push(e)).ok();
        return found.map(|suit| Subject::Suit(Box::new(suit)));
    }
    let mut layups = Vec::new();
    for path in args.paths.iter().filter(|_| !kinds.is_empty()) {
        layup(path, shelf).map_or_else(|e| errors.push(e), |one| layups.push(one));
    }
    if args.paths.len() > MOST {
        let given = format!("report with {} layups", args.paths.len());
        let expected = format!("at most {MOST} layups");
        let mend = "make several reports, or order them with `stillair rank` first";
        errors.push(bad("more layups than one report can tell apart", &given, &expected, mend));
    }
    let named = args.exposure.clone().unwrap_or_else(|| PathBuf::from(EXPOSURE));
    let exposure = exposure(&named, shelf).map_err(|e| errors.push(e)).ok();
    let mut targets = Vec::new();
    for name in &args.against {
        shelf
            .target(name)
            .map_or_else(|e| errors.push(CliError::Unknown(e)), |target| targets.push(target));
    }
    let is_flat = matches!(&layups[..], [one] if one.quilting.is_none());
    if args.sideways && is_flat {
        errors.push(refused());
    }
    let gap = match layups.len() {
        0 | 1 => None,
        _ => report_gap::opened(&layups, args.gap).map_err(|e| errors.push(e)).ok().flatten(),
    };
    exposure.map(|exposure| Subject::Layups { layups, exposure: Box::new(exposure), targets, gap })
}

fn neither(path: &Path) -> CliError {
    bad(
        "the file is neither a layup nor a suit nor a brief",
        &format!("report {}", path.display()),
        "a file with `[[stack]]`, `[[panel]]` or `outer` and `inner`, or a name on the shelf",
        "name a layup, several layups, a suit or a brief; other files have no report",
    )
}

fn bad(what: &str, given: &str, expected: &str, mend: &str) -> CliError {
    let [what, given, expected, mend] = [what, given, expected, mend].map(str::to_string);
    CliError::Option(BadOption { what, given, expected, mend })
}

fn shown(paths: &[PathBuf]) -> String {
    paths.iter().map(|path| path.display().to_string()).collect::<Vec<_>>().join(" ")
}

fn document(
    args: &Args,
    (shelf, bands): (&Shelf, &Bands),
    subject: &Subject<'_>,
    skin: &Skin,
    again: &Again,
) -> Result<Document, CliError> {
    let sources: Vec<&Source> = shelf.sources().collect();
    match subject {
        Subject::Search(sought) => {
            report_seek::document(sought, args.error.goal, skin, &sources, again)
        }
        Subject::Suit(suit) => {
            let study = expose_suit(suit, 1.0, (skin, args.flat.quilts()), args.error.goal)?;
            let judged = judge(&study, bands);
            let svg = suit_command::chart(&judged).map_err(CliError::Chart)?;
            let drawing = Drawing { svg, words: words::weakest(&judged) };
            let body = on_body(suit, shelf, (skin, args.flat.quilts()))?;
            Ok(suit_document(&judged, (drawing, body), &sources, again))
        }
        Subject::Layups { layups, exposure, targets, gap } => {
            let (quilts, error_goal) = (args.flat.quilts(), args.error.goal);
            let terms = Terms { exposure, skin, error_goal, quilts };
            if let [one] = layups.as_slice() {
                let along = args.sideways.then_some(ALONG);
                return one_layup(one, &terms, (targets, bands), along, (&sources, again));
            }
            let exposures = std::slice::from_ref(&**exposure);
            let asked = (skin, args.flat.quilts());
            let lists = side_by_side(layups, exposures, asked, args.error.goal)?;
            let outcomes = lists.first().map_or(&[][..], Vec::as_slice);
            let by = By::Figure(Figure::Rise24);
            let ranked = ranking(outcomes, by, Versus::First, (&**exposure, bands));
            let svg = rank_command::chart(std::slice::from_ref(&ranked), targets);
            let svg = svg.map_err(CliError::Chart)?;
            let words = "The disc's rise over time, the figure and the mass of each layup";
            let drawing = Drawing { svg, words: words.to_string() };
            let opened = gap
                .as_ref()
                .map(|(swept, plies)| report_gap::beside(layups, (*swept, plies), &terms));
            Ok(rank_document(&ranked, targets, (drawing, opened.transpose()?), &sources, again))
        }
    }
}

/// The files that the report rests on, each with its hash, sorted by name.
fn hashed(
    args: &Args,
    (shelf, dirs): (&Shelf, &[PathBuf]),
    subject: &Subject<'_>,
) -> Result<Vec<Input>, CliError> {
    let mut texts: Vec<InputText> = inputs::of_shelf(shelf).map_err(CliError::Faults)?;
    for path in &args.paths {
        let word = path.to_string_lossy();
        match subject {
            Subject::Search(_) => {}
            Subject::Suit(_) => {
                texts.extend(inputs::of_suit(&word, path, shelf).map_err(CliError::Faults)?);
                texts.push(built_in_text());
            }
            Subject::Layups { .. } => {
                texts.push(inputs::of_layup(&word, path, shelf).map_err(CliError::Faults)?);
            }
        }
    }
    if let Subject::Search(sought) = subject {
        texts.extend(sought.texts(&args.paths)?);
    }
    let file = args.exposure.iter().filter(|e| shelf.exposure(&e.to_string_lossy()).is_err());
    for path in file {
        texts.extend(inputs::of_exposure(path).map_err(CliError::Faults)?);
    }
    if let Some(book) = args.anchored.place(dirs)? {
        texts.extend(texts_of_book(&book, shelf).map_err(CliError::Faults)?);
    }
    texts.sort_by(|a, b| a.path.cmp(&b.path));
    texts.dedup();
    let input = |text: &InputText| Input { path: text.path.clone(), sha256: text.sha256() };
    Ok(texts.iter().map(input).collect())
}

/// The command that makes the report; its outputs by their names alone, so that it reads the same anywhere.
fn command(args: &Args, dirs: &[PathBuf]) -> String {
    let mut words = vec!["stillair".to_string()];
    for dir in dirs {
        words.extend(["--shelf".to_string(), dir.display().to_string()]);
    }
    words.push("report".to_string());
    words.extend(args.paths.iter().map(|path| path.display().to_string()));
    let mut option = |name: &str, value: Option<String>| {
        words.extend(value.into_iter().flat_map(|value| [format!("--{name}"), value]));
    };
    option("exposure", args.exposure.as_ref().map(|path| path.display().to_string()));
    args.against.iter().for_each(|target| option("against", Some(target.clone())));
    option("gap", args.gap.map(swept_word));
    option("skin", args.skin.name.clone());
    if args.error.goal != 0.005 {
        option("error", Some(PERCENT.outside(args.error.goal).to_string()));
    }
    if args.flat.quilts() == Quilts::LeftOut {
        words.push("--flat".to_string());
    }
    if args.sideways {
        words.push("--sideways".to_string());
    }
    words.extend(args.anchored.words());
    let mut option = |name: &str, value: Option<String>| {
        words.extend(value.into_iter().flat_map(|value| [format!("--{name}"), value]));
    };
    option("question", args.question.clone());
    option("date", args.date.clone());
    let name = |path: &PathBuf| path.file_name().map(|name| name.to_string_lossy().into_owned());
    option("out", args.out.as_ref().and_then(name));
    option("markdown", args.markdown.as_ref().and_then(name));
    as_typed(&words)
}
