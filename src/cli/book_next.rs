//! `stillair book next`: which candidate to test next.

use std::path::{Path, PathBuf};

use super::anchored::{needs_lapack, place_of_book};
use super::error::{BadOption, CliError};
use super::expose;
use super::holds::holds;
use super::how::{ErrorArg, SkinArg};
use super::seek::{progress, space};
use super::shelf::brief;
use crate::bench::figure::{Found, of_outcome};
use crate::bench::{Behind, Question};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::{Figure, Target};
use crate::report::book_next::NextOf;
use crate::report::seek::words;
use crate::shelf::inputs::Holds;
use crate::shelf::lab::book::read_book;
use crate::shelf::lab::cases::tested;
use crate::shelf::materials::Shelf;
use crate::study::answer::{Quilts, answer};
use crate::study::book::likeness::{Likeness, key};
use crate::study::book::next::{Advice, Candidate, next};
use crate::study::book::own::Own;
use crate::study::seek::finding::Finding;
use crate::study::seek::part::Part;
use crate::study::seek::search::{Search, total};
use crate::study::seek::summary::Done;

/// Arguments of `book next`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// A brief (.toml), whose shortlist is looked at, or layups: files (.toml) or names on the shelf
    #[arg(value_name = "BRIEF|LAYUP", required = true, num_args = 1..)]
    paths: Vec<PathBuf>,
    /// The target on the shelf that layups are held against; a brief names its own
    #[arg(long, value_name = "TARGET")]
    against: Vec<String>,
    #[command(flatten)]
    skin: SkinArg,
    #[command(flatten)]
    error: ErrorArg,
}

/// A target with its exposure.
type Aim = (Target, Exposure);

/// The candidates against one target, with what a test of each would settle.
pub struct Held {
    target: Target,
    exposure: Exposure,
    candidates: Vec<Candidate>,
    found: Vec<Found>,
    advice: Advice,
    n_tests: usize,
}

impl Held {
    /// For the views.
    pub fn view(&self) -> NextOf<'_> {
        NextOf {
            target: &self.target,
            exposure: &self.exposure,
            candidates: &self.candidates,
            found: &self.found,
            advice: &self.advice,
            n_tests: self.n_tests,
        }
    }
}

/// Thinks through a test of every candidate, target by target.
pub fn held(
    args: &Args,
    book: Option<&Path>,
    (shelf, dirs): (&Shelf, &[PathBuf]),
) -> Result<Vec<Held>, CliError> {
    needs_lapack("book next")?;
    let skin = args.skin.on(shelf)?;
    let own = own(args, book, (shelf, dirs), skin)?;
    let (layups, aims) = subject(args, shelf, own.as_ref())?;
    if layups.is_empty() {
        return Err(bad(
            "there is no candidate to test",
            args,
            "a brief with a shortlist, or layups",
            "ask the brief for less margin, or name layups",
        ));
    }
    let hold = |(target, exposure): &Aim| {
        one(args, &layups, (target, exposure), own.as_ref(), (shelf, skin))
    };
    aims.iter().map(hold).collect()
}

/// The tests of the book; none where there is no book yet, which is where the first test is chosen.
fn own(
    args: &Args,
    book: Option<&Path>,
    (shelf, dirs): (&Shelf, &[PathBuf]),
    skin: &Skin,
) -> Result<Option<Own>, CliError> {
    let place = match (book, dirs.last()) {
        (None, None) => return Ok(None),
        _ => place_of_book(book, dirs)?,
    };
    if book.is_none() && !place.exists() {
        return Ok(None);
    }
    let book = read_book(&place).map_err(CliError::Faults)?;
    let all = tested(&book, shelf).map_err(CliError::Faults)?;
    Ok(Some(Own::of(&all, shelf.bands(), skin, args.error.goal)?))
}

