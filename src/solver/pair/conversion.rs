//! Conversion by reactions during a march, and what it does to heat.
//!
//! How much is converted in a step is settled before the step is tried, from the temperatures half
//! way through it as the slopes foretell them; a step in which too much would be is shortened.
//! Within the step conversion goes on evenly, so that what is kept as heat, what leaves as gas and
//! what is set free as vapour belong together, and Newton's iteration is as without.

use crate::physics::char::{
    CHAR_SPECIFIC_HEAT, CHAR_SPECIFIC_HEAT_SLOPE, GAS_SPECIFIC_HEAT, TEMP_REF, blowing_factor,
    blowing_number,
};
use crate::solver::evaluate::{DriveAt, Ends};
use crate::solver::lanes::{LaneSlab, Lanes};
use crate::solver::media::{Point, law_at};
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::reacting::LaneReacting;
use crate::solver::reaction::opened;
use crate::solver::target::per_target;

/// Most that a temperature is foretold to move until half way through a step [K].
const AHEAD_MOST: f64 = 60.0;
/// Share of what is left that is not worth converting in a step [–].
const SHARE_LEAST: f64 = 1e-9;

/// Shares converted and what comes of the step now; entries as
/// [`reaction_entries`](crate::solver::problem::Problem::reaction_entries) orders them, or one a node.
#[derive(Debug, Clone)]
pub(crate) struct Conversion<const L: usize> {
    /// Shares converted at the start of the step [–].
    pub done: Vec<[f64; L]>,
    /// What the step adds to them.
    pub gain: Vec<[f64; L]>,
    /// Gas that leaves each node outwards [kg/(m²·s)].
    pub gas: Vec<[f64; L]>,
    /// Vapour set free at each node [kg/(m²·s)].
    pub vapour: Vec<[f64; L]>,
    /// What of it the step before did not.
    pub vapour_more: Vec<[f64; L]>,
    /// One over the step [1/s]; 0 in a lane at rest.
    per_dt: [f64; L],
    /// Whether anything is or gets converted in any lane, slab by slab.
    stirs: Vec<bool>,
    /// Whether the step settled last, and the one set free last, convert anything in a lane.
    pub converts: [bool; L],
    pub gassed: [bool; L],
}

/// Where lanes stand when their steps are planned.
pub(crate) struct Plan<'a, const L: usize> {
    /// Temperatures of the nodes [K].
    pub temps: &'a [[f64; L]],
    /// Their rates [K/s].
    pub slopes: &'a [[f64; L]],
    /// Whether slopes foretell.
    pub smooth: &'a [bool; L],
    /// Step [s]; 0 in a lane at rest.
    pub dt: [f64; L],
}

impl<const L: usize> Conversion<L> {
    /// Nothing converted, of `n` nodes, `n_entries` shares and `n_slabs` slabs that react.
    pub fn new(n: usize, n_entries: usize, n_slabs: usize) -> Conversion<L> {
        Conversion {
            done: vec![[0.0; L]; n_entries],
            gain: vec![[0.0; L]; n_entries],
            gas: vec![[0.0; L]; n],
            vapour: vec![[0.0; L]; n],
            vapour_more: vec![[0.0; L]; n],
            per_dt: [0.0; L],
            stirs: vec![false; n_slabs],
            converts: [false; L],
            gassed: [false; L],
        }
    }

    /// Puts a lane where the given shares are converted.
    pub fn put(&mut self, l: usize, done: impl Fn(usize) -> f64) {
        for e in 0..self.done.len() {
            self.done[e][l] = done(e);
            self.gain[e][l] = 0.0;
        }
        self.gas.iter_mut().chain(&mut self.vapour).for_each(|value| value[l] = 0.0);
        self.per_dt[l] = 0.0;
        (self.converts[l], self.gassed[l]) = (false, false);
    }

    /// Looks in which slabs there is anything to reckon with.
    pub fn look(&mut self, all: &[LaneReacting<L>]) {
        for (stirs, slab) in self.stirs.iter_mut().zip(all) {
            let entries = slab.at(0, 0)..slab.at(slab.reactions.len(), 0);
            let any = |values: &[[f64; L]]| values.iter().flatten().any(|value| *value > 0.0);
            *stirs = any(&self.done[entries.clone()]) || any(&self.gain[entries]);
        }
    }

    /// Moves the accepted lanes to the end of the step.
    pub fn commit(&mut self, accepted: &[bool; L]) {
        for (done, gain) in self.done.iter_mut().zip(&mut self.gain) {
            for l in (0..L).filter(|l| accepted[*l]) {
                done[l] += gain[l];
                gain[l] = 0.0;
            }
        }
    }

