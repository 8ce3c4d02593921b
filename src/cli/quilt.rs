//! `stillair quilt`: stitch lines, loft, and what they do to bench and skin.

use std::path::{Path, PathBuf};

use super::asked::TermArgs;
use super::error::{BadOption, CliError};
use super::expose::{self, BehindWord};
use super::patch::made_patch;
use super::shelf::note;
use super::{arguments, output, quilt_beside};
use crate::bench::figure::{Under, Verdict, figure_name, hold};
use crate::bench::{Behind, Question};
use crate::chart::chart_bytes;
use crate::chart::quilt::{quilt_chart, sweep_chart};
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::garment::skin::Skin;
use crate::garment::target::{Figure, Target};
use crate::report::json::quilt::quilt_json;
use crate::report::quilt::quilt_text;
use crate::report::quilt_csv::{places_csv, sweep_csv};
use crate::report::quilt_words::quilted_headline;
use crate::report::write::{Destination, put_all};
use crate::shelf::fault::Fault;
use crate::shelf::inputs::place_in_layup;
use crate::shelf::key::unusual;
use crate::shelf::layup::quilting::too_much_thread;
use crate::shelf::materials::Shelf;
use crate::study::patch::Patch;
use crate::study::quilt::lay::check;
use crate::study::quilt::run::Asked;
use crate::study::quilt::sideways::with_sideways;
use crate::study::quilt::{N_POINTS, QuiltError, Quilted, Sweep, SweepPlan, patched, quilt, sweep};

/// Points of a sweep along pitch and loft.
const N_SWEEP: (usize, usize) = (17, 13);

/// Arguments of `quilt`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Course of the stitch lines [default: the layup's own, as below]
    #[arg(long, value_enum)]
    pattern: Option<PatternWord>,
    /// Hold courses of the stitch lines against each other, and against none:
    /// for example none,channels,square,diamond
    #[arg(long, value_name = "WAYS", value_enum, value_delimiter = ',',
          conflicts_with_all = ["pattern", "patch", "sweep", "behind"])]
    versus: Vec<WayWord>,
    /// Distance between neighbouring stitch lines
    #[arg(long, value_name = "MM", value_parser = arguments::pitch)]
    pitch: Option<f64>,
    /// Width over which a stitch line presses the plies
    #[arg(long, value_name = "MM", value_parser = arguments::stitch_width)]
    stitch_width: Option<f64>,
    /// Air between the plies at the middle of a cell, all joints together
    #[arg(long, value_name = "MM", value_parser = arguments::loft)]
    loft: Option<f64>,
    /// Thickness of the pressed plies at a stitch line
    #[arg(long, value_name = "MM", value_parser = arguments::pressed)]
    pressed: Option<f64>,
    /// Thread per metre of stitch line, both sides together
    #[arg(long, value_name = "G_PER_M", value_parser = arguments::thread)]
    thread: Option<f64>,
    /// Fabric of a patch or embroidery over part of the area, on the shelf
    #[arg(long, value_name = "FABRIC", requires = "patch_share", conflicts_with = "sweep")]
    patch: Option<String>,
    /// Share of the area that the patch covers
    #[arg(long, value_name = "PERCENT", requires = "patch", value_parser = arguments::share)]
    patch_share: Option<f64>,
    /// Share of the covered area that is thread piercing the plies, as far as the
    /// first air between them [default: 0]
    #[arg(long, value_name = "PERCENT", requires = "patch", value_parser = arguments::share)]
    patch_thread: Option<f64>,
    /// Solve the cell in two dimensions, too: heat goes along plies, air and skin from place to place
    #[arg(long, conflicts_with_all = ["patch", "sweep"])]
    sideways: bool,
    /// How many times as well plies conduct along as through them, for --sideways
    #[arg(long, value_name = "TIMES", default_value = "1", requires = "sideways",
          value_parser = arguments::along)]
    along: f64,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    /// What stands behind the layup
    #[arg(long, value_enum, default_value = "both")]
    behind: BehindWord,
    #[command(flatten)]
    terms: TermArgs,
    /// Hold the result against a target on the shelf; may be given several times
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
    /// Write the places of a cell with their burn times to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    csv: Option<PathBuf>,
    /// Draw a cell by its burn times, cut through, and the area burnt over time (.svg or .png)
    #[arg(long, value_name = "FILE", value_parser = arguments::chart_file)]
    chart: Option<PathBuf>,
    /// Draw the bench's time over pitch and loft (.svg or .png), its data as .csv beside it
    #[arg(long, value_name = "FILE", value_parser = arguments::chart_file)]
    sweep: Option<PathBuf>,
    /// Pitches of the sweep
    #[arg(long, value_name = "FROM:TO", default_value = "20:80", requires = "sweep",
          value_parser = arguments::pitches)]
    sweep_pitch: (f64, f64),
    /// Loft heights of the sweep
    #[arg(long, value_name = "FROM:TO", default_value = "0:4", requires = "sweep",
          value_parser = arguments::lofts)]
    sweep_loft: (f64, f64),
}

