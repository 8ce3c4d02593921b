//! Exposes the combinations chunk by chunk.

use std::ops::Range;

use crate::bench::screen::{Screened, Screening, screen};
use crate::garment::brief::Wanted;
use crate::solver::error::SolverError;
use crate::study::seek::checkpoint::{Checkpoint, CheckpointError};
use crate::study::seek::part::Part;
use crate::study::seek::score::{Reading, score};
use crate::study::seek::space::{Candidate, Plies, Space};
use crate::study::seek::summary::{Counts, Done, Summary};

/// Combinations in a chunk: what is lost at most when the program is stopped.
pub const N_CHUNK: u64 = 1024;

/// What is searched, how exactly, and which share of it.
#[derive(Debug, Clone, Copy)]
pub struct Search<'a> {
    /// The combinations.
    pub space: &'a Space<'a>,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
    /// The share.
    pub part: Part,
}

impl Search<'_> {
    /// Numbers of the chunks of the share, in order.
    pub fn chunks(&self) -> impl Iterator<Item = u64> {
        let part = self.part;
        (0..self.space.n_total().div_ceil(N_CHUNK)).filter(move |chunk| part.holds(*chunk))
    }

    /// Numbers of the combinations in a chunk.
    pub fn range(&self, chunk: u64) -> Range<u64> {
        chunk * N_CHUNK..((chunk + 1) * N_CHUNK).min(self.space.n_total())
    }

    /// Searches every chunk that is not done, in order; each goes to the checkpoint at once.
    ///
    /// - `tell`: is given the number of combinations of each chunk as it is done
    ///
    /// Errors: a checkpoint that cannot be written.
    pub fn run(
        &self,
        done: &mut Done,
        mut checkpoint: Option<&mut Checkpoint>,
        tell: &mut dyn FnMut(u64),
    ) -> Result<(), CheckpointError> {
        for chunk in self.chunks() {
            if done.contains_key(&chunk) {
                continue;
            }
            let summary = self.search_chunk(chunk);
            if let Some(checkpoint) = &mut checkpoint {
                checkpoint.append(chunk, &summary)?;
            }
            done.insert(chunk, summary);
            tell(self.range(chunk).end - self.range(chunk).start);
        }
        Ok(())
    }

    /// The summary of one chunk.
    pub fn search_chunk(&self, chunk: u64) -> Summary {
        let range = self.range(chunk);
        let mut counts = Counts { n_seen: range.end - range.start, ..Counts::default() };
        let candidates: Vec<Candidate> = range
            .filter_map(|index| self.space.candidate(index))
            .filter(|candidate| self.space.within_limits(candidate))
            .collect();
        counts.n_beyond = counts.n_seen - candidates.len() as u64;
        let stacks: Vec<(&Plies, &[f64])> =
            candidates.iter().map(|c| (&c.plies, c.gaps.as_slice())).collect();
        let readings = expose_all(self.space, self.error_goal, &stacks);
        let mut scored = Vec::with_capacity(candidates.len());
        for (candidate, readings) in candidates.iter().zip(readings) {
            let Ok(readings) = readings else {
                counts.n_stopped += 1;
                counts.first_stopped = counts.first_stopped.or(Some(candidate.index));
                continue;
            };
            match score(self.space, candidate, readings) {
                Some(one) => scored.push(one),
                None => counts.n_unknown += 1,
            }
        }
        counts.n_keeping = scored.iter().filter(|one| one.keeps).count() as u64;
        Summary::of(counts, scored, self.space)
    }
}

/// All summaries together.
pub fn total(done: &Done, space: &Space<'_>) -> Summary {
    done.values().fold(Summary::default(), |all, one| all.with(one.clone(), space))
}

/// One reading a target for each stack of plies and gaps, in order.
///
/// Errors, stack by stack: those of the solver.
pub fn expose_all(
    space: &Space<'_>,
    error_goal: f64,
    stacks: &[(&Plies, &[f64])],
) -> Vec<Result<Vec<Reading>, SolverError>> {
    let wanted = &space.brief.wanted;
    let mut all: Vec<Result<Vec<Reading>, SolverError>> =
        vec![Ok(vec![Reading::Unknown; wanted.len()]); stacks.len()];
    for (i, one) in wanted.iter().enumerate() {
        // Targets on the same exposure are read from one run.
        if wanted[..i].iter().any(|earlier| earlier.exposure == one.exposure) {
            continue;
        }
        let layups: Vec<_> = stacks.iter().map(|(plies, gaps)| space.layup(plies, gaps)).collect();
        let screening = Screening { exposure: &one.exposure, error_goal };
        for (readings, screened) in all.iter_mut().zip(screen(layups, screening)) {
            note(readings, screened, |target| {
                let same = wanted[target].exposure == one.exposure;
                same.then_some(&wanted[target])
            });
        }
    }
    all
}

/// Puts what the disc read into the readings of the targets on its exposure.
fn note<'w>(
    readings: &mut Result<Vec<Reading>, SolverError>,
    screened: Result<Screened, SolverError>,
    wanted: impl Fn(usize) -> Option<&'w Wanted>,
) {
    match (readings.as_mut(), screened) {
        (Ok(readings), Ok(screened)) => {
            for (target, reading) in readings.iter_mut().enumerate() {
                if let Some(wanted) = wanted(target) {
                    *reading = Reading::of(&screened, wanted);
                }
            }
        }
        (Ok(_), Err(error)) => *readings = Err(error),
        (Err(_), _) => {}
    }
}
