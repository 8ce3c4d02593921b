//! The way forward through the chain: the Newton matrix, eliminated as its rows come.

use crate::physics::vapour;
use crate::solver::pack::Pack;
use crate::solver::pair::block::{Block, Two};
use crate::solver::pair::chunk::{at, in_chunks, put, within};
use crate::solver::pair::link::potential;
use crate::solver::pair::wet::enthalpy_vapour;

/// Everything that the way forward reads and writes, as flat fields: entry `i·n_lanes + l`.
pub(crate) struct Forward<'a> {
    pub n: usize,
    pub n_lanes: usize,
    /// Whether vapour passes the outer face.
    pub open: bool,
    /// Pressure at nodes and its derivatives by temperature and content.
    pub pressure: [&'a [f64]; 3],
    /// What nodes hold because of vapour: heat beyond that without it and its derivative by
    /// temperature, then vapour.
    pub held: [&'a [f64]; 3],
    /// Derivatives of what they hold but that one: of heat by content, of vapour by both.
    pub held_by: [&'a [f64]; 3],
    /// What links let through of heat and vapour, with derivatives by the unknowns before and after.
    pub through: [&'a [f64]; 2],
    pub through_by: [[&'a [f64]; 4]; 2],
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
    pub lower: [&'a mut [f64]; 4],
    pub inverse: [&'a mut [f64]; 4],
    pub upper: [&'a mut [f64]; 4],
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
    let all = &mut all.even();
    let gain = at(all.supplied, l);
    let mut node = Node::<C, W> { rate: Pack::ZERO, gain, own: Block::ZERO, before: Block::ZERO };
    if all.open {
        all.let_in(&mut node, l);
    }
    let mut eliminated = (Block::ZERO, [Pack::ZERO; 2]);
    for k in 0..all.n - 1 {
        let here = k * all.n_lanes + l;
        let (q, j) = (at(all.through[0], here), at(all.through[1], here));
        let own = Block::at(all.through_by[0], here);
        let other = Block::at(all.through_by[1], here);
        node.rate -= q;
        node.gain -= j;
        node.own = node.own.minus(&own);
        eliminated = all.row(k, l, &node, Some(&other), eliminated);
        let gain = at::<C, W>(all.supplied, here + all.n_lanes) + j;
        node = Node { rate: q, gain, own: other, before: own };
    }
    all.row(all.n - 1, l, &node, None, eliminated);
}

impl Forward<'_> {
    /// All of it, with every field of nodes cut to the same length: see [`within`].
    #[inline(always)]
    fn even(&mut self) -> Forward<'_> {
        let len = self.len();
        // no `map` over the arrays, which would be called and hide the length
        macro_rules! cut {
            ($fields:expr => $($part:ident)*) => {{
                let [$($part),*] = $fields;
                [$(&$part[..len]),*]
            }};
            (mut $fields:expr => $($part:ident)*) => {{
                let [$($part),*] = &mut $fields;
                [$(&mut $part[..len]),*]
            }};
        }
        let [before, after] = self.through_by;
        Forward {
            held: cut!(self.held => a b c),
            held_by: cut!(self.held_by => a b c),
            through: cut!(self.through => a b),
            through_by: [cut!(before => a b c d), cut!(after => a b c d)],
            temps: &self.temps[..len],
            goal: &self.goal[..len],
            goal_w: &self.goal_w[..len],
            diag: &self.diag[..len],
            before: &self.before[..len],
            after: &self.after[..len],
            supplied: &self.supplied[..len],
            heat: &mut self.heat[..len],
            cap: &mut self.cap[..len],
            rate: &mut self.rate[..len],
            gain: &mut self.gain[..len],
            carried: &mut self.carried[..len],
            delta_t: &mut self.delta_t[..len],
            delta_w: &mut self.delta_w[..len],
            excess: &mut self.excess[..len],
            excess_w: &mut self.excess_w[..len],
            lower: cut!(mut self.lower => a b c d),
            inverse: cut!(mut self.inverse => a b c d),
            upper: cut!(mut self.upper => a b c d),
            pivot: self.pivot.each_mut().map(|part| &mut **part),
            by_own: self.by_own.each_mut().map(|part| &mut **part),
            by_before: self.by_before.each_mut().map(|part| &mut **part),
            passing: self.passing.each_mut().map(|part| &mut **part),
            last_rate: self.last_rate,
            ..*self
        }
    }

    #[inline(always)]
    fn len(&self) -> usize {
        self.n * self.n_lanes
    }

    /// Vapour through the film before the outer face; it has the heat of the face either way.
    #[inline(always)]
    fn let_in<const C: usize, const W: bool>(&mut self, node: &mut Node<C, W>, l: usize) {
        let front = |part: usize| at::<C, W>(self.front[part], l);
        let (value, by_temp, outside) = (front(0), front(1), front(2));
        let [p, p_t, p_w] = self.pressure;
        let pressure = [at(p, l), at(p_t, l), at(p_w, l)];
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
    /// `after` holds the derivatives of what leaves it by the unknowns after it, none at the last.
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
        let here = within::<C>(i * self.n_lanes + l, self.len());
        let weight = at(self.weight, l);
        let [heat, heat_t, store] = self.held;
        let heat = at(self.heat, here) + at::<C, W>(heat, here);
        let cap = at(self.cap, here) + at(heat_t, here);
        let [tw, wt, ww] = self.held_by;
        let held = Block { tt: cap, tw: at(tw, here), wt: at(wt, here), ww: at(ww, here) };
        let rate = at::<C, W>(self.rate, here) + node.rate;
        let mut own = node.own;
        own.tt += at(self.diag, here);
        let mut before = node.before;
        before.tt += at(self.before, here);
        let excess = heat - at(self.goal, here);
        let excess_w = at(store, here) - at(self.goal_w, here);
        let carried = enthalpy_vapour(at(self.temps, here));
        let lower = before.map(|part| weight * part).less_carried(carried);
        let pivot = held.minus(&own.map(|part| weight * part)).less_carried(carried);
        let pivot = pivot.plus(&lower.times(&upper_before));
        let from = lower.on(delta_before);
        let vapour = weight * node.gain - excess_w;
        let rhs = [weight * rate - excess - carried * vapour + from[0], vapour + from[1]];
        put(self.carried, here, carried);
        put(self.heat, here, heat);
        put(self.cap, here, cap);
        put(self.rate, here, rate);
        put(self.gain, here, node.gain);
        put(self.excess, here, excess);
        put(self.excess_w, here, excess_w);
        lower.put(&mut self.lower, here);
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
        after.tt -= at(self.after, here);
        let after = after.map(|part| weight * part).less_carried(carried);
        // the division takes longest: what does not need it goes beside
        let adjugate = pivot.adjugate();
        let per_det = 1.0 / pivot.determinant();
        let upper = adjugate.times(&after).map(|part| part * per_det);
        let [t, w] = adjugate.on(rhs);
        let delta = [t * per_det, w * per_det];
        adjugate.map(|part| part * per_det).put(&mut self.inverse, here);
        upper.put(&mut self.upper, here);
        put(self.delta_t, here, delta[0]);
        put(self.delta_w, here, delta[1]);
        (upper, delta)
    }
}
