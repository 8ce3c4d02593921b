//! `stillair gap`: figures against the thickness of air gaps.

use std::path::{Path, PathBuf};

use super::arguments;
use super::asked::{Named, Opened, TermArgs, ViewArgs, Views};
use super::by::swept_figure;
use super::error::{BadOption, CliError};
use super::expose::layup;
use super::flat::FlatArg;
use super::gap_brief::{self, Asked, FewArgs};
use super::gap_chart::{beside_chart, map_chart};
use super::holds::holds;
use crate::chart::gap_chart;
use crate::garment::brief::GapPlace;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::physics::units::MILLIMETRES;
use crate::report::gap::beside::{MOST, beside_csv, beside_json, beside_text};
use crate::report::gap::columns::{gap_csv, gap_json};
use crate::report::gap::map::{MOST_GAPS, MOST_LAYUPS, map_csv, map_json, map_text};
use crate::report::gap::text::gap_text;
use crate::report::gap::words::{mm, sentence};
use crate::report::words::count;
use crate::shelf::inputs::Holds;
use crate::shelf::materials::Shelf;
use crate::study::gap::{NoGap, Swept, sweep_each, swept_plies};
use crate::study::gap_beside::Beside;
use crate::study::gap_map::GapMap;
use crate::study::run::Terms;

/// Arguments of `gap`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup files (.toml), or names of layups on the shelf; of several the same gap is opened in each, and
    /// their times are held against each other. Or, with --map, one brief: its stacks of plies down, its gaps
    /// across, under its target
    #[arg(value_name = "LAYUP", required = true)]
    layups: Vec<PathBuf>,
    /// Gap to sweep: the number of the ply that it lies behind, "behind" for the one before disc or skin, "all" for all that the layup has between its plies, or that its quilting opens, or that the brief opens; or a brief's place: "behind outer", "between felts", "before inner", "behind inner"
    #[arg(long, value_name = "N|behind|PLACE|all", default_value = "all", value_parser = swept)]
    gap: Swept,
    /// Narrowest gap, 0 where the faces touch [default: 0, of a brief its own]
    #[arg(long, value_name = "MM", value_parser = arguments::gap)]
    from: Option<f64>,
    /// Widest gap [default: 12.7, of a brief its own]
    #[arg(long, value_name = "MM", value_parser = arguments::gap)]
    to: Option<f64>,
    /// Number of gaps, evenly spread [default: 60, in a map 10, of a brief its own]
    #[arg(long, value_name = "N", value_parser = arguments::n_points)]
    points: Option<usize>,
    /// These gaps, growing, instead of evenly spread ones: for example 0,0.5,1,2,4
    #[arg(long, value_name = "MM,MM,…", value_delimiter = ',', value_parser = arguments::gap,
          conflicts_with_all = ["from", "to", "points"])]
    gaps: Vec<f64>,
    /// Layups down, gaps across: one figure of each layup at each gap, as a table, and in the chart as
    /// colours with the number in each cell, masses at the edge and lines of equal time
    #[arg(long)]
    map: bool,
    /// The figure of a map [default: hti24, of a brief its target's]
    #[arg(long, value_name = "FIGURE", value_parser = swept_figure(), requires = "map")]
    by: Option<Figure>,
    #[command(flatten)]
    few: FewArgs,
    /// Exposure: a name on the shelf, or a file [default: flame-80, of a brief its target's]
    #[arg(long, value_name = "NAME|FILE")]
    exposure: Option<PathBuf>,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Which gaps a word names.
pub(super) fn swept(text: &str) -> Result<Swept, String> {
    if let Some(place) = GapPlace::ALL.into_iter().find(|place| place.words() == text) {
        return Ok(Swept::Place(place));
    }
    match (text, text.parse::<usize>()) {
        ("behind", _) => Ok(Swept::Behind),
        ("all", _) => Ok(Swept::All),
        (_, Ok(ply)) if ply > 0 => Ok(Swept::BehindPly(ply)),
        _ => Err("expected the number of a ply, for example 1, or behind, or all, or a place in quotes, for example \
                   \"before inner\"".to_string()),
    }
}

