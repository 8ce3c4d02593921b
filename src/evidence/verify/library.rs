//! Tables that general-purpose libraries computed, and a model written apart from this one.

use std::path::Path;

use crate::bench::expose::{Behind, Question, expose};
use crate::bench::outcome::{Figures, When};
use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::Reading;
use crate::evidence::verify::table::{Row, examples, rows};
use crate::evidence::verify::{semi_infinite, slab};
use crate::garment::layup::{Entry, Layup};
use crate::physics::gap::{nusselt_horizontal_hollands, nusselt_vertical_elsherbiny};
use crate::physics::law::Law;
use crate::physics::moisture::{
    WATER_CONDUCTIVITY, WATER_DENSITY, WATER_LATENT_HEAT, WATER_SPECIFIC_HEAT,
};
use crate::physics::units::ATMOSPHERE;
use crate::physics::{air, units};
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;

const COOLPROP: &str = "CoolProp 8.0.0, dry air at 1 atm (Lemmon et al. 2000 and 2004)";
const WATER: &str = "CoolProp 8.0.0, water (IAPWS-95; Huber et al. 2012)";
const CANTERA: &str = "cantera 3.2.0, propane at air ratio 1.5, adiabatic";
const HOLLANDS: &str = "Hollands et al., J. Heat Transfer 98 (1976) 189";
const ELSHERBINY: &str = "ElSherbiny et al., J. Heat Transfer 104 (1982) 96";
const ELSHERBINY_MPMATH: &str = "ElSherbiny et al. 1982 in 40 digits by mpmath 1.4.1";
const HT: &str = "ht 1.2.0, Hollands 1984 (for any Prandtl number)";
const APART: &str = "the same physics apart: SciPy, method of lines, stiff BDF";
const CVODE: &str = "the same physics apart: SUNDIALS CVODE, fine mesh, tight tolerance";

/// Properties of air, each within 1 %.
pub fn air_properties() -> Vec<Case> {
    let mut cases = Vec::new();
    for row in rows("air_coolprop.csv") {
        let temp = row.number("temperature_K");
        let of = |column: &str| row.number(column);
        let nu = of("viscosity_Pa_s") / of("density_kg_m3");
        for (what, unit, expected, computed) in [
            ("k", "W/(m·K)", of("conductivity_W_mK"), air::conductivity(temp).value),
            ("ν", "m²/s", nu, air::kinematic_viscosity(temp).value),
            ("ρ", "kg/m³", of("density_kg_m3"), air::density(temp)),
            ("c", "J/(kg·K)", of("specific_heat_J_kgK"), air::specific_heat(temp)),
            ("Pr", "", of("prandtl"), air::prandtl(temp)),
        ] {
            let name = format!("{what} of air at {temp} K");
            let expected = (expected, 0.01 * expected);
            cases.push(Case::within(name, COOLPROP, expected, computed).in_unit(unit));
        }
    }
    cases
}

/// Latent heat, specific heat, conductivity and density of water.
pub fn water_properties() -> Vec<Case> {
    let case = |row: &Row| {
        let expected = row.number("value");
        let (computed, share) = match row.text("quantity") {
            "latent_heat_100_C" => (WATER_LATENT_HEAT, 1e-5),
            "mean_specific_heat_25_to_100_C" => (WATER_SPECIFIC_HEAT, 2e-5),
            "conductivity_330_K" => (WATER_CONDUCTIVITY, 2e-6),
            "density_330_K" => (WATER_DENSITY, 1e-5),
            _ => (f64::NAN, 0.0),
        };
        let unit = match row.text("unit") {
            "J/kg" => "J/kg",
            "kg/m3" => "kg/m³",
            "W/(m K)" => "W/(m·K)",
            _ => "J/(kg·K)",
        };
        let expected = (expected, share * expected);
        Case::within(row.text("quantity"), WATER, expected, computed).in_unit(unit)
    };
    rows("water_coolprop.csv").iter().map(case).collect()
}

