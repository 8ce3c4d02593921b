//! The result of a search: frontier and shortlist, with what binds each layup and what more buys.

use crate::garment::brief::{Brief, GapPlace, Minimise};
use crate::garment::layup::Layup;
use crate::study::seek::chance::{Chance, chances};
use crate::study::seek::score::Scored;
use crate::study::seek::sieve::Sieve;
use crate::study::seek::space::{Candidate, Space, place_behind};
use crate::study::seek::summary::{Counts, Summary};
use crate::study::seek::tighten::{Tightened, open_to_odds, tighten};

/// A limit is met when less than this share of it is left [–].
const NEAR_LIMIT: f64 = 0.02;

/// The result of a search.
#[derive(Debug, Clone)]
pub struct Finding<'a> {
    /// The combinations.
    pub space: &'a Space<'a>,
    /// How many met with what.
    pub counts: Counts,
    /// How many were left at the coarsest mesh, and how far that is off.
    pub sieve: Sieve,
    /// Numerical error allowed [–].
    pub error_goal: f64,
    /// Combinations that none beats both in cost and in spare, least cost first.
    pub frontier: Vec<Point>,
    /// Layups that keep every margin and reach the odds asked for, one a set of plies, least cost
    /// first.
    pub shortlist: Vec<Choice>,
}

/// A combination of the search.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// The combination.
    pub candidate: Candidate,
    /// Its figures.
    pub scored: Scored,
    /// The same plies with the gaps closed until the margin is just kept.
    pub tightened: Option<Tightened>,
}

/// A layup of the shortlist.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The combination.
    pub point: Point,
    /// What holds it where it is, beside the target with the least spare.
    pub bounds: Vec<Bound>,
    /// What more of the cost buys along the frontier; none at its end.
    pub next: Option<Next>,
    /// The odds of each target, or why they are not known; empty where the brief leaves them out.
    pub odds: Vec<Result<Chance, String>>,
}

/// A bound that a layup stands at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// The limit on areal density, with what is left [kg/m²].
    ArealDensity(f64),
    /// The limit on thickness, with what is left [m].
    Thickness(f64),
    /// The gaps in this place are at their most.
    GapMost(GapPlace),
    /// The loft is at its most.
    LoftMost,
    /// The gaps are at their least and margin is left over.
    GapsLeast,
    /// Odds keep the gaps open, and not a margin.
    Odds,
}

/// The next step of the frontier.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Next {
    /// Place of the target that has the least spare before the step.
    pub target: usize,
    /// More of its figure [SI of the figure].
    pub gain: f64,
    /// More of the cost [kg/m² or m].
    pub more: f64,
}

impl Point {
    /// The combination with its gaps closed where that was possible.
    pub fn closed_candidate(&self) -> &Candidate {
        self.tightened.as_ref().map_or(&self.candidate, |tightened| &tightened.candidate)
    }

    /// The figures with those gaps.
    pub fn closed(&self) -> &Scored {
        self.tightened.as_ref().map_or(&self.scored, |tightened| &tightened.scored)
    }

    /// The layup with those gaps, nameless.
    pub fn layup(&self, space: &Space<'_>) -> Layup {
        space.layup(self.closed_candidate())
    }
}

impl<'a> Finding<'a> {
    /// The result of a whole search; gaps of the frontier and the shortlist are closed here.
    pub fn of(summary: Summary, space: &'a Space<'a>, error_goal: f64) -> Finding<'a> {
        let (frontier, shortlist) = (&summary.frontier, &summary.shortlist);
        // neither list gives enough to do for all cores
        let (frontier, (listed, odds)) = rayon::join(
            || points(space, frontier, |all| tighten(space, error_goal, all)),
            || {
                let listed = points(space, shortlist, |all| {
                    let closed = tighten(space, error_goal, all);
                    match space.brief.wants_odds() {
                        true => open_to_odds(space, error_goal, all, closed),
                        false => closed,
                    }
                });
                let closed: Vec<&Candidate> = listed.iter().map(Point::closed_candidate).collect();
                let odds = chances(space, error_goal, &closed);
                (listed, odds)
            },
        );
        let choices = listed.into_iter().zip(odds).map(|(point, odds)| Choice {
            bounds: bounds(space, &point),
            next: next(&frontier, &point, space.brief),
            point,
            odds,
        });
        let shortlist = choices.collect();
        let (counts, sieve) = (summary.counts, summary.sieve);
        Finding { space, counts, sieve, error_goal, frontier, shortlist }
    }

    /// The brief.
    pub fn brief(&self) -> &'a Brief {
        self.space.brief
    }
}

