//! `stillair rank`: layups side by side.

use std::path::PathBuf;

use super::anchored::AnchoredArg;
use super::arguments;
use super::asked::{TermArgs, ViewArgs, Views};
use super::by::ByWord;
use super::error::{BadOption, CliError};
use super::expose::{exposure, layup};
use super::flat::FlatArg;
use crate::bench::figure::{Verdict, figure_name, shown};
use crate::chart::rank::{MOST, RankChart, RankedBar};
use crate::chart::stack::Stack;
use crate::chart::{ChartError, Heading, rank_chart};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::target::{Figure, Target};
use crate::report::lies;
use crate::report::rank::columns::{rank_csv, rank_curves_csv, rank_json};
use crate::report::rank::text::rank_text;
use crate::report::verdict::needed;
use crate::report::write::Destination;
use crate::shelf::materials::Shelf;
use crate::study::ordering::{By, Placed, Ranking, Versus, ranking};
use crate::study::rank::side_by_side;

/// Arguments of `rank`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup files (.toml), or names of layups on the shelf; two or more
    #[arg(value_name = "LAYUP", required = true, num_args = 1..)]
    layups: Vec<PathBuf>,
    /// What to order by
    #[arg(long, value_enum, default_value = "hti24", value_name = "FIGURE")]
    by: ByWord,
    /// Which layup the differences are counted from
    #[arg(long, value_enum, default_value = "first")]
    versus: VersusWord,
    /// Exposure: a name on the shelf, or a file; may be given several times
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: Vec<PathBuf>,
    /// Hold the results against a target on the shelf; may be given several times
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    /// Write the disc's rise over time of each layup to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    curves: Option<PathBuf>,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    anchored: AnchoredArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Which layup the differences are counted from, as a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum VersusWord {
    /// The first one named
    First,
    /// The one that the order puts first
    Best,
}

/// Everything that the names and files of the arguments stand for.
struct Resolved<'a> {
    layups: Vec<Layup>,
    exposures: Vec<Exposure>,
    targets: Vec<&'a Target>,
}

/// Exposes the layups, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let resolved = resolve(args, shelf, &mut errors);
    let skin = args.terms.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let (Some(skin), true) = (skin, errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let curves = args.curves.as_deref().map(Destination::try_out).transpose();
    let curves = curves.map_err(CliError::Write)?;
    let changed = resolved.exposures.iter().map(|exposure| args.terms.changed(exposure));
    let changed: Vec<Exposure> = changed.collect::<Result<_, _>>()?;
    let asked = (skin, args.flat.quilts());
    let bands = args.anchored.bands((shelf, dirs), skin, args.terms.error.goal)?;
    let lists = side_by_side(&resolved.layups, &changed, asked, args.terms.error.goal)?;
    let versus = match args.versus {
        VersusWord::First => Versus::First,
        VersusWord::Best => Versus::Best,
    };
    let rankings: Vec<Ranking> = lists
        .iter()
        .zip(&resolved.exposures)
        .map(|(outcomes, given)| ranking(outcomes, args.by.by(), versus, (given, &bands)))
        .collect();
    let targets = &resolved.targets;
    let mut further = Vec::new();
    if let Some(file) = curves {
        further.push((file, rank_curves_csv(&rankings).map_err(CliError::Curves)?));
    }
    args.views.deliver_with(
        opened,
        further,
        &Views {
            text: &|| rank_text(&rankings, targets),
            json: &|| rank_json(&rankings, targets),
            csv: &|| rank_csv(&rankings, targets),
            chart: &|| chart(&rankings, targets),
        },
    )
}

