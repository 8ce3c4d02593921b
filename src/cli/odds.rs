//! `stillair odds`: what the tolerances do to a figure, and the odds of a target.

use std::fs;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};

use super::anchored::AnchoredArg;
use super::arguments;
use super::asked::{TermArgs, ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::expose::layup;
use super::flat::FlatArg;
use super::stop;
use crate::bench::figure::{Found, Rule, Under, Verdict, hold};
use crate::chart::odds::{OddsChart, SwingBar};
use crate::chart::{ChartError, Heading, odds_chart};
use crate::garment::band::{Bands, Factors};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Judged;
use crate::garment::target::Target;
use crate::physics::units::PERCENT;
use crate::report::lies;
use crate::report::lock::Lock;
use crate::report::number::Shown;
use crate::report::odds::columns::odds_csv;
use crate::report::odds::json::odds_json;
use crate::report::odds::text::odds_text;
use crate::report::odds::words::{OddsOf, input_in_full};
use crate::report::verdict::needed;
use crate::report::write::{Destination, Why, WriteError};
use crate::shelf::file::regular;
use crate::shelf::file::sizes::ODDS_CHECKPOINT_MOST;
use crate::shelf::materials::Shelf;
use crate::study::answer::{as_computed, stack};
use crate::study::figure::Ask;
use crate::study::odds::checkpoint::{ResumeError, resume, to_text};
use crate::study::odds::defaults;
use crate::study::odds::inputs::{Further, Inputs};
use crate::study::odds::result::odds;
use crate::study::odds::work::{N_BLOCKS, Plan, Work};

/// Points over a quilted layup's cell for each draw: with the stitch line they fill four of the solver's
/// lanes. What they are off by is told.
const N_POINTS_DRAWN: usize = 3;
/// Specimens of all sets together; odds of so many are told to a few tenths of a percent.
const SPECIMENS_MOST: usize = 65536;
/// Inputs that the chart shows.
const BARS_MOST: usize = 14;

/// Arguments of `odds`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Layup file (.toml), or the name of a layup on the shelf
    #[arg(value_name = "LAYUP")]
    layup: PathBuf,
    /// The target on the shelf; its exposure is the one computed
    #[arg(long, value_name = "TARGET")]
    against: String,
    /// Sets of specimens drawn, 16 to 65536
    #[arg(long, value_name = "N", default_value = "1024", value_parser = arguments::n_sets)]
    sets: usize,
    /// Specimens of a set, 1 to 20
    #[arg(long, value_name = "N", default_value_t = defaults::N_SPECIMENS,
          value_parser = arguments::n_specimens)]
    specimens: usize,
    /// Rows of a design of its own that tells what each input adds, each a run per
    /// input; 0 tells it from the sets drawn
    #[arg(long, value_name = "N", default_value = "0", value_parser = arguments::n_rows)]
    rows: usize,
    /// Seed of the points drawn
    #[arg(long, value_name = "N", default_value = "1")]
    seed: u32,
    /// Limit of the flux about its value, even between the ends [default: 5]
    #[arg(long, value_name = "PERCENT", value_parser = arguments::tolerance)]
    flux_tolerance: Option<f64>,
    /// Factors on the prediction between which the bench lies, 5 % below and
    /// 5 % above; 1:1 takes the model as exact [default: those of the layup's
    /// class, with which targets are called]
    #[arg(long, value_name = "LOWER:UPPER", value_parser = arguments::factors,
          conflicts_with = "anchored")]
    model_band: Option<Factors>,
    /// Keep what was run in this file, block by block
    #[arg(long, value_name = "FILE")]
    checkpoint: Option<PathBuf>,
    /// Go on from the checkpoint; begin it where there is none
    #[arg(long, requires = "checkpoint")]
    resume: bool,
    /// Stop after so many blocks, as Ctrl-C would
    #[arg(long, value_name = "N", hide = true)]
    stop_after: Option<usize>,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    anchored: AnchoredArg,
    #[command(flatten)]
    terms: TermArgs,
    #[command(flatten)]
    views: ViewArgs,
}

