//! `stillair seek`: the lightest layups that keep a margin.

use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressStyle};

use super::anchored::AnchoredArg;
use super::asked::ViewArgs;
use super::error::{BadOption, CliError};
use super::how::ErrorArg;
use super::shelf::brief;
use super::{arguments, output, seek_out, stop};
use crate::report::seek::text::part_text;
use crate::report::write::{Why, WriteError};
use crate::shelf::brief::read::BriefFile;
use crate::shelf::file::claim::{self, Hold};
use crate::shelf::materials::Shelf;
use crate::study::seek::checkpoint::{Checkpoint, Head, fingerprint};
use crate::study::seek::finding::Finding;
use crate::study::seek::part::Part;
use crate::study::seek::search::{Search, total};
use crate::study::seek::space::{MOST, Space};
use crate::study::seek::summary::Done;

/// Arguments of `seek`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Brief (.toml): targets and margins, limits, fabrics, gaps, what is to be least
    #[arg(value_name = "BRIEF")]
    brief: PathBuf,
    #[command(flatten)]
    error: ErrorArg,
    /// Add what is done to this file, so that nothing is lost when the program is stopped
    #[arg(long, value_name = "FILE")]
    checkpoint: Option<PathBuf>,
    /// Go on from the checkpoint; begin it where there is none
    #[arg(long, requires = "checkpoint")]
    resume: bool,
    /// Search one share of several only, into the checkpoint, to be joined by `merge`
    #[arg(long, value_name = "K/N", value_parser = arguments::part, requires = "checkpoint",
          conflicts_with_all = ["write", "json", "csv", "chart"])]
    part: Option<Part>,
    /// Write each layup of the shortlist to a file in this folder
    #[arg(long, value_name = "DIR")]
    write: Option<PathBuf>,
    #[command(flatten)]
    anchored: AnchoredArg,
    #[command(flatten)]
    views: ViewArgs,
}

/// Searches the brief, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let mut file = brief(&args.brief, shelf)?;
    file.brief.bands = args.anchored.bands((shelf, dirs), &file.brief.skin, args.error.goal)?;
    let space = space(&file, &args.brief)?;
    let part = args.part.unwrap_or(Part::WHOLE);
    let folder = seek_out::try_folder(args.write.as_deref())?;
    let opened = args.views.try_out()?;
    let search = Search { space: &space, error_goal: args.error.goal, part };
    let mut done = Done::new();
    let _hold = args.checkpoint.as_deref().map(hold).transpose()?;
    let mut checkpoint = match &args.checkpoint {
        None => None,
        Some(path) => Some(take_up(args, path, &file, &search, &mut done)?),
    };
    let bar = progress(&search, &done);
    let n_all = bar.length().unwrap_or_default();
    let kept = args.checkpoint.as_deref();
    let tell = |n: u64| stop::last_words(stopped((n, n_all), kept, args.resume));
    tell(bar.position());
    let searched = search.run(&mut done, checkpoint.as_mut(), &mut |n| {
        bar.inc(n);
        tell(bar.position());
    });
    bar.finish_and_clear();
    searched.map_err(CliError::Checkpoint)?;
    let summary = total(&done, &space);
    if let (Some(part), Some(path)) = (args.part, &args.checkpoint) {
        let n_seen = summary.counts.n_seen;
        let text = part_text(&file.brief, part, n_seen, &path.display().to_string());
        return output::print(&text);
    }
    let finding = Finding::of(summary, &space, args.error.goal);
    seek_out::deliver(&finding, folder, &args.views, opened)
}

/// What is said when a search is stopped, and how to go on.
fn stopped((n, n_all): (u64, u64), kept: Option<&Path>, resumed: bool) -> String {
    let go_on = match kept {
        Some(path) if resumed => format!("the same command goes on from {}", path.display()),
        Some(path) => format!("go on from {} with the same command and --resume", path.display()),
        None => "begin with --checkpoint FILE to be able to go on".to_owned(),
    };
    format!("stopped after {n} of {n_all} combinations\n  mend: {go_on}")
}

/// The combinations of a brief.
pub fn space<'a>(file: &'a BriefFile, path: &Path) -> Result<Space<'a>, CliError> {
    Space::of(&file.brief).ok_or_else(|| {
        CliError::Option(BadOption {
            what: "the brief has no combinations, or too many".to_owned(),
            given: path.display().to_string(),
            expected: format!("1 to {MOST} combinations of fabrics and gaps"),
            mend: "look at the limits on plies beside felts_least and felts_most, or take larger \
                   steps of the gaps and fewer fabrics"
                .to_owned(),
        })
    })
}

/// Claims the checkpoint's file for this search: no input and no other output may be the same.
fn hold(path: &Path) -> Result<Hold, CliError> {
    claim::write(path).map_err(|taken| CliError::Write(WriteError::before(path, Why::Taken(taken))))
}

/// Begins the checkpoint or goes on from it.
fn take_up(
    args: &Args,
    path: &Path,
    file: &BriefFile,
    search: &Search<'_>,
    done: &mut Done,
) -> Result<Checkpoint, CliError> {
    let head = Head {
        fingerprint: fingerprint(&file.brief, search.error_goal),
        part: search.part,
        version: env!("CARGO_PKG_VERSION").to_owned(),
        error_goal: search.error_goal,
        path: args.brief.display().to_string(),
        brief: file.text.clone(),
    };
    if !args.resume {
        return Checkpoint::begin(path, &head).map_err(CliError::Checkpoint);
    }
    let (checkpoint, held) =
        Checkpoint::resume(path, &head, search.space).map_err(CliError::Checkpoint)?;
    if held.n_torn > 0 {
        let path = path.display();
        output::say(&format!(
            "note: the last {} bytes of {path} were torn and are ignored",
            held.n_torn
        ));
    }
    *done = held.done;
    Ok(checkpoint)
}

/// A bar with the time left on standard error; silent where that is no terminal.
pub(super) fn progress(search: &Search<'_>, done: &Done) -> ProgressBar {
    let size = |chunk: u64| {
        let range = search.range(chunk);
        range.end - range.start
    };
    let bar = ProgressBar::new(search.chunks().map(size).sum());
    let template = "{bar:30} {pos} of {len} combinations, {eta} left";
    if let Ok(style) = ProgressStyle::with_template(template) {
        bar.set_style(style);
    }
    bar.inc(done.keys().map(|chunk| size(*chunk)).sum());
    bar.reset_eta();
    bar
}
