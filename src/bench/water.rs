//! Where the water went, drawn up from a run's record at one moment.

use crate::bench::assemble::{Assembly, PartKind};
use crate::bench::moment::Snapshot;
use crate::bench::outcome::{PlyWater, WaterAccount};
use crate::bench::trace::Trace;
use crate::bench::vapour::ratios;
use crate::physics::vapour::enthalpy_vapour;
use crate::solver::problem::{Back, Joint, Slab};

/// Draws up the account of water at a moment of a recorded run; none where no water moves.
pub fn water_account(assembly: &Assembly, trace: &Trace, now: &Snapshot) -> Option<WaterAccount> {
    if !assembly.problem.has_sorbent() {
        return None;
    }
    let start = Snapshot::start(trace);
    let (held_start, held_now) = (held(assembly, &start), held(assembly, now));
    let names = assembly.parts.iter().filter(|part| part.kind == PartKind::Ply);
    let plies: Vec<PlyWater> = names
        .zip(held_start.iter().zip(&held_now))
        .map(|(part, (start, left))| PlyWater {
            name: part.name.clone(),
            start: *start,
            left: *left,
        })
        .collect();
    let behind = is_apart(assembly)
        .then(|| now.contents[assembly.node_behind] - start.contents[assembly.node_behind]);
    let (all, left): (f64, f64) = (held_start.iter().sum(), held_now.iter().sum());
    Some(WaterAccount {
        start: all,
        gone: all - left - behind.unwrap_or(0.0),
        behind,
        plies,
        heat_carried: behind.map(|_| heat_carried(assembly, trace, now)),
    })
}

/// Whether the face behind the layup has a node of its own.
fn is_apart(assembly: &Assembly) -> bool {
    match assembly.problem.back {
        Back::Lump { joint, .. } => joint != Joint::Shared,
        _ => !assembly
            .parts
            .iter()
            .any(|part| part.kind == PartKind::Ply && part.last == assembly.node_behind),
    }
}

/// Water in each ply [kg/m²], vapour included.
fn held(assembly: &Assembly, state: &Snapshot) -> Vec<f64> {
    let ratios = ratios(&assembly.problem, &state.contents);
    let slabs = assembly.problem.slabs.iter().zip(assembly.problem.spans());
    let of_slab = |(slab, (first, _)): (&Slab, (usize, usize))| {
        let sorbent = slab.sorbent?;
        let at = |i: usize| {
            let held = sorbent.bound_65 * ratios[i];
            held + sorbent.porosity * sorbent.airborne(state.temps[i], held)
        };
        let cell = |(c, dx): (usize, &f64)| 0.5 * dx * (at(first + c) + at(first + c + 1));
        Some(slab.cells.iter().enumerate().map(cell).sum())
    };
    slabs.filter_map(of_slab).collect()
}

/// Heat that vapour brought to the face behind up to now [J/m²]: what the face gained in each step,
/// with the heat of vapour that leaves the node before it; what it lost, with that of its own.
fn heat_carried(assembly: &Assembly, trace: &Trace, now: &Snapshot) -> f64 {
    let node = assembly.node_behind;
    let rows = trace.t.iter().take_while(|t| **t <= now.t).count();
    let row = |i: usize| (trace.row(i), trace.contents(i));
    let states = (0..rows).map(row).chain([(now.temps.as_slice(), now.contents.as_slice())]);
    let mut heat = 0.0;
    let mut before: Option<(&[f64], &[f64])> = None;
    for (temps, contents) in states {
        if let Some((temps_before, contents_before)) = before {
            let gained = contents[node] - contents_before[node];
            let from = if gained > 0.0 { node - 1 } else { node };
            heat += gained * enthalpy_vapour(0.5 * (temps[from] + temps_before[from]));
        }
        before = Some((temps, contents));
    }
    heat
}
