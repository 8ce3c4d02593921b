//! `stillair lots`: delivered rolls, and which to hold for testing.

use std::path::PathBuf;

use super::arguments;
use super::asked::{TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::expose::{exposure, layup};
use super::flat::FlatArg;
use crate::bench::figure::{Under, shown};
use crate::chart::lots::{LotsChart, LotsPanel};
use crate::chart::{ChartError, Heading, lots_chart};
use crate::garment::target::Figure;
use crate::physics::units::PERCENT;
use crate::report::lies;
use crate::report::lots::columns::{lots_csv, lots_json};
use crate::report::lots::text::lots_text;
use crate::report::lots::words::{LotsOf, plies_words};
use crate::report::number::Shown;
use crate::report::verdict::needed;
use crate::shelf::lab::rolls::{Roll, read_lots};
use crate::shelf::materials::Shelf;
use crate::study::answer::stack;
use crate::study::figure::Ask;
use crate::study::lots::{Group, Hold, Rule, lots};
use crate::study::odds::work::OddsError;
use crate::study::quilt::N_POINTS;

/// Panels that a chart holds.
const PANELS_MOST: usize = 6;

/// Arguments of `lots`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Measured rolls: lot, ply or fabric, areal_density_g_m2, thickness_mm
    #[arg(value_name = "LOTS.csv")]
    lots: PathBuf,
    /// A target on the shelf; its figure and its exposure are the ones computed
    #[arg(long, value_name = "TARGET")]
    against: Option<String>,
    /// Exposure without a target, for the time to a rise of 24 K: a name on the
    /// shelf, or a file [default: flame-80]
    #[arg(long, value_name = "NAME|FILE", conflicts_with = "against")]
    exposure: Option<PathBuf>,
    /// Lot that the others are counted from [default: the first of each ply]
    #[arg(long, value_name = "LOT")]
    reference: Option<String>,
    /// Hold a roll that lies further below the reference than this
    #[arg(long, value_name = "PERCENT", default_value = "3", value_parser = arguments::band)]
    hold_below: f64,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Rates the rolls, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let layup = layup(&args.layup, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.terms.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let target = match &args.against {
        Some(name) => shelf.target(name).map(Some).map_err(CliError::Unknown),
        None => Ok(None),
    };
    let target = target.map_err(|e| errors.push(e)).ok();
    let rolls = layup.as_ref().map(|layup| read_lots(&args.lots, layup));
    let rolls = rolls.and_then(|read| read.map_err(|e| errors.push(CliError::Faults(e))).ok());
    let (Some(layup), Some(skin), Some(target), Some(rolls), true) =
        (layup, skin, target, rolls, errors.is_empty())
    else {
        return Err(CliError::Several(errors));
    };
    check_reference(args, &rolls)?;
    let named = target.map(|target| PathBuf::from(&target.exposure));
    let named = named.or_else(|| args.exposure.clone());
    let exposure = exposure(&named.unwrap_or_else(|| PathBuf::from("flame-80")), shelf)?;
    let (exposure, given) = (args.terms.changed(&exposure)?, exposure);
    let opened = args.views.try_out()?;
    let figure = target.map_or(Figure::Rise24, |target| target.figure);
    let (error_goal, quilts) = (args.terms.error.goal, args.flat.quilts());
    let (exposure, as_given) = (&exposure, &given);
    let ask = Ask { figure, nominal: exposure, skin, error_goal, quilts, n_points: N_POINTS };
    let under = Under { layup: &layup, exposure, as_given, bands: shelf.bands() };
    let against = target.map(|target| (target, under));
    let rule = Rule { against, drop_most: args.hold_below };
    let rated = lots(&layup, &rolls, args.reference.as_deref(), &ask, rule)
        .map_err(|error| CliError::Odds(OddsError::Answer(error)))?;
    let stack = stack(&layup, quilts);
    let of = LotsOf { layup: &layup, stack, exposure, figure, target, lots: &rated };
    args.views.deliver(
        opened,
        &Views {
            text: &|| lots_text(&of),
            json: &|| lots_json(&of),
            csv: &|| lots_csv(&of),
            chart: &|| chart(&of),
        },
    )?;
    if of.is_open() { Err(CliError::NotJudged(of.sentence())) } else { Ok(()) }
}

/// The lot named must be among the rolls.
fn check_reference(args: &Args, rolls: &[Roll]) -> Result<(), CliError> {
    let Some(reference) = &args.reference else { return Ok(()) };
    if rolls.iter().any(|roll| roll.lot == *reference) {
        return Ok(());
    }
    let names: Vec<&str> = rolls.iter().map(|roll| roll.lot.as_str()).take(8).collect();
    Err(CliError::Option(BadOption {
        what: format!("no roll is of lot `{reference}`"),
        given: format!("--reference {reference}"),
        expected: format!("a lot in {}, such as {}", args.lots.display(), names.join(", ")),
        mend: "name one of them, or leave --reference out to take the first".to_string(),
    }))
}

fn chart(of: &LotsOf<'_>) -> Result<String, ChartError> {
    let (unit, scale) = (shown(of.figure).unit, shown(of.figure).outside(1.0));
    let groups = &of.lots.groups;
    if groups.len() > PANELS_MOST {
        let part = "the plies with rolls".to_owned();
        return Err(ChartError::TooMany { part, found: groups.len(), limit: PANELS_MOST });
    }
    // where no roll is called above, the marks tell those that stand out among the rolls
    let marks = |hold: &Hold| !of.none_is_above() || !hold.is_of_target();
    let panel = |group: &Group| LotsPanel {
        title: format!("Rolls for {}", plies_words(group)),
        rolls: group
            .rolls
            .iter()
            .map(|rated| {
                let held = rated.holds.iter().any(marks);
                Some((scale * rated.found.valued()?.value, rated.roll.lot.clone(), held))
            })
            .collect(),
        limits: group.limits.map(|l| [l.centre, l.low, l.high].map(|x| scale * x)),
        least: group.least(of.lots.drop_most).map(|least| {
            let reference = &group.rolls[group.reference].roll.lot;
            let drop = PERCENT.short(of.lots.drop_most, 1);
            (scale * least, format!("{drop} % below {reference}"))
        }),
    };
    let against = of.lots.against.as_ref();
    let needs = needed(against.map(|verdict| &verdict.rule).into_iter());
    lots_chart(&LotsChart {
        heading: Heading {
            title: format!("{}{}: delivered rolls", of.layup.name, lies::after_name(of.stack)),
            subtitle: format!("{} {} {needs}", of.sentence(), of.rule()).trim_end().to_string(),
            source: format!("measured mass and thickness, exposure {}", of.exposure.name),
            summary: of.sentence(),
        },
        figure: format!("{} [{unit}]", of.name()),
        panels: groups.iter().map(panel).collect(),
        target: of.target.map(|target| (scale * target.at_least, target.name.clone())),
        needed: against.map(|verdict| scale * verdict.rule.needs()),
    })
}
