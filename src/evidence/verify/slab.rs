//! Finite slabs under constant flux or between fixed faces, alone, in pairs and before a disc.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{
    At, Probe, Reading, film_drive, flux_drive, medium, single, slab, temps, times, touching,
};
use crate::physics::units::ICE_POINT;
use crate::solver::grid::graded_cells;
use crate::solver::problem::{Back, Joint, Problem};

const FLUX: &str = "Carslaw & Jaeger, 2nd edition, section 3.8";
const FIXED: &str = "Carslaw & Jaeger, 2nd edition, section 3.4";
const LAPLACE: &str = "inverse Laplace transform in 40 digits by mpmath 1.4.1";
const LUMPED: &str = "finite volumes on 200 cells, confirmed by the inverse Laplace transform";
const RC: &str = "closed form of a resistance and a capacity";
const TEMP: f64 = 300.0;
const CAP_DISC: f64 = 5514.72;

/// Constant flux into a slab whose far face is insulated: front and back rise.
pub fn flux_insulated() -> Vec<Case> {
    let body = slab(medium(0.06, 3.5e5), graded_cells(0.002, 60, 1.04), TEMP);
    let problem = single(body, Back::Insulated, flux_drive(5000.0, 20.0));
    let (front, back) = (At::Slab(0, 0), At::Last);
    let moments =
        [(1.0, front), (1.0, back), (5.0, front), (5.0, back), (20.0, front), (20.0, back)];
    let expected = [38.9328, 0.01591, 87.1935, 12.0093, 198.4055, 115.0865];
    let read = temps(&problem, &moments);
    let case = |i: usize| {
        let name = format!("slab_flux_insulated, value {i}");
        let rounding = if i == 1 { 5e-6 } else { 1e-4 };
        Case::rounded(name, FLUX, (expected[i], rounding), read[i].line(-TEMP, 1.0))
            .of_scale(expected[i - i % 2])
    };
    (0..6).map(case).collect()
}

/// Both faces fixed: the driven one by a stiff film to its starting temperature, the other by
/// being held at 100 °C, where the last cell's starting line ends.
pub fn fixed_faces() -> Vec<Case> {
    let run = |n: usize, level: usize| {
        let dx = 0.01 / n as f64;
        let body = slab(medium(1.0, 1e6), vec![dx; n - 1], 293.15);
        let mut last = slab(medium(1.0, 1e6), vec![dx], 293.15);
        last.temps_start.1 = 373.15;
        let problem = touching(vec![body, last], Back::Held, film_drive(1e9, 293.15, 20.0));
        let wanted = vec![(5.0, n / 2), (20.0, n / 2)];
        Probe::new(wanted).read_off(&problem, level)
    };
    let (coarse, fine) = (run(100, 2), run(200, 3));
    let read = |i: usize| Reading::of_levels(coarse[i], fine[i]).line(-ICE_POINT, 1.0);
    vec![
        Case::rounded("slab_fixed_T, 5 s", FIXED, (29.1075, 5e-5), read(0))
            .of_scale(80.0)
            .in_unit("°C"),
        Case::rounded("slab_fixed_T, 20 s", FIXED, (52.9253, 5e-5), read(1))
            .of_scale(80.0)
            .in_unit("°C"),
    ]
}

/// Two layers in perfect contact under 10 kW/m²; rows `(t, rises at face, interface, back)`.
pub fn two_layers(table: &[(f64, [f64; 3])]) -> Vec<Case> {
    let outer = slab(medium(0.05, 4e5), graded_cells(0.5e-3, 40, 1.05), TEMP);
    let inner = slab(medium(0.25, 1.5e6), vec![1e-3 / 30.0; 30], TEMP);
    let t_end = table.last().map_or(0.0, |row| row.0);
    let problem = touching(vec![outer, inner], Back::Insulated, flux_drive(1e4, t_end));
    let places = [("face", At::Slab(0, 0)), ("interface", At::Slab(1, 0)), ("back", At::Last)];
    let mut cases = Vec::new();
    for (which, (place, at)) in places.into_iter().enumerate() {
        let wanted: Vec<(f64, At)> = table.iter().map(|(t, _)| (*t, at)).collect();
        for ((t, rises), read) in table.iter().zip(temps(&problem, &wanted)) {
            let name = format!("two layers, {place} after {t} s");
            // early at the back nothing has arrived: the face's rise is the scale
            let expected = (rises[which], rises[0]);
            cases.push(Case::exact(name, LAPLACE, expected, read.line(-TEMP, 1.0)));
        }
    }
    cases
}

fn before_disc(q: f64, thickness: f64, t_end: f64) -> Problem {
    let body = slab(medium(0.06, 3.5e5), graded_cells(thickness, 40, 1.05), TEMP);
    let back = Back::Lump { joint: Joint::Shared, cap_area: CAP_DISC, temp_start: TEMP };
    single(body, back, flux_drive(q, t_end))
}

/// A disc behind a slab; rows `(t, rise of the face, rise of the disc)`.
pub fn disc_behind(case: &str, (q, thickness): (f64, f64), table: &[(f64, f64, f64)]) -> Vec<Case> {
    let t_end = table.last().map_or(0.0, |row| row.0);
    let problem = before_disc(q, thickness, t_end);
    let mut wanted: Vec<(f64, At)> = table.iter().map(|row| (row.0, At::Slab(0, 0))).collect();
    wanted.extend(table.iter().map(|row| (row.0, At::Last)));
    let read = temps(&problem, &wanted);
    let mut cases = Vec::new();
    for (i, (t, face, disc)) in table.iter().enumerate() {
        for (place, expected, read) in
            [("face", face, read[i]), ("disc", disc, read[table.len() + i])]
        {
            let name = format!("disc behind a slab, {case}, {place} after {t} s");
            cases.push(Case::exact(name, LAPLACE, (*expected, *face), read.line(-TEMP, 1.0)));
        }
    }
    cases
}

/// When that disc has risen by 12 and 24 K.
pub fn disc_times() -> Vec<Case> {
    let mut cases = Vec::new();
    for (name, q, thickness, expected) in [
        ("slab_lumped_quasi", 1e4, 1e-3, [9.8011, 16.8743]),
        ("slab_lumped_fast", 2e4, 2e-3, [11.6221, 16.6305]),
    ] {
        let problem = before_disc(q, thickness, 40.0);
        let read = times(&problem, At::Last, &[TEMP + 12.0, TEMP + 24.0]);
        for (which, rise) in [(0, 12), (1, 24)] {
            // four printed digits of a run on 200 cells
            let expected = (expected[which], 2e-4);
            cases.push(
                Case::rounded(format!("{name}, {rise} K"), LUMPED, expected, read[which])
                    .in_unit("s"),
            );
        }
    }
    cases
}

/// A disc behind a layer of next to no mass, which starts on its straight profile.
pub fn massless() -> Vec<Case> {
    let mut layer = slab(medium(0.05, 1.0), vec![0.0005; 4], 298.15);
    layer.temps_start.0 = 1300.0 - (1300.0 - 298.15) / (1.0 + 100.0 * 0.002 / 0.05);
    let back = Back::Lump { joint: Joint::Shared, cap_area: CAP_DISC, temp_start: 298.15 };
    let problem = single(layer, back, film_drive(100.0, 1300.0, 20.0));
    let read = times(&problem, At::Last, &[310.15, 322.15]);
    vec![
        Case::rounded("rc_calorimeter, 12 K", RC, (3.3227, 5e-5), read[0]).in_unit("s"),
        Case::rounded("rc_calorimeter, 24 K", RC, (6.6858, 5e-5), read[1]).in_unit("s"),
    ]
}
