//! The attempt at one step: its two stages, each solved by Newton's method.

use crate::solver::evaluate::At;
use crate::solver::lanes::Lanes;
use crate::solver::options::Options;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::state::attempt::Stage;
use crate::solver::rates::Rates;
use crate::solver::stage::{
    Ask, Given, StageEnd, Workspace, add_where, go_back, note_sizes, shift,
};
use crate::solver::state::State;
use crate::solver::tableau::{DIAGONAL, GAMMA, WEIGHT};
use crate::solver::target::per_target;

/// Most Newton iterations before a stage of heat alone counts as failed.
const N_NEWTON_MOST: usize = 8;

/// How closely a stage is solved.
struct Closeness {
    /// Size of the last Newton correction allowed, over the error allowed in a step [–].
    last: f64,
    /// Size of the next Newton correction that need not be made when it is foretold, over the error
    /// allowed in a step at the back [–].
    foretold: f64,
    /// Where the curvature seen is remembered, that foretells it.
    memory: usize,
}

/// The inner stage only leads to the last: what is left open in its temperatures is of the second
/// order in its rates. Source: our own runs of 3,600 made-up layups, whose times err no more than
/// with the closeness of the last stage.
const INNER_STAGE: Closeness = Closeness { last: 0.2, foretold: 0.1, memory: 0 };
/// The account of heat asks more of the last stage than the times do.
const LAST_STAGE: Closeness = Closeness { last: 0.005, foretold: 0.002, memory: 0 };
/// Of two unknowns, whose accounts are kept where a lane ends: a choice, with which the coarse mesh of a
/// search through ten thousand layups errs no more than with a closer one. The stage starts nearer than
/// the inner one, so that its corrections bend less and are remembered apart.
const LAST_STAGE_PAIR: Closeness = Closeness { last: 0.1, foretold: 0.05, memory: 1 };
/// Safety factor on the curvature that foretells it [–].
const CURVATURE_SAFETY: f64 = 3.0;
/// How much of an older, larger curvature is remembered [–].
const CURVATURE_KEPT: f64 = 0.8;

impl<const L: usize> State<L> {
    /// Solves both stages of a step in every active lane.
    ///
    /// Before: `dt_now`, `start` and `slopes` are those of where the lanes stand. After: `temps_next` and
    /// `next` are where the step leads in the lanes that are `solved`; nothing has moved yet.
    pub(in crate::solver) fn attempt(&mut self) {
        prepare_inner(self);
        if let Some(own) = &mut self.pair {
            let heat = [&self.temps[..], &self.slopes[..]];
            own.guess_inner(heat, &mut self.temps_inner, &self.dt_now, &self.smooth);
        }
        let ask = self.ask(GAMMA, &INNER_STAGE, self.active);
        let given = Given { goal: &self.goal, peaks: &self.peaks };
        let (temps, rates) = (&mut self.temps_inner, &mut self.inner);
        let first = match (&mut self.pair, &self.lanes.pair) {
            (Some(own), Some(pair)) => {
                own.solve(Stage::Inner, (&self.lanes, pair), &ask, given, (temps, rates))
            }
            _ => solve_stage(&self.lanes, &ask, given, temps, rates, &mut self.workspace),
        };
        prepare_next(self);
        if let Some(own) = &mut self.pair {
            let temps = (&self.temps_inner[..], &mut self.temps_next[..]);
            let rates = [&self.start, &self.inner];
            own.guess_next(temps, rates, &self.dt_now, self.ties.as_ref());
        }
        let last = if self.pair.is_some() { &LAST_STAGE_PAIR } else { &LAST_STAGE };
        let ask = self.ask(1.0, last, first.solved);
        let given = Given { goal: &self.goal, peaks: &self.peaks };
        let (temps, rates) = (&mut self.temps_next, &mut self.next);
        let second = match (&mut self.pair, &self.lanes.pair) {
            (Some(own), Some(pair)) => {
                own.solve(Stage::Last, (&self.lanes, pair), &ask, given, (temps, rates))
            }
            _ => solve_stage(&self.lanes, &ask, given, temps, rates, &mut self.workspace),
        };
        self.solved = second.solved;
        for l in 0..L {
            self.ledgers[l].n_newton += first.n_iterations[l] + second.n_iterations[l];
            self.note_curvature(l, &INNER_STAGE, first.curvature[l]);
            self.note_curvature(l, last, second.curvature[l]);
        }
    }

    /// Remembers the curvature that a stage has shown.
    fn note_curvature(&mut self, l: usize, stage: &Closeness, seen: Option<f64>) {
        let Some(now) = seen else { return };
        let own = &mut self.curvature[stage.memory][l];
        let kept = if own.is_finite() { CURVATURE_KEPT * *own } else { 0.0 };
        *own = now.max(kept);
    }

    /// Forgets what curvature a lane has shown: until it shows one, no correction is foretold.
    pub(super) fn forget_curvature(&mut self, l: usize) {
        self.curvature.iter_mut().for_each(|stage| stage[l] = f64::INFINITY);
    }

