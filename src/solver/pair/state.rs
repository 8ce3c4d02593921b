//! What changes of vapour during a march, beside what changes of heat.

use crate::physics::vapour::enthalpy_vapour;
use crate::solver::evaluate::At;
use crate::solver::lanes::Lanes;
use crate::solver::options::Options;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::chunk::{at, put};
use crate::solver::pair::conversion::Conversion;
use crate::solver::pair::guess::Guess;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::pair::rates::{PairRates, slopes};
use crate::solver::pair::stage::{
    PairAt, PairGiven, blown, evaluate_dry_pair, evaluate_pair, solve_pair,
};
use crate::solver::pair::workspace::PairWorkspace;
use crate::solver::rates::Rates;
use crate::solver::stage::{Ask, Given, StageEnd};
use crate::solver::tableau::{DIAGONAL, ERROR, GAMMA, STEP, WEIGHT};
use crate::solver::target::per_target;
use crate::solver::tridiagonal::weighted;

/// Which stage of a step is solved.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Stage {
    Inner,
    Last,
}

/// Contents and accounts of vapour of all nodes; the stages are those of heat.
pub(crate) struct PairState<const L: usize> {
    /// Contents, bound and liquid [kg/m²].
    pub contents: Vec<[f64; L]>,
    pub contents_inner: Vec<[f64; L]>,
    pub contents_next: Vec<[f64; L]>,
    /// Their rates [kg/(m²·s)].
    pub slopes: Vec<[f64; L]>,
    pub slopes_next: Vec<[f64; L]>,
    /// What is held in all, by the account and at the start [kg/m²].
    pub store: Vec<[f64; L]>,
    pub store_start: Vec<[f64; L]>,
    pub goal: Vec<[f64; L]>,
    /// Pressures where the step starts, with their derivatives by temperature and content; flat.
    pub pressure: [Vec<f64>; 3],
    /// How far temperatures and contents are guessed to go if all is linear.
    pub moves: [Vec<[f64; L]>; 2],
    pub start: PairRates<L>,
    pub inner: PairRates<L>,
    pub next: PairRates<L>,
    /// Heat without vapour where the lanes stand, with drive and conversion as they were.
    pub before: Rates<L>,
    /// What the outer film passed per drop of the potential with drive and conversion as they were.
    pub front_before: [f64; L],
    pub workspace: PairWorkspace<L>,
    /// Conversion, where anything reacts.
    pub conversion: Option<Conversion<L>>,
}

/// Most that a change of the film adds to what passes it as a step begins, as a share of it [–].
const MORE_MOST: f64 = 0.1;

impl<const L: usize> PairState<L> {
    pub fn new(lanes: &Lanes<L>, pair: &PairLanes<L>) -> PairState<L> {
        let n = lanes.n;
        let zeros = || vec![[0.0; L]; n];
        let rates = || PairRates::new(n);
        PairState {
            contents: zeros(),
            contents_inner: zeros(),
            contents_next: zeros(),
            slopes: zeros(),
            slopes_next: zeros(),
            store: zeros(),
            store_start: zeros(),
            goal: zeros(),
            pressure: std::array::from_fn(|_| vec![0.0; n * L]),
            moves: [zeros(), zeros()],
            start: rates(),
            inner: rates(),
            next: rates(),
            before: Rates::new(lanes),
            front_before: [0.0; L],
            workspace: PairWorkspace::new(n, lanes.joints.len()),
            conversion: (pair.n_entries > 0)
                .then(|| Conversion::new(n, pair.n_entries, pair.reacting.len())),
        }
    }

    /// Solves a stage.
    pub fn solve(
        &mut self,
        stage: Stage,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        ask: &Ask<L>,
        given: Given<'_, L>,
        (temps, rates): (&mut [[f64; L]], &mut Rates<L>),
    ) -> StageEnd<L> {
        let conversion = self.conversion.as_ref();
        let (contents, own, place) = match stage {
            Stage::Inner => (&mut self.contents_inner[..], &mut self.inner, GAMMA),
            Stage::Last => (&mut self.contents_next[..], &mut self.next, 1.0),
        };
        let given = (given, PairGiven { pair, goal: &self.goal, conversion, place });
        solve_pair(lanes, ask, given, (temps, contents), (rates, own), &mut self.workspace)
    }

