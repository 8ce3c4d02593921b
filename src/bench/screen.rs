//! Many layups at once: the disc's times of each, several side by side in the solver.
//!
//! Layups come from an iterator and their readings leave in the same order; only a chunk of them is
//! held at a time. Within a chunk, problems of one shape fill the solver's lanes as these empty,
//! and batches of them run on all cores. Each layup is refined like a single exposure, and its
//! numbers have the same bits whatever stands beside it and however many threads there are.

use std::borrow::Cow;

use rayon::prelude::*;

use crate::bench::assemble::{Backing, Setup, assemble};
use crate::bench::batch::march_all;
use crate::bench::expose::{BenchError, options};
use crate::bench::figure::{DiscTimes, disc_readings};
use crate::bench::refine::{Readings, Refined, refine_all};
use crate::bench::watch_disc::DiscEvents;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::press::pressed_layup;
use crate::solver::problem::Problem;

/// Layups held at a time.
const N_CHUNK: usize = 4096;

/// The disc's times of one layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Screened {
    /// The times.
    pub times: DiscTimes,
    /// Whether every time keeps to the error goal.
    pub goal_met: bool,
}

/// What all layups of a screening have in common.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screening<'a> {
    /// The exposure.
    pub exposure: &'a Exposure,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
}

/// The disc's times of each of `layups`, in order.
///
/// Errors, layup by layup: those of the bench.
pub fn screen<'a, I>(
    layups: I,
    screening: Screening<'a>,
) -> impl Iterator<Item = Result<Screened, BenchError>> + 'a
where
    I: IntoIterator<Item = Layup>,
    I::IntoIter: 'a,
{
    let Screening { exposure, error_goal } = screening;
    screen_each(layups.into_iter().map(move |layup| (layup, exposure)), error_goal)
}

/// The disc's times of each layup under its own exposure, in order.
///
/// - `error_goal`: numerical error allowed, relative to each time [–], above 0
///
/// Errors, layup by layup: those of the bench.
pub fn screen_each<'a, I>(
    cases: I,
    error_goal: f64,
) -> impl Iterator<Item = Result<Screened, BenchError>> + 'a
where
    I: IntoIterator<Item = Task<'a>>,
    I::IntoIter: 'a,
{
    let mut cases = cases.into_iter();
    let chunks = std::iter::from_fn(move || {
        let chunk: Vec<Task> = cases.by_ref().take(N_CHUNK).collect();
        (!chunk.is_empty()).then(|| {
            let screened = screen_chunk(&chunk, error_goal);
            // a layup is many small pieces of memory: they are given back by all cores
            chunk.into_par_iter().for_each(drop);
            screened
        })
    });
    chunks.flatten()
}

/// The disc's times of each case on the coarsest mesh alone, in order: what their error is, nothing tells.
///
/// Errors, case by case: those of the bench.
pub fn screen_coarsest(cases: &[Task]) -> Vec<Result<Readings, BenchError>> {
    let all = |chunk: &[Task]| -> Vec<Result<Readings, BenchError>> {
        let everyone: Vec<usize> = (0..chunk.len()).collect();
        let runs = run_level(chunk, &everyone, 0).into_iter();
        runs.map(|run| run.map(|(_, readings)| readings)).collect()
    };
    cases.chunks(N_CHUNK).flat_map(all).collect()
}

/// A layup and what it is exposed to.
pub type Task<'a> = (Layup, &'a Exposure);

fn screen_chunk(cases: &[Task], error_goal: f64) -> Vec<Result<Screened, BenchError>> {
    let run = |level: usize, open: &[usize]| run_level(cases, open, level);
    let refined = refine_all(cases.len(), error_goal, run);
    refined.into_iter().map(|one| one.map(screened)).collect()
}

fn screened(refined: Refined<()>) -> Screened {
    Screened { times: DiscTimes::from(&refined), goal_met: refined.goal_met }
}

/// Runs one level of the layups in `open`; the readings come in the same order.
fn run_level(
    cases: &[Task],
    open: &[usize],
    level: usize,
) -> Vec<Result<((), Readings), BenchError>> {
    let problems: Vec<Result<Problem, BenchError>> =
        open.par_iter().map(|i| problem(&cases[*i], level)).collect();
    let exposed = problems.iter().zip(open).filter_map(|(problem, i)| {
        let exposure = cases[*i].1;
        problem.as_ref().ok().map(|problem| (problem, exposure))
    });
    let (usable, exposures): (Vec<&Problem>, Vec<&Exposure>) = exposed.unzip();
    let watch = |place: usize| {
        let (disc, exposure) = (usable[place].n_nodes() - 1, exposures[place]);
        DiscEvents::new(disc, exposure.temp_room, exposure.disc.cap_area())
    };
    let mut ends = march_all(&usable, &options(level, &Backing::Disc), watch).into_iter();
    let read = |problem: &Result<Problem, BenchError>| match problem {
        Ok(_) => {
            let end = ends.next().expect("every problem ends");
            end.map(|(events, ledger)| ((), disc_readings(&events, [], &ledger)))
                .map_err(|source| BenchError::Solver { behind: "disc", source })
        }
        Err(error) => Err(error.clone()),
    };
    problems.iter().map(read).collect()
}

/// A layup laid out before the disc; an error for one that no exposure takes.
fn problem((layup, exposure): &Task, level: usize) -> Result<Problem, BenchError> {
    if layup.pressed_across_gap() {
        return Err(BenchError::PressedAcrossGap);
    }
    exposure.hot_enough_for(layup).map_err(BenchError::ColdFlame)?;
    let layup = match layup.pressure {
        Some(_) => Cow::Owned(pressed_layup(layup)),
        None => Cow::Borrowed(layup),
    };
    Ok(assemble(&layup, exposure, Backing::Disc, &Setup::level(level)).problem)
}
