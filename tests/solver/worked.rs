//! Claim: the march gives the published answers of transient and steady conduction.
//! Source: `worked_examples.csv`, `two_layer_wall.csv`, `slab_and_disc.csv` and
//! `semi_infinite_convection.csv`; each case names its own.
//! Tolerance: half a unit of the last printed digit (2e-4, as their rows say, for the one-term
//! coefficients) and the solver's own numerical error,
//! which must be below that, or below 1e-4 of the rise for the computed tables.
//!
//! Left out: `si_q_copper_fd_*`, which show other methods' errors on coarse meshes.

use crate::cases::{Case, convection, semi_infinite, slab, steady};
use crate::close::within;
use crate::reference::{examples, rows};
use stillair::physics::gap::Convection;

#[track_caller]
fn check(cases: Vec<Case>) {
    assert!(!cases.is_empty());
    let mut faults = String::new();
    for case in cases {
        let off = (case.computed - case.expected).abs();
        let line = format!(
            "{}: computed {} ± {:.1e}, expected {} ({}), off by {off:.1e}, bound {:.1e}\n",
            case.name, case.computed, case.error, case.expected, case.source, case.bound
        );
        // written so that NaN fails
        let holds = off <= case.bound && case.error <= case.error_most && case.bound.is_finite();
        print!("{line}");
        if !holds {
            faults += &line;
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

/// The case repeats the row's expected value, to the digits of the row.
fn same_as_rows(cases: &[Case]) {
    for case in cases {
        let id = case.name.split(',').next().unwrap_or_default();
        let table = rows("worked_examples.csv");
        if let Some(row) = table.iter().find(|row| row.text("id") == id) {
            let values = row.text("expected").split(';').map(|v| v.parse::<f64>().expect("number"));
            let nearest = values.map(|v| (v - case.expected).abs()).fold(f64::INFINITY, f64::min);
            let derived = case.name.ends_with("back") || case.name.ends_with("face");
            let known = nearest <= 1e-12 * case.expected.abs();
            assert!(known || derived, "{}: {} is not in its row", case.name, case.expected);
        }
    }
}

#[track_caller]
fn check_rows(cases: Vec<Case>) {
    same_as_rows(&cases);
    check(cases);
}

#[test]
fn semi_infinite_constant_flux() {
    check_rows(semi_infinite::constant_flux());
    check_rows(semi_infinite::linear_start());
    check_rows(semi_infinite::periodic_flux());
}

#[test]
fn semi_infinite_surface_temperature() {
    check_rows(semi_infinite::surface_step());
    check_rows(semi_infinite::surface_ramp());
}

#[test]
fn semi_infinite_hot_zone_and_perfusion() {
    check_rows(semi_infinite::hot_zone());
    check_rows(semi_infinite::perfused());
}

#[test]
fn two_bodies_in_contact() {
    check_rows(semi_infinite::contacts());
}

#[test]
fn semi_infinite_film() {
    for case in ["help", "flame"] {
        let table = rows("semi_infinite_convection.csv");
        let of_case: Vec<_> = table.iter().filter(|row| row.text("case") == case).collect();
        let first = of_case[0];
        let ends = (first.number("temperature_start_K"), first.number("temperature_fluid_K"));
        let body = (
            first.number("conductance_W_m2K"),
            first.number("conductivity_W_mK"),
            first.number("diffusivity_m2_s"),
        );
        let cell = |row: &&crate::reference::Row| {
            (row.number("position_m"), row.number("time_s"), row.number("temperature_K"))
        };
        let values: Vec<_> = of_case.iter().map(cell).collect();
        check(semi_infinite::film(case, ends, body, &values));
    }
}

#[test]
fn plane_wall_with_convection() {
    for row in examples("oneterm_") {
        check(convection::one_term(row.input("Bi"), row.expected[0], row.expected[1]));
    }
    check_rows(convection::pipe_wall());
    check(convection::wall_faces());
}

#[test]
fn lumps() {
    check_rows(convection::bead());
    check_rows(convection::panel());
}

#[test]
fn finite_slabs() {
    check_rows(slab::flux_insulated());
    check_rows(slab::fixed_faces());
    let table: Vec<(f64, [f64; 3])> = rows("two_layer_wall.csv")
        .iter()
        .map(|row| {
            let rises = ["rise_face_K", "rise_interface_K", "rise_back_K"];
            (row.number("time_s"), rises.map(|column| row.number(column)))
        })
        .collect();
    check(slab::two_layers(&table));
}

#[test]
fn disc_behind_a_slab() {
    for (case, drive) in [("slow", (1e4, 1e-3)), ("fast", (2e4, 2e-3))] {
        let table: Vec<(f64, f64, f64)> = rows("slab_and_disc.csv")
            .iter()
            .filter(|row| row.text("case") == case)
            .map(|row| {
                within(row.number("flux_W_m2"), drive.0, 0.0);
                within(row.number("thickness_m"), drive.1, 0.0);
                (row.number("time_s"), row.number("rise_face_K"), row.number("rise_disc_K"))
            })
            .collect();
        check(slab::disc_behind(case, drive, &table));
    }
    check_rows(slab::disc_times());
    check_rows(slab::massless());
}

#[test]
fn chains_at_rest() {
    check_rows(steady::composite());
    check_rows(steady::gap_outside());
    let vertical = Convection::Vertical { aspect: 8.0 };
    for convection in [Convection::Still, Convection::HeatedFromBelow, vertical] {
        check(steady::gap_inside(convection));
    }
}
