//! `stillair merge`: joins the parts of a search.

use std::path::{Path, PathBuf};

use super::anchored::AnchoredArg;
use super::asked::ViewArgs;
use super::error::{BadOption, CliError};
use super::seek::space;
use super::{output, seek_out};
use crate::shelf::brief::read::{BriefFile, read_brief_text};
use crate::shelf::materials::Shelf;
use crate::study::seek::checkpoint::{
    CheckpointError, Head, Unfit, agree, fingerprint, read_chunks, read_head,
};
use crate::study::seek::finding::Finding;
use crate::study::seek::part::Part;
use crate::study::seek::search::{Search, total};
use crate::study::seek::space::Space;
use crate::study::seek::summary::Done;

/// Arguments of `merge`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Checkpoints of all parts of one search, in any order
    #[arg(value_name = "PART", required = true, num_args = 1..)]
    parts: Vec<PathBuf>,
    /// Write each layup of the shortlist to a file in this folder
    #[arg(long, value_name = "DIR")]
    write: Option<PathBuf>,
    #[command(flatten)]
    anchored: AnchoredArg,
    #[command(flatten)]
    views: ViewArgs,
}

/// Joins the parts, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let joined = Joined::of(&args.parts, shelf, (&args.anchored, dirs))?;
    let space = space(&joined.file, &joined.path)?;
    let done = joined.done(&space)?;
    let folder = seek_out::try_folder(args.write.as_deref())?;
    let opened = args.views.try_out()?;
    let finding = Finding::of(total(&done, &space), &space, joined.error_goal);
    seek_out::deliver(&finding, folder, &args.views, opened)
}

/// Checkpoints of all parts of one search.
pub(super) struct Joined {
    heads: Vec<(PathBuf, Head)>,
    /// The brief that they are of.
    pub file: BriefFile,
    /// The first of them.
    pub path: PathBuf,
    /// Numerical error allowed [–].
    pub error_goal: f64,
}

impl Joined {
    /// The parts' heads and their brief, which reads as it did when they were begun.
    ///
    /// - `own`: whether own tests are asked, and the folders in which the book is looked for
    pub fn of(
        parts: &[PathBuf],
        shelf: &Shelf,
        own: (&AnchoredArg, &[PathBuf]),
    ) -> Result<Joined, CliError> {
        let heads: Vec<(PathBuf, Head)> =
            heads(parts)?.into_iter().map(|(path, head)| (path.clone(), head)).collect();
        let Some((path, first)) = heads.first().cloned() else {
            return Err(CliError::Several(Vec::new()));
        };
        let brief = read_brief_text(&first.brief, Path::new(&first.path), shelf);
        let mut brief = brief.map_err(CliError::Faults)?;
        brief.bands = own.0.bands((shelf, own.1), &brief.skin, first.error_goal)?;
        let file = BriefFile { brief, text: first.brief.clone() };
        if fingerprint(&file.brief, first.error_goal) != first.fingerprint {
            let why =
                Unfit::Other("fabrics, targets, exposures or own tests of other values than these");
            return Err(CliError::Checkpoint(CheckpointError { path, why }));
        }
        Ok(Joined { heads, file, path, error_goal: first.error_goal })
    }

    /// The chunks of all parts.
    pub fn done(&self, space: &Space<'_>) -> Result<Done, CliError> {
        let mut done = Done::new();
        let mut errors = Vec::new();
        for (path, head) in &self.heads {
            match part(path, head, space) {
                Ok(chunks) => done.extend(chunks),
                Err(error) => errors.push(error),
            }
        }
        if errors.is_empty() { Ok(done) } else { Err(CliError::Several(errors)) }
    }
}

/// The heads of the parts, which are all of one search, each part once.
fn heads(parts: &[PathBuf]) -> Result<Vec<(&PathBuf, Head)>, CliError> {
    let mut heads: Vec<(&PathBuf, Head)> = Vec::new();
    let mut errors = Vec::new();
    for path in parts {
        match read_head(path) {
            Ok(head) => heads.push((path, head)),
            Err(error) => errors.push(CliError::Checkpoint(error)),
        }
    }
    if let Some((first_path, first)) = heads.first() {
        for (path, head) in &heads[1..] {
            let same = Head { part: first.part, ..head.clone() };
            if let Err(why) = agree(&same, first) {
                let path = path.to_path_buf();
                errors.push(CliError::Checkpoint(CheckpointError { path, why }));
            } else if head.part.n != first.part.n {
                errors.push(other_split((first_path, first), (path, head)));
            }
        }
        if errors.is_empty() {
            errors.extend(missing_or_double(&heads));
        }
    }
    if errors.is_empty() { Ok(heads) } else { Err(CliError::Several(errors)) }
}

fn other_split(first: (&PathBuf, &Head), other: (&PathBuf, &Head)) -> CliError {
    let words = |(path, head): (&PathBuf, &Head)| {
        format!("{} is part {} of {}", path.display(), head.part.k, head.part.n)
    };
    CliError::Option(BadOption {
        what: "the parts are of different splits".to_owned(),
        given: format!("{}, {}", words(first), words(other)),
        expected: "parts of one split".to_owned(),
        mend: "name the parts that belong together".to_owned(),
    })
}

/// What is wrong with the parts' numbers.
fn missing_or_double(heads: &[(&PathBuf, Head)]) -> Vec<CliError> {
    let mut errors = Vec::new();
    let n = heads.first().map_or(0, |(_, head)| head.part.n);
    let mut missing = Vec::new();
    for k in 1..=n {
        let of_k: Vec<String> = heads
            .iter()
            .filter(|(_, head)| head.part.k == k)
            .map(|(path, _)| path.display().to_string())
            .collect();
        match of_k.len() {
            0 => missing.push(k.to_string()),
            1 => {}
            _ => errors.push(CliError::Option(BadOption {
                what: format!("part {k} of {n} is there {} times", of_k.len()),
                given: of_k.join(", "),
                expected: "each part once".to_owned(),
                mend: "name each part's file once".to_owned(),
            })),
        }
    }
    if !missing.is_empty() {
        let several = if missing.len() == 1 { "is" } else { "are" };
        errors.push(CliError::Option(BadOption {
            what: format!("part {} of {n} {several} missing", missing.join(", ")),
            given: format!("merge with {} files", heads.len()),
            expected: format!("the files of all {n} parts"),
            mend: "search the missing parts with `seek --part`, then name them, too".to_owned(),
        }));
    }
    errors
}

/// The chunks of a part, which are all there.
fn part(path: &Path, head: &Head, space: &Space<'_>) -> Result<Done, CliError> {
    let held = read_chunks(path, space).map_err(CliError::Checkpoint)?;
    if held.n_torn > 0 {
        let n = held.n_torn;
        output::say(&format!(
            "note: the last {n} bytes of {} were torn and are ignored",
            path.display()
        ));
    }
    let search = Search { space, error_goal: head.error_goal, part: head.part };
    let n_wanted = search.chunks().count();
    if held.done.len() == n_wanted {
        return Ok(held.done);
    }
    let Part { k, n } = head.part;
    Err(CliError::Option(BadOption {
        what: format!("part {k} of {n} is not done: {} of {n_wanted} chunks", held.done.len()),
        given: path.display().to_string(),
        expected: "a part that was searched to its end".to_owned(),
        mend: "go on with it: `seek` with the same --part, --checkpoint and --resume".to_owned(),
    }))
}
