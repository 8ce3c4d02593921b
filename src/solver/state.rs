//! Everything that changes during a march, and the attempt at one step.

use crate::solver::error::SolverError;
use crate::solver::evaluate::At;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::moment::Moment;
use crate::solver::options::Options;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::conversion::{Plan, set_free, settle};
use crate::solver::pair::state::{PairState, Stage};
use crate::solver::rates::{Rates, evaluate};
use crate::solver::stage::{Ask, Given, Workspace, solve_stage};
use crate::solver::tableau::{DIAGONAL, GAMMA, WEIGHT};
use crate::solver::target::per_target;
use crate::solver::tridiagonal::weighted;

/// How often a step is shortened until no node converts too much in it.
const N_SHORTER_MOST: usize = 60;
/// What of the step that converts as much as may be is tried [–].
const SHORTER: f64 = 0.9;
/// Least share of a step that is left of it at once [–].
const SHORTER_LEAST: f64 = 0.1;

/// How closely a stage is solved.
struct Closeness {
    /// Size of the last Newton correction allowed, over the error allowed in a step [–].
    last: f64,
    /// Size of the next Newton correction that need not be made when it is foretold, over the error
    /// allowed in a step at the back [–].
    foretold: f64,
}

/// The inner stage only leads to the last: what is left open in its temperatures is of the second
/// order in its rates. Source: our own runs of 3,600 made-up layups, whose times err no more than
/// with the closeness of the last stage.
const INNER_STAGE: Closeness = Closeness { last: 0.2, foretold: 0.1 };
/// The account of heat asks more of the last stage than the times do.
const LAST_STAGE: Closeness = Closeness { last: 0.005, foretold: 0.002 };
/// Safety factor on the curvature that foretells it [–].
const CURVATURE_SAFETY: f64 = 3.0;
/// How much of an older, larger curvature is remembered [–].
const CURVATURE_KEPT: f64 = 0.8;

/// Everything that changes during a march.
pub(crate) struct State<const L: usize> {
    pub lanes: Lanes<L>,
    pub options: Options,
    pub t: [f64; L],
    pub dt: [f64; L],
    /// Step tried now, cut at the end of the piece [s].
    pub dt_now: [f64; L],
    pub piece: [usize; L],
    pub active: [bool; L],
    /// A problem was put into the lane and its account is not opened yet.
    pub fresh: [bool; L],
    /// How the lane ended, until it is taken.
    pub ended: [Option<Result<(), SolverError>>; L],
    /// The rates at the start of the step must be evaluated anew.
    pub stale: [bool; L],
    /// The step before was smooth, so that slopes predict.
    pub smooth: [bool; L],
    pub solved: [bool; L],
    /// The step was rejected and is tried anew.
    pub held_back: [bool; L],
    /// Curvature of the equations as Newton's iteration has seen it lately [1/K].
    pub curvature: [f64; L],
    pub temps: Vec<[f64; L]>,
    pub temps_inner: Vec<[f64; L]>,
    pub temps_next: Vec<[f64; L]>,
    pub peaks: Vec<[f64; L]>,
    pub heat: Vec<[f64; L]>,
    pub heat_start: Vec<[f64; L]>,
    pub slopes: Vec<[f64; L]>,
    pub slopes_next: Vec<[f64; L]>,
    pub goal: Vec<[f64; L]>,
    pub start: Rates<L>,
    pub inner: Rates<L>,
    pub next: Rates<L>,
    pub workspace: Workspace<L>,
    /// Vapour beside heat, where anything binds it.
    pub pair: Option<Box<PairState<L>>>,
    pub ledgers: [Ledger; L],
    /// Weights of the lanes when their last node is one and the same.
    pub ties: Option<[f64; L]>,
}

impl<const L: usize> State<L> {
    /// A march at its start, every lane active.
    pub fn new(lanes: Lanes<L>, options: &Options, ties: Option<[f64; L]>) -> State<L> {
        let mut state = State::idle(lanes, options, ties);
        for l in 0..L {
            state.open_lane(l);
        }
        state
    }

    /// A march at its start, the first lane active.
    pub fn with_first_lane(lanes: Lanes<L>, options: &Options) -> State<L> {
        let mut state = State::idle(lanes, options, None);
        for l in 0..L {
            // idle lanes too hold numbers that can be computed with
            state.open_lane(l);
            state.active[l] = l == 0;
        }
        state
    }