    /// Evaluates both fields where the lanes stand, into the next stage.
    pub fn evaluate(
        &mut self,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        heat: At<'_, L>,
        next: &mut Rates<L>,
    ) {
        let drive = blown(self.conversion.as_ref(), pair, heat.drive.clone());
        let heat = At { drive: &drive, ..heat };
        let at = PairAt { heat, contents: &self.contents };
        let pair = (pair, self.conversion.as_ref());
        evaluate_pair(lanes, pair, &at, (next, &mut self.next), &mut self.workspace);
    }

    /// Evaluates heat without vapour where the lanes stand; returns what the outer film passes per
    /// drop of the potential.
    pub fn evaluate_dry(
        &mut self,
        (lanes, pair): (&Lanes<L>, &PairLanes<L>),
        heat: At<'_, L>,
        rates: &mut Rates<L>,
    ) -> [f64; L] {
        let drive = blown(self.conversion.as_ref(), pair, heat.drive.clone());
        let heat = At { drive: &drive, ..heat };
        let given = (pair, self.conversion.as_ref());
        evaluate_dry_pair(lanes, given, &heat, (rates, &mut self.next.taken), &mut self.workspace)
    }

    /// Moves a lane's rates at the start of the step by what another drive or conversion makes of them;
    /// returns what the heat into the outer face is more besides [W/m²].
    ///
    /// A film that passes vapour otherwise passes as much more of what went through it in the step,
    /// not of what would go through where the step ended: that is beyond measure at a dry face. After
    /// a jump of the film a dry face follows at once, and what passes it hardly changes.
    ///
    /// - `front`: what the film passes now, per drop of the potential
    /// - `temp`: temperature of the outer face [K]
    pub fn shift_start(&mut self, l: usize, front: f64, temp: f64) -> f64 {
        let PairRates { gain, passing, .. } = &mut self.start;
        if let Some(conversion) = &self.conversion {
            for (gain, more) in gain.iter_mut().zip(&conversion.vapour_more) {
                gain[l] += more[l];
                passing.supplied[l] += more[l];
            }
        }
        let before = self.front_before[l];
        if front == before || before == 0.0 {
            return 0.0;
        }
        let more = (front / before - 1.0).clamp(-MORE_MOST, MORE_MOST) * passing.inwards[l];
        gain[0][l] += more;
        passing.inwards[l] += more;
        more * enthalpy_vapour(temp)
    }

    /// Takes over what was evaluated at the start of a step, in one lane.
    pub fn take_start(
        &mut self,
        l: usize,
        now: &Rates<L>,
        (temp_slopes, fresh): (&mut [[f64; L]], bool),
        ties: Option<&[f64; L]>,
    ) {
        let n = self.store.len();
        for i in 0..n {
            let [temp, content] = slopes::<L, false>(now, &self.next, i);
            temp_slopes[i][l] = temp.0[l];
            self.slopes[i][l] = content.0[l];
            if fresh {
                self.store[i][l] = self.next.store[i][l];
                self.store_start[i][l] = self.next.store[i][l];
            }
        }
        if let Some(weights) = ties {
            let (temp, content) = tied_slopes(weights, now, &self.next);
            temp_slopes[n - 1][l] = temp;
            self.slopes[n - 1][l] = content[l];
        }
        self.start.take(&self.next, l);
        for (own, looked) in self.pressure.iter_mut().zip(&self.workspace.fields.nodes) {
            for i in 0..n {
                own[i * L + l] = looked[i * L + l];
            }
        }
    }

    /// Goal and guess of the inner stage, from the slopes where the step before was smooth.
    pub fn guess_inner(
        &mut self,
        [temps, slopes]: [&[[f64; L]]; 2],
        guess: &mut [[f64; L]],
        dt: &[f64; L],
        smooth: &[bool; L],
    ) {
        prepare_inner_pair(self, slopes, dt, smooth);
        let mut guess = Guess {
            n_lanes: L,
            pressure: self.pressure.each_ref().map(Vec::as_slice),
            temps: temps.as_flattened(),
            contents: self.contents.as_flattened(),
            moves: self.moves.each_ref().map(|moves| moves.as_flattened()),
            temps_guess: guess.as_flattened_mut(),
            contents_guess: self.contents_inner.as_flattened_mut(),
        };
        guess.make();
    }