/// Course of the stitch lines, as a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum PatternWord {
    /// Parallel lines
    Channels,
    /// Two sets of lines at right angles
    Square,
    /// Two sets of lines aslant
    Diamond,
}

/// A way to hold the plies together, as a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum WayWord {
    /// No quilting
    None,
    /// Parallel lines
    Channels,
    /// Two sets of lines at right angles
    Square,
    /// Two sets of lines aslant
    Diamond,
}

impl WayWord {
    fn meaning(self) -> Option<Pattern> {
        match self {
            WayWord::None => None,
            WayWord::Channels => Some(Pattern::Channels),
            WayWord::Square => Some(Pattern::Square),
            WayWord::Diamond => Some(Pattern::Diamond),
        }
    }
}

/// Everything that the names, files and lengths of the arguments stand for.
struct Resolved<'a> {
    layup: Layup,
    quilting: Quilting,
    /// As on the shelf or in its file, before `--for` and `--until`.
    as_given: Exposure,
    exposure: Exposure,
    skin: &'a Skin,
    targets: Vec<&'a Target>,
    patch: Option<Patch>,
}

/// Computes the quilting, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let resolved = resolve(args, shelf)?;
    check(&resolved.layup, &resolved.quilting).map_err(|error| in_file(error, args, shelf))?;
    if let Some((what, expected)) =
        too_much_thread(&resolved.quilting, resolved.layup.areal_density())
    {
        let (given, mend) = ("--thread, --pitch".to_owned(), "check both".to_owned());
        return Err(CliError::Option(BadOption { what, given, expected, mend }));
    }
    if resolved.layup.quilting.as_ref() != Some(&resolved.quilting) {
        note(&unusual::of_quilting(&resolved.quilting));
    }
    if !args.versus.is_empty() {
        return quilt_beside::run(&beside_asked(args, &resolved, shelf), &patterns(args)?);
    }
    let beside = args.sweep.as_deref().map(|path| path.with_extension("csv"));
    let try_out = |path: Option<&Path>| path.map(Destination::try_out).transpose();
    let files =
        [args.csv.as_deref(), args.chart.as_deref(), args.sweep.as_deref(), beside.as_deref()];
    let files: Vec<Option<Destination>> =
        files.into_iter().map(try_out).collect::<Result<_, _>>().map_err(CliError::Write)?;

    let question = question(args, &resolved);
    let (layup, quilting, exposure) = (&resolved.layup, &resolved.quilting, &resolved.exposure);
    let asked = Asked { layup, quilting, exposure, question: &question, patch: None };
    let mut quilted =
        quilt(layup, quilting, exposure, &question, N_POINTS).map_err(CliError::Quilt)?;
    let laid_on = resolved.patch.as_ref().map(|patch| patched(&asked, patch, N_POINTS));
    quilted.patch = laid_on.transpose().map_err(CliError::Quilt)?;
    if args.sideways {
        let solved = with_sideways((&asked, &quilted), args.along)
            .map_err(|(behind, source)| QuiltError::Solver { behind, source });
        quilted.sideways = Some(solved.map_err(CliError::Quilt)?);
    }
    let swept = match &args.sweep {
        Some(_) => Some(swept(args, &asked)?),
        None => None,
    };
    let verdicts: Vec<(&Target, Verdict)> = resolved
        .targets
        .iter()
        .map(|target| (*target, call(&quilted, target, (&resolved, shelf))))
        .collect();

    // Everything is made before anything is written, so that no half of it is left.
    let json = quilt_json(&quilted, &verdicts).map_err(CliError::Json)?;
    let contents = contents(args, &quilted, swept.as_ref())?;
    let files = files.into_iter().zip(contents);
    let files = files.filter_map(|(file, bytes)| Some((file?, bytes?))).collect();
    put_all(files).map_err(CliError::Write)?;
    if args.json {
        output::print_raw(json.as_bytes())
    } else {
        output::print(&quilt_text(&quilted, &verdicts))
    }
}

