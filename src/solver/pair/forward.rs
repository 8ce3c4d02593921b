//! The way forward through the chain: the Newton matrix, eliminated as its rows come.

use crate::physics::vapour;
use crate::solver::pack::Pack;
use crate::solver::pair::block::{Block, Two};
use crate::solver::pair::chunk::{at, in_chunks, put};
use crate::solver::pair::link::potential;
use crate::solver::pair::wet::enthalpy_vapour;

/// Everything that the way forward reads and writes, as flat fields: entry `i·n_lanes + l`.
pub(crate) struct Forward<'a> {
    pub n: usize,
    pub n_lanes: usize,
    /// Whether vapour passes the outer face.
    pub open: bool,
    /// See [`Fields`](crate::solver::pair::fields::Fields).
    pub nodes: &'a [Vec<f64>; 10],
    pub fluxes: &'a [Vec<f64>; 10],
    pub temps: &'a [f64],
    pub goal: &'a [f64],
    pub goal_w: &'a [f64],
    /// Per lane.
    pub weight: &'a [f64],
    /// Heat without vapour; see [`PairWorkspace`](crate::solver::pair::workspace::PairWorkspace).
    pub heat: &'a mut [f64],
    pub cap: &'a mut [f64],
    pub rate: &'a mut [f64],
    pub diag: &'a [f64],
    pub before: &'a [f64],
    pub after: &'a [f64],
    /// Per lane.
    pub front: [&'a [f64]; 3],
    pub supplied: &'a [f64],
    pub gain: &'a mut [f64],
    pub carried: &'a mut [f64],
    pub lower: &'a mut [f64],
    pub inverse: &'a mut [f64],
    pub upper: &'a mut [f64],
    pub delta_t: &'a mut [f64],
    pub delta_w: &'a mut [f64],
    pub excess: &'a mut [f64],
    pub excess_w: &'a mut [f64],
    /// The last node: its block and rate with derivatives, per lane.
    pub pivot: [&'a mut [f64]; 4],
    pub last_rate: &'a mut [f64],
    pub by_own: [&'a mut [f64]; 2],
    pub by_before: [&'a mut [f64]; 2],
    /// What passes the outer face, per lane: vapour and its derivatives, then the heat it brings.
    pub passing: [&'a mut [f64]; 6],
}

in_chunks! {
    /// Evaluates the chain and eliminates all nodes but the last, whose right-hand side is left in
    /// the corrections.
    pub(crate) fn forward(all: &mut Forward<'_>) by chunk
}

/// A node: its rates beyond those of heat without vapour.
#[derive(Clone, Copy)]
struct Node<const C: usize, const W: bool> {
    rate: Pack<C, W>,
    gain: Pack<C, W>,
    /// Derivatives of both rates by the node's own unknowns.
    own: Block<C, W>,
    /// Derivatives by the unknowns before.
    before: Block<C, W>,
}

#[inline(always)]
fn chunk<const C: usize, const W: bool>(all: &mut Forward<'_>, l: usize) {
    let gain = at(all.supplied, l);
    let mut node = Node::<C, W> { rate: Pack::ZERO, gain, own: Block::ZERO, before: Block::ZERO };
    if all.open {
        all.let_in(&mut node, l);
    }
    let mut eliminated = (Block::ZERO, [Pack::ZERO; 2]);
    for k in 0..all.n - 1 {
        let here = k * all.n_lanes + l;
        let part = |part: usize| at::<C, W>(&all.fluxes[part], here);
        let (q, j) = (part(0), part(5));
        let own = Block { tt: part(1), tw: part(3), wt: part(6), ww: part(8) };
        let other = Block { tt: part(2), tw: part(4), wt: part(7), ww: part(9) };
        node.rate -= q;
        node.gain -= j;
        node.own = node.own.minus(&own);
        eliminated = all.row(k, l, &node, Some(&other.map(|part| -part)), eliminated);
        let gain = at::<C, W>(all.supplied, here + all.n_lanes) + j;
        node = Node { rate: q, gain, own: other, before: own };
    }
    all.row(all.n - 1, l, &node, None, eliminated);
}

impl Forward<'_> {
    /// Vapour through the film before the outer face; it has the heat of the face either way.
    #[inline(always)]
    fn let_in<const C: usize, const W: bool>(&mut self, node: &mut Node<C, W>, l: usize) {
        let front = |part: usize| at::<C, W>(self.front[part], l);
        let (value, by_temp, outside) = (front(0), front(1), front(2));
        let pressure = [at(&self.nodes[0], l), at(&self.nodes[1], l), at(&self.nodes[2], l)];
        let inside = potential(pressure, Pack::all(vapour::CUT_OFF_OPEN));
        let drop = outside - inside.value;
        let j = value * drop;
        let j_t = by_temp * drop - value * inside.by_t;
        let j_w = -(value * inside.by_w);
        let enthalpy = enthalpy_vapour(at(self.temps, l));
        let q = j * enthalpy;
        let q_t = j_t * enthalpy + vapour::VAPOUR_SPECIFIC_HEAT * j;
        let q_w = j_w * enthalpy;
        node.rate += q;
        node.gain += j;
        node.own = Block { tt: q_t, tw: q_w, wt: j_t, ww: j_w };
        for (field, part) in self.passing.iter_mut().zip([j, j_t, j_w, q, q_t, q_w]) {
            put(field, l, part);
        }
    }

    /// Adds heat without vapour to a finished node, keeps what it holds and gains, and eliminates it;
    /// `after` holds the derivatives by the unknowns after it, none at the last.
    ///
    /// Of the row of heat the vapour's own heat is taken, so many times the row of vapour: where vapour
    /// passes fast it would drown the rest, and the 2×2 pivot's determinant be a difference of two
    /// numbers that are nearly equal.
    #[inline(always)]
    fn row<const C: usize, const W: bool>(
        &mut self,
        i: usize,
        l: usize,
        node: &Node<C, W>,
        after: Option<&Block<C, W>>,
        (upper_before, delta_before): (Block<C, W>, Two<C, W>),
    ) -> (Block<C, W>, Two<C, W>) {
        let here = i * self.n_lanes + l;
        let lanes = (l, self.n_lanes);
        let weight = at(self.weight, l);
        let part = |part: usize| at::<C, W>(&self.nodes[part], here);
        let (heat_w, store) = (part(6), part(7));
        let heat = at::<C, W>(self.heat, here) + part(4);
        let cap = at::<C, W>(self.cap, here) + part(5);
        let rate = at::<C, W>(self.rate, here) + node.rate;
        let mut own = node.own;
        own.tt += at(self.diag, here);
        let mut before = node.before;
        before.tt += at(self.before, here);
        let excess = heat - at(self.goal, here);
        let excess_w = store - at(self.goal_w, here);
        let carried = enthalpy_vapour(at(self.temps, here));
        let lower = before.map(|part| -(weight * part)).less_carried(carried);
        let held = Block { tt: cap, tw: heat_w, wt: part(8), ww: part(9) };
        let pivot = held.minus(&own.map(|part| weight * part)).less_carried(carried);
        let pivot = pivot.minus(&lower.times(&upper_before));
        let from = lower.on(delta_before);
        let vapour = weight * node.gain - excess_w;
        let rhs = [weight * rate - excess - carried * vapour - from[0], vapour - from[1]];
        put(self.carried, here, carried);
        put(self.heat, here, heat);
        put(self.cap, here, cap);
        put(self.rate, here, rate);
        put(self.gain, here, node.gain);
        put(self.excess, here, excess);
        put(self.excess_w, here, excess_w);
        lower.put(self.lower, i, lanes);
        let Some(after) = after else {
            let parts = [pivot.tt, pivot.tw, pivot.wt, pivot.ww];
            self.pivot.iter_mut().zip(parts).for_each(|(field, part)| put(field, l, part));
            put(self.last_rate, l, rate);
            put(self.by_own[0], l, own.tt);
            put(self.by_own[1], l, own.tw);
            put(self.by_before[0], l, before.tt);
            put(self.by_before[1], l, before.tw);
            put(self.delta_t, here, rhs[0]);
            put(self.delta_w, here, rhs[1]);
            return (Block::ZERO, rhs);
        };
        let mut after = *after;
        after.tt += at(self.after, here);
        let inverse = pivot.inverse();
        let upper = inverse.times(&after.map(|part| -(weight * part)).less_carried(carried));
        let delta = inverse.on(rhs);
        inverse.put(self.inverse, i, lanes);
        upper.put(self.upper, i, lanes);
        put(self.delta_t, here, delta[0]);
        put(self.delta_w, here, delta[1]);
        (upper, delta)
    }
}