    /// Adds the vapour set free to what supplies set free, in place of it where there are none.
    pub fn supply(&self, alone: bool, supplied: &mut [[f64; L]]) {
        for (supplied, vapour) in supplied.iter_mut().zip(&self.vapour) {
            for l in 0..L {
                supplied[l] = if alone { vapour[l] } else { supplied[l] + vapour[l] };
            }
        }
    }

    /// Takes from the film what the gas that leaves the outer face does to it.
    pub fn blow(&self, blown: &[bool; L], drive: &mut DriveAt<L>) {
        for l in (0..L).filter(|l| blown[*l]) {
            if self.gas[0][l] > 0.0 && drive.h[l] > 0.0 {
                drive.h[l] *= blowing_factor(blowing_number(self.gas[0][l], drive.h[l]));
            }
        }
    }
}

/// [`converted_after`](crate::physics::char::converted_after) a rate times a time `x`, as a share of
/// what is left [–], within 1e-9: below 0.05 by its series.
#[inline(always)]
fn share_after<const L: usize, const W: bool>(x: Pack<L, W>) -> Pack<L, W> {
    let one = Pack::all(1.0);
    let series = x * (one - 0.5 * x * (one - (1.0 / 3.0) * x * (one - 0.25 * x * (one - 0.2 * x))));
    x.at_least(Pack::all(0.05)).pick(one - (-x).exp(), series)
}

per_target! {
    /// Settles what the lanes' steps convert; returns the most that is at any node [–].
    pub(crate) fn settle<const L: usize, const W: bool>(
        own: &mut Conversion<L>,
        all: &[LaneReacting<L>],
        plan: &Plan<'_, L>,
    ) -> [f64; L] {
        let dt = Pack::<L, W>(plan.dt);
        let ahead = Mask::of(plan.smooth).only(0.5 * dt);
        // a lane at rest converts nothing, at whatever temperature
        let moves = dt.at_least(Pack::all(f64::MIN_POSITIVE));
        let ln_dt = moves.pick(dt, Pack::all(1.0)).ln();
        let ln_least = Pack::all(libm::log(SHARE_LEAST));
        let furthest = Pack::all(AHEAD_MOST);
        let mut most = Pack::ZERO;
        for slab in all {
            for c in 0..slab.n_nodes {
                let i = slab.first + c;
                let warmed = ahead * Pack(plan.slopes[i]);
                let temp = Pack(plan.temps[i]) + warmed.or_larger(-furthest).or_smaller(furthest);
                let per_temp = 1.0 / temp;
                for (r, reaction) in slab.reactions.iter().enumerate() {
                    let e = slab.at(r, c);
                    let activation = Pack(reaction.temp_activation);
                    let ln_x = Pack(reaction.ln_rate) + ln_dt - activation * per_temp;
                    // most nodes are too cold: their rate need not be known
                    let hot = moves.only(ln_x.at_least(ln_least).only(Pack::all(1.0)));
                    let gain = match hot.is_zero() {
                        true => Pack::ZERO,
                        false => hot * (Pack::all(1.0) - Pack(own.done[e])) * share_after(ln_x.exp()),
                    };
                    most = gain.or_larger(most);
                    own.gain[e] = gain.0;
                }
            }
        }
        own.converts = most.0.map(|most| most > 0.0);
        most.0
    }
}

per_target! {
    /// What the lanes' settled steps set free, node by node; `slabs` tell what belongs to a node.
    pub(crate) fn set_free<const L: usize, const W: bool>(
        own: &mut Conversion<L>,
        slabs: &[LaneSlab<L>],
        all: &[LaneReacting<L>],
        dt: &[f64; L],
    ) {
        let dt = Pack::<L, W>(*dt);
        let per_dt = dt.at_least(Pack::all(f64::MIN_POSITIVE)).only(1.0 / dt);
        own.per_dt = per_dt.0;
        own.gassed = own.converts;
        for (more, was) in own.vapour_more.iter_mut().zip(&own.vapour) {
            *more = (-Pack::<L, W>(*was)).0;
        }
        own.gas.fill([0.0; L]);
        own.vapour.fill([0.0; L]);
        for slab in all {
            for (r, reaction) in slab.reactions.iter().enumerate() {
                for c in 0..slab.n_nodes {
                    let gain = Pack(own.gain[slab.at(r, c)]);
                    let amount = gain * per_dt * Pack(slabs[slab.slab].shares[c]);
                    let (gas, vapour) =
                        (&mut own.gas[slab.first + c], &mut own.vapour[slab.first + c]);
                    *gas = (Pack(*gas) + amount * Pack(reaction.gas)).0;
                    *vapour = (Pack(*vapour) + amount * Pack(reaction.vapour)).0;
                }
            }
        }
        for (more, now) in own.vapour_more.iter_mut().zip(&own.vapour) {
            *more = (Pack::<L, W>(*more) + Pack(*now)).0;
        }
        for i in (1..own.gas.len()).rev() {
            own.gas[i - 1] = (Pack::<L, W>(own.gas[i - 1]) + Pack(own.gas[i])).0;
        }
    }
}