    /// What a stage at `place` within the step asks of the lanes in `active`.
    fn ask(&self, place: f64, closeness: &Closeness, active: [bool; L]) -> Ask<L> {
        let seen = &self.curvature[closeness.memory];
        let (mut t, mut weight, mut curvature) = ([0.0; L], [0.0; L], [0.0; L]);
        for l in 0..L {
            t[l] = self.t[l] + place * self.dt_now[l];
            weight[l] = DIAGONAL * self.dt_now[l];
            curvature[l] = (CURVATURE_SAFETY * seen[l]).max(self.lanes.curvature_most[l]);
        }
        let Options { tol, rise_scale, .. } = self.options;
        Ask {
            t,
            piece: self.piece,
            weight,
            active,
            newton_tol: closeness.last * tol,
            rise_scale,
            curvature,
            foretold_tol: closeness.foretold * tol * rise_scale,
            ties: self.ties,
        }
    }
}

per_target! {
    /// Solves `heat(T) − weight·rate(T) = goal` from the guess in `temps`; `rates` end up at the
    /// solution. What a lane that is not solved holds afterwards is of no use.
    fn solve_stage<const L: usize, const W: bool>(
        lanes: &Lanes<L>,
        ask: &Ask<L>,
        given: Given<'_, L>,
        temps: &mut [[f64; L]],
        rates: &mut Rates<L>,
        workspace: &mut Workspace<L>,
    ) -> StageEnd<L> {
        let mut open = ask.active;
        let mut end = StageEnd { solved: [false; L], n_iterations: [0; L], curvature: [None; L] };
        let mut size_before = [0.0; L];
        let drive = lanes.drive_at(&ask.t, &ask.piece);
        for _ in 0..N_NEWTON_MOST {
            let at = At { temps, peaks: given.peaks, t: &ask.t, drive: &drive };
            let (mut rows, room) = workspace.eliminating::<W>(ask, given.goal, rates);
            lanes.walk::<W>(&at, &mut rows, room);
            let sizes = match lanes.has_changes() {
                true => go_back::<L, W, true>(lanes, ask, given.peaks, temps, workspace),
                false => go_back::<L, W, false>(lanes, ask, given.peaks, temps, workspace),
            };
            note_sizes(ask, sizes, &mut size_before, &mut open, &mut end);
            if !open.contains(&true) {
                break;
            }
            // a solved lane waits with its last correction, which comes out the same again
            add_where::<L, W>(&open, &workspace.delta, temps);
        }
        add_where::<L, W>(&[true; L], &workspace.delta, temps);
        shift::<L, W>(ask, rates, workspace);
        end
    }
}

per_target! {
    /// Goal of the inner stage; of heat alone its guess, too.
    fn prepare_inner<const L: usize, const W: bool>(state: &mut State<L>) {
        let n = state.lanes.n;
        let dt = Pack::<L, W>(state.dt_now);
        let weight = DIAGONAL * dt;
        // slopes predict where the step before was smooth
        let ahead = Mask::of(&state.smooth).only(GAMMA * dt);
        let (heat, rate, temps, slopes) =
            (&state.heat[..n], &state.start.rate[..n], &state.temps[..n], &state.slopes[..n]);
        let (goal, guess) = (&mut state.goal[..n], &mut state.temps_inner[..n]);
        let alone = state.pair.is_none();
        for i in 0..n {
            goal[i] = (Pack(heat[i]) + weight * Pack(rate[i])).0;
            if alone {
                guess[i] = (Pack(temps[i]) + ahead * Pack(slopes[i])).0;
            }
        }
    }
}

per_target! {
    /// Goal of the last stage; of heat alone its guess, too, which goes through start, slope and inner
    /// stage.
    fn prepare_next<const L: usize, const W: bool>(state: &mut State<L>) {
        let n = state.lanes.n;
        let smooth = Mask::<L, W>::of(&state.smooth);
        let dt = Pack(state.dt_now);
        let weight = dt * Pack::all(WEIGHT);
        let (heat, temps, slopes) = (&state.heat[..n], &state.temps[..n], &state.slopes[..n]);
        let (start, inner) = (&state.start.rate[..n], &state.inner.rate[..n]);
        let temps_inner = &state.temps_inner[..n];
        let (goal, guess) = (&mut state.goal[..n], &mut state.temps_next[..n]);
        let alone = state.pair.is_none();
        for i in 0..n {
            goal[i] = (Pack(heat[i]) + weight * (Pack(start[i]) + Pack(inner[i]))).0;
            if !alone {
                continue;
            }
            let temp = Pack(temps[i]);
            let moved = Pack(temps_inner[i]) - temp;
            let straight = smooth.pick(dt * Pack(slopes[i]), (1.0 / GAMMA) * moved);
            let second_order = (1.0 / (GAMMA * GAMMA)) * (moved - GAMMA * straight);
            guess[i] = (temp + straight + second_order).0;
        }
    }
}
