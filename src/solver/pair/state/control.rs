//! Whether a step of both fields stands, and what it leaves behind.

use crate::solver::options::Options;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::chunk::{at, put};
use crate::solver::pair::eliminated::solve_again;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::pair::rates::{PairRates, slopes};
use crate::solver::pair::state::PairState;
use crate::solver::rates::Rates;
use crate::solver::tableau::{ERROR, STEP, weighed};
use crate::solver::target::per_target;

/// What the error of a step is measured by.
pub(crate) struct Tried<'a, const L: usize> {
    /// Step tried [s].
    pub dt: &'a [f64; L],
    /// Rates of heat at the start, of the inner and of the last stage.
    pub rates: [&'a Rates<L>; 3],
    /// Temperatures that the step leads to [K].
    pub temps_next: &'a [[f64; L]],
    /// Temperatures at the start of the march [K].
    pub temps_start: &'a [[f64; L]],
    /// Whether a lump ends the chain.
    pub lump: bool,
    /// How closely is followed.
    pub options: &'a Options,
    /// Weights of the lanes when their last node is one and the same.
    pub ties: Option<&'a [f64; L]>,
}

per_target! {
    /// Error of the step over the error allowed, lane by lane, in both fields; `goal` and that of
    /// vapour are used as workspace.
    ///
    /// Before: the last stage was the last to be solved. After: NaN where any number is; nothing has moved.
    pub(crate) fn error_ratio_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        pair: &PairLanes<L>,
        tried: &Tried<'_, L>,
        goal: &mut [[f64; L]],
    ) -> [f64; L] {
        let n = goal.len();
        let dt = Pack::<L, W>(*tried.dt);
        for i in 0..n {
            let [start, inner, next] = tried.rates;
            let rates = [&start.rate[i], &inner.rate[i], &next.rate[i]];
            goal[i] = (dt * weighed(ERROR, rates)).0;
            let gains = [&own.start.gain[i], &own.inner.gain[i], &own.next.gain[i]];
            own.goal[i] = (dt * weighed(ERROR, gains)).0;
        }
        solve_again(&own.workspace, (goal, &mut own.goal[..n]), tried.ties);
        let Options { tol, rise_scale, lump_share, .. } = *tried.options;
        let scale = Pack::all(rise_scale);
        let mut ratio = Pack::<L, W>::ZERO;
        // a NaN stands at every node once it was solved for, and the last one is taken
        for i in 0..n {
            let rise = (Pack(tried.temps_next[i]) - Pack(tried.temps_start[i])).abs();
            let of_heat = Pack(goal[i]).abs() / (tol * (scale + rise));
            ratio = ratio.or_larger(of_heat);
            let kelvins = Pack(pair.kelvins[i]);
            let rise = kelvins * (Pack(own.contents_next[i]) - Pack(pair.start[i])).abs();
            ratio = ratio.or_larger(kelvins * Pack(own.goal[i]).abs() / (tol * (scale + rise)));
            if tried.lump && i + 1 == n {
                ratio = ratio.or_larger((1.0 / lump_share) * of_heat);
            }
        }
        let ratio = ratio.0;
        if tried.ties.is_some() {
            return [ratio.iter().copied().fold(0.0, |a, b| if b <= a { a } else { b }); L];
        }
        ratio
    }
}

per_target! {
    /// Slopes of both fields at the end of the step and the vapour it brought, in the accepted lanes.
    ///
    /// Before: both stages are solved there. After: the slopes to come and the account of vapour are at
    /// the step's end; nothing else has moved.
    pub(crate) fn finish_step_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        dt: &[f64; L],
        accepted: &[bool; L],
        next: &Rates<L>,
        temp_slopes: &mut [[f64; L]],
        ties: Option<&[f64; L]>,
    ) {
        let n = temp_slopes.len();
        let accepted = Mask::<L, W>::of(accepted);
        let dt = Pack(*dt);
        for i in 0..n {
            let [temp, content] = slopes::<L, W>(next, &own.next, i);
            temp_slopes[i] = temp.0;
            own.slopes_next[i] = content.0;
            let gains = [&own.start.gain[i], &own.inner.gain[i], &own.next.gain[i]];
            let gain = dt * weighed(STEP, gains);
            let before = Pack(own.store[i]);
            own.store[i] = accepted.pick(before + gain, before).0;
        }
        if let Some(weights) = ties {
            let (temp, content) = own.next.tied_slopes(weights, next);
            temp_slopes[n - 1] = [temp; L];
            own.slopes_next[n - 1] = content;
        }
    }
}

per_target! {
    /// Moves the accepted lanes to the end of the step.
    ///
    /// Before: the step is finished. After: contents, slopes, pressures, rates and shares converted are
    /// those at its end.
    pub(crate) fn commit_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        accepted: &[bool; L],
    ) {
        if let Some(conversion) = &mut own.conversion {
            conversion.commit(accepted);
        }
        let accepted = Mask::<L, W>::of(accepted);
        for i in 0..own.contents.len() {
            let pick = |next: &[f64; L], now: &[f64; L]| accepted.pick(Pack(*next), Pack(*now)).0;
            own.contents[i] = pick(&own.contents_next[i], &own.contents[i]);
            own.slopes[i] = pick(&own.slopes_next[i], &own.slopes[i]);
            for (own, looked) in own.pressure.iter_mut().zip(&own.workspace.fields.nodes) {
                let picked = accepted.pick(at(looked, i * L), at(own, i * L));
                put(own, i * L, picked);
            }
            own.start.gain[i] = pick(&own.next.gain[i], &own.start.gain[i]);
        }
    }
}

impl<const L: usize> PairState<L> {
    /// Vapour that an accepted step of a lane brought in, from outside and from supplies [kg/m²].
    /// Before: what passes the ends was not moved on ([`PairState::pass_on`]).
    pub fn brought(&self, l: usize, dt: f64) -> f64 {
        let rates = [&self.start, &self.inner, &self.next];
        let of = |rates: &PairRates<L>| rates.passing.inwards[l] + rates.passing.supplied[l];
        dt * STEP.iter().zip(rates).map(|(weight, rates)| weight * of(rates)).sum::<f64>()
    }

    /// Contents, their rates and shares converted as a step begins and ends, every lane's; the last as what
    /// the step adds, and empty where nothing reacts.
    pub fn shown(&self) -> [[&[f64]; 2]; 3] {
        let conversion = self.conversion.as_ref();
        [
            [self.contents.as_flattened(), self.contents_next.as_flattened()],
            [self.slopes.as_flattened(), self.slopes_next.as_flattened()],
            conversion.map_or([&[], &[]], |own| [own.done.as_flattened(), own.gain.as_flattened()]),
        ]
    }

    /// Moves what passes the ends of an accepted lane to the end of the step.
    pub fn pass_on(&mut self, l: usize) {
        self.start.passing.take(&self.next.passing, l);
    }
}
