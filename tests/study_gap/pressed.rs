//! Claim: a pressed layup is an exposure of thinner plies without air between them.

use stillair::garment::exposure::Orientation;
use stillair::garment::known::{Known, Provenance};
use stillair::physics::compress::{stiffness_van_wyk, thickness_measured, thickness_van_wyk};
use stillair::study::pressed::{Stand, expose_pressed, standing};

use crate::study_gap::fixtures::{exposed, flame, layup, shelf, skin, terms, times};

const PRESSURES: [f64; 4] = [500.0, 2e3, 10e3, 50e3];

#[test]
fn every_row_is_an_exposure() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let terms = terms(&exposure, skin(&shelf));
    let loose = layup(&shelf, "three-ply-loose");
    let found = expose_pressed(&loose, &terms, &PRESSURES).unwrap();
    assert_eq!(found.rows.len(), 2 + PRESSURES.len());
    assert_eq!(times(&found.rows[0].outcome), times(&exposed(&loose, &terms)));
    let mut touching = loose.clone();
    touching.stack.retain(|entry| matches!(entry, stillair::garment::layup::Entry::Ply(_)));
    assert_eq!(times(&found.rows[1].outcome), times(&exposed(&touching, &terms)));
    for (row, pressure) in found.rows[2..].iter().zip(PRESSURES) {
        assert_eq!(row.stand, Stand::Under(pressure));
        touching.pressure = Some(Known::new(pressure, Provenance::Measured, ""));
        assert_eq!(times(&row.outcome), times(&exposed(&touching, &terms)));
    }
}

#[test]
fn a_layup_without_gaps_has_no_row_for_closing_them() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let close = layup(&shelf, "published-assembly-1");
    let found = expose_pressed(&close, &terms(&exposure, skin(&shelf)), &[2e3]).unwrap();
    let stands: Vec<Stand> = found.rows.iter().map(|row| row.stand).collect();
    assert_eq!(stands, [Stand::AsItLies, Stand::Under(2e3)]);
}

/// Thickness by van Wyk's law, J. Textile Institute 37 (1946) T285, or through the measured points;
/// fibre of 8 GPa as `garment::press` takes it.
#[test]
fn plies_are_as_thick_as_the_law_says() {
    let shelf = shelf();
    let loose = layup(&shelf, "three-ply-loose");
    let stiffness = stiffness_van_wyk(8e9);
    for pressure in PRESSURES {
        let pressed = standing(&loose, Stand::Under(pressure));
        assert_eq!(pressed.gaps().count(), 0);
        for (ply, before) in pressed.plies().zip(loose.plies()) {
            let fabric = &before.fabric;
            let solid = fabric.areal_density.value / fabric.fibre_density.value;
            let stated = fabric.thickness.value;
            let from = fabric.thickness_pressure.unwrap_or(1e3);
            let expected = if fabric.compression.is_empty() {
                thickness_van_wyk((from, stated), solid, stiffness, pressure)
            } else {
                let at = |p| thickness_measured(&fabric.compression, solid, stiffness, p);
                stated * at(pressure) / at(from)
            };
            let found = ply.fabric.thickness.value;
            assert!((found - expected).abs() < 1e-12, "{}: {found}", fabric.name);
            assert_eq!(ply.fabric.areal_density, fabric.areal_density, "no mass is lost");
        }
    }
}

#[test]
fn more_pressure_is_thinner_and_sooner() {
    let shelf = shelf();
    let exposure = flame(&shelf, Orientation::HeatedFromBelow);
    let terms = terms(&exposure, skin(&shelf));
    for name in ["three-ply-loose", "published-assembly-1", "two-ply-outer-knit"] {
        let found =
            expose_pressed(&layup(&shelf, name), &terms, &[2e3, 10e3, 50e3, 100e3]).unwrap();
        for pair in found.rows.windows(2) {
            assert!(pair[1].layup.thickness() < pair[0].layup.thickness(), "{name}");
            let [one, other] = [&pair[0], &pair[1]].map(|row| times(&row.outcome));
            for (one, other) in one.iter().zip(&other) {
                assert!(other.t().unwrap() < one.t().unwrap(), "{name} {:?}", pair[1].stand);
            }
        }
    }
}
