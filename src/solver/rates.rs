//! What a chain holds and gains at one moment of a step.

use crate::solver::evaluate::{At, Ends, Node, Rows};
use crate::solver::lanes::Lanes;
use crate::solver::media::Point;
use crate::solver::pack::Pack;
use crate::solver::target::per_target;
use crate::solver::tridiagonal::weighted;

/// Values at one set of temperatures, one entry a node.
#[derive(Debug, Clone)]
pub(crate) struct Rates<const L: usize> {
    /// Heat content per area [J/m²], up to a constant.
    pub heat: Vec<[f64; L]>,
    /// Its derivative [J/(m²·K)].
    pub cap: Vec<[f64; L]>,
    /// Net heat rate per area [W/m²].
    pub rate: Vec<[f64; L]>,
    /// What passes the ends of the chain.
    pub ends: Ends<L>,
}

impl<const L: usize> Rates<L> {
    /// Nothing held and nothing passing.
    pub fn new(lanes: &Lanes<L>) -> Rates<L> {
        let zeros = || vec![[0.0; L]; lanes.n];
        Rates { heat: zeros(), cap: zeros(), rate: zeros(), ends: Ends::new(lanes) }
    }
}

impl<const L: usize> Rates<L> {
    /// Takes over the net rates and what passes the ends, in one lane.
    pub fn take(&mut self, other: &Rates<L>, l: usize) {
        for (own, other) in self.rate.iter_mut().zip(&other.rate) {
            own[l] = other[l];
        }
        self.ends.take(&other.ends, l);
    }

    /// Slope of the temperature of the last node, which all lanes share [K/s].
    pub fn tied_slope(&self, weights: &[f64; L]) -> f64 {
        let last = self.rate.len() - 1;
        weighted(weights, &self.rate[last]) / weighted(weights, &self.cap[last])
    }
}

/// Keeps heat, capacity and rate of each node.
struct Keep<'a, const L: usize> {
    heat: &'a mut [[f64; L]],
    cap: &'a mut [[f64; L]],
    rate: &'a mut [[f64; L]],
}

impl<const L: usize, const W: bool> Rows<L, W> for Keep<'_, L> {
    #[inline(always)]
    fn row(&mut self, i: usize, node: &Node<L, W>, _: Pack<L, W>, _: Pack<L, W>) {
        self.heat[i] = node.heat.0;
        self.cap[i] = node.cap.0;
        self.rate[i] = node.rate.0;
    }
}

per_target! {
    /// Evaluates everything at `at`; `points` is room for the nodes of a slab.
    pub(crate) fn evaluate<const L: usize, const W: bool>(
        lanes: &Lanes<L>,
        at: &At<'_, L>,
        out: &mut Rates<L>,
        points: &mut [Point<L>],
    ) {
        let Rates { heat, cap, rate, ends } = out;
        lanes.walk::<W>(at, &mut Keep { heat, cap, rate }, (ends, points));
    }
}
