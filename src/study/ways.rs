//! What crosses each gap and joint of a run at its steps, by the way it takes [W/m²].

use crate::bench::seen::{Seen, thickness};
use crate::bench::vapour::HeldBehind;
use crate::physics::vapour;
use crate::solver::problem::Joint;
use crate::study::gap_heat::{Air, WaysOfHeat};

/// Heat through one gap or joint over a run.
#[derive(Debug, Clone, PartialEq)]
pub struct WaysOverTime {
    /// The ply in front of it, counted from 1.
    pub ply: usize,
    /// Thickness of its air, voids of faces included [m].
    pub thickness: f64,
    /// Fluxes at the times of the run [W/m²]; vapour as its mean over the step that ends there, 0 at first.
    pub fluxes: Vec<WaysOfHeat>,
}

/// Heat through each gap and joint that holds air or has a conductance, outermost first; none where faces
/// share one temperature.
pub fn ways_over_time(seen: &Seen) -> Vec<WaysOverTime> {
    let all = seen.inner_nodes().into_iter().zip(seen.joints()).enumerate();
    all.filter_map(|(j, (node, joint))| {
        let at = across(&joint)?;
        let mut fluxes: Vec<WaysOfHeat> =
            seen.trace.rows().map(|row| at(row[node], row[node + 1])).collect();
        if let Some(behind) = HeldBehind::of(&seen.assembly.problem, node) {
            carry(seen, node, &behind, &mut fluxes);
        }
        Some(WaysOverTime { ply: j + 1, thickness: thickness(&joint), fluxes })
    })
    .collect()
}

/// What a link lets through between two temperatures, but for vapour; none where it is no link.
fn across(joint: &Joint) -> Option<Box<dyn Fn(f64, f64) -> WaysOfHeat>> {
    match *joint {
        Joint::Shared => None,
        Joint::Conductance(h) => Some(Box::new(move |outer, inner| WaysOfHeat {
            conduction: h * (outer - inner),
            ..WaysOfHeat::default()
        })),
        Joint::Air { .. } => {
            let air = Air::of(joint)?;
            Some(Box::new(move |outer, inner| air.fluxes(outer, inner)))
        }
    }
}

/// Adds what vapour carried across over each step: what is held behind more than before, with the heat
/// of vapour at the face that it left.
fn carry(seen: &Seen, node: usize, behind: &HeldBehind, fluxes: &mut [WaysOfHeat]) {
    let trace = &seen.trace;
    let held = |row: usize| {
        let (temps, contents) = (trace.row(row), trace.contents(row));
        behind.amount(|i| temps[i], |i| contents[i])
    };
    let mut before = held(0);
    for (row, flux) in fluxes.iter_mut().enumerate().skip(1) {
        let now = held(row);
        let dt = trace.t[row] - trace.t[row - 1];
        let from = if now >= before { node } else { node + 1 };
        let temp = 0.5 * (trace.row(row - 1)[from] + trace.row(row)[from]);
        // at a break two rows share their time, and hold the same
        if dt > 0.0 {
            flux.vapour = (now - before) / dt * vapour::enthalpy_vapour(temp);
        }
        before = now;
    }
}
