//! Claim: the burn integral at constant temperature reaches 1 at the times the coefficients give.
//! Source: `worked_examples.csv` rows omega_*; coefficients of `henriques.csv` (ASTM F1930,
//! ISO 13506-2, Takata 1974, Henriques 1947; from memory as each row says).
//! Tolerance: 0.1 % relative, as those rows say.

use crate::close::within_share;
use crate::reference::{examples, rows};
use stillair::physics::burn::{damage_rate, time_to_burn};
use stillair::physics::units::kelvin;

fn ranges(model: &str) -> Vec<(f64, f64, f64)> {
    let table = rows("henriques.csv");
    let of_model = table.iter().filter(|row| row.text("model") == model);
    of_model
        .map(|row| {
            let temp_from = kelvin(row.number("T_from_C_inclusive"));
            (temp_from, row.number("P_per_s").ln(), row.number("dE_over_R_K"))
        })
        .collect()
}

#[test]
fn times_at_constant_temperature() {
    for (start, model) in [
        ("omega_ws", "weaver_stoll"),
        ("omega_takata", "takata"),
        ("omega_henriques", "henriques_1947"),
    ] {
        for row in examples(start) {
            let t = time_to_burn(kelvin(row.input("T")), ranges(model));
            within_share(t, row.expected[0], row.tolerance);
        }
    }
}

#[test]
fn check_columns_of_the_coefficients() {
    for row in rows("henriques.csv") {
        // One range alone, so that the row's own constants are what is checked.
        let range = (0.0, row.number("P_per_s").ln(), row.number("dE_over_R_K"));
        let t = time_to_burn(kelvin(row.number("check_T_C")), [range]);
        within_share(t, row.number("check_time_to_omega1_s"), 1e-3);
    }
}

#[test]
fn no_damage_below_the_first_range() {
    let ranges = ranges("weaver_stoll");
    assert_eq!(damage_rate(kelvin(43.999), ranges.clone()), 0.0);
    assert_eq!(time_to_burn(kelvin(37.0), ranges.clone()), f64::INFINITY);
    assert!(
        damage_rate(kelvin(44.0), ranges.clone()) > 0.0,
        "the first start belongs to its range"
    );
    // At exactly 50 °C the lower range still holds; the rate jumps by 16 % there.
    let (at, above) =
        (damage_rate(kelvin(50.0), ranges.clone()), damage_rate(kelvin(50.0) + 1e-9, ranges));
    within_share(above / at, 1.16, 0.01);
}
