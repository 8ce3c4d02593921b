//! How long the next step is, and what it converts.

use crate::solver::pair::conversion::{Plan, set_free, settle};
use crate::solver::state::State;

/// How often a step is shortened until no node converts too much in it.
const N_SHORTER_MOST: usize = 60;
/// What of the step that converts as much as may be is tried [–].
const SHORTER: f64 = 0.9;
/// Least share of a step that is left of it at once [–].
const SHORTER_LEAST: f64 = 0.1;

impl<const L: usize> State<L> {
    /// Settles each lane's next step and what it converts, short enough that no node converts too much.
    ///
    /// Before: `dt` says what a step may be. After: `dt_now` is what is tried, 0 in idle lanes.
    pub(in crate::solver) fn plan(&mut self) {
        for l in 0..L {
            self.dt_now[l] = self.step_to_try(l);
        }
        let most = self.options.conversion_most;
        let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) else { return };
        let Some(conversion) = own.conversion() else { return };
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
    ///
    /// Before: `dt_now` is settled. After: conversion holds what goes into the rates of the step.
    pub(super) fn set_free(&mut self) {
        let (Some(own), Some(pair)) = (&mut self.pair, &self.lanes.pair) else { return };
        let Some(conversion) = own.conversion() else { return };
        set_free(conversion, &self.lanes.slabs, &pair.reacting, &self.dt_now);
        conversion.look(&pair.reacting);
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
}
