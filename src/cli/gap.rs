//! `stillair gap`: figures against the thickness of air gaps.

use std::path::PathBuf;

use super::arguments;
use super::asked::{Named, TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::expose::layup;
use super::flat::FlatArg;
use crate::chart::lines::PointMark;
use crate::chart::{ChartError, GapLine, Heading, gap_beside_chart, gap_chart};
use crate::garment::layup::Layup;
use crate::garment::shelf::Shelf;
use crate::physics::units::MILLIMETRES;
use crate::report::gap::beside::{
    MOST, beside_csv, beside_json, beside_text, best_label, end_label, orders,
};
use crate::report::gap::columns::{gap_csv, gap_json};
use crate::report::gap::text::gap_text;
use crate::report::gap::words::{rise_name, sentence};
use crate::study::gap::{GapSweep, NoGap, Swept, sweep, swept_plies};
use crate::study::gap_beside::longest;
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
    /// Number of gaps, evenly spread
    #[arg(long, value_name = "N", default_value = "60", value_parser = arguments::n_points)]
    points: usize,
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
    if args.layups.len() > MOST {
        errors.push(CliError::Option(BadOption {
            what: "more layups than a table has room for".to_string(),
            given: format!("{} layups", args.layups.len()),
            expected: format!("at most {MOST}"),
            mend: "hold them against each other in several runs".to_string(),
        }));
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

fn thicknesses(args: &Args) -> Result<Vec<f64>, CliError> {
    let (from, to, n) = (args.from, args.to, args.points);
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
