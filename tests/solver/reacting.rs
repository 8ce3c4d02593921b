//! Claim: what reacts turns to residue, gas and vapour as the kinetics say; heat and vapour are kept;
//! gas carries its heat outwards and takes from the film; the bits do not depend on lanes.
//! Source: closed forms derived beside each test from balances; film theory (Bird, Stewart,
//! Lightfoot, Transport Phenomena, from memory).
//! Tolerance: said beside each.

use crate::solver::rig::{self, Blind};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use stillair::physics::char::{
    GAS_SPECIFIC_HEAT, TEMP_REF, WARMING, blowing_factor, ln_rate_kissinger,
};
use stillair::physics::law::Law;
use stillair::solver::fault::{Fault, SlabFault};
use stillair::solver::lanes::Lanes;
use stillair::solver::ledger::Ledger;
use stillair::solver::march::{Options, march, march_lanes};
use stillair::solver::problem::{Back, Drive, Joint, Piece, Problem, Slab};
use stillair::solver::reaction::{Reacting, Reaction};
use stillair::solver::sorbent::Sorbent;
use stillair::solver::watch::{Next, Step, Watch};

const RHO: f64 = 130.0;
const CP: f64 = 1400.0;

/// Keeps temperatures and shares converted at the end.
#[derive(Default, Clone, PartialEq, Debug)]
struct End {
    temps: Vec<f64>,
    converted: Vec<f64>,
}

impl Watch for End {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.temps = (0..step.n_nodes()).map(|i| step.temp1(i)).collect();
        self.converted = (0..step.n_entries()).map(|e| step.converted1(e)).collect();
        Next::Go
    }
}

/// Fibres that hold next to no water.
fn dry() -> Sorbent {
    Sorbent {
        bound_65: RHO,
        held_start: 1e-9 * RHO,
        porosity: 0.0,
        openness: 1.0,
        cut_off: 1e-4,
        k_wet: 0.0,
        supply: None,
    }
}

fn reacting(reaction: Reaction) -> Option<Reacting> {
    Some(Reacting { reactions: vec![reaction], rho: RHO, thinning: 0.0, k_radiation: 0.0 })
}

/// A reaction of all of the mass, as cellulose does.
fn cellulose() -> Reaction {
    Reaction {
        rho: RHO,
        ln_rate: ln_rate_kissinger(27_422.0, 563.15, WARMING),
        temp_activation: 27_422.0,
        residue: 0.4,
        heat: -80e3,
        vapour_share: 0.33,
    }
}

fn slab(cells: Vec<f64>, k: f64, temp: f64) -> Slab {
    Slab { sorbent: Some(dry()), ..rig::slab(rig::medium(k, RHO * CP), cells, temp) }
}

fn film(h: f64, temp_gas: f64, t_end: f64) -> Drive {
    let piece = Piece { t_end, h: (h, h), temp_gas, p_vapour: 0.0, q_rad: (0.0, 0.0) };
    Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: temp_gas, blown: true }
}

fn single(slab: Slab, drive: Drive) -> Problem {
    rig::single(slab, Back::Insulated, drive)
}

/// A slab that nothing enters or leaves, all of whose mass stays: its temperature follows from the
/// heat of the residue, 715 u + 0.8 u² = c u0 − Δh with u counted from 25 °C.
#[test]
fn a_closed_slab_warms_by_its_reaction() {
    let start = TEMP_REF + 285.0;
    let mut one = slab(vec![1e-4; 4], 0.05, start);
    one.reacting = reacting(Reaction { residue: 1.0, heat: -150e3, ..cellulose() });
    let mut end = End::default();
    let ledger =
        march(&single(one, film(0.0, start, 400.0)), &Options::default(), &mut end).unwrap();
    let none = -(CP * 285.0 + 150e3);
    let u = (-715.0 + (715.0_f64 * 715.0 - 3.2 * none).sqrt()) / 1.6;
    for share in &end.converted {
        assert!((share - 1.0).abs() < 1e-6, "{share}");
    }
    for temp in &end.temps {
        // its little water evaporates and binds less
        assert!((temp - (TEMP_REF + u)).abs() < 5e-3, "{temp} {}", TEMP_REF + u);
    }
    assert!(ledger.heat_stored.abs() < 1e-6 * RHO * 4e-4 * 150e3, "{ledger:?}");
}

