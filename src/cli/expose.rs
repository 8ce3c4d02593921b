//! `stillair expose`: the main job.

use std::path::{Path, PathBuf};

use super::anchored::AnchoredArg;
use super::changed::changed;
use super::error::CliError;
use super::flat::FlatArg;
use super::how::{ErrorArg, SkinArg};
use super::shelf::{note, shelf_layup};
use super::target_marks::asked;
use super::{arguments, output};
use crate::bench::effects::Effect;
use crate::bench::figure::{Verdict, hold_outcome};
use crate::bench::outcome::Outcome;
use crate::bench::{Behind, Follow, Question};
use crate::chart::{self, Asked, Which, exposure_chart};
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Target;
use crate::report::anchored::of_figures;
use crate::report::brief::exposure_brief;
use crate::report::json::WithCurves;
use crate::report::studies::Studies;
use crate::report::write::{Destination, put_all};
use crate::report::{csv, json, text};
use crate::shelf::key::unusual;
use crate::shelf::layup::one_line::is_one_line;
use crate::shelf::layup::read::read_layup;
use crate::shelf::materials::Shelf;
use crate::shelf::stock::exposure_file::read_exposure;
use crate::study::answer::{answer, as_computed};
use crate::study::sensitivity::{Base, Row, sensitivities};
use crate::study::worth::{Worth, worths};

/// Arguments of `expose`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "flame-80")]
    exposure: PathBuf,
    /// What stands behind the layup
    #[arg(long, value_enum, default_value = "both")]
    behind: BehindWord,
    /// Take the flame away after this time
    #[arg(long = "for", value_name = "SECONDS", value_parser = arguments::duration)]
    duration: Option<f64>,
    /// Follow the layup up to this time
    #[arg(long, value_name = "SECONDS", value_parser = arguments::until)]
    until: Option<f64>,
    /// Press the plies together, 0 to 100 kPa; thickness and conductivity follow
    #[arg(long, value_name = "KPA", value_parser = arguments::pressure)]
    pressure: Option<f64>,
    #[command(flatten)]
    skin: SkinArg,
    /// Hold the result against a target on the shelf; may be given several times
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    /// Expose again without this effect and tell the change; may be given
    /// several times
    #[arg(long, value_name = "EFFECT", value_parser = arguments::effect_words())]
    without: Vec<Effect>,
    /// Tell all that was found: the plies' values and limits, where heat and water went
    #[arg(long, conflicts_with = "json")]
    full: bool,
    /// Tell by how much each property moves the times, largest first
    #[arg(long)]
    sensitivity: bool,
    #[command(flatten)]
    error: ErrorArg,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    anchored: AnchoredArg,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
    /// Put the curves into the JSON, too
    #[arg(long, requires = "json")]
    with_curves: bool,
    /// Write temperatures and fluxes over time to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    curves: Option<PathBuf>,
    /// Draw the temperatures over time into this file (.svg or .png)
    #[arg(long, value_name = "FILE", value_parser = arguments::chart_file)]
    chart: Option<PathBuf>,
}

/// What stands behind the layup, as a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(super) enum BehindWord {
    /// The copper disc of the bench
    Disc,
    /// Skin
    Skin,
    /// Either, in two runs
    Both,
}

impl BehindWord {
    /// What the bench understands by it.
    pub(super) fn meaning(self) -> Behind {
        match self {
            BehindWord::Disc => Behind::Disc,
            BehindWord::Skin => Behind::Skin,
            BehindWord::Both => Behind::Both,
        }
    }
}

/// Everything that the names and files of the arguments stand for.
struct Resolved<'a> {
    layup: Layup,
    /// As on the shelf or in its file, before `--for` and `--until`.
    exposure: Exposure,
    skin: &'a Skin,
    targets: Vec<&'a Target>,
}

/// Exposes the layup, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let resolved = resolve(args, shelf)?;
    let try_out = |path: &Option<PathBuf>| {
        path.as_deref().map(Destination::try_out).transpose().map_err(CliError::Write)
    };
    let (curves_file, chart_file) = (try_out(&args.curves)?, try_out(&args.chart)?);

    let bands = args.anchored.bands((shelf, dirs), resolved.skin, args.error.goal)?;
    let outcome = compute(args, &resolved)?;
    let worths = effects(args, &resolved, &outcome)?;
    let rows = match args.sensitivity {
        true => Some(sensitivity(args, &resolved, &outcome)?),
        false => None,
    };
    let anchored = of_figures(&outcome, &bands);
    let studies = Studies { worths: &worths, sensitivity: rows.as_deref(), anchored: &anchored };
    let verdicts: Vec<(&Target, Verdict)> = resolved
        .targets
        .iter()
        .map(|target| (*target, hold_outcome(&outcome, target, &resolved.exposure, &bands)))
        .collect();

    // Everything is made before anything is written, so that no half of it is left.
    let with_curves = if args.with_curves || !args.json { WithCurves::Yes } else { WithCurves::No };
    let json =
        json::exposure_json(&outcome, &verdicts, &studies, with_curves).map_err(CliError::Json)?;
    let curves = match &args.curves {
        Some(_) => csv::curves_csv(&outcome).map_err(CliError::Curves)?.into_bytes(),
        None => Vec::new(),
    };
    let chart = match &args.chart {
        Some(path) => chart_bytes(&outcome, &asked(&outcome, &verdicts), path)?,
        None => Vec::new(),
    };
    let files = [(curves_file, curves), (chart_file, chart)];
    let files = files.into_iter().filter_map(|(file, bytes)| Some((file?, bytes))).collect();
    put_all(files).map_err(CliError::Write)?;
    match (args.json, args.full) {
        (true, _) => output::print_raw(json.as_bytes()),
        (_, true) => output::print(&text::exposure_text(&outcome, &verdicts, &studies)),
        _ => output::print(&exposure_brief(&outcome, &verdicts, &studies, &bands)),
    }
}

