//! What a combination costs and how far it is above what is wanted.

use std::cmp::Ordering;

use crate::bench::figure::Found;
use crate::garment::brief::{Brief, Minimise, Wanted};
use crate::study::seek::space::{Candidate, Space};

/// A combination with its figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Scored {
    /// Number of the combination.
    pub index: u64,
    /// Areal density [kg/m²].
    pub areal_density: f64,
    /// Thickness with the gaps [m].
    pub thickness: f64,
    /// What is known of each target's figure, in the brief's order.
    pub readings: Vec<Found>,
    /// What each figure is multiplied by for the likeliest: 1 where no own test is asked [–].
    pub factors: Vec<f64>,
    /// Smallest figure, times its factor, over the figure wanted, less 1 [–].
    pub spare: f64,
    /// Place of the target with the least spare.
    pub binding: usize,
    /// Whether every figure, less its numerical error and times its factor, is at least what is wanted.
    pub keeps: bool,
}

impl Scored {
    /// A combination with its readings; none when a figure is not known.
    pub fn new(
        index: u64,
        (areal_density, thickness): (f64, f64),
        (readings, factors): (Vec<Found>, Vec<f64>),
        wanted: &[Wanted],
    ) -> Option<Scored> {
        let (mut spare, mut binding, mut keeps) = (f64::INFINITY, 0, true);
        for (i, ((reading, factor), wanted)) in
            readings.iter().zip(&factors).zip(wanted).enumerate()
        {
            let over = factor * reading.value_or_least()? / wanted.at_least() - 1.0;
            keeps &= factor * reading.lowest()? >= wanted.at_least();
            if over < spare {
                (spare, binding) = (over, i);
            }
        }
        Some(Scored { index, areal_density, thickness, readings, factors, spare, binding, keeps })
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
pub fn score(space: &Space<'_>, candidate: &Candidate, readings: Vec<Found>) -> Option<Scored> {
    let costs = (space.areal_density(candidate), space.thickness(candidate));
    let read = (readings, factors(space, candidate));
    Scored::new(candidate.index, costs, read, &space.brief.wanted)
}

/// What own tests make of each figure, in the brief's order.
fn factors(space: &Space<'_>, candidate: &Candidate) -> Vec<f64> {
    let Brief { bands, wanted, .. } = space.brief;
    if !bands.is_anchored() {
        return vec![1.0; wanted.len()];
    }
    let layup = space.layup(candidate);
    let factor = |one: &Wanted| bands.of(&layup, one.target.figure, &one.exposure).factor();
    wanted.iter().map(factor).collect()
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
