//! `stillair gap`: figures against the thickness of air gaps.

use std::path::PathBuf;

use super::arguments;
use super::asked::{Named, TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::flat::FlatArg;
use crate::chart::gap_chart;
use crate::garment::layup::Layup;
use crate::garment::shelf::Shelf;
use crate::physics::units::MILLIMETRES;
use crate::report::gap::columns::{gap_csv, gap_json};
use crate::report::gap::text::gap_text;
use crate::report::gap::words::sentence;
use crate::study::gap::{NoGap, Swept, sweep, swept_plies};
use crate::study::run::Terms;

/// Arguments of `gap`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Gap to sweep: the number of the ply that it lies behind, "behind" for the one before disc or skin, "all" for all that the layup has between its plies, or that its quilting opens
    #[arg(long, value_name = "N|behind|all", default_value = "all", value_parser = swept)]
    gap: Swept,
    /// Narrowest gap
    #[arg(long, value_name = "MM", default_value = "0.5", value_parser = arguments::gap)]
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
    let named = args.terms.named((&args.layup, &args.exposure), shelf, &mut errors);
    let thicknesses = thicknesses(args).map_err(|e| errors.push(e)).unwrap_or_default();
    let plies =
        named.as_ref().and_then(|named| plies(args, &named.layup).map_err(|e| errors.push(e)).ok());
    let (Some(Named { layup, exposure, skin }), Some(plies), true) =
        (named, plies, errors.is_empty())
    else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let (error_goal, quilts) = (args.terms.error_goal, args.flat.quilts());
    let terms = Terms { exposure: &exposure, skin, error_goal, quilts };
    let found = sweep(&layup, &terms, (args.gap, &plies), &thicknesses)?;
    args.views.deliver(
        opened,
        &Views {
            text: &|| gap_text(&found),
            json: &|| gap_json(&found),
            csv: &|| gap_csv(&found),
            chart: &|| gap_chart(&found, &sentence(&found)),
        },
    )
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
