//! The part of `stillair report` that tells of a search.

use std::path::{Path, PathBuf};

use super::anchored::AnchoredArg;
use super::error::{BadOption, CliError};
use super::merge::Joined;
use super::report_gap;
use super::seek::{progress, space};
use super::seek_out;
use super::shelf::brief;
use crate::bench::outcome::Outcome;
use crate::bench::{Behind, Question};
use crate::garment::skin::Skin;
use crate::garment::source::Source;
use crate::report::document::seek::seek_document;
use crate::report::document::shared::Again;
use crate::report::document::{Document, Drawing};
use crate::shelf::brief::read::BriefFile;
use crate::shelf::inputs::{self, InputText};
use crate::shelf::materials::Shelf;
use crate::study::answer::{Quilts, answer};
use crate::study::seek::checkpoint::is_checkpoint;
use crate::study::seek::finding::Finding;
use crate::study::seek::part::Part;
use crate::study::seek::search::{Search, total};
use crate::study::seek::summary::Done;

/// A brief to be searched, or a finished search.
pub enum Sought {
    /// To be searched.
    Brief { file: BriefFile, path: PathBuf },
    /// Checkpoints of all its parts.
    Parts(Joined),
}

impl Sought {
    /// The texts that the search rests on, beside the shelf.
    pub fn texts(&self, paths: &[PathBuf]) -> Result<Vec<InputText>, CliError> {
        match self {
            Sought::Brief { path, .. } => {
                Ok(vec![inputs::of_brief(path).map_err(CliError::Faults)?])
            }
            // a checkpoint holds the brief's own text
            Sought::Parts(joined) => {
                let path = format!("brief in {}", paths[0].display());
                Ok(vec![InputText { path, body: joined.file.text.clone() }])
            }
        }
    }
}

/// The search that the paths stand for: one brief, or checkpoints of all parts.
///
/// - `own`: whether own tests are asked, and the folders in which the book is looked for
/// - `error_goal`: of a brief, as it has none yet
pub fn sought(
    paths: &[PathBuf],
    shelf: &Shelf,
    own: (&AnchoredArg, &[PathBuf]),
    error_goal: f64,
) -> Result<Sought, CliError> {
    if paths.iter().all(|path| is_checkpoint(path)) {
        return Joined::of(paths, shelf, own).map(Sought::Parts);
    }
    let [path] = paths else {
        return Err(CliError::Option(BadOption {
            what: "a search has a report of its own".to_owned(),
            given: format!("report with {} files, a brief or a checkpoint among them", paths.len()),
            expected: "one brief, or the checkpoints of all parts of one search".to_owned(),
            mend: "name the brief alone".to_owned(),
        }));
    };
    let mut file = brief(path, shelf)?;
    file.brief.bands = own.0.bands((shelf, own.1), &file.brief.skin, error_goal)?;
    Ok(Sought::Brief { file, path: path.clone() })
}

/// The report of the search, which is run where it is not finished yet.
pub fn document(
    sought: &Sought,
    error_goal: f64,
    skin: &Skin,
    sources: &[&Source],
    again: &Again,
) -> Result<Document, CliError> {
    let (file, path, error_goal): (&BriefFile, &Path, f64) = match sought {
        Sought::Brief { file, path } => (file, path, error_goal),
        Sought::Parts(joined) => (&joined.file, &joined.path, joined.error_goal),
    };
    let space = space(file, path)?;
    let done = match sought {
        Sought::Parts(joined) => joined.done(&space)?,
        Sought::Brief { .. } => {
            let search = Search { space: &space, error_goal, part: Part::WHOLE };
            let mut done = Done::new();
            let bar = progress(&search, &done);
            let searched = search.run(&mut done, None, &mut |n| bar.inc(n));
            bar.finish_and_clear();
            searched.map_err(CliError::Checkpoint)?;
            done
        }
    };
    let finding = Finding::of(total(&done, &space), &space, error_goal);
    let svg = seek_out::chart(&finding).map_err(CliError::Chart)?;
    let words = "Protection against cost: the frontier and the layups of the shortlist".to_owned();
    let exposed = exposed(&finding, skin)?;
    let shown = (Drawing { svg, words }, report_gap::of_search(&finding)?);
    Ok(seek_document(&finding, shown, &exposed, sources, again))
}

/// The layups of the shortlist under each exposure, each with its number.
fn exposed(finding: &Finding<'_>, skin: &Skin) -> Result<Vec<(usize, Outcome)>, CliError> {
    let question = Question::plain(Behind::Disc, skin, finding.error_goal);
    let mut exposures = Vec::new();
    for wanted in &finding.brief().wanted {
        if !exposures.contains(&&wanted.exposure) {
            exposures.push(&wanted.exposure);
        }
    }
    let layups = finding.shortlist.iter().map(|choice| choice.point.layup(finding.space));
    let mut all = Vec::new();
    for (i, layup) in layups.enumerate() {
        for exposure in &exposures {
            let outcome = answer(&layup, exposure, &question, Quilts::Computed)?;
            all.push((i + 1, outcome));
        }
    }
    Ok(all)
}
