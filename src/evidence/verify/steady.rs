//! Chains that have come to rest.

use crate::evidence::verify::check::Case;
use crate::evidence::verify::rig::{
    At, Reading, film_drive, medium, single, slab, temps, touching,
};
use crate::physics::gap::{Convection, conductance};
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::problem::{Back, Joint, Problem};

const SERIES: &str = "resistances in series (any textbook)";
const GAP: &str = "balance of conduction and radiation across a gap (any textbook)";

/// Three layers between two films; the inner film is a slab of its resistance, held behind.
pub fn composite() -> Vec<Case> {
    let layers = [(0.5e-3, 0.05), (0.6e-3, 0.04), (2e-3, 0.035), (0.1, 1.0)];
    let slabs = layers.map(|(thickness, k)| slab(medium(k, 1e3), vec![thickness / 2.0; 2], 298.15));
    let problem = touching(slabs.into(), Back::Held, film_drive(100.0, 673.15, 2000.0));
    let read = temps(&problem, &[(2000.0, At::Slab(0, 0))]);
    let q = read[0].line(100.0 * 673.15, -100.0);
    vec![Case::rounded("series_R", SERIES, (1951.67, 0.005), q).in_unit("W/m²")]
}

/// A fabric held at 500 K inside that faces a surface at 306 K across a gap of given
/// conductivity: the drive is the gap.
pub fn gap_outside() -> Vec<Case> {
    let fabric = slab(medium(0.05, 1e3), vec![2.5e-4; 4], 500.0);
    let mut drive = film_drive(0.035 / 0.0064, 306.0, 200.0);
    drive.emissivity = 1.0 / (1.0 / 0.9 + 1.0 / 0.95 - 1.0);
    let problem = single(fabric, Back::Held, drive);
    let read = temps(&problem, &[(200.0, At::Slab(0, 0))])[0];
    let temp = read.value;
    let conducted = read.line(-306.0 * 0.035 / 0.0064, 0.035 / 0.0064);
    let sent = problem.drive.emissivity * STEFAN_BOLTZMANN;
    let radiated = Reading {
        value: sent * (temp.powi(4) - 306f64.powi(4)),
        error: 4.0 * sent * temp.powi(3) * read.error,
    };
    let through = read.line(0.05 / 1e-3 * 500.0, -0.05 / 1e-3);
    vec![
        Case::rounded("gap_steady, back", GAP, (451.9315, 1e-4), read),
        Case::rounded("gap_steady, conducted", GAP, (798.06, 0.005), conducted).in_unit("W/m²"),
        Case::rounded("gap_steady, radiated", GAP, (1605.36, 0.005), radiated).in_unit("W/m²"),
        Case::rounded("gap_steady, through", GAP, (2403.42, 0.005), through).in_unit("W/m²"),
    ]
}

/// The same fabric with the solver's own air space, whose conductance and exchange are
/// balanced here by bisection.
pub fn gap_inside(convection: Convection) -> Vec<Case> {
    let exchange = 1.0 / (1.0 / 0.9 + 1.0 / 0.95 - 1.0);
    let fabric = slab(medium(0.05, 1e3), vec![2.5e-4; 4], 306.0);
    let plate = slab(medium(1e6, 1e3), vec![5e-4; 2], 306.0);
    let air = Joint::Air { thickness: 0.0127, exchange, convection, cap_area: 10.0 };
    let problem = Problem {
        slabs: vec![fabric, plate],
        joints: vec![air],
        back: Back::Held,
        drive: film_drive(200.0, 700.0, 400.0),
        source: None,
    };
    let read = temps(&problem, &[(400.0, At::Slab(0, 4))]);
    let balance = |temp: f64| {
        let through = (700.0 - temp) / (1.0 / 200.0 + 1e-3 / 0.05);
        let film = conductance(temp, 306.0, 0.0127, convection).value;
        let sent = exchange * STEFAN_BOLTZMANN * (temp.powi(4) - 306f64.powi(4));
        through - film * (temp - 306.0) - sent
    };
    let (mut low, mut high) = (306.0, 700.0);
    for _ in 0..100 {
        let mid = 0.5 * (low + high);
        if balance(mid) > 0.0 { low = mid } else { high = mid }
    }
    let name = format!("air space at rest, {convection:?}");
    vec![Case::rounded(name, GAP, (low, 1e-4), read[0])]
}
