//! Claim: standard cases take the work they took before; a change here is a change of cost.
//! Source: none outside; the counts of this code.
//! Tolerance: none.

use crate::solver::rig::{Blind, deep_cells, flux_drive, medium, single, slab};
use stillair::physics::gap::Convection;
use stillair::physics::law::Law;
use stillair::solver::ledger::Ledger;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Change, Drive, Joint, Piece, Problem};
use stillair::solver::sorbent::Sorbent;

fn counts(problem: &Problem) -> String {
    let Ledger { n_steps, n_rejected, n_newton, .. } =
        march(problem, &Options::default(), &mut Blind).expect("a march");
    format!("{n_steps} steps, {n_rejected} rejected, {n_newton} Newton iterations")
}

#[test]
fn snapshot_copper_under_constant_flux() {
    let cells = deep_cells(0.0125, 12, 1.08, 1.2);
    let body = slab(medium(401.0, 401.0 / 1.17e-4), cells, 293.15);
    let problem = single(body, Back::Insulated, flux_drive(3e5, 120.0));
    insta::assert_snapshot!(counts(&problem), @"22 steps, 0 rejected, 45 Newton iterations");
}

/// A flame on cloth, 40 kW/m² by the gas and 36 by radiation.
fn flame(t_end: f64) -> Drive {
    let h = 40e3 / 1975.0;
    let piece = Piece { t_end, h: (h, h), temp_gas: 2273.15, p_vapour: 0.0, q_rad: (36e3, 36e3) };
    Drive { pieces: vec![piece], emissivity: 0.9, temp_surround: 298.15, blown: false }
}

fn disc(joint: Joint) -> Back {
    Back::Lump { joint, cap_area: 5514.72, temp_start: 298.15 }
}

#[test]
fn snapshot_moist_felt_before_a_disc() {
    let mut felt = slab(medium(0.05, 1e5), vec![2.5e-4; 10], 298.15);
    felt.medium.changes =
        vec![Change { heat: 1e7, rho_cp_lost: 2e4, k_lost: 0.0, temp_lo: 348.15, temp_hi: 398.15 }];
    insta::assert_snapshot!(counts(&single(felt, disc(Joint::Shared), flame(15.0))), @"62 steps, 12 rejected, 317 Newton iterations");
}

#[test]
fn snapshot_conditioned_felt_whose_water_moves_before_a_disc() {
    let mut felt = slab(medium(0.05, 1e5), vec![2.5e-4; 10], 298.15);
    let (bound_65, porosity) = (4.0, 0.93);
    felt.sorbent = Some(Sorbent {
        bound_65,
        held_start: bound_65,
        porosity,
        openness: porosity.powf(1.5),
        cut_off: 0.12,
        k_wet: 0.01,
        supply: None,
    });
    let problem = single(felt, disc(Joint::Conductance(400.0)), flame(15.0));
    insta::assert_snapshot!(counts(&problem), @"86 steps, 11 rejected, 279 Newton iterations");
}

#[test]
fn snapshot_two_plies_and_an_air_space() {
    let mut outer = slab(medium(0.05, 4e5), vec![1e-4; 5], 298.15);
    outer.medium.k = Law::line(0.05, 298.15, 1e-4);
    let inner = slab(medium(0.04, 2e5), vec![2e-4; 5], 298.15);
    let convection = Convection::HeatedFromBelow;
    let air = |thickness| Joint::Air { thickness, exchange: 0.82, convection, cap_area: 1.0 };
    let problem = Problem {
        slabs: vec![outer, inner],
        joints: vec![air(6e-3)],
        back: disc(air(2e-3)),
        drive: flame(15.0),
        source: None,
    };
    insta::assert_snapshot!(counts(&problem), @"36 steps, 0 rejected, 74 Newton iterations");
}
