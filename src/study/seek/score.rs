//! What a combination costs and how far it is above what is wanted.

use std::cmp::Ordering;

use crate::bench::account::heat_offered;
use crate::bench::outcome::{Valued, When};
use crate::bench::screen::Screened;
use crate::garment::brief::{Minimise, Wanted};
use crate::garment::exposure::Exposure;
use crate::garment::target::Figure;
use crate::study::seek::space::{Candidate, Space};

/// What is known of a target's figure [SI of the figure].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// The figure with its numerical error.
    Value(Valued),
    /// The event did not come within the time looked at: the figure is this or more.
    OrMore(f64),
    /// Nothing: the meshes disagree, or an earlier event did not come.
    Unknown,
}

impl Reading {
    /// The target's figure in what the disc read.
    pub fn of(screened: &Screened, wanted: &Wanted) -> Reading {
        match wanted.target.figure {
            Figure::Rise12 => of_time(&screened.rise12),
            Figure::Rise24 => of_time(&screened.rise24),
            Figure::Stoll => of_time(&screened.stoll),
            Figure::Rise24Less12 => of_difference(screened),
            Figure::Tpp => of_heat(&screened.stoll, &wanted.exposure),
            Figure::SecondDegree => Reading::Unknown,
        }
    }

    /// The figure, or the least it can be.
    pub fn value(&self) -> Option<f64> {
        match self {
            Reading::Value(valued) => Some(valued.value),
            Reading::OrMore(value) => Some(*value),
            Reading::Unknown => None,
        }
    }

    /// The least that the figure can be with its numerical error.
    fn lowest(&self) -> Option<f64> {
        match self {
            Reading::Value(valued) => Some(valued.value - valued.error),
            other => other.value(),
        }
    }
}

fn of_time(when: &When) -> Reading {
    match *when {
        When::At { t, error } => Reading::Value(Valued { value: t, error }),
        When::NotWithin { t_end } => Reading::OrMore(t_end),
        When::Unsettled { .. } => Reading::Unknown,
    }
}

fn of_difference(screened: &Screened) -> Reading {
    match (screened.rise24_less_12, screened.rise12, screened.rise24) {
        (Some(between), _, When::At { .. }) => Reading::Value(between),
        (_, When::At { t, error }, When::NotWithin { t_end }) => Reading::OrMore(t_end - t - error),
        _ => Reading::Unknown,
    }
}

fn of_heat(stoll: &When, exposure: &Exposure) -> Reading {
    let heat = |t: f64| heat_offered(exposure, t);
    match of_time(stoll) {
        Reading::Value(Valued { value: t, error }) => {
            Reading::Value(Valued { value: heat(t), error: heat(t + error) - heat(t) })
        }
        Reading::OrMore(t_end) => Reading::OrMore(heat(t_end)),
        Reading::Unknown => Reading::Unknown,
    }
}

/// A combination with its figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Scored {
    /// Number of the combination.
    pub index: u64,
    /// Areal density [kg/m²].
    pub areal_density: f64,
    /// Thickness with the gaps [m].
    pub thickness: f64,
    /// One reading a target, in the brief's order.
    pub readings: Vec<Reading>,
    /// Smallest figure over the figure wanted, less 1 [–].
    pub spare: f64,
    /// Place of the target with the least spare.
    pub binding: usize,
    /// Whether every figure, less its numerical error, is at least what is wanted.
    pub keeps: bool,
}

impl Scored {
    /// A combination with its readings; none when a figure is not known.
    pub fn new(
        index: u64,
        (areal_density, thickness): (f64, f64),
        readings: Vec<Reading>,
        wanted: &[Wanted],
    ) -> Option<Scored> {
        let (mut spare, mut binding, mut keeps) = (f64::INFINITY, 0, true);
        for (i, (reading, wanted)) in readings.iter().zip(wanted).enumerate() {
            let over = reading.value()? / wanted.at_least() - 1.0;
            keeps &= reading.lowest()? >= wanted.at_least();
            if over < spare {
                (spare, binding) = (over, i);
            }
        }
        Some(Scored { index, areal_density, thickness, readings, spare, binding, keeps })
    }

    /// What is to be least, in whole steps, and the other of the two.
    ///
    /// Areal densities count as equal to a milligram per m², thicknesses to a nanometre: sums of
    /// the same plies in another order differ by rounding alone.
    pub fn costs(&self, minimise: Minimise) -> (i64, i64) {
        let mass = (1e6 * self.areal_density).round() as i64;
        let thickness = (1e9 * self.thickness).round() as i64;
        match minimise {
            Minimise::Mass => (mass, thickness),
            Minimise::Thickness => (thickness, mass),
        }
    }
}

/// A combination with its readings; none when a figure is not known.
pub fn score(space: &Space<'_>, candidate: &Candidate, readings: Vec<Reading>) -> Option<Scored> {
    let costs = (space.areal_density(candidate), space.thickness(candidate));
    Scored::new(candidate.index, costs, readings, &space.brief.wanted)
}

/// Least cost first, then most spare, then the other cost, then the number.
pub fn by_cost_then_spare(one: &Scored, other: &Scored, minimise: Minimise) -> Ordering {
    let (a, b) = (one.costs(minimise), other.costs(minimise));
    a.0.cmp(&b.0)
        .then(other.spare.total_cmp(&one.spare))
        .then(a.1.cmp(&b.1))
        .then(one.index.cmp(&other.index))
}

/// Least cost first, then the other cost, then most spare, then the number.
pub fn by_costs(one: &Scored, other: &Scored, minimise: Minimise) -> Ordering {
    let (a, b) = (one.costs(minimise), other.costs(minimise));
    a.cmp(&b).then(other.spare.total_cmp(&one.spare)).then(one.index.cmp(&other.index))
}
