//! Exposes the combinations chunk by chunk.

use std::ops::Range;

use rayon::prelude::*;

use crate::bench::figure::{DiscTimes, Found};
use crate::garment::brief::Wanted;
use crate::study::answer::AnswerError;
use crate::study::quilt::screen::{self, AreaError, Laid, Points, screen_all};
use crate::study::seek::chance::reaching;
use crate::study::seek::checkpoint::{Checkpoint, CheckpointError};
use crate::study::seek::part::Part;
use crate::study::seek::score::{Scored, by_costs, score};
use crate::study::seek::sieve::sieve;
use crate::study::seek::space::{Candidate, Fit, Space};
use crate::study::seek::summary::{Counts, Done, Summary, shortlist};

/// Combinations in a chunk.
pub const N_CHUNK: u64 = 1024;
/// Chunks that are searched side by side: what is lost at most when the program is stopped.
const N_AT_ONCE: usize = 4;

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

    /// Searches every chunk that is not done, in order, a few side by side; each goes to the checkpoint
    /// with them.
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
        // odds are drawn for what no earlier chunk beats: then one chunk waits for another
        let in_turn = self.space.brief.wants_odds();
        let chunks: Vec<u64> = self.chunks().collect();
        let mut listed: Vec<Scored> = Vec::new();
        for group in chunks.chunks(if in_turn { 1 } else { N_AT_ONCE }) {
            let open: Vec<u64> =
                group.iter().copied().filter(|chunk| !done.contains_key(chunk)).collect();
            let search = |chunk: &u64| (*chunk, self.search_chunk(*chunk, &listed));
            let found: Vec<(u64, Summary)> = open.par_iter().map(search).collect();
            for (chunk, summary) in found {
                if let Some(checkpoint) = &mut checkpoint {
                    checkpoint.append(chunk, &summary)?;
                }
                done.insert(chunk, summary);
                tell(self.range(chunk).end - self.range(chunk).start);
            }
            if in_turn {
                let shortlists = group.iter().flat_map(|chunk| &done[chunk].shortlist);
                listed.extend(shortlists.cloned());
                listed = shortlist(listed, self.space);
            }
        }
        Ok(())
    }

    /// The summary of one chunk.
    ///
    /// - `listed`: the shortlist of earlier chunks; where odds are asked for they are not drawn for
    ///   combinations that it beats, which the shortlist of all cannot hold
    pub fn search_chunk(&self, chunk: u64, listed: &[Scored]) -> Summary {
        let range = self.range(chunk);
        let mut counts = Counts { n_seen: range.end - range.start, ..Counts::default() };
        let mut candidates: Vec<Candidate> = Vec::new();
        for candidate in range.filter_map(|index| self.space.candidate(index)) {
            match self.space.fit(&candidate) {
                Fit::Within => candidates.push(candidate),
                Fit::Beyond => counts.n_beyond += 1,
                Fit::Unstitchable => counts.n_unstitchable += 1,
            }
        }
        let (space, error_goal) = (self.space, self.error_goal);
        let (all_keeping, coarsest) =
            (space.brief.wants_odds(), |all: &_| coarsest_all(space, all));
        let settled = |some: &[Candidate]| expose_all(space, error_goal, some);
        let sieved = sieve(space, &candidates, all_keeping, coarsest, settled);
        let mut scored = Vec::with_capacity(candidates.len());
        let settled = candidates.iter().zip(sieved.readings);
        for (candidate, readings) in settled.filter_map(|(one, found)| Some((one, found?))) {
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
        counts.n_keeping = scored.iter().filter(|one| one.keeps).count() as u64 + sieved.n_keeping;
        let sieve = sieved.sieve;
        if !self.space.brief.wants_odds() {
            return Summary { sieve, ..Summary::of(counts, scored, self.space) };
        }
        let mut keeping: Vec<Scored> = scored.iter().filter(|one| one.keeps).cloned().collect();
        keeping.sort_by(|one, other| by_costs(one, other, self.space.brief.minimise));
        let reaching = reaching(self.space, self.error_goal, keeping, listed);
        Summary { sieve, ..Summary::with_shortlist(counts, scored, reaching, self.space) }
    }
}

/// All summaries together.
pub fn total(done: &Done, space: &Space<'_>) -> Summary {
    done.values().fold(Summary::default(), |all, one| all.with(one.clone(), space))
}

/// One reading a target for each combination, in order.
///
/// Errors, one by one: those of [`answer`](crate::study::answer::answer).
pub fn expose_all(
    space: &Space<'_>,
    error_goal: f64,
    candidates: &[Candidate],
) -> Vec<Result<Vec<Found>, AnswerError>> {
    read_all(space, candidates, |cases| {
        let points = Points::usual(AreaError::Told);
        let screened = screen_all(cases, &space.brief.skin, error_goal, points).into_iter();
        screened.map(|one| one.map(|screened| screened.times)).collect()
    })
}

/// The same on the coarsest mesh alone, errors at 0 for want of a second mesh.
fn coarsest_all(
    space: &Space<'_>,
    candidates: &[Candidate],
) -> Vec<Result<Vec<Found>, AnswerError>> {
    read_all(space, candidates, |cases| {
        let points = Points::usual(AreaError::LeftOut);
        let read = screen::coarsest_all(cases, &space.brief.skin, points).into_iter();
        read.map(|one| one.map(|readings| DiscTimes::of_one_mesh(&readings))).collect()
    })
}

/// One reading a target for each combination, in order, from what the disc reads of each layup.
fn read_all(
    space: &Space<'_>,
    candidates: &[Candidate],
    disc: impl Fn(Vec<Laid>) -> Vec<Result<DiscTimes, AnswerError>>,
) -> Vec<Result<Vec<Found>, AnswerError>> {
    let wanted = &space.brief.wanted;
    let mut all: Vec<Result<Vec<Found>, AnswerError>> =
        vec![Ok(vec![Found::NotAsked; wanted.len()]); candidates.len()];
    for (i, one) in wanted.iter().enumerate() {
        // Targets on the same exposure are read from one run.
        if wanted[..i].iter().any(|earlier| earlier.exposure == one.exposure) {
            continue;
        }
        let case = |one_of: &Candidate| (space.layup(one_of), &one.exposure);
        let cases = candidates.par_iter().map(case).collect();
        for (readings, times) in all.iter_mut().zip(disc(cases)) {
            note(readings, times, |target| {
                let same = wanted[target].exposure == one.exposure;
                same.then_some(&wanted[target])
            });
        }
    }
    all
}

/// Puts what the disc read into the readings of the targets on its exposure.
fn note<'w>(
    readings: &mut Result<Vec<Found>, AnswerError>,
    times: Result<DiscTimes, AnswerError>,
    wanted: impl Fn(usize) -> Option<&'w Wanted>,
) {
    match (readings.as_mut(), times) {
        (Ok(readings), Ok(times)) => {
            for (target, reading) in readings.iter_mut().enumerate() {
                if let Some(wanted) = wanted(target) {
                    let figure = wanted.target.figure;
                    *reading = times.figure(figure, &wanted.exposure);
                }
            }
        }
        (Ok(_), Err(error)) => *readings = Err(error),
        (Err(_), _) => {}
    }
}