/// Gas that comes evenly from behind through a slab at rest: what it carries has to be conducted
/// against it, so that differences from node to node grow outwards by exp(G c dx/k).
#[test]
fn gas_steepens_the_temperature_outwards() {
    let (dx, k, thickness, speed) = (2e-4, 0.05, 0.2, 1e-4_f64);
    let outer = slab(vec![dx; 10], k, 900.0);
    let mut inner = slab(vec![0.5 * thickness; 2], 500.0, 900.0);
    // next to no heat of its own: its gas is warmed by what comes through the outer slab
    inner.medium.rho_cp = Law::constant(1e3);
    // hardly less when colder
    let even = Reaction {
        ln_rate: speed.ln(),
        temp_activation: 1e-6,
        residue: 0.0,
        heat: 0.0,
        vapour_share: 0.0,
        rho: RHO,
    };
    inner.reacting = reacting(even);
    let problem = Problem {
        slabs: vec![outer, inner],
        joints: vec![Joint::Shared],
        back: Back::Insulated,
        drive: film(60.0, 900.0, 200.0),
        source: None,
    };
    let mut end = End::default();
    march(&problem, &Options { tol: 1e-5, ..Options::default() }, &mut end).unwrap();
    let gas = RHO * thickness * speed * (1.0 - end.converted[0]);
    let growth = (gas * GAS_SPECIFIC_HEAT * dx / k).exp();
    assert!(growth > 1.01);
    for i in 1..9 {
        let ratio = (end.temps[i - 1] - end.temps[i]) / (end.temps[i] - end.temps[i + 1]);
        // the gas gets less by 1e-4 a second, and the slab warms with it
        assert!((ratio - growth).abs() < 3e-4, "node {i}: {ratio} {growth}");
    }
}

/// The gas of a slab that gives off its own lets less through the film, as film theory says: with a
/// face held cold by its own heat capacity, what enters is h(φ) (T_gas − T) less what the gas takes out.
#[test]
fn blowing_takes_from_the_film_as_film_theory_says() {
    let (h, temp_gas, temp) = (40.0, 1500.0, 500.0);
    let even = Reaction {
        ln_rate: 0.1_f64.ln(),
        temp_activation: 1e-6,
        residue: 0.0,
        heat: 0.0,
        vapour_share: 0.0,
        rho: RHO,
    };
    let t = 0.05;
    let entered = |blown: bool| {
        let mut one = slab(vec![1e-3; 2], 1.0, temp);
        // so much heat that it stays at its temperature
        one.medium.rho_cp = Law::constant(1e12);
        one.reacting = Some(Reacting { rho: 1e12, ..reacting(even).unwrap() });
        let drive = Drive { blown, ..film(h, temp_gas, t) };
        march(&single(one, drive), &Options::default(), &mut Blind).unwrap().heat_in
    };
    let gas = RHO * 2e-3 * 0.1 * (1.0 - 0.5 * 0.1 * t);
    let phi = gas * GAS_SPECIFIC_HEAT / h;
    let carried = gas * GAS_SPECIFIC_HEAT * (temp - TEMP_REF) * t;
    let expected =
        [1.0, blowing_factor(phi)].map(|share| share * h * (temp_gas - temp) * t - carried);
    for (blown, expected) in [(false, expected[0]), (true, expected[1])] {
        let q = entered(blown);
        // the rate falls by half a percent on the way
        assert!((q / expected - 1.0).abs() < 2e-4, "{blown}: {q} {expected}");
    }
    assert!(phi > 0.5, "{phi}");
}

