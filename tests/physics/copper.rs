//! Claim: the copper calorimeter warms as the standards' formulas say.
//! Source: `worked_examples.csv` rows cp_copper_* (ASTM F1959/F2700), iso9151_slope, iso6942_tf.
//! Tolerance: that of each row.

use crate::close::within;
use crate::reference::{example, examples};
use stillair::physics::copper::{cap_area, rise_rate, specific_heat};
use stillair::physics::units::kelvin;

#[test]
fn specific_heat_rows() {
    for row in examples("cp_copper") {
        let cp = specific_heat(kelvin(row.input("T"))).value;
        within(cp * 1e-3, row.expected[0], row.tolerance);
    }
}

#[test]
fn bare_disc_of_iso_9151() {
    let row = example("iso9151_slope");
    let area = std::f64::consts::PI * row.input("D").powi(2) / 4.0;
    let cap_area = cap_area(row.input("m"), row.input("cp"), area);
    within(cap_area, 5514.72, 0.005);
    within(rise_rate(row.input("q"), cap_area), row.expected[0], row.tolerance);
}

#[test]
fn transmission_factor_of_iso_6942() {
    let row = example("iso6942_tf");
    let cap_area = cap_area(row.input("M"), row.input("cp"), 0.05 * 0.0503);
    let q_through = cap_area * 12.0 / row.input("t24-t12");
    within(100.0 * q_through / (row.input("Q0") * 1e3), row.expected[0], row.tolerance);
}
