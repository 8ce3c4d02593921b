//! Closes the gaps of a combination until what is wanted of it is just kept.

use crate::bench::figure::Found;
use crate::garment::brief::GAP_LEAST;
use crate::study::seek::chance::reach;
use crate::study::seek::score::{Scored, score};
use crate::study::seek::search::expose_all;
use crate::study::seek::space::{Candidate, Space, place_behind};

/// Halvings of the range of gaps: 4 mm of air are closed to a micrometre.
const N_HALVINGS: usize = 12;
/// Halvings where odds are drawn at each: 4 mm of air are closed to 0.06 mm.
const N_HALVINGS_ODDS: usize = 6;
/// Gaps are whole micrometres, so that a file holds what was exposed.
const GAP_STEP: f64 = 1e-6;

/// A combination with its gaps closed.
#[derive(Debug, Clone, PartialEq)]
pub struct Tightened {
    /// The combination with these gaps and this loft.
    pub candidate: Candidate,
    /// Its figures; it keeps every margin.
    pub scored: Scored,
    /// Whether the gaps stand at their least, with margin left over.
    pub at_least: bool,
    /// Whether it is odds that keep the gaps open, and not a margin.
    pub by_odds: bool,
    /// Share of the way from the least gaps to the combination's own [–].
    share: f64,
}

/// One combination on its way.
struct Tightening {
    candidate: Candidate,
    /// Least gap behind each ply [m].
    least: Vec<f64>,
    /// Least loft [m].
    loft_least: f64,
    /// Share of the way from the least gaps to the combination's own: lost, kept.
    lost: f64,
    kept: f64,
    best: Option<Tightened>,
}

/// Closes the open gaps and the loft of each of `scored` that keeps its margins, all in proportion
/// between the least that the brief allows and those of the combination.
///
/// Each result was exposed as it stands and keeps every margin. Where protection does not grow with
/// the gaps all the way, a still thinner layup may exist: the halving finds one place where the
/// margin is just kept. None for one that keeps no margin, has no open gap or is not thinned.
pub fn tighten(space: &Space<'_>, error_goal: f64, scored: &[&Scored]) -> Vec<Option<Tightened>> {
    let mut cases: Vec<Option<Tightening>> =
        scored.iter().map(|one| if one.keeps { case(space, one.index) } else { None }).collect();
    for halving in 0..=N_HALVINGS {
        let mut open: Vec<(&mut Tightening, f64)> = cases
            .iter_mut()
            .flatten()
            .filter(|case| case.kept > 0.0)
            .map(|case| {
                let share = if halving == 0 { 0.0 } else { 0.5 * (case.lost + case.kept) };
                (case, share)
            })
            .collect();
        let closed: Vec<Candidate> = open.iter().map(|(case, share)| case.closed(*share)).collect();
        let readings = expose_all(space, error_goal, &closed);
        for (((case, share), closed), readings) in open.iter_mut().zip(closed).zip(readings) {
            case.note(space, *share, closed, readings.ok());
        }
    }
    cases.into_iter().map(|case| case.and_then(|case| case.best)).collect()
}

/// Opens the gaps of each of `closed` again until the odds asked for are reached as well; each of
/// `scored` reaches them with its own gaps.
///
/// Each result was exposed and drawn around as it stands. None where nothing between the closed
/// gaps and the combination's own was found to keep every margin and reach the odds.
pub fn open_to_odds(
    space: &Space<'_>,
    error_goal: f64,
    scored: &[&Scored],
    closed: Vec<Option<Tightened>>,
) -> Vec<Option<Tightened>> {
    let known: Vec<&Candidate> = closed.iter().flatten().map(|one| &one.candidate).collect();
    let mut reached = reach(space, error_goal, &known).into_iter();
    let reached: Vec<bool> =
        closed.iter().map(|one| one.is_some() && reached.next() == Some(true)).collect();
    let mut cases: Vec<Option<Tightening>> = Vec::new();
    for ((one, closed), reached) in scored.iter().zip(&closed).zip(&reached) {
        let closed = closed.as_ref().filter(|_| !reached);
        let case = closed.and_then(|closed| {
            let case = case(space, one.index)?;
            Some(Tightening { lost: closed.share, ..case })
        });
        cases.push(case);
    }
    for _ in 0..N_HALVINGS_ODDS {
        let mut open: Vec<&mut Tightening> = cases.iter_mut().flatten().collect();
        let shares: Vec<f64> = open.iter().map(|case| 0.5 * (case.lost + case.kept)).collect();
        let closed: Vec<Candidate> =
            open.iter().zip(&shares).map(|(case, share)| case.closed(*share)).collect();
        let reached = reach(space, error_goal, &closed.iter().collect::<Vec<_>>());
        let readings = expose_all(space, error_goal, &closed);
        let tried = closed.into_iter().zip(readings).zip(reached).zip(shares);
        for (case, (((closed, readings), reached), share)) in open.iter_mut().zip(tried) {
            case.note(space, share, closed, readings.ok().filter(|_| reached));
        }
    }
    let found = cases.into_iter().map(|case| case.and_then(|case| case.best));
    let found = found.map(|best| best.map(|best| Tightened { by_odds: true, ..best }));
    let either = |((closed, reached), found)| if reached { closed } else { found };
    closed.into_iter().zip(reached).zip(found).map(either).collect()
}

/// The case of a combination; none without a gap or a loft that can be closed.
fn case(space: &Space<'_>, index: u64) -> Option<Tightening> {
    let candidate = space.candidate(index)?;
    let n_felts = candidate.plies.felts.len();
    let least: Vec<f64> = candidate
        .gaps
        .iter()
        .enumerate()
        .map(|(ply, gap)| {
            let range = space.brief.gap_range(place_behind(ply, n_felts));
            range.map_or(0.0, |range| range.least.max(GAP_LEAST)).min(*gap)
        })
        .collect();
    let loft = candidate.stitching.map_or(0.0, |stitching| stitching.loft);
    let lofts = space.brief.stitchings.iter().flatten().map(|stitching| stitching.loft);
    let loft_least = lofts.fold(loft, f64::min);
    let closes = candidate.gaps.iter().zip(&least).any(|(gap, least)| *gap - *least > GAP_STEP)
        || loft - loft_least > GAP_STEP;
    closes.then_some(Tightening { candidate, least, loft_least, lost: 0.0, kept: 1.0, best: None })
}

/// A length at a share of the way from `least` to `own`, rounded up to whole steps.
fn between(least: f64, own: f64, share: f64) -> f64 {
    let between = least + share * (own - least);
    ((between / GAP_STEP - 1e-6).ceil() * GAP_STEP).clamp(least, own)
}

impl Tightening {
    /// The combination at a share of the way.
    fn closed(&self, share: f64) -> Candidate {
        let mut closed = self.candidate.clone();
        for (gap, least) in closed.gaps.iter_mut().zip(&self.least) {
            *gap = between(*least, *gap, share);
        }
        if let Some(stitching) = &mut closed.stitching {
            stitching.loft = between(self.loft_least, stitching.loft, share);
        }
        closed
    }

    fn note(
        &mut self,
        space: &Space<'_>,
        share: f64,
        candidate: Candidate,
        readings: Option<Vec<Found>>,
    ) {
        let scored = readings.and_then(|readings| score(space, &candidate, readings));
        match scored.filter(|scored| scored.keeps) {
            Some(scored) => {
                self.kept = share;
                let at_least = share == 0.0;
                self.best = Some(Tightened { candidate, scored, at_least, by_odds: false, share });
            }
            None => self.lost = share,
        }
    }
}
