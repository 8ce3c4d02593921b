//! What the copper disc reads: its rise and the crossing of the Stoll curve.

use crate::bench::trace::{T_TOL, Trace, rise_through};
use crate::physics::stoll;
use crate::solver::root::crossing;
use crate::solver::watch::{Next, Step, Watch};

/// Rises of the disc that are timed [K]. Source: ISO 9151 and ISO 6942.
pub const RISES: [f64; 2] = [12.0, 24.0];

/// The events of the disc alone.
#[derive(Debug, Clone)]
pub struct DiscEvents {
    /// When the disc rose by 12 and 24 K [s].
    pub rises: [Option<f64>; 2],
    /// When its heat crossed the Stoll curve [s].
    pub stoll: Option<f64>,
    node: usize,
    temp_start: f64,
    cap_area: f64,
    /// Height of the Stoll curve at some time not after the last step's end [J/m²].
    stoll_least: f64,
}

impl DiscEvents {
    /// Events of a disc at `node` with heat capacity `cap_area` [J/(m²·K)], starting at `temp_start` [K].
    pub fn new(node: usize, temp_start: f64, cap_area: f64) -> DiscEvents {
        DiscEvents { rises: [None; 2], stoll: None, node, temp_start, cap_area, stoll_least: 0.0 }
    }

    /// Looks for the events in a step; tells whether all are known.
    fn note(&mut self, step: &Step<'_>) -> bool {
        for (rise, level) in self.rises.iter_mut().zip(RISES) {
            *rise = rise.or_else(|| rise_through(step, self.node, self.temp_start + level));
        }
        if self.stoll.is_none() {
            self.look_for_stoll(step);
        }
        self.rises[1].is_some() && self.stoll.is_some()
    }

    /// Looks for the crossing in a step at whose start the heat is still below the curve.
    fn look_for_stoll(&mut self, step: &Step) {
        let taken = |t: f64| self.cap_area * (step.temp(self.node, t) - self.temp_start);
        let at_end = taken(step.t1);
        // the curve only rises: it need not be worked out for a disc below where it was before
        if at_end < self.stoll_least {
            return;
        }
        let over = |t: f64| taken(t) - stoll::heat(t).value;
        self.stoll_least = stoll::heat(step.t1).value;
        if at_end >= self.stoll_least {
            // at t = 0 both are zero; the curve rises at once, the disc behind cloth does not
            let start = if step.t0 > 0.0 { step.t0 } else { 1e-3 * step.t1 };
            self.stoll = Some(match over(start) < 0.0 {
                true => crossing(start, step.t1, T_TOL, over),
                false => start,
            });
        }
    }
}

impl Watch for DiscEvents {
    fn step(&mut self, step: &Step<'_>) -> Next {
        if self.note(step) { Next::Stop } else { Next::Go }
    }
}

/// Watches the disc and keeps the record of the run.
#[derive(Debug, Clone)]
pub struct DiscWatch {
    /// The record of the run.
    pub trace: Trace,
    /// The disc's events.
    pub events: DiscEvents,
    /// Whether to go on after all are known.
    pub to_the_end: bool,
}

impl DiscWatch {
    /// A watch on a disc at `node` with heat capacity `cap_area` [J/(m²·K)], starting at `temp_start` [K].
    pub fn new(trace: Trace, node: usize, temp_start: f64, cap_area: f64) -> DiscWatch {
        let events = DiscEvents::new(node, temp_start, cap_area);
        DiscWatch { trace, events, to_the_end: false }
    }
}

impl Watch for DiscWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.trace.note(step);
        let known = self.events.note(step);
        if known && !self.to_the_end { Next::Stop } else { Next::Go }
    }
}
