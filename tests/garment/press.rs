//! Claim: under pressure a fabric is thinner, never thinner than its fibre, and its conductivity
//! follows the share of the volume that fibre fills.
//! Source: van Wyk, Journal of the Textile Institute 37 (1946) T285, with K = 0.01 and a fibre
//! of 8 GPa, both from memory; measured points as the shelf gives them.
//! Tolerance: rounding, where one number must come out; order elsewhere.

use approx::assert_relative_eq;
use stillair::garment::known::Provenance;
use stillair::garment::press::pressed;
use stillair::shelf::materials::Shelf;

#[test]
fn measured_points_are_met() {
    let shelf = Shelf::built_in().unwrap();
    // 0.5:1.60 2:1.42 10:1.15 50:0.88 in kPa and mm
    let felt = shelf.fabric("felt-needled-120").unwrap();
    for (kpa, mm) in [(0.5, 1.60), (2.0, 1.42), (10.0, 1.15), (50.0, 0.88)] {
        let at = pressed(felt, kpa * 1e3);
        assert_relative_eq!(at.thickness.value, mm * 1e-3, max_relative = 1e-12);
        assert_eq!(at.thickness_pressure, Some(kpa * 1e3));
    }
}

#[test]
fn without_points_the_law_of_van_wyk_holds() {
    let shelf = Shelf::built_in().unwrap();
    let felt = shelf.fabric("felt-needled-100").unwrap();
    let at = pressed(felt, 20e3);
    let fraction = |thickness: f64| 0.100 / felt.fibre_density.value / thickness;
    // P − P1 = K E (φ³ − φ1³), K E = 0.01 · 8 GPa, P1 = 0.5 kPa
    let pressure = 0.01 * 8e9 * (fraction(at.thickness.value).powi(3) - fraction(1.3e-3).powi(3));
    assert_relative_eq!(pressure, 19.5e3, max_relative = 1e-9);
    assert_eq!(at.thickness.provenance, Provenance::Estimated);
    assert!(at.thickness.source.contains("van Wyk"), "{}", at.thickness.source);
}

#[test]
fn an_estimated_conductivity_is_estimated_anew() {
    let shelf = Shelf::built_in().unwrap();
    let felt = shelf.fabric("felt-spunlace-125").unwrap();
    let at = pressed(felt, 20e3);
    let mm = at.thickness.value * 1e3;
    let folder = std::env::temp_dir().join(format!("stillair-press-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let row = format!(
        "name,role,fibre,areal_density_g_m2,thickness_mm,from\nas-pressed,felt,meta-aramid,125,{mm:.17},measured\n"
    );
    std::fs::write(folder.join("fabrics.csv"), row).unwrap();
    let shelf = Shelf::with_dirs(std::slice::from_ref(&folder)).unwrap();
    std::fs::remove_dir_all(folder).unwrap();
    let anew = &shelf.fabric("as-pressed").unwrap().conductivity.value;
    for celsius in [25.0, 100.0, 250.0, 475.0, 800.0] {
        let temp = celsius + 273.15;
        let k = at.conductivity.value.at(temp);
        // between the corners of the straight lines a product of two differs from a third
        assert_relative_eq!(k, anew.at(temp), max_relative = 1e-9);
    }
}

#[test]
fn a_given_conductivity_moves_with_the_estimate() {
    let shelf = Shelf::built_in().unwrap();
    let felt = shelf.fabric("felt-needled-100").unwrap();
    let at = pressed(felt, 50e3);
    assert!(at.conductivity.value.at(298.15) > felt.conductivity.value.at(298.15));
    // radiation in a felt falls as it is pressed: it gains least, or loses, where it is hot
    let gain = |temp: f64| at.conductivity.value.at(temp) / felt.conductivity.value.at(temp);
    assert!(gain(298.15) > gain(600.0), "{} {}", gain(298.15), gain(600.0));
    assert_eq!(at.conductivity.provenance, Provenance::Estimated);
}

#[test]
fn more_pressure_is_never_thicker_and_pressing_twice_is_pressing_once() {
    let shelf = Shelf::built_in().unwrap();
    for fabric in shelf.fabrics() {
        let solid = fabric.areal_density.value / fabric.fibre_density.value;
        let mut before = f64::INFINITY;
        for kpa in [0.1, 0.5, 1.0, 2.0, 5.0, 20.0, 60.0, 100.0] {
            let at = pressed(fabric, kpa * 1e3);
            assert!(at.thickness.value <= before && at.thickness.value >= solid, "{}", fabric.name);
            assert!(at.face_void.value <= before, "{}", fabric.name);
            before = at.thickness.value;
            assert_eq!(pressed(&at, kpa * 1e3), at);
        }
    }
}
