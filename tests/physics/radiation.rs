//! Claim: parallel-plate exchange, with and without a shield, gives the textbooks' answers.
//! Source: `worked_examples.csv` rows rad_* (Cengel, Heat and Mass Transfer, and a textbook problem).
//! Tolerance: that of each row; one row uses sigma = 5.67e-8, which is 0.007 % off.

use crate::close::{within, within_share};
use crate::reference::example;
use stillair::physics::radiation::{conductance, effective_emissivity, heat_flux};

#[test]
fn plates_without_a_shield() {
    for id in ["rad_900_300", "rad_800_500"] {
        let row = example(id);
        let effective = effective_emissivity(row.input("e1"), row.input("e2"));
        let q = heat_flux(row.input("T1"), row.input("T2"), effective).value;
        // The books round the constant to 5.67e-8.
        within(q * 5.67 / 5.670374419, row.expected[0], row.tolerance);
    }
}

/// Flux through one shield: two exchanges in series.
fn shielded(hot: f64, cold: f64, emissivities: [f64; 3]) -> (f64, f64) {
    let [outer, inner, shield] = emissivities;
    let before = effective_emissivity(outer, shield);
    let after = effective_emissivity(shield, inner);
    let q = heat_flux(hot, cold, 1.0 / (1.0 / before + 1.0 / after)).value;
    let per_unit = heat_flux(1.0, 0.0, before).value;
    (q * 5.67 / 5.670374419, (hot.powi(4) - q / per_unit).powf(0.25))
}

#[test]
fn plates_with_a_shield() {
    let (q, _) = shielded(900.0, 300.0, [0.3, 0.7, 0.15]);
    let row = example("rad_900_300_shield");
    within(q, row.expected[0], row.tolerance);
    let row = example("rad_750_550_shield");
    let emissivities = [row.input("e1"), row.input("e2"), row.input("e3")];
    let (q, temp) = shielded(row.input("T1"), row.input("T2"), emissivities);
    within(q, row.expected[0], row.tolerance);
    within(temp, row.expected[1], row.tolerance);
    let row = example("rad_800_500");
    let (q, _) = shielded(800.0, 500.0, [0.2, 0.7, row.input("e3")]);
    within(q, row.expected[1], row.tolerance);
}

#[test]
fn conductance_times_difference_is_the_flux() {
    for (outer, inner) in [(300.0, 299.0), (1500.0, 300.0), (300.0, 900.0)] {
        let q = heat_flux(outer, inner, 0.86).value;
        within_share(conductance(outer, inner, 0.86).value * (outer - inner), q, 1e-12);
    }
    within(heat_flux(500.0, 500.0, 0.9).value, 0.0, 0.0);
}