    /// Goal and guess of the last stage: the matrix of the inner one, which has the same weight, is at
    /// hand and tells where an iteration from there would lead.
    pub fn guess_next(
        &mut self,
        (inner, guess): (&[[f64; L]], &mut [[f64; L]]),
        rates: [&Rates<L>; 2],
        dt: &[f64; L],
        ties: Option<&[f64; L]>,
    ) {
        prepare_next_pair(self, rates, dt);
        let [heat, vapour] = &mut self.moves;
        self.workspace.solve(heat, vapour, ties);
        let [p, p_t, p_w, ..] = &self.workspace.fields.nodes;
        let mut guess = Guess {
            n_lanes: L,
            pressure: [p, p_t, p_w],
            temps: inner.as_flattened(),
            contents: self.contents_inner.as_flattened(),
            moves: self.moves.each_ref().map(|moves| moves.as_flattened()),
            temps_guess: guess.as_flattened_mut(),
            contents_guess: self.contents_next.as_flattened_mut(),
        };
        guess.make();
    }

    /// Puts an ended lane where its accounts stand, node by node, by one step of Newton's method from
    /// where it was just evaluated: what the stages left open was of the second order in their last
    /// corrections.
    ///
    /// - `heat`: the account of heat [J/m²], of as many nodes as its temperature may move of
    pub fn keep_accounts(
        &mut self,
        l: usize,
        heat: &[[f64; L]],
        now: &Rates<L>,
        temps: &mut [[f64; L]],
    ) {
        for i in 0..temps.len() {
            let held = self.next.block::<false>(now, i);
            let store = Pack(self.store[i]) - Pack(self.next.store[i]);
            let [temp, content] = match heat.get(i) {
                Some(heat) => held.inverse().on([Pack(*heat) - Pack(now.heat[i]), store]),
                None => [Pack::ZERO, store / held.ww],
            };
            temps[i][l] += temp.0[l];
            self.contents[i][l] += content.0[l];
        }
    }

    /// Vapour that an accepted step of a lane brought in, from outside and from supplies [kg/m²].
    pub fn brought(&self, l: usize, dt: f64) -> f64 {
        let rates = [&self.start, &self.inner, &self.next];
        let of = |rates: &PairRates<L>| rates.passing.inwards[l] + rates.passing.supplied[l];
        dt * STEP.iter().zip(rates).map(|(weight, rates)| weight * of(rates)).sum::<f64>()
    }

    /// Puts the lane at given contents.
    pub fn put(&mut self, l: usize, content: impl Fn(usize) -> f64) {
        for i in 0..self.contents.len() {
            self.contents[i][l] = content(i);
        }
    }
}

/// Rates of the last node's temperature, which all lanes share, and of its contents.
fn tied_slopes<const L: usize>(
    weights: &[f64; L],
    rates: &Rates<L>,
    own: &PairRates<L>,
) -> (f64, [f64; L]) {
    let last = rates.rate.len() - 1;
    let (mut rate, mut cap) = ([0.0; L], [0.0; L]);
    for l in 0..L {
        let carried = own.heat_w[last][l] / own.store_w[last][l];
        rate[l] = rates.rate[last][l] - carried * own.gain[last][l];
        cap[l] = rates.cap[last][l] - carried * own.store_t[last][l];
    }
    let temp = weighted(weights, &rate) / weighted(weights, &cap);
    let content = std::array::from_fn(|l| {
        (own.gain[last][l] - own.store_t[last][l] * temp) / own.store_w[last][l]
    });
    (temp, content)
}

per_target! {
    /// Goal of the inner stage, and how far the slopes lead until then in smooth lanes.
    fn prepare_inner_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        temp_slopes: &[[f64; L]],
        dt: &[f64; L],
        smooth: &[bool; L],
    ) {
        let dt = Pack::<L, W>(*dt);
        let weight = DIAGONAL * dt;
        let ahead = Mask::of(smooth).only(GAMMA * dt);
        for i in 0..own.contents.len() {
            own.goal[i] = (Pack(own.store[i]) + weight * Pack(own.start.gain[i])).0;
            own.moves[0][i] = (ahead * Pack(temp_slopes[i])).0;
            own.moves[1][i] = (ahead * Pack(own.slopes[i])).0;
        }
    }
}