/// Everything that the names and files of the arguments stand for.
struct Resolved<'a> {
    layup: Layup,
    /// Without a quilting that is left out.
    computed: Layup,
    exposure: Exposure,
    skin: &'a Skin,
    target: &'a Target,
    bands: Bands,
    rule: Rule,
}

impl Resolved<'_> {
    /// The figure with everything at its value held against the target.
    fn verdict(&self, found: Found) -> Verdict {
        let (layup, exposure) = (&self.computed, &self.exposure);
        let under = Under { layup, exposure, as_given: exposure, bands: &self.bands };
        hold(found, self.target, &under)
    }
}

/// Draws the sets, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let n_runs = args.sets * args.specimens;
    if n_runs > SPECIMENS_MOST {
        return Err(CliError::Option(BadOption {
            what: format!("{n_runs} specimens are too many"),
            given: format!("--sets {} --specimens {}", args.sets, args.specimens),
            expected: format!("at most {SPECIMENS_MOST} specimens, sets times specimens a set"),
            mend: "draw fewer sets: four times as many tell odds only twice as closely".to_string(),
        }));
    }
    let resolved = resolve(args, shelf, dirs)?;
    let opened = args.views.try_out()?;
    let kept = args.checkpoint.as_deref();
    if let Some(path) = kept.filter(|path| !args.resume && has_something(path)) {
        return Err(is_there(path));
    }
    let place = kept.map(Destination::try_out).transpose().map_err(CliError::Write)?;
    let _lock = kept.map(lock).transpose()?;
    let mut work = begin(args, &resolved)?;
    // looked at once it is this run's alone: nobody else begins it meanwhile
    if let Some(path) = kept.filter(|path| args.resume && has_something(path)) {
        go_on(&mut work, path)?;
    }
    go(args, &mut work, kept.zip(place.as_ref()))?;

    let judged = Judged::of(resolved.target);
    let Some(odds) = odds(&work, judged, resolved.target.at_least) else {
        return Err(CliError::Stopped(
            "before the first block was run; nothing to tell".to_string(),
        ));
    };
    let of = OddsOf {
        layup: &resolved.layup,
        stack: stack(&resolved.layup, args.flat.quilts()),
        exposure: &resolved.exposure,
        target: resolved.target,
        verdict: resolved.verdict(odds.nominal),
        odds: &odds,
    };
    args.views.deliver(
        opened,
        &Views {
            text: &|| odds_text(&of),
            json: &|| odds_json(&of),
            csv: &|| odds_csv(&of),
            chart: &|| chart(&of),
        },
    )?;
    if odds.whole { Ok(()) } else { Err(CliError::Stopped(stopped(&work, kept))) }
}

fn resolve<'a>(args: &Args, shelf: &'a Shelf, dirs: &[PathBuf]) -> Result<Resolved<'a>, CliError> {
    let mut errors = Vec::new();
    let layup = layup(&args.layup, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.terms.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let unknown = |e| errors.push(CliError::Unknown(e));
    let target = shelf.target(&args.against).map_err(unknown).ok();
    let exposure = target.map(|target| shelf.exposure(&target.exposure));
    match (layup, skin, target, exposure, errors.is_empty()) {
        (Some(layup), Some(skin), Some(target), Some(exposure), true) => {
            let given = exposure.map_err(CliError::Unknown)?;
            let exposure = args.terms.changed(given)?;
            if exposure.duration != given.duration {
                return Err(taken_away(target, args));
            }
            let bands = args.anchored.bands((shelf, dirs), skin, args.terms.error.goal)?;
            let computed = as_computed(&layup, args.flat.quilts());
            let rule = Rule::new(target, &computed, &exposure, &bands);
            Ok(Resolved { layup, computed, exposure, skin, target, bands, rule })
        }
        _ => Err(CliError::Several(errors)),
    }
}

