//! Whether a step stands: its error, its acceptance, the next step.

use crate::solver::error::SolverError;
use crate::solver::evaluate::Ends;
use crate::solver::pack::{Mask, Pack};
use crate::solver::pair::state::control::{Tried, commit_pair, error_ratio_pair, finish_step_pair};
use crate::solver::state::State;
use crate::solver::tableau::{ERROR, STEP, weighed};
use crate::solver::target::per_target;
use crate::solver::watch::{Next, Step, Watch};

/// What of the step that just keeps the error allowed is tried next [–].
const SAFETY: f64 = 0.85;
/// Most that a step grows over the one before [–].
const GROWTH_MOST: f64 = 4.0;

per_target! {
    /// Error of the step over the error allowed, lane by lane; `goal` is used as workspace.
    fn error_ratio<const L: usize, const W: bool>(state: &mut State<L>) -> [f64; L] {
        let n = state.lanes.n;
        let dt = Pack::<L, W>(state.dt_now);
        let (start, inner, next) =
            (&state.start.rate[..n], &state.inner.rate[..n], &state.next.rate[..n]);
        let goal = &mut state.goal[..n];
        for i in 0..n {
            goal[i] = (dt * weighed(ERROR, [&start[i], &inner[i], &next[i]])).0;
        }
        state.workspace.matrix.solve_packed::<W>(goal, state.ties.as_ref());
        let (tol, scale) = (state.options.tol, Pack::all(state.options.rise_scale));
        let (temps, begin) = (&state.temps_next[..n], &state.lanes.temps_start[..n]);
        let mut ratio = Pack::<L, W>::ZERO;
        // a NaN stands at every node once it was solved for, and the last one is taken
        for i in 0..n {
            let rise = (Pack(temps[i]) - Pack(begin[i])).abs();
            let own = Pack(goal[i]).abs() / (tol * (scale + rise));
            ratio = ratio.or_larger(own);
        }
        if state.lanes.lump {
            let share = state.options.lump_share;
            let rise = (Pack(temps[n - 1]) - Pack(begin[n - 1])).abs();
            let own = Pack(goal[n - 1]).abs() / (share * tol * (scale + rise));
            ratio = ratio.or_larger(own);
        }
        let ratio = ratio.0;
        if state.ties.is_some() {
            return [ratio.iter().copied().fold(0.0, |a, b| if b <= a { a } else { b }); L];
        }
        ratio
    }
}

per_target! {
    /// Slopes at the end of the step and the heat it brought, in the accepted lanes.
    ///
    /// Before: both stages are solved there. After: `slopes_next` and the account of heat are at the
    /// step's end; nothing else has moved.
    fn finish_step<const L: usize, const W: bool>(state: &mut State<L>, accepted: &[bool; L]) {
        let n = state.lanes.n;
        let accepted = Mask::<L, W>::of(accepted);
        let dt = Pack(state.dt_now);
        let (start, inner, next) =
            (&state.start.rate[..n], &state.inner.rate[..n], &state.next.rate[..n]);
        let cap = &state.next.cap[..n];
        let (slopes, heat) = (&mut state.slopes_next[..n], &mut state.heat[..n]);
        for i in 0..n {
            slopes[i] = (Pack::<L, W>(next[i]) / Pack(cap[i])).0;
            let gain = dt * weighed(STEP, [&start[i], &inner[i], &next[i]]);
            let before = Pack(heat[i]);
            heat[i] = accepted.pick(before + gain, before).0;
        }
        if let Some(weights) = &state.ties {
            state.slopes_next[n - 1] = [state.next.tied_slope(weights); L];
        }
    }
}