per_target! {
    /// Goal of the last stage, and how far goals of heat and vapour lie beyond those of the inner one.
    fn prepare_next_pair<const L: usize, const W: bool>(
        own: &mut PairState<L>,
        rates: [&Rates<L>; 2],
        dt: &[f64; L],
    ) {
        let [start, inner] = rates;
        let dt = Pack::<L, W>(*dt);
        let (weight, of_inner) = (WEIGHT * dt, DIAGONAL * dt);
        for i in 0..own.contents.len() {
            let rate = Pack(start.rate[i]);
            let heat = weight * (rate + Pack(inner.rate[i]));
            let gain = Pack(own.start.gain[i]);
            let vapour = weight * (gain + Pack(own.inner.gain[i]));
            own.goal[i] = (Pack(own.store[i]) + vapour).0;
            own.moves[0][i] = (heat - of_inner * rate).0;
            own.moves[1][i] = (vapour - of_inner * gain).0;
        }
    }
}

/// What the error of a step is measured by.
pub(crate) struct Tried<'a, const L: usize> {
    pub dt: &'a [f64; L],
    /// Rates of heat at the start, of the inner and of the last stage.
    pub rates: [&'a Rates<L>; 3],
    pub temps_next: &'a [[f64; L]],
    pub temps_start: &'a [[f64; L]],
    /// Whether a lump ends the chain.
    pub lump: bool,
    pub options: &'a Options,
    pub ties: Option<&'a [f64; L]>,
}

/// Error of what a step gains by its rates at the start, of the inner and of the last stage.
#[inline(always)]
fn weighed<const L: usize, const W: bool>(dt: Pack<L, W>, rates: [[f64; L]; 3]) -> [f64; L] {
    let [start, inner, next] = rates;
    let (start, inner, next) = (Pack::<L, W>(start), Pack(inner), Pack(next));
    (dt * (ERROR[0] * start + ERROR[1] * inner + ERROR[2] * next)).0
}

/// The larger of two; NaN, which must not be lost, is larger than any number.
#[inline(always)]
fn worse<const L: usize, const W: bool>(most: Pack<L, W>, own: Pack<L, W>) -> Pack<L, W> {
    most.at_least(own).pick(most, own)
}

per_target! {
    /// Error of the step over the error allowed, lane by lane, in both fields; `goal` and that of
    /// vapour are used as workspace.
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
            goal[i] = weighed::<L, W>(dt, [start.rate[i], inner.rate[i], next.rate[i]]);
            let gains = [own.start.gain[i], own.inner.gain[i], own.next.gain[i]];
            own.goal[i] = weighed::<L, W>(dt, gains);
        }
        own.workspace.solve(goal, &mut own.goal[..n], tried.ties);
        let Options { tol, rise_scale, lump_share, .. } = *tried.options;
        let scale = Pack::all(rise_scale);
        let mut ratio = Pack::<L, W>::ZERO;
        for i in 0..n {
            let rise = (Pack(tried.temps_next[i]) - Pack(tried.temps_start[i])).abs();
            let of_heat = Pack(goal[i]).abs() / (tol * (scale + rise));
            ratio = worse(ratio, of_heat);
            let kelvins = Pack(pair.kelvins[i]);
            let rise = kelvins * (Pack(own.contents_next[i]) - Pack(pair.start[i])).abs();
            ratio = worse(ratio, kelvins * Pack(own.goal[i]).abs() / (tol * (scale + rise)));
            if tried.lump && i + 1 == n {
                ratio = worse(ratio, (1.0 / lump_share) * of_heat);
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
            let (start, inner) = (Pack(own.start.gain[i]), Pack(own.inner.gain[i]));
            let last = Pack(own.next.gain[i]);
            let gain = dt * (STEP[0] * start + STEP[1] * inner + STEP[2] * last);
            let before = Pack(own.store[i]);
            own.store[i] = accepted.pick(before + gain, before).0;
        }
        if let Some(weights) = ties {
            let (temp, content) = tied_slopes(weights, next, &own.next);
            temp_slopes[n - 1] = [temp; L];
            own.slopes_next[n - 1] = content;
        }
    }
}

per_target! {
    /// Moves the accepted lanes to the end of the step.
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