/// Resolves every name and file, telling all that is wrong with them in one go.
fn resolve<'a>(args: &Args, shelf: &'a Shelf) -> Result<Resolved<'a>, CliError> {
    let mut errors = Vec::new();
    let mut layup = layup(&args.layup, shelf).map_err(|e| errors.push(e)).ok();
    if let (Some(layup), Some(pressure)) = (&mut layup, args.pressure) {
        layup.pressure = Some(Known::new(pressure, Provenance::Stated, "command line"));
    }
    let exposure = exposure(&args.exposure, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let mut targets = Vec::new();
    for name in &args.against {
        match shelf.target(name) {
            Ok(target) => targets.push(target),
            Err(unknown) => errors.push(CliError::Unknown(unknown)),
        }
    }
    match (layup, exposure, skin, errors.is_empty()) {
        (Some(layup), Some(exposure), Some(skin), true) => {
            Ok(Resolved { layup, exposure, skin, targets })
        }
        _ => Err(CliError::Several(errors)),
    }
}

/// Whether the user means a file: a path, a known ending, or something that lies there; a layup in one line
/// may have a point in a number.
pub(super) fn means_file(given: &Path) -> bool {
    let like_one = given.components().count() > 1 || given.extension().is_some();
    given.exists() || (like_one && !is_one_line(&given.to_string_lossy()))
}

/// The layup of a name on the shelf, in one line, or of a file.
pub(super) fn layup(given: &Path, shelf: &Shelf) -> Result<Layup, CliError> {
    let name = given.to_string_lossy();
    let layup = match shelf.layup_text(&name).is_ok() || !means_file(given) {
        true => shelf_layup(&name, shelf)?,
        false => read_layup(given, shelf).map_err(CliError::Faults)?,
    };
    note(&unusual::of_layup(&layup));
    Ok(layup)
}

/// The exposure of a name on the shelf or of a file.
pub(super) fn exposure(given: &Path, shelf: &Shelf) -> Result<Exposure, CliError> {
    let name = given.to_string_lossy();
    let exposure = match shelf.exposure(&name) {
        Ok(exposure) => exposure.clone(),
        Err(_) if means_file(given) => read_exposure(given).map_err(CliError::Faults)?,
        Err(unknown) => return Err(CliError::Unknown(unknown)),
    };
    note(&unusual::of_exposure(&exposure));
    Ok(exposure)
}

fn compute(args: &Args, resolved: &Resolved) -> Result<Outcome, CliError> {
    let exposure = changed(&resolved.exposure, args.duration, args.until)?;
    Ok(answer(&resolved.layup, &exposure, &question(args, resolved), args.flat.quilts())?)
}

fn question<'a>(args: &Args, resolved: &Resolved<'a>) -> Question<'a> {
    let follow = if args.until.is_some() { Follow::ToTheEnd } else { Follow::UntilKnown };
    let plain = Question::plain(args.behind.meaning(), resolved.skin, args.error.goal);
    Question { follow, ..plain }
}

/// The exposure again without each effect that was named.
fn effects(args: &Args, resolved: &Resolved, outcome: &Outcome) -> Result<Vec<Worth>, CliError> {
    let question = question(args, resolved);
    let lies = (&outcome.layup, args.flat.quilts());
    Ok(worths(lies, &outcome.exposure, &question, &args.without)?)
}

/// What each property of the layup, as pressed, and of the exposure moves.
fn sensitivity(args: &Args, resolved: &Resolved, outcome: &Outcome) -> Result<Vec<Row>, CliError> {
    let layup = as_computed(&outcome.layup, args.flat.quilts());
    let base = Base {
        layup: &layup,
        exposure: &outcome.exposure,
        disc: !matches!(args.behind, BehindWord::Skin),
        skin: (!matches!(args.behind, BehindWord::Disc)).then_some(resolved.skin),
    };
    sensitivities(&base).map_err(CliError::Bench)
}

/// The chart in the form that the file's ending asks for.
fn chart_bytes(outcome: &Outcome, asked: &Asked, file: &Path) -> Result<Vec<u8>, CliError> {
    let which = match (&outcome.disc, &outcome.skin) {
        (Some(_), Some(_)) => Which::Both,
        (Some(_), None) => Which::Disc,
        (None, _) => Which::Skin,
    };
    let svg = exposure_chart(outcome, which, asked);
    svg.and_then(|svg| chart::chart_bytes(svg, file)).map_err(CliError::Chart)
}
