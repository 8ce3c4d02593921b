//! What is kept of the combinations seen so far: the frontier, the shortlist, counts.
//!
//! Both are least elements under an order of all combinations, so that summaries may be joined in
//! any order and any grouping: what is dropped from a part is beaten in the whole as well.

use std::collections::BTreeMap;

use crate::garment::brief::Minimise;
use crate::study::seek::score::{Scored, by_cost_then_spare, by_costs};
use crate::study::seek::sieve::Sieve;
use crate::study::seek::space::{Plies, Space};

/// How many combinations met with what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Combinations looked at.
    pub n_seen: u64,
    /// Beyond a limit on mass or thickness, not exposed.
    pub n_beyond: u64,
    /// Within the limits, but not to be stitched so; not exposed.
    pub n_unstitchable: u64,
    /// Exposed, but a figure stayed unknown.
    pub n_unknown: u64,
    /// Exposed, but the solver gave up.
    pub n_stopped: u64,
    /// Above every margin by more than the numerical error.
    pub n_keeping: u64,
    /// Lowest number of a combination on which the solver gave up.
    pub first_stopped: Option<u64>,
}

impl Counts {
    /// Both together.
    pub fn with(self, other: Counts) -> Counts {
        let first = [self.first_stopped, other.first_stopped].into_iter().flatten().min();
        Counts {
            n_seen: self.n_seen + other.n_seen,
            n_beyond: self.n_beyond + other.n_beyond,
            n_unstitchable: self.n_unstitchable + other.n_unstitchable,
            n_unknown: self.n_unknown + other.n_unknown,
            n_stopped: self.n_stopped + other.n_stopped,
            n_keeping: self.n_keeping + other.n_keeping,
            first_stopped: first,
        }
    }

    /// How many were exposed.
    pub fn n_exposed(&self) -> u64 {
        self.n_seen - self.n_beyond - self.n_unstitchable
    }
}

/// Summaries of chunks by their number.
pub type Done = BTreeMap<u64, Summary>;

/// The best of the combinations seen.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Summary {
    /// What was met with.
    pub counts: Counts,
    /// How many were left at the coarsest mesh, and how far that is off.
    pub sieve: Sieve,
    /// Combinations that none beats both in cost and in spare, least cost first.
    pub frontier: Vec<Scored>,
    /// Those that keep every margin and reach the odds asked for, one a set of plies, least cost
    /// first.
    pub shortlist: Vec<Scored>,
}

impl Summary {
    /// The summary of scored combinations where no odds are asked for.
    pub fn of(counts: Counts, scored: Vec<Scored>, space: &Space<'_>) -> Summary {
        let keeping = scored.iter().filter(|one| one.keeps).cloned().collect();
        Summary::with_shortlist(counts, scored, keeping, space)
    }

    /// The summary of scored combinations, of which `reaching` keep every margin and reach the odds.
    pub fn with_shortlist(
        counts: Counts,
        scored: Vec<Scored>,
        reaching: Vec<Scored>,
        space: &Space<'_>,
    ) -> Summary {
        let shortlist = shortlist(reaching, space);
        let frontier = frontier(scored, space.brief.minimise);
        Summary { counts, sieve: Sieve::default(), frontier, shortlist }
    }

    /// Both together.
    pub fn with(self, other: Summary, space: &Space<'_>) -> Summary {
        let join = |one: Vec<Scored>, other: Vec<Scored>| one.into_iter().chain(other).collect();
        Summary {
            counts: self.counts.with(other.counts),
            sieve: self.sieve.with(other.sieve),
            frontier: frontier(join(self.frontier, other.frontier), space.brief.minimise),
            shortlist: shortlist(join(self.shortlist, other.shortlist), space),
        }
    }
}

/// Those that none beats: no other costs at most as much and has at least as much to spare, with
/// one of the two strictly. Of equals the one with less of the other cost stays, then the lowest
/// number.
pub fn frontier(mut scored: Vec<Scored>, minimise: Minimise) -> Vec<Scored> {
    scored.sort_by(|one, other| by_cost_then_spare(one, other, minimise));
    let mut most = f64::NEG_INFINITY;
    scored.retain(|one| {
        let more = one.spare > most;
        most = most.max(one.spare);
        more
    });
    scored
}

/// The best of each set of plies, of those the best as many as the brief wants.
pub fn shortlist(mut keeping: Vec<Scored>, space: &Space<'_>) -> Vec<Scored> {
    keeping.sort_by(|one, other| by_costs(one, other, space.brief.minimise));
    let mut seen: Vec<Plies> = Vec::new();
    keeping.retain(|one| {
        let Some(candidate) = space.candidate(one.index) else { return false };
        let new = seen.len() < space.brief.n_shortlist && !seen.contains(&candidate.plies);
        if new {
            seen.push(candidate.plies);
        }
        new
    });
    keeping
}