/// The gas of the shelf's flame: propane burnt with half as much air again as it needs.
pub fn flame_gas() -> Vec<Case> {
    let Ok(shelf) = Shelf::built_in() else { return Vec::new() };
    let Ok(exposure) = shelf.exposure("flame-80") else { return Vec::new() };
    let of = |row: &Row| {
        // as the shelf rounds them
        let temp = (row.number("temperature_K"), 5.0);
        let vapour = (row.number("vapour_share") * ATMOSPHERE, 50.0);
        [
            Case::within("gas of flame-80", CANTERA, temp, exposure.temp_flame).in_unit("K"),
            Case::within("vapour of flame-80", CANTERA, vapour, exposure.p_vapour_gas)
                .in_unit("Pa"),
        ]
    };
    let table = rows("burnt_propane.csv");
    table.iter().filter(|row| row.number("air_ratio") == 1.5).flat_map(of).collect()
}

/// Nusselt numbers of air gaps.
pub fn gap_numbers() -> Vec<Case> {
    let first = |row: &Row| (row.numbers("expected")[0], row.number("abs_tolerance"));
    let mut cases: Vec<Case> = examples("hollands76")
        .iter()
        .map(|row| {
            let nu = nusselt_horizontal_hollands(row.input("Ra")).value;
            Case::within(row.text("id"), HOLLANDS, first(row), nu)
        })
        .collect();
    cases.extend(examples("elsherbiny").iter().map(|row| {
        let nu = nusselt_vertical_elsherbiny(row.input("Ra"), row.input("A")).value;
        Case::within(row.text("id"), ELSHERBINY, first(row), nu)
    }));
    for row in rows("gap_ht.csv") {
        let (ra, aspect) = (row.number("rayleigh"), row.number("aspect"));
        let expected = row.number("nusselt_vertical_elsherbiny_1982");
        let nu = nusselt_vertical_elsherbiny(ra, aspect).value;
        let name = format!("vertical Nu at Ra {ra}");
        cases.push(Case::within(name, ELSHERBINY_MPMATH, (expected, 1e-8 * expected), nu));
        let expected = row.number("nusselt_horizontal_hollands_1984");
        let nu = nusselt_horizontal_hollands(ra).value;
        // the 1984 form is 0.5 to 1.4 % below that of 1976 for air
        let name = format!("horizontal Nu at Ra {ra}");
        cases.push(Case::within(name, HT, (expected, 0.014 * expected), nu));
    }
    cases
}

/// A film on a thick body that cools, and on one that heats as a flame heats cloth.
pub fn films() -> Vec<Case> {
    let mut cases = Vec::new();
    let table = rows("semi_infinite_convection.csv");
    for case in ["help", "flame"] {
        let of_case: Vec<&Row> = table.iter().filter(|row| row.text("case") == case).collect();
        let Some(head) = of_case.first() else { continue };
        let ends = (head.number("temperature_start_K"), head.number("temperature_fluid_K"));
        let body = ["conductance_W_m2K", "conductivity_W_mK", "diffusivity_m2_s"];
        let [h, k, alpha] = body.map(|column| head.number(column));
        let cell = |row: &&Row| {
            (row.number("position_m"), row.number("time_s"), row.number("temperature_K"))
        };
        let values: Vec<_> = of_case.iter().map(cell).collect();
        cases.extend(semi_infinite::film(case, ends, (h, k, alpha), &values));
    }
    cases
}

/// Two layers in perfect contact.
pub fn two_layers() -> Vec<Case> {
    let rises = ["rise_face_K", "rise_interface_K", "rise_back_K"];
    let line = |row: &Row| (row.number("time_s"), rises.map(|column| row.number(column)));
    slab::two_layers(&rows("two_layer_wall.csv").iter().map(line).collect::<Vec<_>>())
}

