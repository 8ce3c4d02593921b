//! Where the heat went, drawn up from a run's record at one moment.

use crate::bench::assemble::{Assembly, Part, PartKind};
use crate::bench::outcome::{HeatAccount, PartAccount, PlyFate, When};
use crate::bench::trace::Trace;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::layup::Layup;
use crate::physics::{gap, radiation};
use crate::solver::problem::{Back, Joint, Slab};

/// Draws up the account at the end of the first step at or after `t` [s].
pub fn heat_account(
    assembly: &Assembly,
    trace: &Trace,
    exposure: &Exposure,
    (t, moment): (f64, &str),
) -> HeatAccount {
    let row = trace.t.iter().position(|time| *time >= t).unwrap_or(trace.t.len() - 1);
    let temps = trace.row(row);
    let peaks: Vec<f64> = (0..temps.len())
        .map(|i| trace.rows().take(row + 1).map(|now| now[i]).fold(0.0, f64::max))
        .collect();
    let start = trace.row(0);
    let mut slabs = assembly.problem.slabs.iter();
    let mut links = links(assembly).into_iter();
    let mut parts = Vec::new();
    for part in &assembly.parts {
        let link = if part.kind == PartKind::Ply { None } else { links.next() };
        if part.kind == PartKind::Skin {
            break;
        }
        let (stored, resistance, resistance_cold) = match link {
            None => {
                let slab = slabs.next().expect("one slab a ply");
                (
                    stored_in(
                        slab,
                        &temps[part.first..],
                        &peaks[part.first..],
                        &start[part.first..],
                    ),
                    slab_resistance(slab, &temps[part.first..]),
                    slab_resistance(slab, &start[part.first..]),
                )
            }
            Some(joint) => {
                let at =
                    |temps: &[f64]| link_resistance(&joint, temps[part.first], temps[part.last]);
                (link_stored(&joint, temps, start, part), at(temps), at(start))
            }
        };
        parts.push(PartAccount {
            name: part.name.clone(),
            is_gap: part.kind != PartKind::Ply,
            stored,
            resistance,
            resistance_cold,
            temp_outer: temps[part.first],
            temp_inner: temps[part.last],
        });
    }
    let entered = trace.heat_in[row];
    let stored: f64 = parts.iter().map(|part| part.stored).sum();
    let passed_on = match assembly.problem.back {
        Back::Lump { cap_area, .. } => {
            cap_area * (temps[assembly.node_behind] - start[assembly.node_behind])
        }
        _ => entered - stored,
    };
    HeatAccount {
        t: trace.t[row],
        moment: moment.to_string(),
        offered: heat_offered(exposure, trace.t[row]),
        entered,
        parts,
        passed_on,
    }
}

/// Heat that a cold black calorimeter would have been offered up to `t` [J/m²].
pub fn heat_offered(exposure: &Exposure, t: f64) -> f64 {
    let t = exposure.duration.map_or(t, |end| t.min(end));
    match &exposure.flux {
        Flux::Steady(flux) => flux * t,
        Flux::Series(points) => {
            let inside = points.windows(2).filter(|pair| pair[0].0 < t).map(|pair| {
                let share = ((t - pair[0].0) / (pair[1].0 - pair[0].0)).min(1.0);
                let end = pair[0].1 + (pair[1].1 - pair[0].1) * share;
                0.5 * (pair[0].1 + end) * share * (pair[1].0 - pair[0].0)
            });
            let last = points.last().map_or(0.0, |(end, flux)| flux * (t - end).max(0.0));
            inside.sum::<f64>() + last
        }
    }
}

/// What became of each ply; `passed` holds the settled times of passing the limits.
pub fn ply_fates(layup: &Layup, trace: &Trace, passed: &[When]) -> Vec<PlyFate> {
    layup
        .plies()
        .enumerate()
        .map(|(j, ply)| PlyFate {
            name: ply.fabric.name.clone(),
            temp_limit: ply.fabric.temp_limit.value,
            limit_event: ply.fabric.limit_event.clone(),
            limit_passed: passed[j],
            temp_peak: trace.peaks[j],
        })
        .collect()
}

/// Links that are parts of their own, outermost first.
fn links(assembly: &Assembly) -> Vec<Joint> {
    let back = match assembly.problem.back {
        Back::Lump { joint, .. } => Some(joint),
        _ => None,
    };
    let all = assembly.problem.joints.iter().copied().chain(back);
    all.filter(|joint| *joint != Joint::Shared).collect()
}

/// Heat stored in a slab since the start [J/m²]; slices begin at its first node.
fn stored_in(slab: &Slab, temps: &[f64], peaks: &[f64], start: &[f64]) -> f64 {
    let gained =
        |i: usize| slab.medium.heat(temps[i], peaks[i]) - slab.medium.heat(start[i], start[i]);
    slab.cells.iter().enumerate().map(|(c, dx)| 0.5 * dx * (gained(c) + gained(c + 1))).sum()
}

/// Resistance of a slab at given temperatures [m²·K/W]: Σ dx over the mean conductivity of the cell.
fn slab_resistance(slab: &Slab, temps: &[f64]) -> f64 {
    let k = &slab.medium.k;
    let cell = |(c, dx): (usize, &f64)| dx / (0.5 * (k.at(temps[c]) + k.at(temps[c + 1])));
    slab.cells.iter().enumerate().map(cell).sum()
}

fn link_resistance(joint: &Joint, outer: f64, inner: f64) -> f64 {
    match joint {
        Joint::Shared => 0.0,
        Joint::Conductance(h) => 1.0 / h,
        Joint::Air { thickness, exchange, convection, .. } => {
            let film = gap::conductance(outer, inner, *thickness, *convection).value;
            1.0 / (film + radiation::conductance(outer, inner, *exchange).value)
        }
    }
}

fn link_stored(joint: &Joint, temps: &[f64], start: &[f64], part: &Part) -> f64 {
    match joint {
        Joint::Air { cap_area, .. } => {
            let rise = |node: usize| temps[node] - start[node];
            0.5 * cap_area * (rise(part.first) + rise(part.last))
        }
        _ => 0.0,
    }
}
