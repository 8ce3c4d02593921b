//! The adaptive march through time.

use crate::solver::error::SolverError;
use crate::solver::evaluate::Rates;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::stage::{Ask, Workspace, solve_stage};
use crate::solver::tableau::{DIAGONAL, ERROR, GAMMA, STEP, WEIGHT};
use crate::solver::watch::{Next, Step, Watch};

/// Size of the last Newton correction allowed, over the error allowed in a step [–].
const NEWTON_SHARE: f64 = 1.0;

/// How closely to follow the solution in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Error allowed in a step, relative to `rise_scale` plus the node's own rise [–].
    pub tol: f64,
    /// Rise that matters at the back of the chain [K].
    pub rise_scale: f64,
    /// First step, and longest first step after a break of the drive [s].
    pub dt_start: f64,
    /// Longest step [s].
    pub dt_most: f64,
    /// Most steps, rejected ones included.
    pub n_steps_most: usize,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            tol: 2e-3,
            rise_scale: 12.0,
            dt_start: 2e-3,
            dt_most: f64::INFINITY,
            n_steps_most: 200_000,
        }
    }
}

/// Advances one problem until its drive ends or `watch` stops it.
///
/// Errors: an unusable description, a step too short, too many steps.
pub fn march(
    problem: &Problem,
    options: &Options,
    watch: &mut impl Watch,
) -> Result<Ledger, SolverError> {
    let lanes = Lanes::new(&[problem])?;
    let [ledger] = march_lanes(&lanes, options, std::array::from_mut(watch))?;
    Ok(ledger)
}

/// Advances the problems of all lanes, each with its own step, until each ends or is stopped.
///
/// Errors: as [`march`], for the first lane that fails.
pub fn march_lanes<W: Watch, const L: usize>(
    lanes: &Lanes<L>,
    options: &Options,
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    let mut state = State::new(lanes, options);
    while state.active.contains(&true) {
        state.refresh();
        state.attempt();
        state.judge(watches)?;
    }
    state.close();
    Ok(state.ledgers)
}

/// Everything that changes during a march.
struct State<'a, const L: usize> {
    lanes: &'a Lanes<L>,
    options: &'a Options,
    t: [f64; L],
    dt: [f64; L],
    /// Step tried now, cut at the end of the piece [s].
    dt_now: [f64; L],
    piece: [usize; L],
    active: [bool; L],
    /// The rates at the start of the step must be evaluated anew.
    stale: [bool; L],
    /// The step before was smooth, so that slopes predict.
    smooth: [bool; L],
    solved: [bool; L],
    temps: Vec<[f64; L]>,
    temps_inner: Vec<[f64; L]>,
    temps_next: Vec<[f64; L]>,
    peaks: Vec<[f64; L]>,
    heat: Vec<[f64; L]>,
    heat_start: Vec<[f64; L]>,
    slopes: Vec<[f64; L]>,
    slopes_next: Vec<[f64; L]>,
    goal: Vec<[f64; L]>,
    start: Rates<L>,
    inner: Rates<L>,
    next: Rates<L>,
    room: Workspace<L>,
    ledgers: [Ledger; L],
}