    fn idle(lanes: Lanes<L>, options: &Options, ties: Option<[f64; L]>) -> State<L> {
        let n = lanes.n;
        let zeros = || vec![[0.0; L]; n];
        State {
            options: *options,
            t: [0.0; L],
            dt: [0.0; L],
            dt_now: [0.0; L],
            piece: [0; L],
            active: [false; L],
            fresh: [false; L],
            ended: std::array::from_fn(|_| None),
            stale: [false; L],
            smooth: [false; L],
            solved: [false; L],
            held_back: [false; L],
            curvature: [f64::INFINITY; L],
            temps: zeros(),
            temps_inner: zeros(),
            temps_next: zeros(),
            peaks: zeros(),
            heat: zeros(),
            heat_start: zeros(),
            slopes: zeros(),
            slopes_next: zeros(),
            goal: zeros(),
            start: Rates::new(&lanes),
            inner: Rates::new(&lanes),
            next: Rates::new(&lanes),
            workspace: Workspace::new(n),
            pair: lanes.pair.as_ref().map(|pair| Box::new(PairState::new(&lanes, pair))),
            ledgers: [Ledger::default(); L],
            ties,
            lanes,
        }
    }

    /// Puts the lane at the start of its problem and activates it.
    pub fn open_lane(&mut self, l: usize) {
        for i in 0..self.lanes.n {
            self.temps[i][l] = self.lanes.temps_start[i][l];
            self.peaks[i][l] = self.lanes.temps_start[i][l];
        }
        if let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) {
            own.put(l, |i| pair.start[i][l]);
            if let Some(conversion) = &mut own.conversion {
                conversion.put(l, |_| 0.0);
            }
        }
        self.t[l] = 0.0;
        self.dt[l] = self.options.dt_start;
        self.piece[l] = 0;
        self.smooth[l] = false;
        self.held_back[l] = false;
        self.curvature[l] = f64::INFINITY;
        self.ledgers[l] = Ledger::default();
        self.active[l] = true;
        self.fresh[l] = true;
        self.stale[l] = true;
    }

    /// Puts a lane just opened at a later moment.
    pub fn take_up(&mut self, l: usize, moment: &Moment<'_>) {
        let n = self.lanes.n;
        assert!(moment.temps.len() == n && moment.peaks.len() == n, "one entry a node");
        for i in 0..n {
            self.temps[i][l] = moment.temps[i];
            self.peaks[i][l] = moment.peaks[i];
        }
        if let Some(own) = &mut self.pair {
            assert!(moment.contents.len() == n, "one entry a node");
            own.put(l, |i| moment.contents[i]);
            if let Some(conversion) = &mut own.conversion {
                assert!(moment.converted.len() == conversion.done.len(), "one entry a share");
                conversion.put(l, |e| moment.converted[e]);
            }
        }
        self.t[l] = moment.t;
        let pieces = &self.lanes.pieces[l];
        let now = pieces.iter().position(|piece| piece.t_end > moment.t);
        self.piece[l] = now.unwrap_or(pieces.len() - 1);
    }

    /// Moves the rates at the start of the step of lanes that convert otherwise than in the step
    /// before, and evaluates rates and slopes of lanes that entered a new piece.
    pub fn refresh(&mut self) {
        self.plan();
        let shifted = self.shifted();
        if shifted.contains(&true) {
            self.evaluate_before(&shifted);
        }
        self.set_free();
        if shifted.contains(&true) {
            self.shift_start(&shifted);
        }
        if !self.stale.contains(&true) {
            return;
        }
        self.evaluate_next();
        for l in (0..L).filter(|l| self.stale[*l] && shifted[*l]) {
            self.next.take(&self.start, l);
            if let Some(own) = &mut self.pair {
                own.next.take(&own.start, l);
            }
        }
        let now = &self.next;
        for l in (0..L).filter(|l| self.stale[*l]) {
            self.start.take(now, l);
            for i in 0..self.lanes.n {
                self.slopes[i][l] = now.rate[i][l] / now.cap[i][l];
                if self.fresh[l] {
                    self.heat[i][l] = now.heat[i][l];
                    self.heat_start[i][l] = now.heat[i][l];
                }
            }
            if let Some(weights) = &self.ties {
                self.slopes[self.lanes.n - 1][l] = tied_slope(weights, now);
            }
            if let Some(own) = &mut self.pair {
                own.take_start(l, now, (&mut self.slopes, self.fresh[l]), self.ties.as_ref());
            }
        }
        self.stale = [false; L];
        self.fresh = [false; L];
    }

    /// Lanes of both fields whose rates at the start differ from those at the end of the step before.
    fn shifted(&self) -> [bool; L] {
        let Some(own) = &self.pair else { return [false; L] };
        let converts = |l: usize| {
            own.conversion.as_ref().is_some_and(|conversion| {
                self.active[l] && (conversion.gassed[l] || conversion.converts[l])
            })
        };
        std::array::from_fn(|l| !self.fresh[l] && (self.stale[l] || converts(l)))
    }

    /// Evaluates heat without vapour where the lanes stand, with drive and conversion as they were.
    fn evaluate_before(&mut self, shifted: &[bool; L]) {
        let before = |l: usize| self.piece[l] - usize::from(shifted[l] && self.stale[l]);
        let drive = self.lanes.drive_at(&self.t, &std::array::from_fn(before));
        let at = At { temps: &self.temps, peaks: &self.peaks, t: &self.t, drive: &drive };
        if let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) {
            own.front_before = own.evaluate_dry((&self.lanes, pair), at, &mut self.next);
            std::mem::swap(&mut self.next, &mut own.before);
        }
    }

    /// Moves the rates at the start of the step, of the lanes in `shifted`, by what another drive or
    /// conversion makes of them.
    ///
    /// Rates evaluated where a step ended differ from those that the step was solved with by what
    /// Newton's iteration left open, which a node about to dry multiplies beyond measure.
    fn shift_start(&mut self, shifted: &[bool; L]) {
        let drive = self.lanes.drive_at(&self.t, &self.piece);
        let at = At { temps: &self.temps, peaks: &self.peaks, t: &self.t, drive: &drive };
        let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) else { return };
        let front = own.evaluate_dry((&self.lanes, pair), at, &mut self.next);
        for l in (0..L).filter(|l| shifted[*l]) {
            for i in 0..self.lanes.n {
                self.start.rate[i][l] += self.next.rate[i][l] - own.before.rate[i][l];
            }
            let (now, before) = (&self.next.ends, &own.before.ends);
            let ends = &mut self.start.ends;
            ends.q_in[l] += now.q_in[l] - before.q_in[l];
            ends.q_out[l] += now.q_out[l] - before.q_out[l];
            ends.q_source[l] += now.q_source[l] - before.q_source[l];
            let q = own.shift_start(l, front[l], self.temps[0][l]);
            self.start.rate[0][l] += q;
            ends.q_in[l] += q;
        }
    }

    /// Evaluates everything where the lanes stand, into `next`.
    pub fn evaluate_next(&mut self) {
        let drive = self.lanes.drive_at(&self.t, &self.piece);
        let at = At { temps: &self.temps, peaks: &self.peaks, t: &self.t, drive: &drive };
        match (&mut self.pair, &self.lanes.pair) {
            (Some(own), Some(pair)) => own.evaluate((&self.lanes, pair), at, &mut self.next),
            _ => evaluate(&self.lanes, &at, &mut self.next, &mut self.workspace.points),
        }
    }

    /// Tries one step in every active lane.
    pub fn attempt(&mut self) {
        if !self.reacts() {
            for l in 0..L {
                self.dt_now[l] = self.step_to_try(l);
            }
        }
        prepare_inner(self);
        if let Some(own) = &mut self.pair {
            let heat = (&self.temps[..], &self.slopes[..], &mut self.temps_inner[..]);
            own.guess_inner(heat, &self.dt_now, &self.smooth);
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
        let ask = self.ask(1.0, &LAST_STAGE, first.solved);
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
            self.note_curvature(l, first.curvature[l].into_iter().chain(second.curvature[l]));
        }
    }

    /// Whether anything reacts.
    fn reacts(&self) -> bool {
        self.pair.as_ref().is_some_and(|own| own.conversion.is_some())
    }

    /// Settles each lane's next step and what it converts, short enough that no node converts too much.
    fn plan(&mut self) {
        if !self.reacts() {
            return;
        }
        for l in 0..L {
            self.dt_now[l] = self.step_to_try(l);
        }
        let most = self.options.conversion_most;
        let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) else { return };
        let Some(conversion) = &mut own.conversion else { return };
        let (temps, slopes) = (&self.temps[..], &self.slopes[..]);
        let mut plan = Plan { temps, slopes, smooth: &self.smooth, dt: self.dt_now };
        for _ in 0..N_SHORTER_MOST {
            let gain = settle(conversion, &pair.reacting, &plan);
            let too_much = |l: &usize| self.active[*l] && gain[*l] > most;
            let shortened: Vec<usize> = (0..L).filter(too_much).collect();
            if shortened.is_empty() {
                break;
            }
            for l in shortened {
                plan.dt[l] *= (SHORTER * most / gain[l]).max(SHORTER_LEAST);
            }
        }
        self.dt_now = plan.dt;
        if self.ties.is_some() {
            // lanes that are tied take the same steps
            let active = (0..L).filter(|l| self.active[*l]);
            let dt = active.map(|l| self.dt_now[l]).fold(f64::INFINITY, f64::min);
            for l in (0..L).filter(|l| self.active[*l]) {
                plan.dt[l] = dt;
            }
            self.dt_now = plan.dt;
            settle(conversion, &pair.reacting, &plan);
        }
    }

    /// Sets free what the steps planned convert.
    fn set_free(&mut self) {
        let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) else { return };
        let Some(conversion) = &mut own.conversion else { return };
        set_free(conversion, &self.lanes.slabs, &pair.reacting, &self.dt_now);
        conversion.look(&pair.reacting);
    }

    /// Remembers the curvature that the stages of a step have shown.
    fn note_curvature(&mut self, l: usize, seen: impl Iterator<Item = f64>) {
        for now in seen {
            let kept = if self.curvature[l].is_finite() {
                CURVATURE_KEPT * self.curvature[l]
            } else {
                0.0
            };
            self.curvature[l] = now.max(kept);
        }
    }

    /// The step of a lane, cut so that it ends on the end of its piece and leaves no sliver behind [s].
    fn step_to_try(&self, l: usize) -> f64 {
        if !self.active[l] {
            return 0.0;
        }
        let left = self.lanes.pieces[l][self.piece[l]].t_end - self.t[l];
        let dt = self.dt[l].min(self.options.dt_most);
        if dt >= left * (1.0 - 1e-9) {
            left
        } else if dt > 0.5 * left {
            0.5 * left
        } else {
            dt
        }
    }

    /// What a stage at `place` within the step asks of the lanes in `active`.
    fn ask(&self, place: f64, closeness: &Closeness, active: [bool; L]) -> Ask<L> {
        let (mut t, mut weight, mut curvature) = ([0.0; L], [0.0; L], [0.0; L]);
        for l in 0..L {
            t[l] = self.t[l] + place * self.dt_now[l];
            weight[l] = DIAGONAL * self.dt_now[l];
            curvature[l] = (CURVATURE_SAFETY * self.curvature[l]).max(self.lanes.curvature_most[l]);
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
    /// Goal and guess of the inner stage.
    fn prepare_inner<const L: usize, const W: bool>(state: &mut State<L>) {
        let n = state.lanes.n;
        let dt = Pack::<L, W>(state.dt_now);
        let weight = DIAGONAL * dt;
        // slopes predict where the step before was smooth
        let ahead = Mask::of(&state.smooth).only(GAMMA * dt);
        let (heat, rate, temps, slopes) =
            (&state.heat[..n], &state.start.rate[..n], &state.temps[..n], &state.slopes[..n]);
        let (goal, guess) = (&mut state.goal[..n], &mut state.temps_inner[..n]);
        for i in 0..n {
            goal[i] = (Pack(heat[i]) + weight * Pack(rate[i])).0;
            guess[i] = (Pack(temps[i]) + ahead * Pack(slopes[i])).0;
        }
    }
}

per_target! {
    /// Goal and guess of the last stage; the guess goes through start, slope and inner stage.
    fn prepare_next<const L: usize, const W: bool>(state: &mut State<L>) {
        let n = state.lanes.n;
        let smooth = Mask::<L, W>::of(&state.smooth);
        let dt = Pack(state.dt_now);
        let weight = dt * Pack::all(WEIGHT);
        let (heat, temps, slopes) = (&state.heat[..n], &state.temps[..n], &state.slopes[..n]);
        let (start, inner) = (&state.start.rate[..n], &state.inner.rate[..n]);
        let temps_inner = &state.temps_inner[..n];
        let (goal, guess) = (&mut state.goal[..n], &mut state.temps_next[..n]);
        for i in 0..n {
            goal[i] = (Pack(heat[i]) + weight * (Pack(start[i]) + Pack(inner[i]))).0;
            let temp = Pack(temps[i]);
            let moved = Pack(temps_inner[i]) - temp;
            let straight = smooth.pick(dt * Pack(slopes[i]), (1.0 / GAMMA) * moved);
            let bend = (1.0 / (GAMMA * GAMMA)) * (moved - GAMMA * straight);
            guess[i] = (temp + straight + bend).0;
        }
    }
}

/// Rate of temperature of the last node that all lanes share [K/s].
pub(crate) fn tied_slope<const L: usize>(weights: &[f64; L], rates: &Rates<L>) -> f64 {
    let last = rates.rate.len() - 1;
    weighted(weights, &rates.rate[last]) / weighted(weights, &rates.cap[last])
}
