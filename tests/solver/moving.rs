//! Claim: vapour moves, is bound and set free as the equations say, and neither heat nor vapour is lost.
//! Source: closed forms derived beside each test from Stefan's law of diffusion through air at rest
//! and from balances.
//! Tolerance: said beside each.

use crate::solver::rig::Blind;
use stillair::physics::law::Law;
use stillair::physics::{air, sorption, vapour};
use stillair::solver::ledger::Ledger;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Drive, Joint, Medium, Piece, Problem, Slab};
use stillair::solver::sorbent::Sorbent;
use stillair::solver::watch::{Next, Step, Watch};

/// Keeps temperatures and contents at the end.
#[derive(Default)]
struct End {
    temps: Vec<f64>,
    contents: Vec<f64>,
    least: f64,
}

impl Watch for End {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.temps = (0..step.n_nodes()).map(|i| step.temp1(i)).collect();
        self.contents = (0..step.n_nodes()).map(|i| step.content1(i)).collect();
        self.least = self.contents.iter().copied().fold(self.least, f64::min);
        Next::Go
    }
}

/// Fibres that hold `regain` of water where `regain_65` is in balance with 65 %.
fn sorbent(rho: f64, regain_65: f64, regain: f64) -> Sorbent {
    Sorbent {
        bound_65: rho * regain_65,
        held_start: rho * regain,
        porosity: 0.0,
        openness: 1.0,
        cut_off: 1e-9,
        k_wet: 0.0,
        supply: None,
    }
}

fn slab(sorbent: Sorbent, cells: Vec<f64>, (k, rho_cp): (f64, f64), temp: f64) -> Slab {
    let medium =
        Medium { k: Law::constant(k), rho_cp: Law::constant(rho_cp), changes: vec![], sink: None };
    Slab {
        medium,
        cells,
        extinction: None,
        sorbent: Some(sorbent),
        reacting: None,
        temps_start: (temp, temp),
    }
}

fn film(h: f64, temp_gas: f64, t_end: f64) -> Drive {
    let piece = Piece { t_end, h: (h, h), temp_gas, p_vapour: 0.0, q_rad: (0.0, 0.0) };
    Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: temp_gas, blown: false }
}

fn single(slab: Slab, drive: Drive) -> Problem {
    Problem { slabs: vec![slab], joints: vec![], back: Back::Insulated, drive, source: None }
}

fn fine() -> Options {
    Options { tol: 1e-4, rise_scale: 12.0, ..Options::default() }
}

#[track_caller]
fn kept(ledger: &Ledger) {
    assert!(ledger.residual() <= 1e-6, "heat: {:e}", ledger.residual());
    assert!(ledger.vapour_lost() <= 1e-9, "vapour: {:e} kg/m²", ledger.vapour_lost());
}

/// Water lost by a drying slab [kg/m²] whose temperature is held by a heat capacity without bound.
///
/// A front at depth x recedes through a slab that is wet behind and dry before it: what evaporates
/// there diffuses out through x/δ of its own air and the film beyond,
/// film·x + x²/(2δ) = D P/(Rv T)·ln[(P − p0)/(P − ps)]·t/(r0 m/L).
#[test]
fn a_drying_front_recedes_by_the_root_of_time() {
    let (temp, thickness, mass, regain) = (330.0, 3e-3, 0.4, 0.5);
    for (t, expected) in [(60.0, 63.59e-3), (200.0, 166.97e-3)] {
        let mut wet = sorbent(mass / thickness, 0.004, regain);
        wet.openness = 0.8;
        // so much heat that it stays at its temperature
        let cells = vec![thickness / 100.0; 100];
        let h = air::conductivity(temp).value / 3e-3;
        let problem = single(slab(wet, cells, (1.0, 1e12), temp), film(h, temp, t));
        let ledger = march(&problem, &fine(), &mut Blind).expect("a march");
        assert!(ledger.vapour_lost() <= 1e-9, "{:e}", ledger.vapour_lost());
        let lost = -ledger.vapour_in;
        println!("{t} s: {:.2} g/m², expected {:.2}; {ledger:?}", 1e3 * lost, 1e3 * expected);
        // a front within a cell, and the little that the dry part still holds
        assert!((lost / expected - 1.0).abs() < 5e-3, "{t} s: {lost}");
    }
}

