//! Claim: what cannot be computed ends in an error that says where and why, never in numbers.
//! Source: none outside; the descriptions' own rules (`solver::problem`).
//! Tolerance: none.

use crate::solver::rig::{Blind, film_drive, flux_drive, medium, single, slab};
use stillair::physics::gap::Convection;
use stillair::physics::law::Law;
use stillair::solver::error::SolverError;
use stillair::solver::fault::{Fault, SlabFault};
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Change, Joint, Piece, Problem, Sink};
use stillair::solver::reaction::Reacting;
use stillair::solver::sorbent::Sorbent;
use stillair::solver::tied::march_paths;

fn good() -> Problem {
    let slabs = vec![
        slab(medium(0.1, 1e6), vec![1e-4; 4], 300.0),
        slab(medium(0.1, 1e6), vec![1e-4; 4], 300.0),
    ];
    let back = Back::Lump { joint: Joint::Shared, cap_area: 5e3, temp_start: 300.0 };
    let drive = flux_drive(1e4, 1.0);
    Problem { slabs, joints: vec![Joint::Shared], back, drive, source: None }
}

fn run(problem: &Problem) -> Result<(), SolverError> {
    march(problem, &Options::default(), &mut Blind).map(|ledger| {
        assert!(ledger.heat_in.is_finite() && ledger.heat_stored.is_finite(), "{ledger:?}");
    })
}

/// What is wrong with the good one once it is changed.
#[track_caller]
fn fault(change: impl FnOnce(&mut Problem)) -> Fault {
    let mut problem = good();
    change(&mut problem);
    match run(&problem) {
        Err(SolverError::Description(fault)) => fault,
        other => panic!("{other:?}"),
    }
}

/// The change makes the description unusable, by a fault that matches.
macro_rules! refused {
    ($fault:pat, $change:expr $(,)?) => {
        let found = fault($change);
        assert!(matches!(found, $fault), "{found:?}");
    };
}

#[test]
fn the_good_one_runs() {
    run(&good()).expect("a march");
}

#[test]
fn slabs() {
    refused!(Fault::Counts { n_slabs: 0, n_joints: 1 }, |p| p.slabs.clear());
    refused!(Fault::Counts { n_slabs: 2, n_joints: 0 }, |p| p.joints.clear());
    refused!(Fault::Slab(1, SlabFault::Cells), |p| p.slabs[1].cells.clear());
    for size in [0.0, -1e-4, f64::NAN, f64::INFINITY] {
        refused!(Fault::Slab(0, SlabFault::Cells), |p| p.slabs[0].cells[2] = size);
    }
    for temp in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        refused!(Fault::Slab(0, SlabFault::TempStart(_)), |p| p.slabs[0].temps_start.1 = temp);
    }
    for value in [0.0, -0.1, f64::NAN, f64::INFINITY] {
        refused!(Fault::Slab(0, SlabFault::Conductivity(_)), |p| p.slabs[0].medium.k =
            Law::constant(value));
        refused!(Fault::Slab(1, SlabFault::HeatCapacity(_)), |p| p.slabs[1].medium.rho_cp =
            Law::constant(value));
    }
    for extinction in [-1.0, f64::NAN, f64::INFINITY] {
        refused!(Fault::Slab(1, SlabFault::Extinction(_)), |p| p.slabs[1].extinction =
            Some(extinction));
    }
}

#[test]
fn changes_and_sinks() {
    let change =
        Change { heat: 1e6, rho_cp_lost: 1e3, k_lost: 0.0, temp_lo: 350.0, temp_hi: 400.0 };
    for bad in [
        Change { heat: f64::NAN, ..change },
        Change { rho_cp_lost: f64::INFINITY, ..change },
        Change { k_lost: -1e-3, ..change },
        Change { k_lost: f64::NAN, ..change },
        Change { temp_lo: f64::NAN, ..change },
        Change { temp_hi: 350.0, ..change },
        Change { temp_hi: 340.0, ..change },
    ] {
        refused!(Fault::Slab(0, SlabFault::Change(_)), |p| p.slabs[0].medium.changes = vec![bad]);
    }
    for (rate, temp) in [(f64::NAN, 300.0), (-1.0, 300.0), (1e3, f64::NAN)] {
        refused!(Fault::Slab(1, SlabFault::Sink(_)), |p| p.slabs[1].medium.sink =
            Some(Sink { rate, temp }));
    }
}

