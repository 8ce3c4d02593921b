//! Claim: driving all water out takes its latent heat, once, whatever the path.
//! Source: `water_coolprop.csv` (IAPWS-95 by CoolProp 8.0.0); energy balance.
//! Tolerance: constants to their printed digits; energies to 1e-6.

use crate::close::{within, within_share};
use crate::reference::rows;
use proptest::prelude::*;
use stillair::physics::moisture::{
    EVAPORATION_FROM, EVAPORATION_TO, WATER_CONDUCTIVITY, WATER_DENSITY, WATER_LATENT_HEAT,
    WATER_SPECIFIC_HEAT, evaporated_share, water_enthalpy,
};

#[test]
fn constants_are_those_of_water() {
    let value = |name: &str| {
        let table = rows("water_coolprop.csv");
        table.iter().find(|row| row.text("quantity") == name).expect(name).number("value")
    };
    within_share(WATER_LATENT_HEAT, value("latent_heat_100_C"), 1e-5);
    within_share(WATER_SPECIFIC_HEAT, value("mean_specific_heat_25_to_100_C"), 2e-5);
    within_share(WATER_CONDUCTIVITY, value("conductivity_330_K"), 2e-6);
    within_share(WATER_DENSITY, value("density_330_K"), 1e-5);
}

/// Simpson's rule with `n` pairs of intervals.
fn integral(f: impl Fn(f64) -> f64, from: f64, to: f64, n: u32) -> f64 {
    let step = (to - from) / f64::from(2 * n);
    let at = |i: u32| f(from + f64::from(i) * step);
    (0..n).map(|i| (at(2 * i) + 4.0 * at(2 * i + 1) + at(2 * i + 2)) * step / 3.0).sum()
}

#[test]
fn latent_heat_is_released_whole() {
    let (from, to) = (EVAPORATION_FROM - 30.0, EVAPORATION_TO + 30.0);
    let sensible = |temp: f64| WATER_SPECIFIC_HEAT * (1.0 - evaporated_share(temp).value);
    let latent = |temp: f64| water_enthalpy(temp, 0.0).slope - sensible(temp);
    within_share(integral(latent, from, to, 11_000), WATER_LATENT_HEAT, 1e-6);
    let total = water_enthalpy(to, 0.0).value - water_enthalpy(from, 0.0).value;
    within_share(total, WATER_LATENT_HEAT + integral(sensible, from, to, 11_000), 1e-6);
    // Half the window's worth of warming, by the symmetry of the share.
    let half = WATER_SPECIFIC_HEAT * (30.0 + 0.5 * (EVAPORATION_TO - EVAPORATION_FROM));
    within_share(total, WATER_LATENT_HEAT + half, 1e-12);
}

#[test]
fn dried_cloth_cools_and_warms_without_water() {
    let hot = EVAPORATION_TO + 50.0;
    let dry = water_enthalpy(hot, hot).value;
    for temp in [300.0, EVAPORATION_FROM + 10.0, hot - 1.0] {
        let cooled = water_enthalpy(temp, hot);
        within(cooled.value, dry, 1e-9);
        within(cooled.slope, 0.0, 0.0);
    }
}

proptest! {
    #[test]
    fn enthalpy_joins_where_the_peak_is_passed_again(peak in 280.0..420.0_f64, below in 0.0..60.0_f64) {
        let kept = WATER_SPECIFIC_HEAT * (1.0 - evaporated_share(peak).value);
        let cooled = water_enthalpy(peak - below, peak).value;
        let at_peak = water_enthalpy(peak, peak).value;
        within(cooled, at_peak - kept * below, 1e-6);
        within(water_enthalpy(peak, 0.0).value, at_peak, 0.0);
    }

    #[test]
    fn heating_never_gives_heat_back(temp in 250.0..450.0_f64, peak in 250.0..450.0_f64) {
        prop_assert!(water_enthalpy(temp, peak).slope >= 0.0);
        prop_assert!((0.0..=1.0).contains(&evaporated_share(temp).value));
    }
}
