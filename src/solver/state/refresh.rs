//! The rates and slopes that a step starts from.

use crate::solver::evaluate::At;
use crate::solver::rates::evaluate;
use crate::solver::state::State;

impl<const L: usize> State<L> {
    /// Moves the rates at the start of the step of lanes that convert otherwise than in the step
    /// before, and evaluates rates and slopes of lanes that entered a new piece.
    ///
    /// Before: the step is planned. After: in every active lane `start` and `slopes` belong to where it
    /// stands under the drive of its piece, what the step converts set free; accounts of fresh lanes are open.
    pub(in crate::solver) fn refresh(&mut self) {
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
                own.keep_start(l);
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
                self.slopes[self.lanes.n - 1][l] = now.tied_slope(weights);
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
        let converts = |l: usize| self.active[l] && own.converts(l);
        std::array::from_fn(|l| !self.fresh[l] && (self.stale[l] || converts(l)))
    }

    /// Evaluates heat without vapour where the lanes stand, with drive and conversion as they were.
    fn evaluate_before(&mut self, shifted: &[bool; L]) {
        let before = |l: usize| self.piece[l] - usize::from(shifted[l] && self.stale[l]);
        let drive = self.lanes.drive_at(&self.t, &std::array::from_fn(before));
        let at = At { temps: &self.temps, peaks: &self.peaks, t: &self.t, drive: &drive };
        if let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) {
            own.evaluate_before((&self.lanes, pair), at, &mut self.next);
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
                self.start.rate[i][l] += self.next.rate[i][l] - own.before().rate[i][l];
            }
            let (now, before) = (&self.next.ends, &own.before().ends);
            let ends = &mut self.start.ends;
            ends.q_in[l] += now.q_in[l] - before.q_in[l];
            ends.q_out[l] += now.q_out[l] - before.q_out[l];
            ends.q_source[l] += now.q_source[l] - before.q_source[l];
            let q = own.shift_start(l, front[l], self.temps[0][l]);
            self.start.rate[0][l] += q;
            ends.q_in[l] += q;
        }
    }

    /// Evaluates everything where the lanes stand, into `next`; no lane moves.
    pub(super) fn evaluate_next(&mut self) {
        let drive = self.lanes.drive_at(&self.t, &self.piece);
        let at = At { temps: &self.temps, peaks: &self.peaks, t: &self.t, drive: &drive };
        match (&mut self.pair, &self.lanes.pair) {
            (Some(own), Some(pair)) => own.evaluate((&self.lanes, pair), at, &mut self.next),
            _ => evaluate(&self.lanes, &at, &mut self.next, &mut self.workspace.points),
        }
    }
}
