//! Claim: the power law is the fit of the published table, and the table is the published one.
//! Source: `stoll.csv` (Stoll and Chianta 1969); `worked_examples.csv` rows stoll_fit_*.
//! Tolerance: that of each row; the largest difference of law and table is stated.

use crate::close::{within, within_share};
use crate::reference::{Row, example, rows};
use stillair::physics::{stoll, units};

/// Factor and exponent of a power of time by least squares on log scales.
fn power_fit(column: &str) -> (f64, f64) {
    let points: Vec<(f64, f64)> = rows("stoll.csv")
        .iter()
        .map(|row| (row.number("exposure_time_s").ln(), row.number(column).ln()))
        .collect();
    let n = points.len() as f64;
    let mean_x = points.iter().map(|p| p.0).sum::<f64>() / n;
    let mean_y = points.iter().map(|p| p.1).sum::<f64>() / n;
    let covariance: f64 = points.iter().map(|p| (p.0 - mean_x) * (p.1 - mean_y)).sum();
    let exponent = covariance / points.iter().map(|p| (p.0 - mean_x).powi(2)).sum::<f64>();
    ((mean_y - exponent * mean_x).exp(), exponent)
}

#[test]
fn least_squares_of_the_table_gives_the_law() {
    let (factor, exponent) = power_fit("total_heat_cal_cm2");
    let row = example("stoll_fit_energy");
    within(factor, row.expected[0], row.tolerance);
    within(exponent, row.expected[1], row.tolerance);
    within_share(units::cal_cm2(stoll::heat(1.0).value), factor, 2e-4);
    let (factor, exponent) = power_fit("calorimeter_rise_C");
    let row = example("stoll_fit_rise");
    within(factor, row.expected[0], row.tolerance);
    within(exponent, row.expected[1], row.tolerance);
}

#[test]
fn flux_form_and_its_inverse() {
    let row = example("stoll_fit_flux");
    within(stoll::flux(1.0) * 1e-3, row.expected[0], row.tolerance);
    for t in [1.0, 3.0, 10.0, 30.0] {
        within_share(stoll::time_at_flux(stoll::flux(t)), t, 1e-12);
        // The exponents as that row's formula has them.
        within_share(stoll::flux(t), 50.204e3 * f64::powf(t, -0.7099), 1e-12);
    }
}

#[test]
fn table_is_the_published_one() {
    let published = rows("stoll.csv");
    assert_eq!(published.len(), stoll::TABLE.len());
    for (ours, row) in stoll::TABLE.iter().zip(&published) {
        let of = |column: &str| Row::number(row, column);
        assert_eq!(ours.t, of("exposure_time_s"));
        within_share(ours.q, of("heat_flux_kW_m2") * 1e3, 1e-15);
        within_share(ours.heat, of("total_heat_kJ_m2") * 1e3, 1e-15);
        assert_eq!(ours.rise, of("calorimeter_rise_C"));
    }
}

#[test]
fn law_is_within_two_per_cent_of_the_table() {
    let mut most = (0.0_f64, 0.0);
    for row in &stoll::TABLE {
        let off = stoll::heat(row.t).value / row.heat - 1.0;
        if off.abs() > most.0.abs() {
            most = (off, row.t);
        }
        within_share(stoll::heat_tabulated(row.t), row.heat, 1e-12);
    }
    println!("largest difference of power law and table: {:+.2} % at {} s", 100.0 * most.0, most.1);
    assert!(most.0.abs() < 0.02, "{most:?}");
}

#[test]
fn between_rows_the_table_rises() {
    let times: Vec<f64> = (2..160).map(|i| f64::from(i) * 0.25).collect();
    for pair in times.windows(2) {
        assert!(stoll::heat_tabulated(pair[1]) > stoll::heat_tabulated(pair[0]), "{pair:?}");
    }
}