/// The layups and what they are held against.
fn subject(
    args: &Args,
    shelf: &Shelf,
    own: Option<&Own>,
) -> Result<(Vec<Layup>, Vec<Aim>), CliError> {
    if let [path] = args.paths.as_slice() {
        if holds(path, shelf)? == Holds::Brief {
            return of_brief(args, path, shelf, own);
        }
    }
    let mut errors = Vec::new();
    let mut layups = Vec::new();
    for path in &args.paths {
        expose::layup(path, shelf).map_or_else(|e| errors.push(e), |one| layups.push(one));
    }
    let mut aims = Vec::new();
    for name in &args.against {
        match shelf.target(name).and_then(|t| Ok((t.clone(), shelf.exposure(&t.exposure)?.clone())))
        {
            Ok(aim) => aims.push(aim),
            Err(unknown) => errors.push(CliError::Unknown(unknown)),
        }
    }
    if args.against.is_empty() {
        errors.push(bad(
            "no target was named that the layups are held against",
            args,
            "--against TARGET, once at least",
            "name one: stillair materials list tells them",
        ));
    }
    if errors.is_empty() { Ok((layups, aims)) } else { Err(CliError::Several(errors)) }
}

/// The shortlist of a brief, which is searched, and the targets of the brief.
fn of_brief(
    args: &Args,
    path: &Path,
    shelf: &Shelf,
    own: Option<&Own>,
) -> Result<(Vec<Layup>, Vec<Aim>), CliError> {
    if !args.against.is_empty() {
        return Err(bad(
            "a brief names its own targets",
            args,
            "--against with layups alone",
            "leave --against out, or name layups",
        ));
    }
    let mut file = brief(path, shelf)?;
    if let Some(own) = own {
        file.brief.bands = shelf.bands().anchored_to(std::sync::Arc::new(own.clone()));
    }
    let space = space(&file, path)?;
    let search = Search { space: &space, error_goal: args.error.goal, part: Part::WHOLE };
    let mut done = Done::new();
    let bar = progress(&search, &done);
    let searched = search.run(&mut done, None, &mut |n| bar.inc(n));
    bar.finish_and_clear();
    searched.map_err(CliError::Checkpoint)?;
    let finding = Finding::of(total(&done, &space), &space, args.error.goal);
    let named = finding.shortlist.iter().enumerate().map(|(i, choice)| {
        let words = words::stack(&space, choice.point.closed_candidate());
        Layup { name: format!("S{}, {words}", i + 1), ..choice.point.layup(&space) }
    });
    let aims = file.brief.wanted.iter().map(|w| (w.target.clone(), w.exposure.clone()));
    Ok((named.collect(), aims.collect()))
}

/// The candidates against one target.
fn one(
    args: &Args,
    layups: &[Layup],
    (target, exposure): (&Target, &Exposure),
    own: Option<&Own>,
    (shelf, skin): (&Shelf, &Skin),
) -> Result<Held, CliError> {
    let figure = target.figure;
    let behind = if figure == Figure::SecondDegree { Behind::Skin } else { Behind::Disc };
    let question = Question::plain(behind, skin, args.error.goal);
    let (mut candidates, mut all_found) = (Vec::new(), Vec::new());
    for layup in layups {
        let outcome = answer(layup, exposure, &question, Quilts::Computed)?;
        let found = of_outcome(&outcome, figure);
        let Some(value) = found.value_or_least() else { continue };
        let computed = outcome.computed();
        candidates.push(Candidate {
            name: layup.name.clone(),
            key: key(&computed),
            likeness: Likeness::of(&computed),
            over_target: value / target.at_least,
            factors: shelf.bands().of(&computed, figure, exposure).factors,
        });
        all_found.push(found);
    }
    let tests = own.map_or(Vec::new(), |own| own.compared(figure, exposure));
    let advice = next(&tests, &candidates).ok_or_else(|| {
        bad(
            "the tests and candidates do not go together",
            args,
            "tests whose ratios are numbers",
            "look at them with: stillair book how-far",
        )
    })?;
    let (target, exposure) = (target.clone(), exposure.clone());
    Ok(Held { target, exposure, candidates, found: all_found, advice, n_tests: tests.len() })
}

fn bad(what: &str, args: &Args, expected: &str, mend: &str) -> CliError {
    let paths: Vec<String> = args.paths.iter().map(|path| path.display().to_string()).collect();
    CliError::Option(BadOption {
        what: what.to_owned(),
        given: format!("book next {}", paths.join(" ")),
        expected: expected.to_owned(),
        mend: mend.to_owned(),
    })
}