fn taken_away(target: &Target, args: &Args) -> CliError {
    CliError::Option(BadOption {
        what: "the flame of a target's exposure is not to be shortened".to_string(),
        given: format!("odds {} --against {} --for", args.layup.display(), target.name),
        expected: format!("the exposure {} as it stands on the shelf", target.exposure),
        mend: "leave --for out".to_string(),
    })
}

fn begin<'a>(args: &Args, resolved: &'a Resolved) -> Result<Work<'a>, CliError> {
    let further = Further {
        flux: args.flux_tolerance.unwrap_or(defaults::FLUX),
        model: args.model_band.unwrap_or(resolved.rule.factors()),
    };
    let inputs = Inputs::of(&resolved.computed, &resolved.exposure, further);
    let ask = Ask {
        figure: resolved.target.figure,
        nominal: &resolved.exposure,
        skin: resolved.skin,
        error_goal: args.terms.error.goal,
        quilts: args.flat.quilts(),
        n_points: N_POINTS_DRAWN,
    };
    let plan =
        Plan { n_sets: args.sets, n_specimens: args.specimens, n_rows: args.rows, seed: args.seed };
    let begun = Work::begin(&resolved.layup, ask, plan, inputs).map_err(CliError::Odds)?;
    Ok(Work { at_least: Some(resolved.target.at_least), ..begun })
}

/// Takes up what a file holds.
fn go_on(work: &mut Work, path: &Path) -> Result<(), CliError> {
    let shown = path.display().to_string();
    let bad = |what: String, mend: &str| {
        CliError::Option(BadOption {
            what,
            given: format!("--checkpoint {shown} --resume"),
            expected: "a file that --checkpoint has written for this very question".to_string(),
            mend: mend.to_string(),
        })
    };
    let bytes = regular::read(path, ODDS_CHECKPOINT_MOST).map_err(|unread| {
        let mend = "check the name, or begin anew with another";
        bad(format!("`{shown}` cannot be read: {unread}"), mend)
    })?;
    // what is no text is no checkpoint either
    let text = String::from_utf8(bytes).unwrap_or_default();
    resume(work, &text).map_err(|error| {
        let mend = match error {
            ResumeError::OtherKind => "name the file given to --checkpoint",
            ResumeError::Damaged => "begin anew with another name",
            ResumeError::OtherQuestion => {
                "give the same layup, target and options as before, or begin anew with another name"
            }
        };
        bad(format!("`{shown}` {error}"), mend)
    })
}

/// Whether there is anything to go on from, or to lose.
fn has_something(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|known| !known.is_file() || known.len() > 0)
}

/// A checkpoint begins anew: what stands in its place, be it the work of another run, is not lost to it.
fn is_there(path: &Path) -> CliError {
    CliError::Option(BadOption {
        what: format!("`{}` is there already", path.display()),
        given: format!("--checkpoint {}", path.display()),
        expected: "a file that is not there yet".to_string(),
        mend: "go on with --resume, or choose another name; nothing was written".to_string(),
    })
}

/// Runs block after block until all are run or Ctrl-C is pressed.
fn go(args: &Args, work: &mut Work, kept: Option<(&Path, &Destination)>) -> Result<(), CliError> {
    stop::only_note();
    let bar = ProgressBar::new(work.n_runs() as u64);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} runs, {eta} left") {
        bar.set_style(style);
    }
    let enough = |work: &Work| args.stop_after.is_some_and(|n| work.done.n_blocks >= n);
    let done_so_far = |work: &Work| (work.done.specimens.len() + work.done.rows.len()) as u64;
    bar.set_position(done_so_far(work));
    while !work.is_done() && !stop::pressed() && !enough(work) {
        let n = work.done.n_blocks;
        let go_on = going_on(kept.map(|(path, _)| path));
        stop::last_words(format!("stopped after {n} of {N_BLOCKS} blocks\n  mend: {go_on}"));
        work.block().map_err(CliError::Odds)?;
        bar.set_position(done_so_far(work));
        if let Some((_, place)) = kept {
            place.put_once_more(to_text(work).as_bytes()).map_err(CliError::Write)?;
        }
    }
    bar.finish_and_clear();
    stop::last_words(String::new());
    Ok(())
}

