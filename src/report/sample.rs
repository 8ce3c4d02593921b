//! A made-up outcome for the tests of the views; its numbers stand for nothing.

use crate::bench::outcome::Lies;
use crate::bench::outcome::{
    Column, ColumnKind, Curves, DiscFigures, Figures, HeatAccount, Numerics, Outcome, PartAccount,
    PlyFate, PlyWater, Run, SkinFigures, Spot, Valued, WaterAccount, When,
};
use crate::garment::band::{Band, Bands, Class, Factors, Reading};
use crate::garment::exposure::{Boundary, Disc, Exposure, Flux, Orientation};
use crate::garment::fabric::{Fabric, Role};
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, Ply, PlyJoint};
use crate::garment::target::{Figure, Judged, Target};
use crate::physics::law::Law;
use crate::physics::units::kelvin;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;

/// A ply, a gap and a ply before disc and skin.
pub fn outcome() -> Outcome {
    let layup = Layup {
        name: "sample".to_string(),
        note: "invented for the tests of the views ".repeat(4),
        stack: vec![ply("outer-with-a-rather-long-name-of-many-parts-210"), gap(), ply("inner")],
        pressure: None,
        quilting: None,
    };
    let (disc, skin) = (Some(disc_run()), Some(skin_run()));
    Outcome { layup, exposure: exposure(), lies: Lies::Flat, disc, skin }
}

/// A target of 12 s on HTI24 under the sample's exposure.
pub fn target() -> Target {
    Target {
        name: "sample-12".to_string(),
        description: "invented".to_string(),
        standard: "none".to_string(),
        figure: Figure::Rise24,
        at_least: 12.0,
        exposure: "sample-80".to_string(),
        judged_on: Some(Judged::Lowest),
        source: String::new(),
    }
}

/// Three plies of the shelf, for what goes by class.
pub fn three_plies() -> Layup {
    let shelf = Shelf::built_in().expect("the built-in shelf has no fault");
    let name = "three-ply-loose";
    let (text, path) = (shelf.layup_text(name), shelf.layup_path(name));
    let (text, path) = (text.expect("it is on the shelf"), path.expect("it is on the shelf"));
    read_layup_text(text, path, &shelf).expect("a layup of the shelf has no fault")
}

/// A table with the same factors for every class and figure, so that no word of a test hangs on
/// what was measured.
pub fn bands() -> Bands {
    let row = |(class, reading)| Band {
        class,
        reading,
        factors: Factors { lower: 0.75, upper: 1.15 },
        n_cases: 0,
        basis: "invented for the tests".to_string(),
        source: String::new(),
        anchored: None,
    };
    let all = Class::ALL.into_iter().flat_map(|class| Reading::ALL.map(|reading| (class, reading)));
    Bands::new(all.map(row).collect())
}

fn exposure() -> Exposure {
    Exposure {
        name: "sample-80".to_string(),
        description: String::new(),
        method: "none".to_string(),
        flux: Flux::Steady(80e3),
        radiant_share: 0.5,
        temp_flame: kelvin(2000.0),
        temp_room: 298.15,
        duration: None,
        t_end: 60.0,
        h_cooling: 20.0,
        p_vapour_gas: 1600.0,
        orientation: Orientation::HeatedFromBelow,
        boundary: Boundary::default(),
        spacer: 0.0,
        disc: Disc { mass: 0.018, cp: 385.0, area: 1.2566e-3, emissivity: 0.95 },
        source: String::new(),
    }
}

fn ply(name: &str) -> Entry {
    let known = |value| Known::new(value, Provenance::Invented, "");
    let fabric = Fabric {
        name: name.to_string(),
        description: "a ply".to_string(),
        role: Role::Outer,
        fibre: "sample".to_string(),
        areal_density: Known::new(0.21, Provenance::DataSheet, "sheet"),
        thickness: Known::new(0.45e-3, Provenance::Measured, ""),
        thickness_pressure: Some(1000.0),
        compression: Vec::new(),
        conductivity: Known::new(Law::line(0.055, 298.15, 0.0001), Provenance::Estimated, "rule"),
        specific_heat: Known::new(Law::constant(1200.0), Provenance::Published, "book"),
        face_void: Known::new(36e-6, Provenance::Estimated, "rule"),
        emissivity: Known::new(0.9, Provenance::CommonPractice, ""),
        transmissivity: known(0.0),
        regain: known(0.045),
        regain_conditioned: 0.045,
        fibre_regain: 0.045,
        vapour_resistance: known(0.0),
        fibre_density: known(1380.0),
        fibre_conductivity: known(0.25),
        decomposition: None,
        charring: Vec::new(),
        temp_limit: Known::new(698.15, Provenance::Memory, ""),
        limit_unfollowed: None,
        limit_event: "decomposes".to_string(),
    };
    Entry::Ply(Box::new(Ply { fabric, joint: PlyJoint::Faces }))
}

