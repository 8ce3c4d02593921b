//! Layups, exposures and skins that the tests put before the bench.

use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::{Behind, Question, expose};
use stillair::bench::outcome::{DiscFigures, Figures, Outcome, SkinFigures, When};
use stillair::garment::exposure::{Boundary, Disc, Exposure, Flux, Orientation};
use stillair::garment::fabric::{Fabric, Role};
use stillair::garment::known::{Known, Provenance};
use stillair::garment::layup::{Entry, Gap, Layup, Ply, PlyJoint};
use stillair::garment::skin::{Damage, DamageRange, Skin, SkinLayer};
use stillair::physics::law::Law;
use stillair::physics::units::kelvin;
use stillair::physics::vapour;

use crate::reference::rows;

pub fn known<T>(value: T) -> Known<T> {
    Known::new(value, Provenance::Invented, "invented for the tests")
}

/// A dry opaque fabric: areal density [g/m²], thickness [mm], conductivity at 25 °C and slope.
pub fn fabric(g_m2: f64, mm: f64, k: f64, slope: f64) -> Fabric {
    Fabric {
        name: "fabric".into(),
        description: String::new(),
        role: Role::Outer,
        fibre: String::new(),
        areal_density: known(g_m2 * 1e-3),
        thickness: known(mm * 1e-3),
        thickness_pressure: None,
        compression: vec![],
        conductivity: known(Law::line(k, kelvin(25.0), slope)),
        specific_heat: known(Law::line(1200.0, kelvin(25.0), 2.0)),
        face_void: known(20e-6),
        emissivity: known(0.9),
        transmissivity: known(0.0),
        regain: known(0.0),
        regain_conditioned: 0.0,
        fibre_regain: 0.0,
        vapour_resistance: known(0.0),
        fibre_density: known(1400.0),
        fibre_conductivity: known(0.25),
        decomposition: None,
        charring: Vec::new(),
        temp_limit: known(kelvin(370.0)),
        limit_unfollowed: None,
        limit_event: "decomposes".into(),
    }
}

/// A ply whose inner face shares the temperature of the next.
pub fn ply(fabric: Fabric) -> Entry {
    Entry::Ply(Box::new(Ply { fabric, joint: PlyJoint::Shared }))
}

pub fn gap(mm: f64) -> Entry {
    Entry::Gap(Gap { thickness: known(mm * 1e-3) })
}

pub fn layup(stack: Vec<Entry>) -> Layup {
    Layup { name: "layup".into(), note: String::new(), stack, pressure: None, quilting: None }
}

/// Outer, felt and inner of the independent model, conductivity slopes multiplied by `slope`.
pub fn three_plies(slope: f64) -> [Fabric; 3] {
    [
        fabric(180.0, 0.45, 0.055, 1.0e-4 * slope),
        fabric(70.0, 1.2, 0.038, 1.5e-4 * slope),
        fabric(130.0, 0.6, 0.050, 1.0e-4 * slope),
    ]
}

pub fn touching(fabrics: impl IntoIterator<Item = Fabric>) -> Layup {
    layup(fabrics.into_iter().map(ply).collect())
}

/// ISO 9151's disc under 80 kW/m², half of it radiant, for at most 60 s.
pub fn flame() -> Exposure {
    Exposure {
        name: "flame".into(),
        description: String::new(),
        method: "ISO 9151".into(),
        flux: Flux::Steady(80e3),
        radiant_share: 0.5,
        temp_flame: kelvin(2000.0),
        temp_room: kelvin(25.0),
        duration: None,
        t_end: 60.0,
        h_cooling: 10.0,
        p_vapour_gas: vapour::room_pressure(kelvin(25.0)),
        orientation: Orientation::HeatedFromBelow,
        boundary: Boundary::default(),
        spacer: 0.0,
        disc: Disc { mass: 0.018, cp: 385.0, area: 12.566e-4, emissivity: 0.95 },
        source: String::new(),
    }
}

/// The skin of ASTM F1930 and ISO 13506 from the reference tables, with the damage
/// coefficients of Weaver and Stoll at the basal layer and of Takata below.
pub fn skin() -> Skin {
    let layers = rows("skin_layers.csv");
    let of_model = layers.iter().filter(|row| row.text("model") == "f1930_iso13506");
    Skin {
        name: "f1930".into(),
        description: String::new(),
        layers: of_model
            .map(|row| SkinLayer {
                name: row.text("layer").into(),
                thickness: row.number("thickness_m"),
                k: row.number("k_W_mK"),
                rho_cp: row.number("rho_cp_J_m3K"),
                perfusion: 0.0,
            })
            .collect(),
        temp_surface: kelvin(32.5),
        temp_core: kelvin(33.5),
        basal: damage("weaver_stoll"),
        dermal: damage("takata"),
        source: String::new(),
    }
}

fn damage(model: &str) -> Damage {
    let table = rows("henriques.csv");
    let of_model = table.iter().filter(|row| row.text("model") == model);
    Damage {
        ranges: of_model
            .map(|row| DamageRange {
                temp_from: kelvin(row.number("T_from_C_inclusive")),
                ln_rate: row.number("P_per_s").ln(),
                temp_activation: row.number("dE_over_R_K"),
            })
            .collect(),
    }
}

/// Both backings, at an error goal.
pub fn outcome(layup: &Layup, exposure: &Exposure, behind: Behind, error_goal: f64) -> Outcome {
    outcome_without((layup, exposure), behind, error_goal, Without::default())
}

/// The same where water stays.
pub fn staying(layup: &Layup, exposure: &Exposure, behind: Behind, error_goal: f64) -> Outcome {
    let without = Without::these(&[Effect::MovingVapour]);
    outcome_without((layup, exposure), behind, error_goal, without)
}

fn outcome_without(
    (layup, exposure): (&Layup, &Exposure),
    behind: Behind,
    error_goal: f64,
    without: Without,
) -> Outcome {
    let skin = skin();
    let question = Question { without, ..Question::plain(behind, &skin, error_goal) };
    expose(layup, exposure, &question).expect("an outcome")
}

pub fn disc(layup: &Layup, exposure: &Exposure, error_goal: f64) -> DiscFigures {
    let outcome = outcome(layup, exposure, Behind::Disc, error_goal);
    match outcome.disc.expect("a run").figures {
        Figures::Disc(figures) => figures,
        Figures::Skin(_) => panic!("figures of skin in the run of the disc"),
    }
}

pub fn on_skin(layup: &Layup, exposure: &Exposure, error_goal: f64) -> SkinFigures {
    let outcome = outcome(layup, exposure, Behind::Skin, error_goal);
    match outcome.skin.expect("a run").figures {
        Figures::Skin(figures) => figures,
        Figures::Disc(_) => panic!("figures of the disc in the run of skin"),
    }
}

/// Time and error [s]; fails unless it happened.
#[track_caller]
pub fn at(when: When) -> (f64, f64) {
    match when {
        When::At { t, error } => {
            assert!(t.is_finite() && error.is_finite() && error >= 0.0, "{when:?}");
            (t, error)
        }
        _ => panic!("expected a time, got {when:?}"),
    }
}