/// The checkpoint is this run's alone.
fn lock(path: &Path) -> Result<Lock, CliError> {
    let failed = |error| CliError::Write(WriteError::before(path, Why::Io(error)));
    Lock::at_once(path).map_err(failed)?.ok_or_else(|| {
        CliError::Option(BadOption {
            what: format!("another program is writing to `{}`", path.display()),
            given: path.display().to_string(),
            expected: "a checkpoint that one program at a time writes to".to_string(),
            mend: "wait for it, or choose another name; nothing was written".to_string(),
        })
    })
}

fn going_on(kept: Option<&Path>) -> String {
    match kept {
        Some(path) => format!("go on with --checkpoint {} --resume", path.display()),
        None => "begin with --checkpoint FILE to be able to go on".to_string(),
    }
}

fn stopped(work: &Work, kept: Option<&Path>) -> String {
    let go_on = going_on(kept);
    let n_sets = work.done.specimens.len() / work.plan.n_specimens;
    format!(
        "after {} of {N_BLOCKS} blocks: the result holds {n_sets} of {} sets\n  mend: {go_on}",
        work.done.n_blocks, work.plan.n_sets
    )
}

fn chart(of: &OddsOf<'_>) -> Result<String, ChartError> {
    let unit = of.unit();
    let scale = unit.outside(1.0);
    let odds = of.odds;
    let view = &odds.with_model;
    let bar = |contribution: &crate::study::odds::result::Contribution| SwingBar {
        label: input_in_full(&odds.inputs.all[contribution.input], of.layup),
        ends: contribution.swing.map(|figured| scale * figured.value),
        note: contribution.index.map_or(String::new(), |index| match index.total.value {
            share if share < 0.005 => "under 0.5 % in all".to_string(),
            share => format!("{} % in all", PERCENT.fixed(share, 0)),
        }),
    };
    let partial = if odds.whole { "" } else { " Partial result." };
    odds_chart(&OddsChart {
        heading: Heading {
            title: format!(
                "{}{} against {}",
                of.layup.name,
                lies::after_name(of.stack),
                of.target.name
            ),
            subtitle: format!(
                "{} Intervals: 95 %, from {} sets drawn. {} {}{partial}",
                of.sentence(),
                odds.n_sets,
                of.model_words(),
                needed(std::iter::once(&of.verdict.rule))
            ),
            source: format!("tolerances of {}, exposure {}", of.layup.name, of.exposure.name),
            summary: of.sentence(),
        },
        figure: format!("{} [{}]", of.figure(), unit.unit),
        drawn: odds.drawn.iter().map(|figured| scale * figured.value).collect(),
        central: (scale * view.low.value, scale * view.high.value),
        target: (scale * of.target.at_least, format!("{} asks for this", of.target.name)),
        nominal: scale * odds.nominal.figured().value,
        swings: odds.contributions.iter().take(BARS_MOST).map(bar).collect(),
    })
}

#[cfg(test)]
mod tests {
    use clap::Args as _;

    use super::{Args, defaults};

    #[test]
    fn the_help_names_the_limit_that_is_taken() {
        let command = Args::augment_args(clap::Command::new("odds"));
        let argument = command.get_arguments().find(|arg| arg.get_id() == "flux_tolerance");
        let help = argument.and_then(|arg| arg.get_help()).unwrap().to_string();
        assert!(help.contains(&format!("[default: {}", 100.0 * defaults::FLUX)), "{help}");
    }
}