#[test]
fn joints_and_back() {
    let air = |thickness, exchange, convection, cap_area| Joint::Air {
        thickness,
        exchange,
        convection,
        cap_area,
    };
    for bad in [
        Joint::Conductance(f64::NAN),
        Joint::Conductance(0.0),
        Joint::Conductance(-1.0),
        air(0.0, 0.9, Convection::Still, 1.0),
        air(f64::NAN, 0.9, Convection::Still, 1.0),
        air(1e-3, f64::NAN, Convection::Still, 1.0),
        air(1e-3, 1.5, Convection::Still, 1.0),
        air(1e-3, 0.9, Convection::Vertical { aspect: f64::NAN }, 1.0),
        air(1e-3, 0.9, Convection::Still, -1.0),
    ] {
        refused!(Fault::Joint(0, _), |p| p.joints[0] = bad);
        refused!(Fault::LumpJoint(_), |p| {
            p.back = Back::Lump { joint: bad, cap_area: 5e3, temp_start: 300.0 };
        });
    }
    for (cap_area, temp_start) in
        [(0.0, 300.0), (-1.0, 300.0), (f64::NAN, 300.0), (5e3, f64::NAN), (5e3, 0.0)]
    {
        refused!(Fault::Lump { .. }, |p| p.back =
            Back::Lump { joint: Joint::Shared, cap_area, temp_start });
    }
}

#[test]
fn drives() {
    let piece =
        |t_end| Piece { t_end, h: (0.0, 0.0), temp_gas: 300.0, p_vapour: 0.0, q_rad: (1e3, 1e3) };
    refused!(Fault::NoPiece, |p| p.drive.pieces.clear());
    for times in [[1.0, 1.0], [1.0, 0.5], [1.0, f64::NAN], [0.0, 1.0], [-1.0, 1.0]] {
        refused!(Fault::Piece(_), |p| p.drive.pieces = times.map(piece).to_vec());
    }
    for value in [f64::NAN, f64::INFINITY] {
        refused!(Fault::Piece(_), |p| p.drive.pieces[0].h.1 = value);
        refused!(Fault::Piece(_), |p| p.drive.pieces[0].temp_gas = value);
        refused!(Fault::Piece(_), |p| p.drive.pieces[0].q_rad.0 = value);
        refused!(Fault::Surroundings(_), |p| p.drive.temp_surround = value);
    }
    for value in [-1.0, f64::NAN, 101_325.0] {
        refused!(Fault::Vapour { t: 0.0, .. }, |p| p.drive.pieces[0].p_vapour = value);
    }
    refused!(Fault::Film(_), |p| p.drive.pieces[0].h.0 = -1.0);
    for emissivity in [-0.1, 1.1, f64::NAN] {
        refused!(Fault::Emissivity(_), |p| p.drive.emissivity = emissivity);
    }
}

#[test]
fn paths() {
    for n in [0, 33] {
        let problem = good();
        let paths = vec![(&problem, 1.0 / n as f64); n];
        let tied = march_paths(&paths, &Options::default(), |_| Blind);
        assert_eq!(tied.err(), Some(Fault::Paths(n).into()));
    }
}