/// Two slabs side by side that nothing enters or leaves: their water ends up even, and its heat of
/// sorption warms them: m c ΔT + w c_l ΔT = m R65 (Q0/3.5)[2 ln(1 + 3.5 z) − Σ ln(1 + 3.5 zᵢ)].
#[test]
fn a_sealed_pair_evens_out() {
    let (rho, half, regain_65, temp) = (300.0, 1e-3, 0.085, 298.15);
    let c = 1400.0;
    let of = |regain: f64| {
        let cells = vec![half / 10.0; 10];
        slab(sorbent(rho, regain_65, regain), cells, (0.05, rho * c), temp)
    };
    let slabs = vec![of(0.20), of(0.02)];
    let drive = film(0.0, temp, 20_000.0);
    // faces that shared a node would be even from the start
    let joint = Joint::Conductance(1e4);
    let problem =
        Problem { slabs, joints: vec![joint], back: Back::Insulated, drive, source: None };
    let mut end = End::default();
    let ledger = march(&problem, &fine(), &mut end).expect("a march");
    assert!(ledger.heat_stored.abs() <= 1e-3 && ledger.vapour_lost() <= 1e-9, "{ledger:?}");
    let bound = |regain: f64| {
        regain_65 * sorption::HEAT_FIRST / 3.5 * (1.0 + 3.5 * regain / regain_65).ln()
    };
    let freed = 2.0 * bound(0.11) - bound(0.20) - bound(0.02);
    let expected = temp + freed / (2.0 * c + 0.22 * vapour::LIQUID_SPECIFIC_HEAT);
    let n = end.temps.len();
    for i in 0..n {
        let share = if [0, 10, 11, n - 1].contains(&i) { 0.5 } else { 1.0 };
        let regain = end.contents[i] / (share * half / 10.0 * rho);
        assert!((regain - 0.11).abs() < 1e-4, "node {i}: {regain}");
        assert!((end.temps[i] - expected).abs() < 0.01, "node {i}: {} {expected}", end.temps[i]);
    }
}

/// A wet and a dry slab, an air space and a lump in a flame: what evaporates in front condenses
/// behind; nothing is lost.
fn heated(h: f64, n_cells: usize) -> Problem {
    let of = |thickness: f64, regain: f64| {
        let mut own = sorbent(130.0, 0.085, regain);
        own.porosity = 0.9;
        own.openness = 0.85;
        own.cut_off = 1e-4;
        own.k_wet = 0.004;
        slab(own, vec![thickness / n_cells as f64; n_cells], (0.045, 130.0 * 1400.0), 298.15)
    };
    let air = |thickness| Joint::Air {
        thickness,
        exchange: 0.8,
        convection: stillair::physics::gap::Convection::HeatedFromBelow,
        cap_area: 0.7,
    };
    let piece = |t_end, h, temp_gas, p_vapour, q: f64| Piece {
        t_end,
        h: (h, h),
        temp_gas,
        p_vapour,
        q_rad: (q, q),
    };
    Problem {
        slabs: vec![of(0.5e-3, 0.12), of(2e-3, 0.08), of(0.8e-3, 0.0)],
        joints: vec![Joint::Conductance(800.0), air(8e-3)],
        back: Back::Lump { joint: air(40e-6), cap_area: 5.5e3, temp_start: 298.15 },
        drive: Drive {
            pieces: vec![
                piece(12.0, h, 2273.15, 1e4, 20e3),
                piece(30.0, 10.0, 298.15, 1600.0, 0.0),
            ],
            emissivity: 0.9,
            temp_surround: 298.15,
            blown: false,
        },
        source: None,
    }
}

#[test]
fn in_a_flame_nothing_is_lost() {
    for (h, n_cells) in [(28.0, 6), (60.0, 10)] {
        for tol in [0.24, 1e-2, 1e-3] {
            let problem = heated(h, n_cells);
            let options = Options { tol, lump_share: 0.05, ..Options::default() };
            let mut end = End::default();
            let ledger = march(&problem, &options, &mut end).expect("a march");
            println!("{h} {n_cells} {tol}: {ledger:?}");
            println!(
                "  {:.3} K, disc {:.2} g/m²",
                end.temps[end.temps.len() - 1] - 298.15,
                1e3 * end.contents[end.temps.len() - 1]
            );
            kept(&ledger);
            assert!(end.least >= 0.0, "{}", end.least);
        }
    }
}