/// Sweeps, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let is_brief = |path: &PathBuf| matches!(holds(path, shelf), Ok(Holds::Brief));
    if args.layups.iter().any(is_brief) {
        return brief(args, shelf);
    }
    let mut errors: Vec<CliError> = args.few.without_brief().into_iter().collect();
    let thicknesses = thicknesses(args).map_err(|e| errors.push(e)).unwrap_or_default();
    let exposure = args.exposure.as_deref().unwrap_or(Path::new(EXPOSURE));
    let (first, further) = (args.layups.first(), args.layups.iter().skip(1));
    // exposure and skin are those of all, and told once where they are wrong
    let named = first.and_then(|first| args.terms.named((first, exposure), shelf, &mut errors));
    let further: Vec<Layup> =
        further.filter_map(|path| layup(path, shelf).map_err(|e| errors.push(e)).ok()).collect();
    let layups = || named.iter().map(|named| &named.layup).chain(&further);
    let mut opened_behind = Vec::new();
    for layup in layups() {
        plies(args.gap, layup).map_or_else(|e| errors.push(e), |plies| opened_behind.push(plies));
    }
    let most = if args.map { MOST_LAYUPS } else { MOST };
    errors.extend(BadOption::too_many((args.layups.len(), "layups"), most).map(CliError::Option));
    if args.map {
        errors.extend(
            BadOption::too_many((thicknesses.len(), "gaps"), MOST_GAPS).map(CliError::Option),
        );
    }
    let (Some(Named { exposure, skin, .. }), true) = (&named, errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let (error_goal, quilts) = (args.terms.error.goal, args.flat.quilts());
    let terms = Terms { exposure, skin, error_goal, quilts };
    let found = sweep_each(layups().zip(&opened_behind), &terms, args.gap, &thicknesses)?;
    if args.map {
        let figure = args.by.unwrap_or(Figure::Rise24);
        return deliver_map(args, opened, &GapMap { sweeps: found, figure, asked: None });
    }
    let beside = Beside::of(found);
    match &beside.sweeps[..] {
        [one] => args.views.deliver(
            opened,
            &Views {
                text: &|| gap_text(one),
                json: &|| gap_json(one),
                csv: &|| gap_csv(one),
                chart: &|| gap_chart(one, &sentence(one)),
            },
        ),
        all => args.views.deliver(
            opened,
            &Views {
                text: &|| beside_text(&beside),
                json: &|| beside_json(&beside),
                csv: &|| beside_csv(all),
                chart: &|| beside_chart(&beside),
            },
        ),
    }
}

/// Draws a brief as a map.
fn brief(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let asked = Asked {
        paths: &args.layups,
        few: &args.few,
        swept: args.gap,
        gaps: gaps_given(args).then(|| thicknesses(args)).transpose()?,
        quilts: args.flat.quilts(),
    };
    let unfit = [
        (!args.map).then_some("no --map"),
        args.by.map(|_| "--by"),
        args.exposure.as_ref().map(|_| "--exposure"),
    ];
    if let Some(given) = unfit.into_iter().flatten().next() {
        return Err(CliError::Option(BadOption {
            what: "a brief is drawn as a map, of its own target's figure under its exposure"
                .to_string(),
            given: format!("a brief with {given}"),
            expected: "--map, and neither --by nor --exposure".to_string(),
            mend: "say gap BRIEF --map; of several targets --against NAME takes one".to_string(),
        }));
    }
    let drawn = gap_brief::drawn(&asked, &args.terms, shelf)?;
    let opened = args.views.try_out()?;
    deliver_map(args, opened, &drawn.map(args.terms.error.goal, args.flat.quilts())?)
}

/// Writes and prints a map.
fn deliver_map(args: &Args, opened: Opened, map: &GapMap) -> Result<(), CliError> {
    args.views.deliver(
        opened,
        &Views {
            text: &|| map_text(map),
            json: &|| map_json(map),
            csv: &|| map_csv(map),
            chart: &|| map_chart(map),
        },
    )
}

