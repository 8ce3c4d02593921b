//! Where the heat went, drawn up from a run's record at one moment.

use crate::bench::assemble::{Assembly, Part, PartKind};
use crate::bench::moment::Snapshot;
use crate::bench::outcome::{HeatAccount, PartAccount, PlyFate, When};
use crate::bench::ply_limit::PlyLimit;
use crate::bench::vapour::ratios;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::layup::Layup;
use crate::physics::{gap, radiation, vapour};
use crate::solver::moment::Moment;
use crate::solver::problem::{Back, Joint, Slab};

/// Draws up the account at a moment of a run that began at the temperatures `start` [K].
pub fn heat_account(
    assembly: &Assembly,
    start: &Snapshot,
    now: &Snapshot,
    exposure: &Exposure,
    moment: &str,
) -> HeatAccount {
    let temps = &now.temps;
    let [first, last] = [start, now].map(|one| State::of(assembly, one.moment()));
    let account = |(part, body): (&Part, Body)| PartAccount {
        name: part.name.clone(),
        is_gap: part.kind != PartKind::Ply,
        stored: body.stored(part, &first, &last),
        resistance: body.resistance(part, &last),
        resistance_cold: body.resistance(part, &first),
        temp_outer: temps[part.first],
        temp_inner: temps[part.last],
    };
    let parts: Vec<PartAccount> = of_layup(assembly).map(account).collect();
    let passed_on = match assembly.problem.back {
        Back::Lump { joint, cap_area, .. } => {
            let node = assembly.node_behind;
            let metal = cap_area * (temps[node] - start.temps[node]);
            // where the faces share a node, its water counts with the ply
            if joint == Joint::Shared { metal } else { metal + film_heat(node, start, now) }
        }
        _ => now.heat_in - parts.iter().map(|part| part.stored).sum::<f64>(),
    };
    HeatAccount {
        t: now.t,
        moment: moment.to_string(),
        offered: heat_offered(exposure, now.t),
        entered: now.heat_in,
        parts,
        passed_on,
    }
}

/// Heat that plies, gaps and joints have stored since the start, together [J/m²].
pub fn stored(assembly: &Assembly, start: &Snapshot, now: &Snapshot) -> f64 {
    let [first, last] = [start, now].map(|one| State::of(assembly, one.moment()));
    of_layup(assembly).map(|(part, body)| body.stored(part, &first, &last)).sum()
}

/// Heat that a film of water on a face has taken up since the start [J/m²].
fn film_heat(node: usize, start: &Snapshot, now: &Snapshot) -> f64 {
    let heat = |state: &Snapshot| {
        let content = state.contents.get(node).copied().unwrap_or(0.0);
        content * vapour::enthalpy_liquid(state.temps[node])
    };
    heat(now) - heat(start)
}

/// A chain at one moment, with the water of each node over that at 65 % of saturation.
pub(super) struct State<'a> {
    temps: &'a [f64],
    peaks: &'a [f64],
    ratios: Vec<f64>,
    converted: &'a [f64],
}

impl State<'_> {
    pub(super) fn of<'a>(assembly: &Assembly, now: Moment<'a>) -> State<'a> {
        let Moment { temps, peaks, converted, .. } = now;
        State { temps, peaks, ratios: ratios(&assembly.problem, now.contents), converted }
    }

    /// Heat per volume of a slab at its node `c` [J/m³], up to a constant.
    pub(super) fn heat(&self, placed: &Placed, c: usize) -> f64 {
        self.heat_at(placed, c, self.temps[placed.first + c])
    }

    /// The same were the node at `temp` [K].
    pub(super) fn heat_at(&self, placed: &Placed, c: usize, temp: f64) -> f64 {
        let (slab, i) = (placed.slab, placed.first + c);
        let held = slab.sorbent.map_or(0.0, |own| own.heat(temp, own.bound_65 * self.ratios[i]));
        let kept = slab.reacting.as_ref().map_or(0.0, |own| {
            own.heat(temp, &slab.medium.rho_cp, &placed.converted(self.converted, c))
        });
        slab.medium.heat(temp, self.peaks[i]) + held + kept
    }

    /// Conductivity over the thickness that the slab had at the start [W/(m·K)].
    pub(super) fn conductivity(&self, placed: &Placed, c: usize) -> f64 {
        let (slab, i) = (placed.slab, placed.first + c);
        let temp = self.temps[i];
        let own = slab.medium.conductivity(temp, self.peaks[i]);
        let wet = slab.sorbent.map_or(0.0, |own| own.conductivity(own.bound_65 * self.ratios[i]));
        wet + slab.reacting.as_ref().map_or(own, |reacting| {
            reacting.conductivity(own, temp, &placed.converted(self.converted, c))
        })
    }
}