/// The combinations of a list with their gaps closed.
fn points(
    space: &Space<'_>,
    list: &[Scored],
    close: impl FnOnce(&[&Scored]) -> Vec<Option<Tightened>>,
) -> Vec<Point> {
    let closed = close(&list.iter().collect::<Vec<_>>());
    let point = |(scored, tightened): (&Scored, Option<Tightened>)| {
        let candidate = space.candidate(scored.index)?;
        Some(Point { candidate, scored: scored.clone(), tightened })
    };
    list.iter().zip(closed).filter_map(point).collect()
}

fn bounds(space: &Space<'_>, point: &Point) -> Vec<Bound> {
    let limits = &space.brief.limits;
    let left = |value: f64, limit: Option<f64>| {
        limit.map(|limit| limit - value).filter(|left| *left <= NEAR_LIMIT * (left + value))
    };
    let closed = point.closed();
    let mut bounds = Vec::new();
    let mass = left(closed.areal_density, limits.areal_density);
    bounds.extend(mass.map(|left| Bound::ArealDensity(left.max(0.0))));
    let thickness = left(closed.thickness, limits.thickness);
    bounds.extend(thickness.map(|left| Bound::Thickness(left.max(0.0))));
    let n_felts = point.candidate.plies.felts.len();
    let candidate = point.closed_candidate();
    for (ply, gap) in candidate.gaps.iter().enumerate() {
        let place = place_behind(ply, n_felts);
        let bound = Bound::GapMost(place);
        let range = space.brief.gap_range(place);
        let most = range.is_some_and(|r| *gap > r.least && *gap >= r.value(r.n_values() - 1));
        if most && !bounds.contains(&bound) {
            bounds.push(bound);
        }
    }
    let lofts = || space.brief.stitchings.iter().flatten().map(|stitching| stitching.loft);
    let (least, most) = (lofts().fold(f64::INFINITY, f64::min), lofts().fold(0.0, f64::max));
    if candidate.stitching.is_some_and(|s| s.loft > least && s.loft >= most) {
        bounds.push(Bound::LoftMost);
    }
    if point.tightened.as_ref().is_some_and(|tightened| tightened.by_odds) {
        bounds.push(Bound::Odds);
    }
    let open = candidate.gaps.iter().any(|gap| *gap > 0.0);
    if open && point.tightened.as_ref().is_some_and(|tightened| tightened.at_least) {
        bounds.push(Bound::GapsLeast);
    }
    bounds
}

/// The step from the last point of the frontier that costs no more to the next one.
fn next(frontier: &[Point], point: &Point, brief: &Brief) -> Option<Next> {
    let cost = |point: &Point| point.scored.costs(brief.minimise).0;
    let i = frontier.iter().rposition(|other| cost(other) <= cost(point))?;
    let (here, there) = (&frontier[i].scored, &frontier.get(i + 1)?.scored);
    let target = here.binding;
    let (now, then) = (here.readings[target].valued()?, there.readings[target].valued()?);
    let more = match brief.minimise {
        Minimise::Mass => there.areal_density - here.areal_density,
        Minimise::Thickness => there.thickness - here.thickness,
    };
    let value = |point: &Scored, value: f64| point.factors[target] * value;
    Some(Next { target, gain: value(there, then.value) - value(here, now.value), more })
}