/// Heat without vapour and its matrix, to which conversion is added.
pub(crate) struct HeatRows<'a, const L: usize> {
    pub heat: &'a mut [[f64; L]],
    pub cap: &'a mut [[f64; L]],
    pub rate: &'a mut [[f64; L]],
    pub diag: &'a mut [[f64; L]],
    pub before: &'a mut [[f64; L]],
    pub after: &'a mut [[f64; L]],
    pub ends: &'a mut Ends<L>,
    /// Heat that conversion takes up while it goes on, at given temperatures [W/m²].
    pub taken: &'a mut [[f64; L]],
    pub points: &'a mut [Point<L>],
    /// Shares of mass lost, a slab's nodes.
    pub lost: &'a mut [[f64; L]],
}

/// Where conversion is looked at.
#[derive(Clone, Copy)]
pub(crate) struct Stage<'a, const L: usize> {
    pub temps: &'a [[f64; L]],
    pub peaks: &'a [[f64; L]],
    /// Place within the step, 0 to 1.
    pub place: f64,
}

per_target! {
    /// Adds to heat what conversion keeps, what gas carries outwards, and what a slab that has lost
    /// mass passes on.
    pub(crate) fn add_conversion<const L: usize, const W: bool>(
        lanes: &Lanes<L>,
        all: &[LaneReacting<L>],
        own: &Conversion<L>,
        stage: Stage<'_, L>,
        rows: &mut HeatRows<'_, L>,
    ) {
        rows.taken.fill([0.0; L]);
        for (slab, stirs) in all.iter().zip(&own.stirs) {
            if *stirs {
                let medium = &lanes.slabs[slab.slab];
                let span = slab.first..slab.first + slab.n_nodes;
                medium.look::<W>(&stage.temps[span.clone()], &stage.peaks[span], rows.points);
                hold::<L, W>((medium, slab), own, &stage, rows);
                pass::<L, W>((medium, slab), &stage, rows);
            }
        }
        carry::<L, W>(own, &stage, rows);
    }
}

/// Adds what the nodes of a slab keep.
#[inline(always)]
fn hold<const L: usize, const W: bool>(
    (medium, slab): (&LaneSlab<L>, &LaneReacting<L>),
    own: &Conversion<L>,
    stage: &Stage<L>,
    rows: &mut HeatRows<'_, L>,
) {
    let temp_ref = Pack::<L, W>::all(TEMP_REF);
    let (_, datum) = law_at(&medium.rho_cp, temp_ref);
    let place = Pack::all(stage.place);
    let per_dt = Pack(own.per_dt);
    for c in 0..slab.n_nodes {
        let i = slab.first + c;
        let share = Pack(medium.shares[c]);
        // what is converted, the residue and heat it keeps, and what of them comes by the second
        let mut now = [Pack::<L, W>::ZERO; 3];
        let mut coming = [Pack::<L, W>::ZERO; 3];
        let mut lost = Pack::ZERO;
        for (r, reaction) in slab.reactions.iter().enumerate() {
            let e = slab.at(r, c);
            let gain = Pack(own.gain[e]);
            let done = Pack(own.done[e]) + place * gain;
            let speed = gain * per_dt;
            let parts: [Pack<L, W>; 3] =
                [Pack(reaction.share), Pack(reaction.residue), Pack(reaction.heat)];
            for k in 0..3 {
                now[k] += done * parts[k];
                coming[k] += speed * parts[k];
            }
            lost += done * Pack(reaction.lost);
        }
        let above = Pack(stage.temps[i]) - temp_ref;
        let residue =
            above * (Pack::all(CHAR_SPECIFIC_HEAT) + (0.5 * CHAR_SPECIFIC_HEAT_SLOPE) * above);
        let residue_cp = Pack::all(CHAR_SPECIFIC_HEAT) + CHAR_SPECIFIC_HEAT_SLOPE * above;
        let point = &rows.points[c];
        let fibre = Pack(point.heat) - share * datum;
        let kept = |[converted, left, heat]: [Pack<L, W>; 3]| {
            share * (left * residue + heat) - converted * fibre
        };
        rows.heat[i] = (Pack(rows.heat[i]) + kept(now)).0;
        let cap = share * now[1] * residue_cp - now[0] * Pack(point.cap);
        rows.cap[i] = (Pack(rows.cap[i]) + cap).0;
        rows.taken[i] = (Pack(rows.taken[i]) + kept(coming)).0;
        rows.lost[c] = lost.0;
    }
}

