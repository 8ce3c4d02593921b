//! Many layups at once: the disc's times of each, several side by side in the solver.
//!
//! Layups come from an iterator and their readings leave in the same order; only a chunk of them is
//! held at a time. Within a chunk, problems of one shape fill the solver's lanes as these empty,
//! and batches of them run on all cores. Each layup is refined like a single exposure, and its
//! numbers have the same bits whatever stands beside it and however many threads there are.

use std::borrow::Cow;
use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::bench::assemble::{Backing, Setup, assemble};
use crate::bench::expose::options;
use crate::bench::outcome::{Valued, When};
use crate::bench::refine::{LEVEL_MOST, Readings, Settled, settle};
use crate::bench::watch_disc::DiscEvents;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::press::pressed_layup;
use crate::solver::error::SolverError;
use crate::solver::lanes::Shape;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::stream::{Stream, march_stream};

/// Problems side by side in the solver.
const N_LANES: usize = 8;
/// Layups held at a time.
const N_CHUNK: usize = 4096;
/// Problems that one thread takes at a time.
const N_BATCH: usize = 128;

/// The disc's times of one layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Screened {
    /// Time to a rise of 12 K.
    pub rise12: When,
    /// Time to a rise of 24 K.
    pub rise24: When,
    /// Time between the two [s]; none unless both were reached.
    pub rise24_less_12: Option<Valued>,
    /// Time at which the heat in the disc crosses the Stoll curve.
    pub stoll: When,
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
/// Errors, layup by layup: those of the solver.
pub fn screen<'a, I>(
    layups: I,
    screening: Screening<'a>,
) -> impl Iterator<Item = Result<Screened, SolverError>> + 'a
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
/// Errors, layup by layup: those of the solver.
pub fn screen_each<'a, I>(
    cases: I,
    error_goal: f64,
) -> impl Iterator<Item = Result<Screened, SolverError>> + 'a
where
    I: IntoIterator<Item = Case<'a>>,
    I::IntoIter: 'a,
{
    let mut cases = cases.into_iter();
    let chunks = std::iter::from_fn(move || {
        let chunk: Vec<Case> = cases.by_ref().take(N_CHUNK).collect();
        (!chunk.is_empty()).then(|| screen_chunk(&chunk, error_goal))
    });
    chunks.flatten()
}

/// A layup and what it is exposed to.
pub type Case<'a> = (Layup, &'a Exposure);

/// Readings of one layup, level by level.
type Levels = Result<Vec<Readings>, SolverError>;

fn screen_chunk(cases: &[Case], error_goal: f64) -> Vec<Result<Screened, SolverError>> {
    let mut levels: Vec<Levels> = cases.iter().map(|(layup, _)| admitted(layup)).collect();
    let mut open: Vec<usize> = (0..cases.len()).filter(|i| levels[*i].is_ok()).collect();
    for level in 0..=LEVEL_MOST {
        let readings = run_level(cases, &open, level);
        for (i, reading) in open.iter().zip(readings) {
            match reading {
                Ok(reading) => levels[*i].iter_mut().for_each(|seen| seen.push(reading.clone())),
                Err(error) => levels[*i] = Err(error),
            }
        }
        open.retain(|i| match &levels[*i] {
            Ok(seen) => seen.len() < 2 || !settle(seen, error_goal).goal_met,
            Err(_) => false,
        });
        if open.is_empty() {
            break;
        }
    }
    levels.into_iter().map(|seen| seen.map(|seen| screened(&seen, error_goal))).collect()
}

/// No readings yet; an error for a layup that no exposure takes.
fn admitted(layup: &Layup) -> Levels {
    match layup.pressed_across_gap() {
        true => Err(SolverError::Description { what: "a pressure across an air gap".to_owned() }),
        false => Ok(Vec::new()),
    }
}

fn screened(levels: &[Readings], goal: f64) -> Screened {
    let Settled { times, values, goal_met } = settle(levels, goal);
    Screened {
        rise12: times[0],
        rise24: times[1],
        rise24_less_12: values[0].value.is_finite().then_some(values[0]),
        stoll: times[2],
        goal_met,
    }
}

/// Runs one level of the layups in `open`; the readings come in the same order.
fn run_level(cases: &[Case], open: &[usize], level: usize) -> Vec<Result<Readings, SolverError>> {
    let assembled = |i: &usize| {
        let (layup, exposure) = &cases[*i];
        let layup = match layup.pressure {
            Some(_) => Cow::Owned(pressed_layup(layup)),
            None => Cow::Borrowed(layup),
        };
        assemble(&layup, exposure, Backing::Disc, &Setup::level(level)).problem
    };
    let problems: Vec<Problem> = open.par_iter().map(assembled).collect();
    let exposures: Vec<&Exposure> = open.iter().map(|i| cases[*i].1).collect();
    let mut shapes: BTreeMap<Shape, Vec<usize>> = BTreeMap::new();
    for (place, problem) in problems.iter().enumerate() {
        shapes.entry(Shape::of(problem)).or_default().push(place);
    }
    let batches: Vec<&[usize]> = shapes.values().flat_map(|all| all.chunks(N_BATCH)).collect();
    let runs: Vec<Vec<Result<Readings, SolverError>>> =
        batches.par_iter().map(|batch| run_batch((&problems, &exposures), batch, level)).collect();
    let mut readings: Vec<Option<Result<Readings, SolverError>>> = vec![None; open.len()];
    for (place, reading) in batches.iter().copied().flatten().zip(runs.into_iter().flatten()) {
        readings[*place] = Some(reading);
    }
    readings.into_iter().map(|reading| reading.expect("every problem was in a batch")).collect()
}

fn run_batch(
    (problems, exposures): (&[Problem], &[&Exposure]),
    batch: &[usize],
    level: usize,
) -> Vec<Result<Readings, SolverError>> {
    let mut stream =
        Batch { problems, exposures, batch, next: 0, readings: vec![None; batch.len()] };
    march_stream::<_, N_LANES>(&mut stream, &options(level, &Backing::Disc));
    stream.readings.into_iter().map(|reading| reading.expect("every problem ends")).collect()
}

struct Batch<'a> {
    problems: &'a [Problem],
    exposures: &'a [&'a Exposure],
    batch: &'a [usize],
    next: usize,
    readings: Vec<Option<Result<Readings, SolverError>>>,
}

impl<'a> Stream<'a> for Batch<'a> {
    type Watch = DiscEvents;

    fn next(&mut self) -> Option<(&'a Problem, DiscEvents)> {
        let place = *self.batch.get(self.next)?;
        let (problem, exposure) = (&self.problems[place], self.exposures[place]);
        self.next += 1;
        let disc = problem.n_nodes() - 1;
        Some((problem, DiscEvents::new(disc, exposure.temp_room, exposure.disc.cap_area())))
    }

    fn ended(&mut self, order: usize, watch: DiscEvents, end: Result<Ledger, SolverError>) {
        self.readings[order] = Some(end.map(|ledger| {
            let [rise12, rise24] = watch.rises;
            let between = rise24.zip(rise12).map(|(late, early)| late - early);
            Readings {
                times: vec![rise12, rise24, watch.stoll],
                values: vec![between.unwrap_or(f64::NAN)],
                t_end: ledger.t,
            }
        }));
    }
}