fn question<'a>(args: &Args, resolved: &Resolved<'a>) -> Question<'a> {
    let follow = args.terms.follow();
    let plain = Question::plain(args.behind.meaning(), resolved.skin, args.terms.error.goal);
    Question { follow, ..plain }
}

fn beside_asked<'a>(
    args: &'a Args,
    resolved: &'a Resolved,
    shelf: &'a Shelf,
) -> quilt_beside::Asked<'a> {
    quilt_beside::Asked {
        layup: &resolved.layup,
        like: &resolved.quilting,
        exposure: &resolved.exposure,
        question: question(args, resolved),
        targets: &resolved.targets,
        as_given: &resolved.as_given,
        bands: shelf.bands(),
        along: args.sideways.then_some(args.along),
        json: args.json,
        csv: args.csv.as_deref(),
        chart: args.chart.as_deref(),
    }
}

/// The courses to hold against each other.
///
/// Errors: one of them twice, or no quilting among them.
fn patterns(args: &Args) -> Result<Vec<Option<Pattern>>, CliError> {
    let words = &args.versus;
    let twice = (1..words.len()).any(|i| words[..i].contains(&words[i]));
    if twice || words.iter().all(|word| *word == WayWord::None) {
        let what = match twice {
            true => "a way of quilting stands twice",
            false => "no way of quilting to hold against none",
        };
        return Err(CliError::Option(BadOption {
            what: what.to_owned(),
            given: "--versus".to_owned(),
            expected: "one to four of none, channels, square and diamond, each once, a quilting among them"
                .to_owned(),
            mend: "ask for --versus none,channels,square,diamond".to_owned(),
        }));
    }
    Ok(words.iter().map(|word| word.meaning()).collect())
}

fn call(quilted: &Quilted, target: &Target, (resolved, shelf): (&Resolved, &Shelf)) -> Verdict {
    let (layup, exposure) = (&quilted.layup, &quilted.exposure);
    let (as_given, bands) = (&resolved.as_given, shelf.bands());
    hold(quilted.figure(target.figure), target, &Under { layup, exposure, as_given, bands })
}

fn swept(args: &Args, asked: &Asked) -> Result<Sweep, CliError> {
    let plan = SweepPlan::even(args.sweep_pitch, args.sweep_loft, N_SWEEP);
    sweep(asked, &plan).map_err(CliError::Quilt)
}

/// What goes into the files, in their order; none for what was not asked for.
fn contents(
    args: &Args,
    quilted: &Quilted,
    swept: Option<&Sweep>,
) -> Result<[Option<Vec<u8>>; 4], CliError> {
    let name = figure_name(Figure::Rise24, &quilted.exposure);
    let places = match &args.csv {
        Some(_) => Some(places_csv(quilted).map_err(CliError::Curves)?.into_bytes()),
        None => None,
    };
    let chart = match &args.chart {
        Some(path) => {
            let headline = quilted_headline(quilted);
            let svg = quilt_chart(quilted, &headline.unwrap_or_default());
            Some(svg.and_then(|svg| chart_bytes(svg, path)).map_err(CliError::Chart)?)
        }
        None => None,
    };
    let (mut field, mut data) = (None, None);
    if let (Some(path), Some(swept)) = (&args.sweep, swept) {
        let svg = sweep_chart(swept, name);
        field = Some(svg.and_then(|svg| chart_bytes(svg, path)).map_err(CliError::Chart)?);
        data = Some(sweep_csv(swept, name).map_err(CliError::Curves)?.into_bytes());
    }
    Ok([places, chart, field, data])
}