/// A disc behind a slab, heated slowly and fast.
pub fn disc_behind() -> Vec<Case> {
    let table = rows("slab_and_disc.csv");
    let mut cases = Vec::new();
    for case in ["slow", "fast"] {
        let of_case: Vec<&Row> = table.iter().filter(|row| row.text("case") == case).collect();
        let Some(head) = of_case.first() else { continue };
        let drive = (head.number("flux_W_m2"), head.number("thickness_m"));
        let line = |row: &&Row| {
            (row.number("time_s"), row.number("rise_face_K"), row.number("rise_disc_K"))
        };
        cases.extend(slab::disc_behind(case, drive, &of_case.iter().map(line).collect::<Vec<_>>()));
    }
    cases
}

/// The layup of the independent model as a file has it.
const TOUCHING: &str = include_str!("../../../tests/reference/layups/check-three-ply.toml");
/// The same with air on both sides of the felt.
const APART_LAYUP: &str = include_str!("../../../tests/reference/layups/check-three-ply-gaps.toml");

/// Times to 12 and 24 K and to the Stoll crossing, each with its error; NaN where they are not reached.
fn disc_times(layup: &Layup, shelf: &Shelf, error_goal: f64) -> [Reading; 3] {
    let none = [Reading { value: f64::NAN, error: f64::NAN }; 3];
    let (Ok(exposure), Some(skin)) = (shelf.exposure("check-80"), shelf.skins().next()) else {
        return none;
    };
    let question = Question::plain(Behind::Disc, skin, error_goal);
    let run = expose(layup, exposure, &question).ok().and_then(|outcome| outcome.disc);
    match run.map(|run| run.figures) {
        Some(Figures::Disc(figures)) => {
            [figures.rise12, figures.rise24, figures.stoll].map(|when| match when {
                When::At { t, error } => Reading { value: t, error },
                _ => none[0],
            })
        }
        _ => none,
    }
}

/// The three touching plies of the independent model; none if its file could not be read.
pub fn plies() -> Option<Layup> {
    let shelf = Shelf::built_in().ok()?;
    read_layup_text(TOUCHING, Path::new("check.toml"), &shelf).ok()
}

/// Three plies before the disc, touching, with constant conductivity and with air between them.
pub fn three_plies() -> Vec<Case> {
    const NAMES: [&str; 3] = ["12 K", "24 K", "Stoll"];
    let Ok(shelf) = Shelf::built_in() else { return Vec::new() };
    let read = |text: &str| read_layup_text(text, Path::new("check.toml"), &shelf);
    let (Ok(touching), Ok(apart)) = (read(TOUCHING), read(APART_LAYUP)) else { return Vec::new() };
    let mut even = touching.clone();
    for entry in &mut even.stack {
        if let Entry::Ply(ply) = entry {
            let law = &mut ply.fabric.conductivity.value;
            *law = Law::constant(law.at(units::kelvin(25.0)));
        }
    }
    let mut cases = Vec::new();
    for (what, layup, expected, share) in [
        ("three plies", &touching, &[6.894, 10.012, 8.170][..], 5e-3),
        ("three plies, constant k", &even, &[9.871, 15.376], 5e-3),
        // its correlations of air are fitted apart
        ("three plies with air", &apart, &[10.08, 14.72, 12.86], 0.01),
    ] {
        let times = disc_times(layup, &shelf, 1e-3);
        for ((name, t), expected) in NAMES.iter().zip(times).zip(expected) {
            let bound = share * expected;
            let case = Case::within(format!("{what}, {name}"), APART, (*expected, bound), t.value);
            cases.push(Case { error: t.error, ..case }.in_unit("s"));
        }
    }
    let [_, t, _] = disc_times(&touching, &shelf, 1e-4);
    // the last printed digit of that run, and our own error
    let case = Case::within("three plies, 24 K", CVODE, (10.0129, 5e-5 + t.error), t.value);
    cases.push(Case { error: t.error, error_most: 1e-3, ..case }.in_unit("s"));
    cases
}
