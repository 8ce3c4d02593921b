//! `stillair gap`: figures against the thickness of air gaps.

use std::path::PathBuf;

use super::arguments;
use super::asked::{Named, TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::expose::layup;
use super::flat::FlatArg;
use crate::chart::lines::PointMark;
use crate::chart::{
    ChartError, GapLine, Heading, MapCell, MapRow, gap_beside_chart, gap_chart, gap_map_chart,
};
use crate::garment::layup::Layup;
use crate::garment::shelf::Shelf;
use crate::garment::target::Figure;
use crate::physics::units::MILLIMETRES;
use crate::report::gap::beside::{
    MOST, beside_csv, beside_json, beside_text, best_label, end_label, orders,
};
use crate::report::gap::columns::{gap_csv, gap_json};
use crate::report::gap::map::{
    self, MOST_GAPS, MOST_LAYUPS, map_csv, map_json, map_text, row_grams, row_label, sentences,
};
use crate::report::gap::text::gap_text;
use crate::report::gap::words::{mm, rise_name, sentence};
use crate::report::words::count;
use crate::study::gap::{GapSweep, NoGap, Swept, sweep, swept_plies};
use crate::study::gap_beside::longest;
use crate::study::gap_map::{GapMap, Spot};
use crate::study::run::Terms;

/// Arguments of `gap`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup files (.toml), or names of layups on the shelf; of several the same gap is opened in each, and
    /// their times are held against each other
    #[arg(value_name = "LAYUP", required = true)]
    layups: Vec<PathBuf>,
    /// Gap to sweep: the number of the ply that it lies behind, "behind" for the one before disc or skin, "all" for all that the layup has between its plies, or that its quilting opens
    #[arg(long, value_name = "N|behind|all", default_value = "all", value_parser = swept)]
    gap: Swept,
    /// Narrowest gap, 0 where the faces touch
    #[arg(long, value_name = "MM", default_value = "0", value_parser = arguments::gap)]
    from: f64,
    /// Widest gap
    #[arg(long, value_name = "MM", default_value = "12.7", value_parser = arguments::gap)]
    to: f64,
    /// Number of gaps, evenly spread [default: 60, in a map 10]
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
    /// The figure of a map
    #[arg(long, value_enum, default_value = "hti24", requires = "map")]
    by: ByWord,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// What a map is of, as a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum ByWord {
    /// Time until the disc is 24 K warmer (RHTI24 under radiant heat)
    Hti24,
    /// Time of the Stoll crossing
    Stoll,
    /// Time to a second-degree burn
    SecondDegree,
}

impl ByWord {
    fn figure(self) -> Figure {
        match self {
            ByWord::Hti24 => Figure::Rise24,
            ByWord::Stoll => Figure::Stoll,
            ByWord::SecondDegree => Figure::SecondDegree,
        }
    }
}

fn swept(text: &str) -> Result<Swept, String> {
    match (text, text.parse::<usize>()) {
        ("behind", _) => Ok(Swept::Behind),
        ("all", _) => Ok(Swept::All),
        (_, Ok(ply)) if ply > 0 => Ok(Swept::BehindPly(ply)),
        _ => Err("expected the number of a ply, for example 1, or behind, or all".to_string()),
    }
}

/// Sweeps, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let thicknesses = thicknesses(args).map_err(|e| errors.push(e)).unwrap_or_default();
    let (first, further) = (args.layups.first(), args.layups.iter().skip(1));
    // exposure and skin are those of all, and told once where they are wrong
    let named =
        first.and_then(|first| args.terms.named((first, &args.exposure), shelf, &mut errors));
    let further: Vec<Layup> =
        further.filter_map(|path| layup(path, shelf).map_err(|e| errors.push(e)).ok()).collect();
    let layups = || named.iter().map(|named| &named.layup).chain(&further);
    let mut opened_behind = Vec::new();
    for layup in layups() {
        plies(args, layup).map_or_else(|e| errors.push(e), |plies| opened_behind.push(plies));
    }
    let most = if args.map { MOST_LAYUPS } else { MOST };
    errors.extend(too_many((args.layups.len(), "layups"), most));
    if args.map {
        errors.extend(too_many((thicknesses.len(), "gaps"), MOST_GAPS));
    }
    let (Some(Named { exposure, skin, .. }), true) = (&named, errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let (error_goal, quilts) = (args.terms.error_goal, args.flat.quilts());
    let terms = Terms { exposure, skin, error_goal, quilts };
    let mut found = Vec::new();
    for (layup, plies) in layups().zip(&opened_behind) {
        found.push(sweep(layup, &terms, (args.gap, plies), &thicknesses)?);
    }
    if args.map {
        let map = GapMap { sweeps: found, figure: args.by.figure() };
        return args.views.deliver(
            opened,
            &Views {
                text: &|| map_text(&map),
                json: &|| map_json(&map),
                csv: &|| map_csv(&map),
                chart: &|| map_chart(&map),
            },
        );
    }
    match &found[..] {
        [one] => args.views.deliver(
            opened,
            &Views {
                text: &|| gap_text(one),
                json: &|| gap_json(one),
                csv: &|| gap_csv(one),
                chart: &|| gap_chart(one, &sentence(one)),
            },
        ),
        several => args.views.deliver(
            opened,
            &Views {
                text: &|| beside_text(several),
                json: &|| beside_json(several),
                csv: &|| beside_csv(several),
                chart: &|| beside_chart(several),
            },
        ),
    }
}