/// The word that names gaps.
pub(super) fn swept_word(swept: Swept) -> String {
    match swept {
        Swept::BehindPly(ply) => ply.to_string(),
        Swept::Behind => "behind".to_string(),
        Swept::Place(place) => place.words().to_string(),
        Swept::All => "all".to_string(),
    }
}

/// The plies behind which the swept gaps lie.
pub(super) fn plies(swept: Swept, layup: &Layup) -> Result<Vec<usize>, CliError> {
    swept_plies(layup, swept).map_err(|none| {
        let given = format!("--gap {}", swept_word(swept));
        let (what, expected) = match none {
            NoGap::Plies(n) => (
                format!("the layup has no ply of that number to put a gap behind; it has {n}"),
                format!("the number of a ply, 1 to {n}, or behind, or all"),
            ),
            NoGap::Place(n) => (
                format!(
                    "the layup has no such place between its plies; it has {}",
                    count(n, "ply", "plies")
                ),
                "a place between two of its plies, or behind inner".to_string(),
            ),
            NoGap::AllTouch => (
                "nowhere do the layup's plies stand apart".to_string(),
                "a layup with a gap between plies, or a gap to be made".to_string(),
            ),
        };
        let mend =
            "open one gap: --gap 1 for the one behind the first ply, --gap behind for the one \
                    before disc or skin"
                .to_string();
        CliError::Option(BadOption { what, given, expected, mend })
    })
}

/// Exposure where none is named.
const EXPOSURE: &str = "flame-80";
/// Narrowest and widest gap where none is given [m].
const ENDS: [f64; 2] = [0.0, 12.7e-3];
/// Gaps of a sweep that does not say how many.
const POINTS: usize = 60;
/// The same of a report, where quilted layups take their time.
const POINTS_OF_REPORT: usize = 31;
/// The same of a map.
const POINTS_OF_MAP: usize = 10;

/// The gaps as given, if each is wider than the one before.
fn growing(gaps: &[f64]) -> Result<Vec<f64>, CliError> {
    match gaps.windows(2).find(|pair| pair[0] >= pair[1]) {
        None => Ok(gaps.to_vec()),
        Some(pair) => Err(CliError::Option(BadOption {
            what: "a gap is not wider than the one before".to_string(),
            given: format!("--gaps …{},{}…", mm(pair[0]), mm(pair[1])),
            expected: "gaps that grow, each once".to_string(),
            mend: "put them in order: --gaps 0,1,2".to_string(),
        })),
    }
}

/// The gaps asked for, evenly spread ones where they are not listed [m].
fn thicknesses(args: &Args) -> Result<Vec<f64>, CliError> {
    if !args.gaps.is_empty() {
        return growing(&args.gaps);
    }
    let n = args.points.unwrap_or(if args.map { POINTS_OF_MAP } else { POINTS });
    let (from, to) = (args.from.unwrap_or(ENDS[0]), args.to.unwrap_or(ENDS[1]));
    if n == 1 {
        return Ok(vec![from]);
    }
    if from >= to {
        return Err(CliError::Option(BadOption {
            what: "the narrowest gap is not narrower than the widest".to_string(),
            given: format!("--from {} --to {}", MILLIMETRES.outside(from), MILLIMETRES.outside(to)),
            expected: "--from less than --to".to_string(),
            mend: "exchange the two, or ask for --points 1 to look at --from alone".to_string(),
        }));
    }
    Ok(spread(from, to, n))
}

/// So many gaps, evenly spread [m]; at least two.
fn spread(from: f64, to: f64, n: usize) -> Vec<f64> {
    (0..n).map(|i| from + (to - from) * i as f64 / (n - 1) as f64).collect()
}

/// The gaps of a sweep that a report shows [m].
pub(super) fn gaps_of_report() -> Vec<f64> {
    spread(ENDS[0], ENDS[1], POINTS_OF_REPORT)
}

/// Whether gaps were asked for in any way.
fn gaps_given(args: &Args) -> bool {
    !args.gaps.is_empty() || args.points.is_some() || args.from.is_some() || args.to.is_some()
}