impl<'a, const L: usize> State<'a, L> {
    fn new(lanes: &'a Lanes<L>, options: &'a Options) -> State<'a, L> {
        let n = lanes.n;
        let zeros = || vec![[0.0; L]; n];
        let mut state = State {
            lanes,
            options,
            t: [0.0; L],
            dt: [options.dt_start; L],
            dt_now: [0.0; L],
            piece: [0; L],
            active: [true; L],
            stale: [true; L],
            smooth: [false; L],
            solved: [false; L],
            temps: lanes.temps_start.clone(),
            temps_inner: zeros(),
            temps_next: zeros(),
            peaks: lanes.temps_start.clone(),
            heat: zeros(),
            heat_start: zeros(),
            slopes: zeros(),
            slopes_next: zeros(),
            goal: zeros(),
            start: Rates::new(n),
            inner: Rates::new(n),
            next: Rates::new(n),
            room: Workspace::new(n),
            ledgers: [Ledger::default(); L],
        };
        lanes.evaluate(&state.temps, &state.peaks, &state.t, &state.piece, &mut state.start);
        state.heat.clone_from(&state.start.heat);
        state.heat_start.clone_from(&state.start.heat);
        state
    }

    /// Evaluates rates and slopes at the start of the step for lanes that entered a new piece.
    fn refresh(&mut self) {
        if !self.stale.contains(&true) {
            return;
        }
        let fresh = &mut self.next;
        self.lanes.evaluate(&self.temps, &self.peaks, &self.t, &self.piece, fresh);
        for l in (0..L).filter(|l| self.stale[*l]) {
            for i in 0..self.lanes.n {
                self.start.rate[i][l] = fresh.rate[i][l];
                self.slopes[i][l] = fresh.rate[i][l] / fresh.cap[i][l];
            }
            self.start.q_in[l] = fresh.q_in[l];
            self.start.q_out[l] = fresh.q_out[l];
            self.start.q_source[l] = fresh.q_source[l];
        }
        self.stale = [false; L];
    }

    /// Tries one step in every active lane.
    fn attempt(&mut self) {
        self.dt_now = std::array::from_fn(|l| self.step_to_try(l));
        self.prepare_inner();
        let ask = self.ask(GAMMA, self.active);
        let goal = (&self.goal[..], &self.peaks[..]);
        let temps = &mut self.temps_inner;
        let first = solve_stage(self.lanes, &ask, goal, temps, &mut self.inner, &mut self.room);
        self.prepare_next();
        let ask = self.ask(1.0, first.solved);
        let goal = (&self.goal[..], &self.peaks[..]);
        let temps = &mut self.temps_next;
        let second = solve_stage(self.lanes, &ask, goal, temps, &mut self.next, &mut self.room);
        self.solved = second.solved;
        for l in 0..L {
            self.ledgers[l].n_newton += first.n_iterations[l] + second.n_iterations[l];
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
    fn ask(&self, place: f64, active: [bool; L]) -> Ask<L> {
        Ask {
            t: std::array::from_fn(|l| self.t[l] + place * self.dt_now[l]),
            piece: self.piece,
            weight: self.dt_now.map(|dt| DIAGONAL * dt),
            active,
            newton_tol: NEWTON_SHARE * self.options.tol,
            rise_scale: self.options.rise_scale,
        }
    }

    /// Goal and guess of the inner stage.
    fn prepare_inner(&mut self) {
        for i in 0..self.lanes.n {
            for l in 0..L {
                let ahead = if self.smooth[l] { GAMMA * self.dt_now[l] } else { 0.0 };
                self.goal[i][l] =
                    self.heat[i][l] + DIAGONAL * self.dt_now[l] * self.start.rate[i][l];
                self.temps_inner[i][l] = self.temps[i][l] + ahead * self.slopes[i][l];
            }
        }
    }

    /// Goal and guess of the last stage; the guess goes through start, slope and inner stage.
    fn prepare_next(&mut self) {
        for i in 0..self.lanes.n {
            for l in 0..L {
                let dt = self.dt_now[l];
                self.goal[i][l] =
                    self.heat[i][l] + dt * WEIGHT * (self.start.rate[i][l] + self.inner.rate[i][l]);
                let moved = self.temps_inner[i][l] - self.temps[i][l];
                let straight = if self.smooth[l] { dt * self.slopes[i][l] } else { moved / GAMMA };
                let bend = (moved - GAMMA * straight) / (GAMMA * GAMMA);
                self.temps_next[i][l] = self.temps[i][l] + straight + bend;
            }
        }
    }

    /// Error of the step over the error allowed, lane by lane; `goal` is used as room.
    fn error_ratio(&mut self) -> [f64; L] {
        for i in 0..self.lanes.n {
            for l in 0..L {
                self.goal[i][l] = self.dt_now[l]
                    * (ERROR[0] * self.start.rate[i][l]
                        + ERROR[1] * self.inner.rate[i][l]
                        + ERROR[2] * self.next.rate[i][l]);
            }
        }
        self.room.matrix.solve(&mut self.goal);
        let mut ratio = [0.0; L];
        for i in 0..self.lanes.n {
            for l in 0..L {
                let rise = (self.temps_next[i][l] - self.lanes.temps_start[i][l]).abs();
                let allowed = self.options.tol * (self.options.rise_scale + rise);
                ratio[l] = f64::max(ratio[l], self.goal[i][l].abs() / allowed);
            }
        }
        ratio
    }

    /// Accepts or rejects the step of each active lane and sets the next one.
    fn judge<W: Watch>(&mut self, watches: &mut [W; L]) -> Result<(), SolverError> {
        let ratio = self.error_ratio();
        for l in 0..L {
            if !self.active[l] {
                continue;
            }
            let tried = self.ledgers[l].n_steps + self.ledgers[l].n_rejected;
            if tried >= self.options.n_steps_most {
                return Err(SolverError::TooManySteps { t: self.t[l], n_steps: tried });
            }
            if !self.solved[l] || !ratio[l].is_finite() {
                self.reject(l, 0.25)?;
            } else if ratio[l] > 1.0 {
                self.reject(l, (0.9 * ratio[l].powf(-1.0 / 3.0)).max(0.2))?;
            } else {
                let growth = (0.9 * ratio[l].max(1e-6).powf(-1.0 / 3.0)).min(4.0);
                self.accept(l, growth, &mut watches[l]);
            }
        }
        Ok(())
    }

    fn reject(&mut self, l: usize, factor: f64) -> Result<(), SolverError> {
        self.ledgers[l].n_rejected += 1;
        self.dt[l] = factor * self.dt_now[l];
        if self.dt[l] < 1e-9 * (1.0 + self.t[l]) {
            return Err(SolverError::StepTooShort { t: self.t[l], dt: self.dt[l] });
        }
        Ok(())
    }

    fn accept<W: Watch>(&mut self, l: usize, growth: f64, watch: &mut W) {
        let dt = self.dt_now[l];
        let sum = |of: fn(&Rates<L>, usize) -> f64, state: &State<'a, L>| {
            dt * (STEP[0] * of(&state.start, l)
                + STEP[1] * of(&state.inner, l)
                + STEP[2] * of(&state.next, l))
        };
        let heat_in = sum(|r, l| r.q_in[l], self);
        let heat_out = sum(|r, l| r.q_out[l], self);
        let heat_source = sum(|r, l| r.q_source[l], self);
        let piece_end = self.lanes.pieces[l][self.piece[l]].t_end;
        let at_end = dt >= (piece_end - self.t[l]) * (1.0 - 1e-12);
        let t1 = if at_end { piece_end } else { self.t[l] + dt };
        let ledger = &mut self.ledgers[l];
        ledger.t = t1;
        ledger.heat_in += heat_in;
        ledger.heat_out += heat_out;
        ledger.heat_source += heat_source;
        ledger.n_steps += 1;
        for i in 0..self.lanes.n {
            self.slopes_next[i][l] = self.next.rate[i][l] / self.next.cap[i][l];
            self.heat[i][l] += dt
                * (STEP[0] * self.start.rate[i][l]
                    + STEP[1] * self.inner.rate[i][l]
                    + STEP[2] * self.next.rate[i][l]);
        }
        let step = Step {
            t0: self.t[l],
            t1,
            heat_in: self.ledgers[l].heat_in,
            lane: l,
            n_lanes: L,
            temps: [self.temps.as_flattened(), self.temps_next.as_flattened()],
            slopes: [self.slopes.as_flattened(), self.slopes_next.as_flattened()],
        };
        let next = watch.step(&step);
        for i in 0..self.lanes.n {
            self.temps[i][l] = self.temps_next[i][l];
            self.slopes[i][l] = self.slopes_next[i][l];
            self.peaks[i][l] = self.peaks[i][l].max(self.temps[i][l]);
            self.start.rate[i][l] = self.next.rate[i][l];
        }
        self.start.q_in[l] = self.next.q_in[l];
        self.start.q_out[l] = self.next.q_out[l];
        self.start.q_source[l] = self.next.q_source[l];
        self.t[l] = t1;
        self.dt[l] = growth * dt;
        self.smooth[l] = !at_end;
        if at_end {
            self.dt[l] = self.dt[l].min(self.options.dt_start);
            self.piece[l] += 1;
            self.stale[l] = true;
        }
        if next == Next::Stop || self.piece[l] == self.lanes.pieces[l].len() {
            self.piece[l] = self.piece[l].min(self.lanes.pieces[l].len() - 1);
            self.stale[l] = false;
            self.active[l] = false;
        }
    }

    /// Draws up the stored heat from the temperatures themselves.
    fn close(&mut self) {
        self.lanes.evaluate(&self.temps, &self.peaks, &self.t, &self.piece, &mut self.next);
        for i in 0..self.lanes.n {
            if self.lanes.held && i == self.lanes.n - 1 {
                continue;
            }
            for l in 0..L {
                self.ledgers[l].heat_stored += self.next.heat[i][l] - self.heat_start[i][l];
            }
        }
    }
}
