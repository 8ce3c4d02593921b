//! When a node first rises through a temperature.

use crate::solver::root::crossing;
use crate::solver::watch::Step;

/// Where a time is located within a step [s].
pub const T_TOL: f64 = 1e-9;

/// Time within a step at which a node first rises through `level` [K], if it does.
pub fn rise_through(step: &Step, node: usize, level: f64) -> Option<f64> {
    let (from, to) = (step.temp0(node) - level, step.temp1(node) - level);
    (from < 0.0 && to >= 0.0)
        .then(|| crossing(step.t0, step.t1, T_TOL, |t| step.temp(node, t) - level))
}