fn resolve<'a>(args: &Args, shelf: &'a Shelf, errors: &mut Vec<CliError>) -> Resolved<'a> {
    let mut found = Resolved { layups: Vec::new(), exposures: Vec::new(), targets: Vec::new() };
    for given in &args.layups {
        layup(given, shelf).map_or_else(|e| errors.push(e), |one| found.layups.push(one));
    }
    for given in &args.exposure {
        exposure(given, shelf).map_or_else(|e| errors.push(e), |one| found.exposures.push(one));
    }
    for name in &args.against {
        match shelf.target(name) {
            Ok(target) => found.targets.push(target),
            Err(unknown) => errors.push(CliError::Unknown(unknown)),
        }
    }
    let given = args.layups.iter().map(|path| path.display().to_string()).collect::<Vec<_>>();
    if args.layups.len() < 2 {
        errors.push(CliError::Option(BadOption {
            what: "one layup alone has nothing to stand beside".to_string(),
            given: format!("rank {}", given.join(" ")),
            expected: "two layups or more".to_string(),
            mend: "name another, or look at the one with `stillair expose`".to_string(),
        }));
    }
    if args.views.chart.is_some() && (args.layups.len() > MOST || args.exposure.len() > 1) {
        errors.push(CliError::Option(BadOption {
            what: "more than one chart can show".to_string(),
            given: format!(
                "--chart with {} layups and {} exposures",
                args.layups.len(),
                args.exposure.len()
            ),
            expected: format!("at most {MOST} layups under one exposure"),
            mend: "leave --chart out, or draw the layups in several charts".to_string(),
        }));
    }
    found
}

/// The chart of the one ranking.
pub(super) fn chart(rankings: &[Ranking<'_>], targets: &[&Target]) -> Result<String, ChartError> {
    let nothing = || ChartError::Empty { part: "the ranking".to_owned() };
    let ranking = rankings.first().ok_or_else(nothing)?;
    let exposure = &ranking.placed.first().ok_or_else(nothing)?.outcome.exposure;
    let figure = ranking.by.figure();
    let (unit, scale) = (shown(figure).unit, shown(figure).outside(1.0));
    let name = figure_name(figure, exposure);
    let order = match ranking.by {
        By::Figure(Figure::Tpp) => format!("highest {name} first"),
        By::Figure(_) => format!("longest {name} first"),
        By::Mass => "lightest first".to_string(),
        By::Thickness => "thinnest first".to_string(),
    };
    let fitting: Vec<&Target> = targets
        .iter()
        .copied()
        .filter(|target| target.figure == figure && target.suits(exposure))
        .collect();
    // several targets on one bar would be a riddle: they stand in the table
    let call = |placed: &Placed<'_>| match fitting[..] {
        [one] => match placed.held(one).call.as_ref() {
            Ok(call) => call.words().to_string(),
            Err(_) => "not judged".to_string(),
        },
        _ => String::new(),
    };
    let bars = ranking.placed.iter().map(|placed| RankedBar {
        call: call(placed),
        name: format!(
            "{}{}",
            placed.outcome.layup.name,
            lies::after_name(placed.outcome.lies.stack())
        ),
        figure: placed.valued().map(|v| (scale * v.value, scale * v.error)),
    });
    let thresholds = fitting
        .iter()
        .map(|target| (scale * target.at_least, format!("{} asks for this", target.name)));
    let asked: Vec<Verdict> = ranking
        .placed
        .iter()
        .flat_map(|placed| placed.verdicts(targets))
        .filter(|verdict| verdict.rule.figure == figure)
        .collect();
    let n = ranking.placed.len();
    rank_chart(&RankChart {
        heading: Heading {
            title: format!("{n} layups side by side, {order}"),
            subtitle: format!(
                "exposure {}: the disc's rise over time, {name} with its numerical error, and the mass. {}",
                exposure.name,
                needed(asked.iter().map(|verdict| &verdict.rule))
            ),
            source: format!("layups on the shelf or from files, exposure {}", exposure.name),
            summary: format!("{n} layups under {}, {order}.", exposure.name),
        },
        figure: format!("{name} [{unit}]"),
        bars: bars.collect(),
        outcomes: ranking.placed.iter().map(|placed| placed.outcome).collect(),
        targets: thresholds.collect(),
        beside: drawn(ranking.placed.first().ok_or_else(nothing)?),
    })
}

/// The first of the ranking, cut through.
fn drawn(first: &Placed<'_>) -> Stack {
    let layup = &first.outcome.layup;
    let loft = if layup.quilting.is_some() { ", without its loft" } else { "" };
    Stack::of(layup, format!("{}{loft}", layup.name), "copper disc")
}
