//! What the copper disc reads: its rise and the crossing of the Stoll curve.

use crate::bench::halt::Halt;
use crate::bench::rise::{T_TOL, rise_through};
use crate::bench::trace::Trace;
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

    /// Events in a measured curve of the disc's rise, straight between its readings.
    ///
    /// - `points`: `(time [s], rise [K])`, times rising
    /// - `cap_area`: heat capacity of the disc per area [J/(m²·K)]
    pub fn of_curve(points: &[(f64, f64)], cap_area: f64) -> DiscEvents {
        let mut events = DiscEvents::new(0, 0.0, cap_area);
        for pair in points.windows(2) {
            let [(t0, from), (t1, to)] = [pair[0], pair[1]];
            let slope = [(to - from) / (t1 - t0)];
            events.note(&Step::straight([t0, t1], [&[from], &[to]], &slope));
        }
        events
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
    /// What may call the run off.
    pub halt: Option<Halt>,
}

impl DiscWatch {
    /// A watch on a disc at `node` with heat capacity `cap_area` [J/(m²·K)], starting at `temp_start` [K].
    pub fn new(trace: Trace, node: usize, temp_start: f64, cap_area: f64) -> DiscWatch {
        let events = DiscEvents::new(node, temp_start, cap_area);
        DiscWatch { trace, events, to_the_end: false, halt: None }
    }
}

impl Watch for DiscWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.trace.note(step);
        let known = self.events.note(step);
        if self.halt.as_ref().is_some_and(Halt::is_called) {
            return Next::GiveUp;
        }
        if known && !self.to_the_end { Next::Stop } else { Next::Go }
    }

    fn settled(&mut self, end: &Step<'_>) {
        self.trace.settle(end);
    }
}

#[cfg(test)]
mod tests {
    use super::DiscEvents;
    use crate::physics::stoll;
    use approx::assert_relative_eq;

    /// A disc that takes up a steady flux rises along a line: its times follow from q = C·rise/t.
    #[test]
    fn a_measured_line_is_read_by_hand() {
        let points: Vec<(f64, f64)> =
            (0..200).map(|i| (0.2 * f64::from(i), 0.4 * f64::from(i))).collect();
        let cap_area = 5.5e3;
        let events = DiscEvents::of_curve(&points, cap_area);
        assert_relative_eq!(events.rises[0].unwrap(), 6.0, max_relative = 1e-9);
        assert_relative_eq!(events.rises[1].unwrap(), 12.0, max_relative = 1e-9);
        let t = events.stoll.unwrap();
        assert_relative_eq!(cap_area * 2.0 * t, stoll::heat(t).value, max_relative = 1e-6);
        let short = DiscEvents::of_curve(&points[..40], cap_area);
        assert_eq!(short.rises[1], None);
    }
}
