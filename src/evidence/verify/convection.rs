//! Plane walls and lumps under a film.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{At, Reading, film_drive, medium, single, slab, temps, times};
use crate::physics::units::ICE_POINT;
use crate::solver::grid::graded_cells;
use crate::solver::problem::{Back, Problem};

const ONE_TERM: &str = "one-term coefficients of the plane wall, Incropera & DeWitt, table 5.1";
const EX_54: &str = "Incropera & DeWitt, 6th edition, example 5.4, full series";
const SERIES: &str = "plane wall with convection, full series (Carslaw & Jaeger, section 3.11)";
const EX_51: &str = "Incropera & DeWitt, 6th edition, example 5.1";
const EX_52: &str = "Incropera & DeWitt, 6th edition, example 5.2";
const EX_53: &str = "Incropera & DeWitt, 6th edition, example 5.3";

/// A wall of unit size, conductivity and diffusivity, its far face insulated.
fn unit_wall(biot: f64, t_end: f64) -> Problem {
    let wall = slab(medium(1.0, 1.0), graded_cells(1.0, 80, 1.02), 400.0);
    single(wall, Back::Insulated, film_drive(biot, 300.0, t_end))
}

/// First root and coefficient of the plane wall, from the decay at the insulated face after
/// a Fourier number of 0.8, where further terms are below 3e-6.
pub fn one_term(biot: f64, zeta: f64, coefficient: f64) -> Vec<Case> {
    let (t1, t2) = (0.8, 1.4 + 0.5 / biot.min(1.0));
    let read = temps(&unit_wall(biot, t2), &[(t1, At::Last), (t2, At::Last)]);
    let theta = |read: &Reading| (read.value - 300.0) / 100.0;
    let off = |read: &Reading| read.error / (read.value - 300.0);
    let square = (theta(&read[0]) / theta(&read[1])).ln() / (t2 - t1);
    let off_square = (off(&read[0]) + off(&read[1])) / (t2 - t1);
    let root = Reading { value: square.sqrt(), error: 0.5 * off_square / square.sqrt() };
    let first = theta(&read[0]) * (square * t1).exp();
    let size = Reading { value: first, error: first * (off(&read[0]) + t1 * off_square) };
    vec![
        Case::rounded(format!("oneterm_Bi{biot}, root"), ONE_TERM, (zeta, 2e-4), root).in_unit(""),
        Case::rounded(format!("oneterm_Bi{biot}, size"), ONE_TERM, (coefficient, 2e-4), size)
            .in_unit(""),
    ]
}

/// Steel pipe wall: far face, flux at the wetted face and heat taken up per metre of pipe.
pub fn pipe_wall() -> Vec<Case> {
    let (h, k, alpha, thickness) = (500.0, 63.9, 1.88e-5, 0.04);
    let n = 40;
    let wall = slab(medium(k, k / alpha), vec![thickness / n as f64; n], 253.15);
    let problem = single(wall, Back::Insulated, film_drive(h, 333.15, 480.0));
    let mut wanted: Vec<(f64, At)> = (0..=n).map(|i| (480.0, At::Slab(0, i))).collect();
    wanted.push((480.0, At::Last));
    let read = temps(&problem, &wanted);
    // the trapezoidal rule is the mesh's own heat content
    let mean = |of: fn(&Reading) -> f64| {
        let inner: f64 = read[1..n].iter().map(of).sum();
        (inner + 0.5 * (of(&read[0]) + of(&read[n]))) / n as f64
    };
    let area = 7832.0 * 434.0 * std::f64::consts::PI * thickness;
    let heat = Reading {
        value: -area * (mean(|r| r.value) - 253.15),
        // the rule on this mesh misses dx²/12 of the mean curvature, at most 4e-6 of the heat
        error: area * (mean(|r| r.error) + 4e-6 * 80.0),
    };
    vec![
        Case::rounded("slab_ex54_T0", EX_54, (43.02, 0.005), read[n + 1].line(-ICE_POINT, 1.0))
            .in_unit("°C"),
        Case::rounded("slab_ex54_q", EX_54, (-7318.0, 0.5), read[0].line(-h * 333.15, h))
            .in_unit("W/m²"),
        Case::rounded("slab_ex54_Q", EX_54, (-27_255_000.0, 500.0), heat).in_unit("J/m"),
    ]
}

/// Wall at Biot 0.5 and Fourier 1.2: both faces.
pub fn wall_faces() -> Vec<Case> {
    let read = temps(&unit_wall(0.5, 1.2), &[(1.2, At::Last), (1.2, At::Slab(0, 0))]);
    let share = |read: Reading| read.line(-3.0, 0.01);
    vec![
        Case::rounded("slab_waterloo, insulated face", SERIES, (0.64125, 5e-6), share(read[0]))
            .in_unit(""),
        Case::rounded("slab_waterloo, film face", SERIES, (0.50922, 5e-6), share(read[1]))
            .in_unit(""),
    ]
}

/// A body without inner resistance: a slab so conductive that its Biot number is below 1e-6.
fn lump(cap_area: f64, temp: f64, drive: (f64, f64, f64)) -> Problem {
    let thickness = 1e-3;
    let body = slab(medium(1e6, cap_area / thickness), vec![thickness / 2.0; 2], temp);
    single(body, Back::Insulated, film_drive(drive.0, drive.1, drive.2))
}

/// A thermocouple bead, without and with radiation; the book counts kelvins from −273 °C.
pub fn bead() -> Vec<Case> {
    let cap_area = 8500.0 * 400.0 * 7.06e-4 / 6.0;
    let mut bead = lump(cap_area, 298.0, (400.0, 473.0, 120.0));
    let plain = times(&bead, At::Last, &[472.0]);
    bead.drive.emissivity = 0.9;
    bead.drive.temp_surround = 673.0;
    let steady = temps(&bead, &[(120.0, At::Last)]);
    let warm = times(&bead, At::Last, &[steady[0].value - 1.0]);
    vec![
        Case::rounded("lumped_ex51", EX_51, (5.17, 0.005), plain[0]).in_unit("s"),
        Case::rounded("lumped_ex52, steady", EX_52, (218.71, 0.005), steady[0].line(-273.0, 1.0))
            .in_unit("°C"),
        Case::rounded("lumped_ex52, time", EX_52, (4.99, 0.005), warm[0]).in_unit("s"),
    ]
}

/// A coated panel: heated to its cure, held for 300 s more, then cooled until safe to touch.
pub fn panel() -> Vec<Case> {
    let cap_area = 2770.0 * 875.0 * 1.5e-3;
    let mut oven = lump(cap_area, 298.0, (40.0, 448.0, 1000.0));
    oven.drive.emissivity = 0.8;
    oven.drive.temp_surround = 448.0;
    let cure = times(&oven, At::Last, &[423.0])[0];
    let t_out = cure.value + 300.0;
    let out = temps(&oven, &[(t_out, At::Last)])[0];
    let mut air = lump(cap_area, out.value, (10.0, 298.0, 2000.0));
    air.drive.emissivity = 0.8;
    let cool = times(&air, At::Last, &[310.0])[0];
    let total = Reading { value: t_out + cool.value, error: cure.error + cool.error };
    vec![
        Case::rounded("lumped_ex53, cure", EX_53, (123.1, 0.05), cure).in_unit("s"),
        Case::rounded("lumped_ex53, total", EX_53, (986.3, 0.05), total).in_unit("s"),
    ]
}