/// A slab, its first node, and its first entry among the shares converted.
pub(super) struct Placed<'a> {
    pub(super) slab: &'a Slab,
    pub(super) first: usize,
    pub(super) entry: usize,
}

impl Placed<'_> {
    /// Shares of its reactions converted at its node `c`, out of all.
    fn converted(&self, all: &[f64], c: usize) -> Vec<f64> {
        let n_nodes = self.slab.cells.len() + 1;
        let n_reactions = self.slab.reacting.as_ref().map_or(0, |own| own.reactions.len());
        (0..n_reactions).map(|r| all[self.entry + r * n_nodes + c]).collect()
    }

    /// Heat stored since the start [J/m²].
    fn stored(&self, start: &State, now: &State) -> f64 {
        let gained = |c: usize| now.heat(self, c) - start.heat(self, c);
        let cell = |(c, dx): (usize, &f64)| 0.5 * dx * (gained(c) + gained(c + 1));
        self.slab.cells.iter().enumerate().map(cell).sum()
    }

    /// Resistance [m²·K/W]: Σ dx over the mean conductivity of the cell.
    fn resistance(&self, state: &State) -> f64 {
        let k = |c: usize| state.conductivity(self, c);
        let cell = |(c, dx): (usize, &f64)| dx / (0.5 * (k(c) + k(c + 1)));
        self.slab.cells.iter().enumerate().map(cell).sum()
    }
}

/// What a part of the layup is made of.
enum Body<'a> {
    Ply(Placed<'a>),
    Link(Joint),
}

/// The parts before what is behind the layup, outermost first.
fn of_layup(assembly: &Assembly) -> impl Iterator<Item = (&Part, Body<'_>)> {
    let mut slabs = assembly.problem.slabs.iter().zip(assembly.problem.reaction_entries().0);
    let mut links = links(assembly).into_iter();
    let parts = assembly.parts.iter().take_while(|part| part.kind != PartKind::Skin);
    parts.map(move |part| match part.kind {
        PartKind::Ply => {
            let (slab, entry) = slabs.next().expect("one slab a ply");
            (part, Body::Ply(Placed { slab, first: part.first, entry }))
        }
        _ => (part, Body::Link(links.next().expect("one link a joint or gap"))),
    })
}

impl Body<'_> {
    fn stored(&self, part: &Part, start: &State, now: &State) -> f64 {
        match self {
            Body::Ply(placed) => placed.stored(start, now),
            Body::Link(joint) => link_stored(joint, now.temps, start.temps, part),
        }
    }

    /// Thermal resistance [m²·K/W].
    fn resistance(&self, part: &Part, state: &State) -> f64 {
        match self {
            Body::Ply(placed) => placed.resistance(state),
            Body::Link(joint) => {
                link_resistance(joint, state.temps[part.first], state.temps[part.last])
            }
        }
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

/// Ratio of the error told of a limit's time to that of two meshes [–]. Source: our own runs of 400
/// made-up layups, disc and skin; in 17 of 1,689 figures the error of two meshes was too small, up
/// to 5.3 times; those looked at were times at which the outer ply passes its limit, in the first steps.
const LIMIT_SAFETY: f64 = 6.0;

/// When a limit is passed, with the error that belongs to it.
fn limit_time(passed: When) -> When {
    match passed {
        When::At { t, error } => When::At { t, error: LIMIT_SAFETY * error },
        other => other,
    }
}

/// What became of each ply: `peaks` holds its highest temperature [K], `passed` the settled time of
/// passing its limit.
pub fn ply_fates(
    (layup, limits): (&Layup, &[PlyLimit]),
    peaks: &[f64],
    passed: &[When],
) -> Vec<PlyFate> {
    layup
        .plies()
        .zip(limits)
        .enumerate()
        .map(|(j, (ply, PlyLimit { limit, .. }))| PlyFate {
            name: ply.fabric.name.clone(),
            temp_limit: limit.temp,
            limit_event: limit.event.clone(),
            limit_passed: limit_time(passed[j]),
            temp_peak: peaks[j],
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