/// Adds what the cells of a slab pass on beyond what they did before they lost mass.
#[inline(always)]
fn pass<const L: usize, const W: bool>(
    (medium, slab): (&LaneSlab<L>, &LaneReacting<L>),
    stage: &Stage<L>,
    rows: &mut HeatRows<'_, L>,
) {
    for c in 0..slab.n_nodes - 1 {
        let k = slab.first + c;
        let temps = [&stage.temps[k], &stage.temps[k + 1]];
        let flux = medium.flux::<W>(c, [&rows.points[c], &rows.points[c + 1]], temps);
        let (mut thinner, mut opener) = ([0.0; L], [0.0; L]);
        for l in 0..L {
            let lost = 0.5 * (rows.lost[c][l] + rows.lost[c + 1][l]);
            [thinner[l], opener[l]] = opened(lost, slab.thinning[l]);
        }
        let more = Pack::<L, W>(thinner) - Pack::all(1.0);
        let radiates =
            Pack(thinner) * Pack(opener) * Pack(slab.k_radiation) * Pack(medium.per_dx[c]);
        let (outer, inner) = (Pack::<L, W>(*temps[0]), Pack(*temps[1]));
        let (outer2, inner2) = (outer * outer, inner * inner);
        let q = more * flux.q + (0.25 * radiates) * (outer2 * outer2 - inner2 * inner2);
        let by_before = more * flux.by_before + radiates * outer2 * outer;
        let by_after = more * flux.by_after + radiates * inner2 * inner;
        rows.cross::<W>(k, q, (by_before, by_after));
    }
}

/// Adds the heat that gas carries outwards from node to node, at the mean of both, and out of the chain.
#[inline(always)]
fn carry<const L: usize, const W: bool>(
    own: &Conversion<L>,
    stage: &Stage<L>,
    rows: &mut HeatRows<'_, L>,
) {
    let temp_ref = Pack::<L, W>::all(TEMP_REF);
    for k in 0..own.gas.len() - 1 {
        let half = (0.5 * GAS_SPECIFIC_HEAT) * Pack::<L, W>(own.gas[k + 1]);
        if half.is_zero() {
            break;
        }
        let before = Pack(stage.temps[k]) - temp_ref;
        let after = Pack(stage.temps[k + 1]) - temp_ref;
        rows.cross::<W>(k, -(half * (before + after)), (-half, half));
    }
    let cap = GAS_SPECIFIC_HEAT * Pack::<L, W>(own.gas[0]);
    let out = cap * (Pack(stage.temps[0]) - temp_ref);
    rows.rate[0] = (Pack(rows.rate[0]) - out).0;
    rows.diag[0] = (Pack(rows.diag[0]) - cap).0;
    rows.ends.q_in = (Pack::<L, W>(rows.ends.q_in) - out).0;
    rows.ends.q_in_slope = (Pack::<L, W>(rows.ends.q_in_slope) - cap).0;
}

impl<const L: usize> HeatRows<'_, L> {
    /// A flux from node `k` to the next, its derivative by the temperature before it and minus that by
    /// the one after it.
    #[inline(always)]
    fn cross<const W: bool>(
        &mut self,
        k: usize,
        q: Pack<L, W>,
        (by_before, by_after): (Pack<L, W>, Pack<L, W>),
    ) {
        let add = |field: &mut [f64; L], part: Pack<L, W>| *field = (Pack(*field) + part).0;
        add(&mut self.rate[k], -q);
        add(&mut self.diag[k], -by_before);
        add(&mut self.after[k], by_after);
        add(&mut self.rate[k + 1], q);
        add(&mut self.diag[k + 1], -by_after);
        add(&mut self.before[k + 1], by_before);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::char::converted_after;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn share_is_that_of_the_source(ln_x in -20.0..3.0f64) {
            let x = libm::exp(ln_x);
            let right = converted_after(0.0, x, 1.0);
            let own = share_after::<1, false>(Pack([x])).0[0];
            prop_assert!((own / right - 1.0).abs() < 1e-9, "{x}: {own} {right}");
        }
    }
}
