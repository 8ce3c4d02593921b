//! Whether a step stands: its error, its acceptance, the next step.

use crate::solver::error::SolverError;
use crate::solver::evaluate::Rates;
use crate::solver::state::{State, tied_slope};
use crate::solver::tableau::{ERROR, STEP};
use crate::solver::watch::{Next, Step, Watch};

impl<const L: usize> State<L> {
    /// Error of the step over the error allowed, lane by lane; `goal` is used as room.
    fn error_ratio(&mut self) -> [f64; L] {
        let n = self.lanes.n;
        let dt = self.dt_now;
        for i in 0..n {
            let (start, inner, next) =
                (&self.start.rate[i], &self.inner.rate[i], &self.next.rate[i]);
            let goal = &mut self.goal[i];
            for l in 0..L {
                goal[l] = dt[l] * (ERROR[0] * start[l] + ERROR[1] * inner[l] + ERROR[2] * next[l]);
            }
        }
        self.room.matrix.solve(&mut self.goal, self.ties.as_ref());
        let (tol, scale) = (self.options.tol, self.options.rise_scale);
        let mut ratio = [0.0; L];
        for i in 0..n {
            let (temps, begin, error) =
                (&self.temps_next[i], &self.lanes.temps_start[i], &self.goal[i]);
            for l in 0..L {
                let allowed = tol * (scale + (temps[l] - begin[l]).abs());
                let own = error[l].abs() / allowed;
                // NaN must not be lost in the maximum
                ratio[l] = if own <= ratio[l] { ratio[l] } else { own };
            }
        }
        if self.ties.is_some() {
            ratio = [ratio.iter().copied().fold(0.0, |a, b| if b <= a { a } else { b }); L];
        }
        ratio
    }

    /// Accepts or rejects the step of each active lane and sets the next one.
    pub fn judge<W: Watch>(&mut self, watches: &mut [W; L]) {
        let ratio = self.error_ratio();
        let mut accepted = [false; L];
        for l in 0..L {
            if !self.active[l] {
                continue;
            }
            let tried = self.ledgers[l].n_steps + self.ledgers[l].n_rejected;
            if tried >= self.options.n_steps_most {
                self.fail(l, SolverError::TooManySteps { t: self.t[l], n_steps: tried });
            } else if !self.solved[l] || !ratio[l].is_finite() {
                self.reject(l, 0.25);
            } else if ratio[l] > 1.0 {
                self.reject(l, (0.9 / ratio[l].cbrt()).max(0.2));
            } else {
                accepted[l] = true;
            }
        }
        if accepted.contains(&true) {
            self.finish_step(&accepted);
            for l in 0..L {
                if accepted[l] {
                    let growth = (0.9 / ratio[l].max(1e-6).cbrt()).min(4.0);
                    self.accept(l, growth, &mut watches[l]);
                }
            }
            self.commit(&accepted);
        }
        self.end_together();
        if self.ended.iter().any(|end| matches!(end, Some(Ok(())))) {
            self.close();
        }
    }

    /// Tied lanes end together: when one does, all do, and alike.
    fn end_together(&mut self) {
        if self.ties.is_none() {
            return;
        }
        let Some(end) = self.ended.iter().find_map(Option::clone) else { return };
        for l in 0..L {
            self.active[l] = false;
            self.ended[l] = Some(end.clone());
        }
    }

    fn fail(&mut self, l: usize, error: SolverError) {
        self.active[l] = false;
        self.ended[l] = Some(Err(error));
    }

    fn reject(&mut self, l: usize, factor: f64) {
        self.ledgers[l].n_rejected += 1;
        self.dt[l] = factor * self.dt_now[l];
        if self.dt[l] < 1e-9 * (1.0 + self.t[l]) {
            self.fail(l, SolverError::StepTooShort { t: self.t[l], dt: self.dt[l] });
        }
    }

    /// Slopes at the end of the step and the heat it brought, in the accepted lanes.
    fn finish_step(&mut self, accepted: &[bool; L]) {
        let n = self.lanes.n;
        let dt = self.dt_now;
        for i in 0..n {
            let (start, inner, next) =
                (&self.start.rate[i], &self.inner.rate[i], &self.next.rate[i]);
            let (cap, slopes, heat) =
                (&self.next.cap[i], &mut self.slopes_next[i], &mut self.heat[i]);
            for l in 0..L {
                slopes[l] = next[l] / cap[l];
                let gain = dt[l] * (STEP[0] * start[l] + STEP[1] * inner[l] + STEP[2] * next[l]);
                heat[l] += if accepted[l] { gain } else { 0.0 };
            }
        }
        if let Some(weights) = &self.ties {
            self.slopes_next[n - 1] = [tied_slope(weights, &self.next); L];
        }
    }

    /// Books an accepted step of one lane, shows it to the watch and sets the next step.
    fn accept<W: Watch>(&mut self, l: usize, growth: f64, watch: &mut W) {
        let dt = self.dt_now[l];
        let sum = |of: fn(&Rates<L>, usize) -> f64, state: &State<L>| {
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
            self.ended[l] = Some(Ok(()));
        }
    }

    /// Moves the accepted lanes to the end of the step.
    fn commit(&mut self, accepted: &[bool; L]) {
        for i in 0..self.lanes.n {
            take_where(accepted, &self.temps_next[i], &mut self.temps[i]);
            take_where(accepted, &self.slopes_next[i], &mut self.slopes[i]);
            take_where(accepted, &self.next.rate[i], &mut self.start.rate[i]);
            let (temps, peaks) = (&self.temps[i], &mut self.peaks[i]);
            for l in 0..L {
                peaks[l] = peaks[l].max(temps[l]);
            }
        }
    }

    /// Draws up the stored heat of the lanes that have just ended, from the temperatures themselves.
    fn close(&mut self) {
        self.lanes.evaluate(&self.temps, &self.peaks, &self.t, &self.piece, &mut self.next);
        for i in 0..self.lanes.n {
            if self.lanes.held && i == self.lanes.n - 1 {
                continue;
            }
            for l in (0..L).filter(|l| self.ended[*l] == Some(Ok(()))) {
                self.ledgers[l].heat_stored += self.next.heat[i][l] - self.heat_start[i][l];
            }
        }
    }
}

/// Copies the lanes of `which`.
fn take_where<const L: usize>(which: &[bool; L], from: &[f64; L], to: &mut [f64; L]) {
    for l in 0..L {
        to[l] = if which[l] { from[l] } else { to[l] };
    }
}
