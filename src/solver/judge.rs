//! Whether a step stands: its error, its acceptance, the next step.

use crate::solver::error::SolverError;
use crate::solver::evaluate::Rates;
use crate::solver::state::{State, tied_slope};
use crate::solver::tableau::{ERROR, STEP};
use crate::solver::watch::{Next, Step, Watch};

impl<const L: usize> State<L> {
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
        self.room.matrix.solve(&mut self.goal, self.ties.as_ref());
        let mut ratio = [0.0; L];
        for i in 0..self.lanes.n {
            for l in 0..L {
                let rise = (self.temps_next[i][l] - self.lanes.temps_start[i][l]).abs();
                let allowed = self.options.tol * (self.options.rise_scale + rise);
                ratio[l] = f64::max(ratio[l], self.goal[i][l].abs() / allowed);
            }
        }
        if self.ties.is_some() {
            ratio = [ratio.iter().copied().fold(0.0, f64::max); L];
        }
        ratio
    }

    /// Accepts or rejects the step of each active lane and sets the next one.
    pub fn judge<W: Watch>(&mut self, watches: &mut [W; L]) {
        let ratio = self.error_ratio();
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
                self.reject(l, (0.9 * ratio[l].powf(-1.0 / 3.0)).max(0.2));
            } else {
                let growth = (0.9 * ratio[l].max(1e-6).powf(-1.0 / 3.0)).min(4.0);
                self.accept(l, growth, &mut watches[l]);
            }
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
        for i in 0..self.lanes.n {
            self.slopes_next[i][l] = self.next.rate[i][l] / self.next.cap[i][l];
            self.heat[i][l] += dt
                * (STEP[0] * self.start.rate[i][l]
                    + STEP[1] * self.inner.rate[i][l]
                    + STEP[2] * self.next.rate[i][l]);
        }
        if let Some(weights) = &self.ties {
            self.slopes_next[self.lanes.n - 1][l] = tied_slope(weights, &self.next);
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
            self.ended[l] = Some(Ok(()));
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