per_target! {
    /// Moves the accepted lanes to the end of the step.
    ///
    /// Before: the step is finished. After: temperatures, slopes, rates and peaks are those at its end.
    fn commit<const L: usize, const W: bool>(state: &mut State<L>, accepted: &[bool; L]) {
        let n = state.lanes.n;
        let accepted = Mask::<L, W>::of(accepted);
        let (temps, slopes, rate, peaks) = (
            &mut state.temps[..n],
            &mut state.slopes[..n],
            &mut state.start.rate[..n],
            &mut state.peaks[..n],
        );
        let (temps_next, slopes_next, rate_next) =
            (&state.temps_next[..n], &state.slopes_next[..n], &state.next.rate[..n]);
        for i in 0..n {
            let temp = accepted.pick(Pack(temps_next[i]), Pack(temps[i]));
            temps[i] = temp.0;
            slopes[i] = accepted.pick(Pack(slopes_next[i]), Pack(slopes[i])).0;
            rate[i] = accepted.pick(Pack(rate_next[i]), Pack(rate[i])).0;
            peaks[i] = temp.or_larger(Pack(peaks[i])).0;
        }
    }
}

impl<const L: usize> State<L> {
    /// Accepts or rejects the step of each active lane and sets the next one.
    ///
    /// Before: both stages are attempted. After: lanes whose step stands are at its end, with rates and
    /// slopes there, or stale where another piece begins; the others are where they were. Lanes that ended
    /// are idle, their accounts still open.
    pub(in crate::solver) fn control<W: Watch>(&mut self, watches: &mut [W; L]) {
        let ratio = match (&mut self.pair, &self.lanes.pair) {
            (Some(own), Some(pair)) => {
                let tried = Tried {
                    dt: &self.dt_now,
                    rates: [&self.start, &self.inner, &self.next],
                    temps_next: &self.temps_next,
                    temps_start: &self.lanes.temps_start,
                    lump: self.lanes.lump,
                    options: &self.options,
                    ties: self.ties.as_ref(),
                };
                error_ratio_pair(own, pair, &tried, &mut self.goal)
            }
            _ => error_ratio(self),
        };
        let mut accepted = [false; L];
        for l in 0..L {
            if !self.active[l] {
                continue;
            }
            let tried = self.ledgers[l].n_steps + self.ledgers[l].n_rejected;
            if tried >= self.options.n_steps_most {
                self.end(l, Err(SolverError::TooManySteps { t: self.t[l], n_steps: tried }));
            } else if !self.solved[l] || !ratio[l].is_finite() {
                self.reject(l, 0.25);
            } else if ratio[l] > 1.0 {
                self.reject(l, (SAFETY / libm::cbrt(ratio[l])).max(0.2));
            } else {
                accepted[l] = true;
            }
        }
        if accepted.contains(&true) {
            finish_step(self, &accepted);
            if let Some(own) = &mut self.pair {
                let (next, slopes) = (&self.next, &mut self.slopes_next[..]);
                finish_step_pair(own, &self.dt_now, &accepted, next, slopes, self.ties.as_ref());
            }
            for l in 0..L {
                if accepted[l] {
                    let growth = self.growth(l, ratio[l]);
                    self.accept(l, growth, &mut watches[l]);
                }
            }
            commit(self, &accepted);
            if let Some(own) = &mut self.pair {
                commit_pair(own, &accepted);
            }
        }
    }

    /// What the next step of a lane may be, over the one just accepted [–].
    ///
    /// After a rejection the step does not grow at once: where water leaves, the error of a step
    /// rises as each node comes into its turn.
    fn growth(&self, l: usize, ratio: f64) -> f64 {
        let most = if self.held_back[l] { 1.0 } else { GROWTH_MOST };
        (SAFETY / libm::cbrt(ratio.max(1e-6))).min(most)
    }

    /// Books a rejected step of one lane and sets the next one, `factor` of it; the lane ends where that
    /// is too short.
    fn reject(&mut self, l: usize, factor: f64) {
        self.ledgers[l].n_rejected += 1;
        self.held_back[l] = true;
        self.dt[l] = factor * self.dt_now[l];
        if self.dt[l] < 1e-9 * (1.0 + self.t[l]) {
            self.end(l, Err(SolverError::StepTooShort { t: self.t[l], dt: self.dt[l] }));
        }
    }