/// Resolves every name, file and length, telling all that is wrong with them in one go.
fn resolve<'a>(args: &Args, shelf: &'a Shelf) -> Result<Resolved<'a>, CliError> {
    let mut errors = Vec::new();
    let layup = expose::layup(&args.layup, shelf).map_err(|e| errors.push(e)).ok();
    let as_given = expose::exposure(&args.exposure, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.terms.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let patch = patch(args, shelf).map_err(|e| errors.push(e)).unwrap_or_default();
    let mut targets = Vec::new();
    for name in &args.against {
        match shelf.target(name) {
            Ok(target) => targets.push(target),
            Err(unknown) => errors.push(CliError::Unknown(unknown)),
        }
    }
    if (args.chart.is_some() || args.csv.is_some()) && args.behind.meaning() == Behind::Disc {
        errors.push(CliError::NeedsSkin);
    }
    let quilting = layup.as_ref().map(|layup| quilting(args, layup).map_err(CliError::Quilt));
    let quilting = quilting.and_then(|made| made.map_err(|e| errors.push(e)).ok());
    match (layup, quilting, as_given, skin, errors.is_empty()) {
        (Some(layup), Some(quilting), Some(as_given), Some(skin), true) => {
            let exposure = args.terms.changed(&as_given)?;
            Ok(Resolved { layup, quilting, as_given, exposure, skin, targets, patch })
        }
        _ => Err(CliError::Several(errors)),
    }
}

/// What is wrong, where it stands in the layup's file if it does.
fn in_file(error: QuiltError, args: &Args, shelf: &Shelf) -> CliError {
    let word = args.layup.to_string_lossy();
    let place = match error {
        QuiltError::UnderPressure => place_in_layup(&word, &args.layup, shelf, "pressure_kPa"),
        _ => None,
    };
    let Some(place) = place else { return CliError::Quilt(error) };
    let (what, expected, mend) = error.parts();
    CliError::Faults(Fault::new(what, place, expected, mend).into())
}

/// The patch asked for, if one is.
fn patch(args: &Args, shelf: &Shelf) -> Result<Option<Patch>, CliError> {
    let Some((name, share)) = args.patch.as_deref().zip(args.patch_share) else { return Ok(None) };
    let thread = args.patch_thread.unwrap_or(0.0);
    made_patch((name, share), ("--patch-thread", thread), shelf).map(Some)
}

/// The layup's own quilting with the options in its place.
fn quilting(args: &Args, layup: &Layup) -> Result<Quilting, QuiltError> {
    let own = layup.quilting.as_ref();
    let mut missing = Vec::new();
    let given = |value| Known::new(value, Provenance::Estimated, "given on the command line");
    let mut length = |option: Option<f64>, own: Option<&Known>, name: &'static str| {
        let found = option.map(given).or_else(|| own.cloned());
        if found.is_none() {
            missing.push(name);
        }
        found
    };
    let pitch = length(args.pitch, own.map(|q| &q.pitch), "--pitch");
    let stitch_width = length(args.stitch_width, own.map(|q| &q.stitch_width), "--stitch-width");
    let loft = length(args.loft, own.map(|q| &q.loft), "--loft");
    let pressed = length(args.pressed, own.map(|q| &q.pressed), "--pressed");
    let first = args.versus.iter().find_map(|word| word.meaning());
    let pattern = args.pattern.map(PatternWord::meaning).or(first).or(own.map(|q| q.pattern));
    if pattern.is_none() {
        missing.insert(0, "--pattern");
    }
    let thread = args.thread.map(given).or_else(|| own.and_then(|q| q.thread.clone()));
    match (pattern, pitch, stitch_width, loft, pressed) {
        (Some(pattern), Some(pitch), Some(stitch_width), Some(loft), Some(pressed)) => {
            Ok(Quilting { pattern, pitch, stitch_width, loft, pressed, thread })
        }
        _ => Err(QuiltError::NoQuilting { missing }),
    }
}

impl PatternWord {
    fn meaning(self) -> Pattern {
        match self {
            PatternWord::Channels => Pattern::Channels,
            PatternWord::Square => Pattern::Square,
            PatternWord::Diamond => Pattern::Diamond,
        }
    }
}