fn gap() -> Entry {
    Entry::Gap(Gap { thickness: Known::new(1e-3, Provenance::Invented, "") })
}

fn fates() -> Vec<PlyFate> {
    let fate = |name: &str, limit_passed| PlyFate {
        name: name.to_string(),
        temp_limit: Some(698.15),
        limit_event: "decomposes".to_string(),
        limit_passed,
        temp_peak: 900.0,
    };
    vec![
        fate("outer-with-a-rather-long-name-of-many-parts-210", When::At { t: 12.0, error: 0.01 }),
        fate("inner", When::NotWithin { t_end: 60.0 }),
    ]
}

fn water() -> WaterAccount {
    let ply = |name: &str, start, left| PlyWater { name: name.to_string(), start, left };
    WaterAccount {
        start: 0.021,
        gone: 0.013,
        behind: Some(0.005),
        plies: vec![
            ply("outer-with-a-rather-long-name-of-many-parts-210", 0.012, 0.0),
            ply("inner", 0.009, 0.003),
        ],
        heat_carried: Some(1.25e4),
    }
}

fn heat() -> HeatAccount {
    let part = |name: &str, is_gap, stored, resistance| PartAccount {
        name: name.to_string(),
        is_gap,
        stored,
        resistance,
        resistance_cold: 1.5 * resistance,
        temp_outer: 700.0,
        temp_inner: 500.0,
    };
    HeatAccount {
        t: 14.72,
        moment: "at HTI24".to_string(),
        offered: 1.1776e6,
        entered: 4.0e5,
        parts: vec![
            part("outer-with-a-rather-long-name-of-many-parts-210", false, 1.2e5, 0.008),
            part("air gap 1.0 mm", true, 0.0, 0.02),
            part("inner", false, 1.48e5, 0.009),
        ],
        passed_on: 1.32e5,
    }
}

fn run(figures: Figures, header: &str) -> Run {
    let column = |kind, header: &str, values| Column {
        label: header.to_string(),
        header: header.to_string(),
        spot: Spot::OuterFace,
        kind,
        values,
    };
    Run {
        figures,
        heat: heat(),
        water: Some(water()),
        plies: fates(),
        curves: Curves {
            t: vec![0.0, 0.5],
            columns: vec![
                column(ColumnKind::Temperature, "outer_face_C", vec![298.15, 523.15]),
                column(ColumnKind::Flux, header, vec![0.0, 1.25e4]),
            ],
        },
        numerics: Numerics {
            audit: 2.3e-9,
            water_lost: Some(2e-17),
            n_nodes: 61,
            n_steps: 190,
            n_rejected: 3,
            n_newton: 420,
            error_goal: 0.005,
            goal_met: true,
        },
    }
}

fn disc_run() -> Run {
    let figures = DiscFigures {
        rise12: When::At { t: 10.0834, error: 0.004 },
        rise24: When::At { t: 14.7211, error: 0.006 },
        rise24_less_12: Some(Valued { value: 4.6377, error: 0.007 }),
        stoll: When::Unsettled { t: 12.86 },
        tpp: Some(Valued { value: 1.0288e6, error: 400.0 }),
        flux_mean_12_24: Some(1.43e4),
        transmission_factor: Some(0.179),
    };
    run(Figures::Disc(figures), "flux_to_disc_kW_m2")
}

fn skin_run() -> Run {
    let figures = SkinFigures {
        basal_44: When::At { t: 7.31, error: 0.003 },
        first_degree: When::At { t: 11.2, error: 0.01 },
        second_degree: When::At { t: 12.4, error: 0.01 },
        third_degree: When::NotWithin { t_end: 60.0 },
        temp_basal_peak: Valued { value: 351.22, error: 0.05 },
        t_basal_peak: 60.0,
        omega_basal: Valued { value: 3.2e7, error: 2.0e4 },
        omega_dermal: Valued { value: 0.23, error: 0.002 },
        skin: "sample-skin".to_string(),
    };
    run(Figures::Skin(figures), "flux_to_skin_kW_m2")
}
