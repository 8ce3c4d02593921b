//! Closes the gaps of a combination until its margin is just kept.

use crate::garment::brief::GAP_LEAST;
use crate::study::seek::score::{Reading, Scored, score};
use crate::study::seek::search::expose_all;
use crate::study::seek::space::{Candidate, Plies, Space, place_behind};

/// Halvings of the range of gaps: 4 mm of air are closed to a micrometre.
const N_HALVINGS: usize = 12;
/// Gaps are whole micrometres, so that a file holds what was exposed.
const GAP_STEP: f64 = 1e-6;

/// A combination with its gaps closed.
#[derive(Debug, Clone, PartialEq)]
pub struct Tightened {
    /// Gap behind each ply [m].
    pub gaps: Vec<f64>,
    /// Its figures with these gaps; it keeps every margin.
    pub scored: Scored,
    /// Whether the gaps stand at their least, with margin left over.
    pub at_least: bool,
}

/// One combination on its way.
struct Case {
    candidate: Candidate,
    /// Least gap behind each ply [m].
    least: Vec<f64>,
    /// Share of the way from the least gaps to the combination's own: margin lost, margin kept.
    lost: f64,
    kept: f64,
    best: Option<Tightened>,
}

/// Closes the open gaps of each of `scored` that keeps its margins, all gaps in proportion between
/// the least that the brief allows and those of the combination.
///
/// Each result was exposed as it stands and keeps every margin. Where protection does not grow with
/// the gaps all the way, a still thinner layup may exist: the halving finds one place where the
/// margin is just kept. None for one that keeps no margin, has no open gap or is not thinned.
pub fn tighten(space: &Space<'_>, error_goal: f64, scored: &[&Scored]) -> Vec<Option<Tightened>> {
    let mut cases: Vec<Option<Case>> =
        scored.iter().map(|one| if one.keeps { case(space, one.index) } else { None }).collect();
    for halving in 0..=N_HALVINGS {
        let mut open: Vec<(&mut Case, f64)> = cases
            .iter_mut()
            .flatten()
            .filter(|case| case.kept > 0.0)
            .map(|case| {
                let share = if halving == 0 { 0.0 } else { 0.5 * (case.lost + case.kept) };
                (case, share)
            })
            .collect();
        let gaps: Vec<Vec<f64>> = open.iter().map(|(case, share)| case.gaps(*share)).collect();
        let stacks: Vec<(&Plies, &[f64])> =
            open.iter().zip(&gaps).map(|((c, _), g)| (&c.candidate.plies, g.as_slice())).collect();
        let readings = expose_all(space, error_goal, &stacks);
        for (((case, share), gaps), readings) in open.iter_mut().zip(&gaps).zip(readings) {
            case.note(space, *share, gaps, readings.ok());
        }
    }
    cases.into_iter().map(|case| case.and_then(|case| case.best)).collect()
}

/// The case of a combination; none without a gap that can be closed.
fn case(space: &Space<'_>, index: u64) -> Option<Case> {
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
    let closes = candidate.gaps.iter().zip(&least).any(|(gap, least)| *gap - *least > GAP_STEP);
    closes.then_some(Case { candidate, least, lost: 0.0, kept: 1.0, best: None })
}

impl Case {
    /// The gaps at a share of the way, rounded up to whole steps.
    fn gaps(&self, share: f64) -> Vec<f64> {
        let own = self.candidate.gaps.iter().zip(&self.least);
        own.map(|(gap, least)| {
            let between = least + share * (gap - least);
            ((between / GAP_STEP - 1e-6).ceil() * GAP_STEP).min(*gap)
        })
        .collect()
    }

    fn note(
        &mut self,
        space: &Space<'_>,
        share: f64,
        gaps: &[f64],
        readings: Option<Vec<Reading>>,
    ) {
        let candidate = Candidate { gaps: gaps.to_vec(), ..self.candidate.clone() };
        let scored = readings.and_then(|readings| score(space, &candidate, readings));
        match scored.filter(|scored| scored.keeps) {
            Some(scored) => {
                self.kept = share;
                let at_least = share == 0.0;
                self.best = Some(Tightened { gaps: candidate.gaps, scored, at_least });
            }
            None => self.lost = share,
        }
    }
}
