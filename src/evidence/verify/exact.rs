//! Perfusion at rest, radiation absorbed in depth, and water driven out: each against its closed form.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{At, Probe, flux_drive, medium, single, slab, temps};
use crate::physics::beer::{extinction, share_absorbed};
use crate::physics::moisture::{
    EVAPORATION_FROM, EVAPORATION_TO, WATER_LATENT_HEAT, WATER_SPECIFIC_HEAT,
};
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::problem::{Back, Change, Drive, Piece, Problem, Sink};

const PENNES: &str = "Pennes, J. Appl. Physiol. 1 (1948) 93, steady state in closed form";
const BEER: &str = "Beer's law; integral of γ exp(−γx) by Simpson's rule";
const LATENT: &str = "IAPWS-95 by CoolProp 8.0.0; balance of energy in closed form";

/// Perfused tissue under constant flux at rest, its back held at the blood's temperature:
/// the face's rise is q tanh(mL)/(km) with m = √(w/k).
pub fn perfused_at_rest() -> Vec<Case> {
    let (k, perfusion, thickness, q): (f64, f64, f64, f64) = (0.523, 4995.25, 0.012, 500.0);
    let m = (perfusion / k).sqrt();
    let exact = |x: f64| q * (m * (thickness - x)).sinh() / (k * m * (m * thickness).cosh());
    let n = 60;
    let mut tissue = slab(medium(k, 3.8664e6), vec![thickness / n as f64; n], 310.0);
    tissue.medium.sink = Some(Sink { rate: perfusion, temp: 310.0 });
    let problem = single(tissue, Back::Held, flux_drive(q, 2e4));
    let places = [(0, "face"), (20, "a third in"), (40, "two thirds in")];
    let wanted = places.map(|(node, _)| (2e4, At::Slab(0, node)));
    let named = places.iter().zip(temps(&problem, &wanted));
    named
        .map(|((node, place), read)| {
            let expected = (exact(thickness * *node as f64 / n as f64), exact(0.0));
            Case::exact(
                format!("pennes at rest, {place}"),
                PENNES,
                expected,
                read.line(-310.0, 1.0),
            )
        })
        .collect()
}

/// Shares of the radiation that three slices of a ply absorb.
pub fn absorbed_in_depth() -> Vec<Case> {
    let mut cases = Vec::new();
    for (transmissivity, from, to) in [(0.05, 0.0, 1e-4), (0.05, 2e-4, 5e-4), (0.4, 0.0, 5e-4)] {
        let gamma = extinction(transmissivity, 5e-4);
        let n = 400;
        let step = (to - from) / f64::from(2 * n);
        let at = |i: i32| gamma * (-gamma * (from + f64::from(i) * step)).exp();
        let sum: f64 = (0..n).map(|i| at(2 * i) + 4.0 * at(2 * i + 1) + at(2 * i + 2)).sum();
        let expected = sum * step / 3.0;
        let name = format!(
            "share absorbed, {:.1} to {:.1} mm of 0.5, τ {transmissivity}",
            from * 1e3,
            to * 1e3
        );
        let computed = share_absorbed(gamma, from, to);
        cases.push(Case::within(name, BEER, (expected, 1e-10 * expected), computed));
    }
    cases
}

/// 30 kg of water in a cubic metre of a slab that is heated dry: its heat is found again.
pub fn water_driven_out() -> Vec<Case> {
    let (temp, water, dry, thickness) = (298.15, 30.0, 4e5, 1e-3);
    let capacity = dry + water * WATER_SPECIFIC_HEAT;
    let mut body = slab(medium(0.06, capacity), vec![thickness / 10.0; 10], temp);
    body.medium.changes = vec![Change {
        heat: water * WATER_LATENT_HEAT,
        rho_cp_lost: water * WATER_SPECIFIC_HEAT,
        k_lost: 0.0,
        temp_lo: EVAPORATION_FROM,
        temp_hi: EVAPORATION_TO,
    }];
    let n = body.cells.len() + 1;
    let piece = |t_end, q: f64| Piece {
        t_end,
        h: (0.0, 0.0),
        temp_gas: temp,
        p_vapour: 0.0,
        q_rad: (q, q),
    };
    // 200 kJ/m² in 5 s, then 60 s to come to one temperature
    let pieces = vec![piece(5.0, 40e3), piece(65.0, 0.0)];
    let problem: Problem = single(
        body,
        Back::Insulated,
        Drive { pieces, emissivity: 0.0, temp_surround: temp, blown: false },
    );
    let mut probe = Probe::new((0..n).map(|i| (65.0, i)).collect());
    let options = Options { tol: 1e-7, dt_start: 1e-5, ..Options::default() };
    let end = match march(&problem, &options, &mut probe) {
        Ok(_) => probe.read[n - 1],
        Err(_) => f64::NAN,
    };
    // warmed until it leaves, halfway through the window on average, and evaporated
    let leaves = 0.5 * (EVAPORATION_FROM + EVAPORATION_TO);
    let expected = water * (WATER_LATENT_HEAT + WATER_SPECIFIC_HEAT * (leaves - temp)) * thickness;
    let computed = 200e3 - dry * thickness * (end - temp);
    let name = "heat of the water driven out";
    vec![Case::within(name, LATENT, (expected, 1e-6 * expected), computed).in_unit("J/m²")]
}
