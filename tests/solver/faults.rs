//! Claim: what cannot be computed ends in an error that says where and why, never in numbers.
//! Source: none outside; the descriptions' own rules (`solver::problem`).
//! Tolerance: none.

use crate::solver::rig::{Blind, film_drive, flux_drive, medium, single, slab};
use stillair::physics::gap::Convection;
use stillair::physics::law::Law;
use stillair::solver::error::SolverError;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Change, Joint, Piece, Problem, Sink};

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

/// The change makes the description unusable, and the error's text holds `part`.
#[track_caller]
fn refused(part: &str, change: impl FnOnce(&mut Problem)) {
    let mut problem = good();
    change(&mut problem);
    match run(&problem) {
        Err(SolverError::Description { what }) => assert!(what.contains(part), "{what}"),
        other => panic!("{part}: {other:?}"),
    }
}

#[test]
fn the_good_one_runs() {
    run(&good()).expect("a march");
}

#[test]
fn slabs() {
    refused("0 slabs", |p| p.slabs.clear());
    refused("2 slabs, 0 joints", |p| p.joints.clear());
    refused("slab 1 has a cell without size", |p| p.slabs[1].cells.clear());
    for size in [0.0, -1e-4, f64::NAN, f64::INFINITY] {
        refused("slab 0 has a cell without size", |p| p.slabs[0].cells[2] = size);
    }
    for temp in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        refused("slab 0 starts at", |p| p.slabs[0].temps_start.1 = temp);
    }
    for value in [0.0, -0.1, f64::NAN, f64::INFINITY] {
        refused("conductivity of slab 0", |p| p.slabs[0].medium.k = Law::constant(value));
        refused("heat capacity of slab 1", |p| p.slabs[1].medium.rho_cp = Law::constant(value));
    }
    for extinction in [-1.0, f64::NAN, f64::INFINITY] {
        refused("extinction of slab 1", |p| p.slabs[1].extinction = Some(extinction));
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
        refused("change in slab 0", |p| p.slabs[0].medium.changes = vec![bad]);
    }
    for (rate, temp) in [(f64::NAN, 300.0), (-1.0, 300.0), (1e3, f64::NAN)] {
        refused("sink of slab 1", |p| p.slabs[1].medium.sink = Some(Sink { rate, temp }));
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
        refused("joint 0", |p| p.joints[0] = bad);
        refused("joint before the lump", |p| {
            p.back = Back::Lump { joint: bad, cap_area: 5e3, temp_start: 300.0 };
        });
    }
    for (cap_area, temp_start) in
        [(0.0, 300.0), (-1.0, 300.0), (f64::NAN, 300.0), (5e3, f64::NAN), (5e3, 0.0)]
    {
        refused("lump", |p| p.back = Back::Lump { joint: Joint::Shared, cap_area, temp_start });
    }
}

#[test]
fn drives() {
    let piece =
        |t_end| Piece { t_end, h: (0.0, 0.0), temp_gas: 300.0, p_vapour: 0.0, q_rad: (1e3, 1e3) };
    refused("drive without pieces", |p| p.drive.pieces.clear());
    for times in [[1.0, 1.0], [1.0, 0.5], [1.0, f64::NAN], [0.0, 1.0], [-1.0, 1.0]] {
        refused("drive after t", |p| p.drive.pieces = times.map(piece).to_vec());
    }
    for value in [f64::NAN, f64::INFINITY] {
        refused("drive after t", |p| p.drive.pieces[0].h.1 = value);
        refused("drive after t", |p| p.drive.pieces[0].temp_gas = value);
        refused("drive after t", |p| p.drive.pieces[0].q_rad.0 = value);
        refused("surroundings", |p| p.drive.temp_surround = value);
    }
    refused("film", |p| p.drive.pieces[0].h.0 = -1.0);
    for emissivity in [-0.1, 1.1, f64::NAN] {
        refused("emissivity", |p| p.drive.emissivity = emissivity);
    }
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