/// What is wrong with more of something than there is room for.
fn too_many((n, of): (usize, &str), most: usize) -> Option<CliError> {
    (n > most).then(|| {
        CliError::Option(BadOption {
            what: format!("more {of} than a table has room for"),
            given: format!("{n} {of}"),
            expected: format!("at most {most}"),
            mend: "hold them against each other in several runs".to_string(),
        })
    })
}

/// The chart of layups against gaps.
fn map_chart(map: &GapMap) -> Result<String, ChartError> {
    let figure = map::name(map);
    let names: Vec<&str> = map.sweeps.iter().map(|one| one.layup.name.as_str()).collect();
    let exposure = map.sweeps.first().map_or("", |one| one.exposure.name.as_str());
    let said = sentences(map).join(" ");
    let heading = Heading {
        title: format!("{figure} of {} at the same gaps", count(names.len(), "layup", "layups")),
        subtitle: format!(
            "{said} In bold where a layup lasts longest; thick lines part the cells below a time from those at \
             or above it. {}",
            map::remarks(map)
        ),
        source: format!("layups {}; exposure {exposure}", names.join(", ")),
        summary: format!("{figure} of {} at several gaps. {said}", names.join(", ")),
    };
    let gaps = map.gaps();
    let cell = |spot: Spot| MapCell {
        value: map.value(spot),
        text: map::cell(&map.found(spot)),
        is_best: map.best(spot.row) == Some(spot),
    };
    let row = |row: usize| MapRow {
        label: row_label(map, row),
        grams: row_grams(map, row),
        cells: (0..gaps.len()).map(|column| cell(Spot { row, column })).collect(),
    };
    let rows: Vec<MapRow> = (0..map.sweeps.len()).map(row).collect();
    let heads: Vec<String> = gaps.iter().map(|gap| mm(*gap)).collect();
    gap_map_chart(&heading, figure, &heads, &rows)
}

/// The chart of the same gap in several layups.
fn beside_chart(sweeps: &[GapSweep]) -> Result<String, ChartError> {
    let Some(first) = sweeps.first() else {
        return Err(ChartError::Empty { part: "the chart".to_owned() });
    };
    let figure = rise_name(first);
    let widest = first.points.last().map_or(0.0, |point| point.gap);
    let line = |(place, sweep): (usize, &GapSweep)| GapLine {
        label: end_label(place, sweep),
        points: sweep
            .points
            .iter()
            .filter_map(|point| Some((MILLIMETRES.outside(point.gap), point.rise24.t()?)))
            .collect(),
        // at the widest gap looked at more may still help: nothing to mark
        longest: longest(sweep).filter(|point| point.gap < widest).and_then(|point| {
            let (x, y) = (MILLIMETRES.outside(point.gap), point.rise24.t()?);
            Some(PointMark { x, y, label: best_label(place, point) })
        }),
    };
    let lines: Vec<GapLine> = sweeps.iter().enumerate().map(line).collect();
    let names: Vec<&str> = sweeps.iter().map(|sweep| sweep.layup.name.as_str()).collect();
    let orders = orders(sweeps).join(" ");
    let heading = Heading {
        title: format!("{figure} against the same gap in {} layups", sweeps.len()),
        subtitle: orders.clone(),
        source: format!("layups {}; exposure {}", names.join(", "), first.exposure.name),
        summary: format!(
            "{figure} of {} against the thickness of a gap. {orders}",
            names.join(", ")
        ),
    };
    gap_beside_chart(heading, figure, &lines)
}

fn plies(args: &Args, layup: &Layup) -> Result<Vec<usize>, CliError> {
    swept_plies(layup, args.gap).map_err(|none| {
        let given = match args.gap {
            Swept::BehindPly(ply) => format!("--gap {ply}"),
            Swept::Behind => "--gap behind".to_string(),
            Swept::All => "--gap all".to_string(),
        };
        let (what, expected) = match none {
            NoGap::Plies(n) => (
                format!("the layup has no ply of that number to put a gap behind; it has {n}"),
                format!("the number of a ply, 1 to {n}, or behind, or all"),
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

/// Gaps of a sweep that does not say how many.
const POINTS: usize = 60;
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

fn thicknesses(args: &Args) -> Result<Vec<f64>, CliError> {
    if !args.gaps.is_empty() {
        return growing(&args.gaps);
    }
    let n = args.points.unwrap_or(if args.map { POINTS_OF_MAP } else { POINTS });
    let (from, to) = (args.from, args.to);
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
    Ok((0..n).map(|i| from + (to - from) * i as f64 / (n - 1) as f64).collect())
}