/// Two reacting slabs before a lump in a flame.
fn heated(vary: f64) -> Problem {
    let of = |thickness: f64, regain: f64| {
        let mut one = slab(vec![thickness / 6.0; 6], 0.045 * vary, 298.15);
        one.sorbent = Some(Sorbent {
            bound_65: RHO * 0.085,
            held_start: RHO * regain,
            porosity: 0.9,
            openness: 0.85,
            k_wet: 0.004,
            ..dry()
        });
        let aramid = Reaction {
            rho: 0.4 * RHO,
            ln_rate: ln_rate_kissinger(24_056.0, 733.15, WARMING),
            temp_activation: 24_056.0,
            residue: 0.5,
            heat: 300e3,
            vapour_share: 0.0,
        };
        let reactions = vec![Reaction { rho: 0.6 * RHO, ..cellulose() }, aramid];
        one.reacting = Some(Reacting { reactions, rho: RHO, thinning: 0.5, k_radiation: 4e-10 });
        one
    };
    let q = 2e4 * vary;
    let flame =
        Piece { t_end: 6.0, h: (40.0, 40.0), temp_gas: 1800.0, p_vapour: 1e4, q_rad: (q, q) };
    let room =
        Piece { t_end: 12.0, h: (10.0, 10.0), temp_gas: 298.15, p_vapour: 1e3, q_rad: (0.0, 0.0) };
    Problem {
        slabs: vec![of(1e-3 * vary, 0.09), of(1.5e-3, 0.12)],
        joints: vec![Joint::Conductance(400.0)],
        back: Back::Lump {
            joint: Joint::Conductance(300.0 * vary),
            cap_area: 5.5e3,
            temp_start: 298.15,
        },
        drive: Drive {
            pieces: vec![flame, room],
            emissivity: 0.9,
            temp_surround: 298.15,
            blown: true,
        },
        source: None,
    }
}

#[track_caller]
fn kept(ledger: &Ledger) {
    assert!(ledger.residual() <= 1e-6, "heat: {:e}", ledger.residual());
    assert!(ledger.vapour_lost() <= 1e-9, "vapour: {:e} kg/m²", ledger.vapour_lost());
}

#[test]
fn heat_and_vapour_are_kept_and_conversion_reaches_the_depth() {
    let mut end = End::default();
    let ledger = march(&heated(1.0), &Options::default(), &mut end).unwrap();
    kept(&ledger);
    // the outer face is all converted, the inner face of the second slab not
    let last = end.converted.len() - 1;
    assert!(end.converted[0] > 0.99 && end.converted[last] < 0.5, "{:?}", end.converted);
    assert!(end.converted.iter().all(|share| (0.0..=1.0).contains(share)));
}

/// Half the conversion in a step and half the step: a fourth of the error.
#[test]
fn conversion_is_of_second_order_in_the_step() {
    let run = |level: i32| {
        let options = Options {
            tol: 2e-2 / 8f64.powi(level),
            conversion_most: 0.4 / 2f64.powi(level),
            ..Options::default()
        };
        let mut end = End::default();
        march(&heated(1.0), &options, &mut end).unwrap();
        *end.temps.last().unwrap()
    };
    // Two halvings at a time: how many steps a conversion takes is no smooth matter. With longer steps the
    // error, below 2e-3 K, changes its sign.
    let temps = [3, 5, 7].map(run);
    let order = 0.5 * ((temps[0] - temps[1]) / (temps[1] - temps[2])).abs().log2();
    assert!(order > 1.8, "{temps:?}: order {order:.2}");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 8,
        rng_seed: RngSeed::Fixed(9151),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn lanes_have_the_bits_of_each_alone(varied in prop::array::uniform4(0.7..1.4f64)) {
        let problems = varied.map(heated);
        let lanes = Lanes::new(&problems.each_ref()).unwrap();
        let mut together: [End; 4] = Default::default();
        let ledgers = march_lanes(&lanes, &Options::default(), &mut together).unwrap();
        for (l, problem) in problems.iter().enumerate() {
            let mut alone = End::default();
            let ledger = march(problem, &Options::default(), &mut alone).unwrap();
            kept(&ledger);
            prop_assert_eq!(&alone, &together[l]);
            prop_assert_eq!(ledger, ledgers[l]);
        }
    }
}

#[test]
fn a_reaction_without_a_place_for_its_vapour_is_refused() {
    let mut one = slab(vec![1e-3; 2], 1.0, 300.0);
    one.reacting = reacting(cellulose());
    one.sorbent = None;
    let found = march(&single(one, film(10.0, 400.0, 1.0)), &Options::default(), &mut Blind);
    assert_eq!(found, Err(Fault::Slab(0, SlabFault::NoSorbent).into()));
}
