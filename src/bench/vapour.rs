//! What a ply is to vapour: how much water it binds, holds and lets through.

use crate::bench::effects::{Effect, Without};
use crate::garment::fabric::{Fabric, Role};
use crate::garment::layup::Layup;
use crate::garment::wet::{conductivity_of_water, fibres};
use crate::physics::vapour;
use crate::solver::problem::Problem;
use crate::solver::sorbent::{Sorbent, airborne};

/// Least regain at 65 % of saturation that a fibre is taken to have [kg/kg]: glass and polyester too
/// hold a film of water. Our choice; what such fibres hold decides nothing.
const REGAIN_65_LEAST: f64 = 1e-3;
/// Permeability of wovens, knits and laminates [m²]; from memory 1e-12 to 1e-11, and hardly matters.
const PERMEABILITY_CLOTH: f64 = 1e-11;

/// Whether water moves in a layup: where it does, every ply takes part.
pub fn moves(layup: &Layup, without: Without) -> bool {
    without.keeps(Effect::Moisture)
        && without.keeps(Effect::MovingVapour)
        && layup.plies().any(|ply| ply.fabric.regain.value > 0.0)
}

/// What a fabric is to vapour.
///
/// Regain at 65 % of saturation is the conditioned one. A membrane's resistance is spread over the
/// thickness, as nobody says on which face it lies; steam passes it no more easily than vapour does.
pub fn sorbent(fabric: &Fabric, without: Without) -> Sorbent {
    let thickness = fabric.thickness.value;
    let dry = fabric.dry_density();
    let rho_dry = dry / thickness;
    let fibres = fibres(fabric);
    let fraction = fibres.fraction.min(1.0);
    let (open, permeability) = match fabric.role {
        Role::Felt => (
            vapour::openness_of_felt(fraction),
            vapour::permeability_of_felt_davies(fibres.radius, fraction),
        ),
        _ => (vapour::openness_of_cloth(fraction), PERMEABILITY_CLOTH),
    };
    let membrane = vapour::still_air_of_resistance(fabric.vapour_resistance.value);
    let openness = thickness / (thickness / open + membrane);
    let regain_65 = fabric.regain_conditioned.max(REGAIN_65_LEAST);
    Sorbent {
        bound_65: rho_dry * regain_65,
        held_start: rho_dry * fabric.regain.value,
        porosity: 1.0 - fraction,
        openness,
        cut_off: vapour::cut_off(open, permeability),
        k_wet: match without.keeps(Effect::WetConduction) {
            true => conductivity_per_65(fabric, regain_65),
            false => 0.0,
        },
        supply: None,
    }
}

/// Conductivity that each further regain at 65 % brings beyond the first [W/(m·K)], where water was
/// added: a straight line through what it brings at the start.
fn conductivity_per_65(fabric: &Fabric, regain_65: f64) -> f64 {
    let added = fabric.regain.value - regain_65;
    if added > 0.0 { conductivity_of_water(fabric) * regain_65 / added } else { 0.0 }
}

/// What all nodes bind in balance with 65 % of saturation [kg/m²], and their pores [m]; 0 where
/// nothing binds water.
fn sorbents_at_nodes(problem: &Problem) -> Vec<[f64; 2]> {
    let mut nodes = vec![[0.0; 2]; problem.n_nodes()];
    for (slab, (first, _)) in problem.slabs.iter().zip(problem.spans()) {
        let Some(sorbent) = slab.sorbent else { continue };
        for (c, dx) in slab.cells.iter().enumerate() {
            for [at_65, pores] in &mut nodes[first + c..=first + c + 1] {
                *at_65 += 0.5 * dx * sorbent.bound_65;
                *pores += 0.5 * dx * sorbent.porosity;
            }
        }
    }
    nodes
}

/// Contents of all nodes over those at 65 % of saturation [–]; plies that share a node share its
/// ratio. Empty where nothing binds water.
pub fn ratios(problem: &Problem, contents: &[f64]) -> Vec<f64> {
    let ratio = |(content, [at_65, _]): (&f64, [f64; 2])| match at_65 > 0.0 {
        true => content / at_65,
        false => 0.0,
    };
    contents.iter().zip(sorbents_at_nodes(problem)).map(ratio).collect()
}

/// All that is held behind a link, vapour included.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldBehind {
    first: usize,
    nodes: Vec<[f64; 2]>,
}

impl HeldBehind {
    /// Behind the link after `node`; none where no water moves.
    pub fn of(problem: &Problem, node: usize) -> Option<HeldBehind> {
        let nodes = problem.has_sorbent().then(|| sorbents_at_nodes(problem))?;
        Some(HeldBehind { first: node + 1, nodes: nodes[node + 1..].to_vec() })
    }

    /// How much it is [kg/m²], from temperatures [K] and contents [kg/m²] of nodes.
    pub fn amount(&self, temp: impl Fn(usize) -> f64, content: impl Fn(usize) -> f64) -> f64 {
        let at = |(i, [at_65, pores]): (usize, &[f64; 2])| {
            let held = content(self.first + i);
            let airborne = match *at_65 > 0.0 {
                true => airborne(held / at_65, temp(self.first + i)),
                false => 0.0,
            };
            held + pores * airborne
        };
        self.nodes.iter().enumerate().map(at).sum()
    }
}
