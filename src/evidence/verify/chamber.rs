//! Four layers between a warm chamber and a body: a published series that was itself computed.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{At, Reading, film_drive, medium, slab, temps};
use crate::evidence::verify::table::{Row, rows};
use crate::physics::units::{celsius, kelvin};
use crate::solver::problem::{Back, Joint, Problem};

/// Density [kg/m³], specific heat [J/(kg·K)], conductivity [W/(m·K)] and thickness [m], outside first.
const LAYERS: [[f64; 4]; 4] = [
    [300.0, 1377.0, 0.082, 0.6e-3],
    [862.0, 2100.0, 0.37, 6e-3],
    [74.2, 1726.0, 0.045, 3.6e-3],
    [1.18, 1005.0, 0.028, 5e-3],
];
/// Films to the chamber and to the body, as the head of the table gives them [W/(m²·K)].
const FILMS: (f64, f64) = (120.29, 8.3646);
/// Chamber and body [°C].
const TEMPS_C: (f64, f64) = (75.0, 37.0);
/// Cells of a layer before halving.
const N_CELLS: usize = 8;
/// Largest difference allowed [K]: two units of the last printed digit.
///
/// The series is itself the work of an unknown program. An expansion in eigenvectors on 240 cells
/// (NumPy 2.4.6) differs from it by 0.015 K at 30 and 60 s, by 0.009 K at 1645 s, by less elsewhere.
const BOUND: f64 = 0.02;
/// Largest numerical error of our own [K].
const ERROR_MOST: f64 = 1e-3;

const SOURCE: &str = "Chinese undergraduate contest in modelling 2018, problem A: a published series that \
was computed, no measurement (constant properties, rounded to 0.01 K); films by least squares";

/// Temperature at the outside of the skin, at the times of the table.
pub fn series() -> Vec<Case> {
    let table = rows("chamber_75C.csv");
    let start = kelvin(TEMPS_C.1);
    let layer = |[rho, cp, k, thickness]: [f64; 4]| {
        let cells = vec![thickness / N_CELLS as f64; N_CELLS];
        slab(medium(k, rho * cp), cells, start)
    };
    let mut slabs: Vec<_> = LAYERS.into_iter().map(layer).collect();
    // a plate without resistance holds the body's temperature behind the inner film
    slabs.push(slab(medium(400.0, 1.0), vec![1e-6], start));
    let mut joints = vec![Joint::Shared; LAYERS.len() - 1];
    joints.push(Joint::Conductance(FILMS.1));
    let t_end = table.iter().map(|row| row.number("time_s")).fold(0.0, f64::max);
    let drive = film_drive(FILMS.0, kelvin(TEMPS_C.0), t_end);
    let problem = Problem { slabs, joints, back: Back::Held, drive, source: None };
    let later: Vec<&Row> = table.iter().filter(|row| row.number("time_s") > 0.0).collect();
    let wanted: Vec<(f64, At)> = later
        .iter()
        .map(|row| (row.number("time_s"), At::Slab(LAYERS.len() - 1, N_CELLS)))
        .collect();
    let case = |(row, read): (&&Row, Reading)| {
        let name = format!("skin's outside at {} s", row.text("time_s"));
        let expected = (row.number("temperature_C"), BOUND);
        let reading = Reading { value: celsius(read.value), error: read.error };
        let case = Case::rounded(name, SOURCE, expected, reading).in_unit("°C");
        Case { error_most: ERROR_MOST, ..case }
    };
    later.iter().zip(temps(&problem, &wanted)).map(case).collect()
}