/// Every message, with the place and the value that it is about.
#[test]
fn messages() {
    let sink = Sink { rate: -1.0, temp: 300.0 };
    let change =
        Change { heat: 1e6, rho_cp_lost: 1e3, k_lost: 0.0, temp_lo: 350.0, temp_hi: 340.0 };
    let slab = |fault| Fault::Slab(1, fault);
    for (fault, expected) in [
        (Fault::Counts { n_slabs: 2, n_joints: 0 }, "2 slabs, 0 joints"),
        (slab(SlabFault::Cells), "slab 1 has a cell without size"),
        (slab(SlabFault::TempStart(-5.0)), "slab 1 starts at -5 K"),
        (slab(SlabFault::Conductivity(0.0)), "conductivity of slab 1 is 0 at the start"),
        (slab(SlabFault::HeatCapacity(-0.1)), "heat capacity of slab 1 is -0.1 at the start"),
        (slab(SlabFault::Extinction(-1.0)), "extinction of slab 1 is -1"),
        (
            slab(SlabFault::Change(change)),
            "change in slab 1: Change { heat: 1000000.0, rho_cp_lost: 1000.0, k_lost: 0.0, \
             temp_lo: 350.0, temp_hi: 340.0 }",
        ),
        (slab(SlabFault::NoSorbent), "slab 1 reacts but takes up no vapour"),
        (slab(SlabFault::Sink(sink)), "sink of slab 1: Sink { rate: -1.0, temp: 300.0 }"),
        (Fault::Joint(0, Joint::Conductance(0.0)), "joint 0: Conductance(0.0)"),
        (Fault::LumpJoint(Joint::Conductance(-1.0)), "joint before the lump: Conductance(-1.0)"),
        (
            Fault::Lump { cap_area: 0.0, temp_start: 300.0 },
            "lump of 0 J/(m²·K) that starts at 300 K",
        ),
        (Fault::HeldOpen, "a held last face that is open to vapour"),
        (Fault::Piece(1.5), "drive after t = 1.5 s"),
        (Fault::Vapour { t: 1.5, p: -1.0 }, "vapour at -1 Pa after t = 1.5 s"),
        (Fault::Film(1.5), "film coefficient below 0 after t = 1.5 s"),
        (Fault::NoPiece, "drive without pieces"),
        (Fault::Emissivity(1.1), "emissivity 1.1 outside 0 to 1"),
        (Fault::Surroundings(f64::NAN), "surroundings at NaN K"),
        (Fault::Shape, "lanes of different shape"),
        (Fault::Paths(33), "33 paths side by side"),
        (Fault::Columns(0), "a strip of 0 columns"),
    ] {
        let error = SolverError::from(fault);
        assert_eq!(error.to_string(), format!("unusable description: {expected}"));
    }
    let none = Reacting { reactions: Vec::new(), rho: 0.0, thinning: 0.0, k_radiation: 0.0 };
    let expected = "reactions of slab 1: Reacting { reactions: [], rho: 0.0, thinning: 0.0, k_radiation: 0.0 }";
    assert_eq!(slab(SlabFault::Reacting(none)).to_string(), expected);
    let closed = Sorbent {
        bound_65: 0.0,
        held_start: 0.0,
        porosity: 0.0,
        openness: 0.0,
        cut_off: 0.0,
        k_wet: 0.0,
        supply: None,
    };
    let message = slab(SlabFault::Sorbent(closed)).to_string();
    assert!(message.starts_with("sorbent of slab 1: Sorbent { bound_65: 0.0, "), "{message}");
}

#[test]
fn a_step_too_short() {
    // a source that is no number after a while
    let mut problem = good();
    problem.source = Some(|_, t| if t < 0.5 { 0.0 } else { f64::NAN });
    let error = run(&problem).expect_err("no number");
    let SolverError::StepTooShort { t, dt } = error else { panic!("{error:?}") };
    assert!(t > 0.3 && t < 0.5 && dt < 2e-9 && dt > 0.0, "{error}");
    assert!(error.to_string().contains("is too short at t = 0."), "{error}");
}

#[test]
fn too_many_steps() {
    let options = Options { n_steps_most: 7, ..Options::default() };
    let error = march(&good(), &options, &mut Blind).expect_err("seven steps");
    let SolverError::TooManySteps { t, n_steps: 7 } = error else { panic!("{error:?}") };
    assert!(t > 0.0 && t < 1.0, "{error}");
    assert!(error.to_string().starts_with("more than 7 steps at t = "), "{error}");
}

#[test]
fn heat_beyond_all_bounds_is_no_number() {
    // 1e9 W/m² takes the face beyond 1e5 K, where the iteration gives up
    let body = slab(medium(0.1, 1e6), vec![1e-4; 4], 300.0);
    let error = run(&single(body, Back::Insulated, flux_drive(1e9, 1.0))).expect_err("too hot");
    assert!(matches!(error, SolverError::StepTooShort { .. }), "{error:?}");
    let cold = slab(medium(0.1, 1e6), vec![1e-4; 4], 300.0);
    let error = run(&single(cold, Back::Insulated, film_drive(1e3, 0.0, 100.0)));
    assert!(matches!(error, Err(SolverError::StepTooShort { .. })), "{error:?}");
}
