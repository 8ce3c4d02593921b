//! Tables and formulas of standards: the copper disc, skin and its damage.

use crate::evidence::verify::bare;
use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::Reading;
use crate::evidence::verify::table::{Row, examples, rows};
use crate::garment::exposure::Disc;
use crate::physics::burn::time_to_burn;
use crate::physics::law::Law;
use crate::physics::units::{cal_cm2, kelvin};
use crate::physics::{copper, stoll};
use crate::shelf::materials::Shelf;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::problem::{Back, Drive, Joint, Medium, Piece, Problem, Slab};
use crate::solver::watch::{Next, Step, Watch};

const ISO_9151: &str = "ISO 9151, rise of the bare disc";
const ISO_6942: &str = "ISO 6942, transmission factor of a tested suit (EN 366, method B)";
const F1930: &str = "ASTM F1930, skin validation table (from memory)";
const STOLL: &str = "Stoll & Chianta 1969, table in the TPP methods of ASTM and NFPA";
const HENRIQUES: &str = "Henriques integral with the constants of ASTM F1930 (from memory)";
const COPPER: &str = "ASTM F1959, specific heat of copper (from memory)";

/// Slope of the last node at the start.
struct Slope(f64);

impl Watch for Slope {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.0 = step.slope1(step.n_nodes() - 1);
        Next::Stop
    }
}

/// Rise per second [K/s] of a black disc behind a skin of paint, 1 µm of no resistance worth mentioning.
fn bare_disc(disc: &Disc, h: f64, temp_gas: f64, q_rad: f64) -> f64 {
    let medium =
        Medium { k: Law::constant(10.0), rho_cp: Law::constant(1.0), changes: vec![], sink: None };
    let slab = Slab {
        medium,
        cells: vec![1e-6],
        extinction: None,
        sorbent: None,
        reacting: None,
        temps_start: (298.15, 298.15),
    };
    let piece = Piece { t_end: 1.0, h: (h, h), temp_gas, p_vapour: 0.0, q_rad: (q_rad, q_rad) };
    let back = Back::Lump { joint: Joint::Shared, cap_area: disc.cap_area(), temp_start: 298.15 };
    let drive = Drive { pieces: vec![piece], emissivity: 1.0, temp_surround: 298.15, blown: false };
    let problem = Problem { slabs: vec![slab], joints: vec![], back, drive, source: None };
    let mut slope = Slope(f64::NAN);
    let options = Options { dt_start: 1e-6, ..Options::default() };
    match march(&problem, &options, &mut slope) {
        Ok(_) => slope.0,
        Err(_) => f64::NAN,
    }
}

fn first(row: &Row) -> (f64, f64) {
    (row.numbers("expected")[0], row.number("abs_tolerance"))
}

/// The bare disc under 80 kW/m², radiant alone and half of it by a film.
pub fn disc_slope() -> Vec<Case> {
    let Ok(shelf) = Shelf::built_in() else { return Vec::new() };
    let Ok(exposure) = shelf.exposure("flame-80") else { return Vec::new() };
    let disc = &exposure.disc;
    let (temp_flame, temp_room) = (exposure.temp_flame, exposure.temp_room);
    let h = 40e3 / (temp_flame - temp_room);
    let radiant = bare_disc(disc, 0.0, temp_room, 80e3);
    let mixed = bare_disc(disc, h, temp_flame, 40e3);
    let named = [("iso9151_slope, radiant", radiant), ("iso9151_slope, half by gas", mixed)];
    let of_row = |row: &Row| {
        let case = |(name, k_s)| Case::within(name, ISO_9151, first(row), k_s).in_unit("K/s");
        named.map(case)
    };
    examples("iso9151_slope").iter().flat_map(of_row).collect()
}

/// The transmission factor of a suit whose rises were 6 s apart.
pub fn transmission_factor() -> Vec<Case> {
    let case = |row: &Row| {
        let (mass, cp, area) = (row.input("M"), row.input("cp"), 0.05 * 0.0503);
        let disc = Disc { mass, cp, area, emissivity: 0.95 };
        let share = disc.cap_area() * 12.0 / 6.0 / (1e3 * row.input("Q0"));
        Case::within("iso6942_tf", ISO_6942, first(row), 100.0 * share).in_unit("%")
    };
    examples("iso6942_tf").iter().map(case).collect()
}

/// Burn integrals of the fluxes and durations that must give 1.
pub fn skin_table() -> Vec<Case> {
    let Ok(shelf) = Shelf::built_in() else { return Vec::new() };
    let Ok(skin) = shelf.skin("f1930-iso13506") else { return Vec::new() };
    let case = |row: &Row| {
        let pulse = (row.number("absorbed_heat_flux_W_m2"), row.number("exposure_duration_s"));
        let omega: Reading = bare::omega(skin, pulse);
        let name = format!("Ω after {} W/m² for {} s", pulse.0, pulse.1);
        let expected = (row.number("required_omega_second_degree"), row.number("tolerance_abs"));
        let case = Case::within(name, F1930, expected, omega.value);
        Case { error: omega.error, error_most: 5e-3, ..case }
    };
    rows("skin_validation.csv").iter().map(case).collect()
}

/// The power law of Stoll's curve beside its table, and in its flux form.
pub fn stoll_law() -> Vec<Case> {
    let case = |row: &Row| {
        let t = row.number("exposure_time_s");
        let heat = row.number("total_heat_cal_cm2");
        let name = format!("Stoll heat at {t} s");
        // a fit: its largest difference is 1.2 % of the table's calories
        Case::within(name, STOLL, (heat, 0.015 * heat), cal_cm2(stoll::heat(t).value))
            .in_unit("cal/cm²")
    };
    let mut cases: Vec<Case> = rows("stoll.csv").iter().map(case).collect();
    cases.extend(examples("stoll_fit_flux").iter().map(|row| {
        let q = stoll::flux(1.0) * 1e-3;
        Case::within("stoll_fit_flux", STOLL, first(row), q).in_unit("kW/m²")
    }));
    cases
}

/// Ranges of a damage model in the table of coefficients.
fn ranges(model: &str) -> Vec<(f64, f64, f64)> {
    let of_model = |row: &Row| {
        let temp_from = kelvin(row.number("T_from_C_inclusive"));
        (temp_from, row.number("P_per_s").ln(), row.number("dE_over_R_K"))
    };
    let table = rows("henriques.csv");
    table.iter().filter(|row| row.text("model") == model).map(of_model).collect()
}

/// Times to a burn integral of 1 at constant temperature.
pub fn burn_times() -> Vec<Case> {
    let mut cases = Vec::new();
    for (start, model) in [
        ("omega_ws", "weaver_stoll"),
        ("omega_takata", "takata"),
        ("omega_henriques", "henriques_1947"),
    ] {
        for row in examples(start) {
            let (expected, share) = first(&row);
            let t = time_to_burn(kelvin(row.input("T")), ranges(model));
            let case = Case::within(row.text("id"), HENRIQUES, (expected, share * expected), t);
            cases.push(case.in_unit("s"));
        }
    }
    cases
}

/// Specific heat of copper.
pub fn copper_heat() -> Vec<Case> {
    let case = |row: &Row| {
        let cp = copper::specific_heat(kelvin(row.input("T"))).value * 1e-3;
        Case::within(row.text("id"), COPPER, first(row), cp).in_unit("J/(g·K)")
    };
    examples("cp_copper").iter().map(case).collect()
}