    /// Books an accepted step of one lane, shows it to the watch and sets the next step.
    ///
    /// Before: the step is finished, not committed. After: time, piece and account are at its end; the
    /// lane is idle where it has ended.
    fn accept<W: Watch>(&mut self, l: usize, growth: f64, watch: &mut W) {
        let dt = self.dt_now[l];
        let piece_end = self.lanes.pieces[l][self.piece[l]].t_end;
        let at_end = dt >= (piece_end - self.t[l]) * (1.0 - 1e-12);
        let t1 = if at_end { piece_end } else { self.t[l] + dt };
        self.book(l, t1);
        let next = watch.step(&self.shown(l, t1));
        self.start.ends.take(&self.next.ends, l);
        if let Some(own) = &mut self.pair {
            own.pass_on(l);
        }
        self.t[l] = t1;
        self.dt[l] = growth * dt;
        self.held_back[l] = false;
        self.smooth[l] = !at_end;
        if at_end {
            self.dt[l] = self.dt[l].min(self.options.dt_start);
            // another drive bends the equations otherwise
            self.forget_curvature(l);
            self.piece[l] += 1;
            self.stale[l] = true;
        }
        if next != Next::Go || self.piece[l] == self.lanes.pieces[l].len() {
            self.piece[l] = self.piece[l].min(self.lanes.pieces[l].len() - 1);
            self.stale[l] = false;
            let how = match next {
                Next::GiveUp => Err(SolverError::GivenUp { t: t1 }),
                Next::Go | Next::Stop => Ok(()),
            };
            self.end(l, how);
        }
    }

    /// Books what passed the ends of a lane in its accepted step up to `t1`.
    fn book(&mut self, l: usize, t1: f64) {
        let dt = self.dt_now[l];
        let (start, inner, next) = (&self.start.ends, &self.inner.ends, &self.next.ends);
        let sum = |of: fn(&Ends<L>) -> &[f64; L]| {
            let (start, inner, next) = (of(start)[l], of(inner)[l], of(next)[l]);
            dt * (STEP[0] * start + STEP[1] * inner + STEP[2] * next)
        };
        let ledger = &mut self.ledgers[l];
        ledger.t = t1;
        ledger.heat_in += sum(|ends| &ends.q_in);
        ledger.heat_out += sum(|ends| &ends.q_out);
        ledger.heat_source += sum(|ends| &ends.q_source);
        ledger.vapour_in += self.pair.as_ref().map_or(0.0, |own| own.brought(l, dt));
        ledger.n_steps += 1;
    }

    /// Where an ended lane was put, as its watch sees it; none where heat alone moves.
    pub(super) fn settled(&self, l: usize) -> Option<Step<'_>> {
        let [[contents, _], ..] = self.pair.as_ref()?.shown();
        let [temps, nothing]: [&[f64]; 2] = [self.temps.as_flattened(), &[]];
        Some(Step {
            temps: [temps; 2],
            contents: [contents; 2],
            converted: [nothing; 2],
            ..self.shown(l, self.t[l])
        })
    }

    /// The accepted step of a lane up to `t1`, as its watch sees it.
    fn shown(&self, l: usize, t1: f64) -> Step<'_> {
        let nothing: [&[f64]; 2] = [&[], &[]];
        let [contents, content_slopes, converted] =
            self.pair.as_ref().map_or([nothing; 3], |own| own.shown());
        Step {
            t0: self.t[l],
            t1,
            heat_in: self.ledgers[l].heat_in,
            lane: l,
            n_lanes: L,
            temps: [self.temps.as_flattened(), self.temps_next.as_flattened()],
            slopes: [self.slopes.as_flattened(), self.slopes_next.as_flattened()],
            contents,
            content_slopes,
            converted,
        }
    }
}
