//! Claim: fibres bind water as published isotherms say, with the heat that belongs to them.
//! Source: regain of viscose over humidity at 25 °C as a share of that at 65 %, Morton and Hearle,
//! Physical Properties of Textile Fibres (from memory); thermodynamics beside each check.
//! Tolerance: a sixth of the regain at 65 %, as near as they are recalled; rounding for closed forms.

use crate::close::{within, within_share};
use proptest::prelude::*;
use stillair::physics::sorption::*;
use stillair::physics::vapour::GAS_CONSTANT_VAPOUR;

/// Ratio at which a humidity stands, by the formula of the source, which is its inverse.
fn ratio_at(humidity: f64) -> f64 {
    0.578 * humidity * (1.0 / (0.321 + humidity) + 1.0 / (1.262 - humidity))
}

#[test]
fn regain_follows_published_points() {
    within(ratio_at(0.65), 1.0, 2e-3);
    for (humidity, ratio) in [(0.20, 0.42), (0.40, 0.65), (0.65, 1.0), (0.80, 1.3), (0.90, 1.75)] {
        let found = ratio_at(humidity);
        println!("{humidity}: {found:.3}, published {ratio}");
        within(found, ratio, 0.15);
    }
}

proptest! {
    #[test]
    fn humidity_is_the_inverse_of_the_published_form(humidity in 1e-4..1.2f64) {
        let ratio = ratio_at(humidity);
        within_share(relative_humidity(ratio).value, humidity, 1e-12);
        let (more, less) = (relative_humidity(ratio * (1.0 + 1e-5)), relative_humidity(ratio * (1.0 - 1e-5)));
        let by_difference = (more.value - less.value) / (2e-5 * ratio);
        within_share(relative_humidity(ratio).slope, by_difference, 1e-6);
    }

    /// Clausius and Clapeyron: ∂ ln a/∂(1/T) at one content is −Q/Rv before the corner is rounded,
    /// which takes a share of x y′/y of it: all but 1e-3 at a third of the corner.
    #[test]
    fn isotherm_and_heat_agree(ratio in 0.01..0.5f64, temp in 280.0..320.0f64) {
        let ln = |temp: f64| activity(ratio, temp).ln();
        let step = 1e-6;
        let slope = (ln(1.0 / (1.0 / temp + step)) - ln(1.0 / (1.0 / temp - step))) / (2.0 * step);
        let colder = 1.0 / TEMP_ISOTHERM - 1.0 / temp;
        let x = relative_humidity(ratio).value * (heat(ratio) / GAS_CONSTANT_VAPOUR * colder).exp();
        let corner = rounded(x);
        let left = x * corner.slope / corner.value;
        within_share(slope, -heat(ratio) / GAS_CONSTANT_VAPOUR * left, 1e-5);
        prop_assert!((0.0..1e-3).contains(&(1.0 - left)) || x > 1.0 / 3.0, "{left} at {x}");
    }

    #[test]
    fn activity_stays_below_one(ratio in 0.0..50.0f64, temp in 250.0..1500.0f64, water in 0.0..1.0f64) {
        let own = activity(ratio, temp);
        prop_assert!((0.0..=1.0).contains(&own), "{}", own);
        prop_assert!((0.0..=1.0).contains(&activity_of_film(water)));
    }

    #[test]
    fn the_heat_bound_is_the_integral_of_the_heat(ratio in 0.01..4.0f64) {
        let n = 400;
        let h = ratio / f64::from(n);
        let sum: f64 = (0..n)
            .map(|i| {
                let z = h * f64::from(i);
                (heat(z) + 4.0 * heat(z + 0.5 * h) + heat(z + h)) * h / 6.0
            })
            .sum();
        within_share(heat_bound(ratio).value, sum, 1e-8);
        within(heat_bound(ratio).slope, heat(ratio), 0.0);
    }
}

#[test]
fn the_hyperbola_is_a_smooth_least_of_two() {
    within(rounded(0.0).value, 0.0, 0.0);
    within_share(rounded(0.5).value, 0.5, 2e-3);
    within_share(rounded(3.0).value, 1.0, 1e-3);
    // the root of e y² … at the corner: 1/(1 + √e)
    within_share(rounded(1.0).value, 1.0 / (1.0 + CAP_ROUND.sqrt()), 1e-14);
    for x in [0.3, 0.9, 1.0, 1.1, 4.0] {
        let by_difference = (rounded(x + 1e-6).value - rounded(x - 1e-6).value) / 2e-6;
        within(rounded(x).slope, by_difference, 1e-6);
    }
}

#[test]
fn the_cap_is_a_smooth_least_of_two() {
    within(capped(0.0, 20).value, 0.0, 0.0);
    within_share(capped(0.5, 20).value, 0.5, 1e-6);
    within_share(capped(3.0, 20).value, 1.0, 1e-9);
    within_share(capped(1.0, 8).value, 2f64.powf(-0.125), 1e-14);
    for x in [0.3, 0.9, 1.0, 1.1, 4.0] {
        let by_difference = (capped(x + 1e-6, 20).value - capped(x - 1e-6, 20).value) / 2e-6;
        within(capped(x, 20).slope, by_difference, 1e-6);
    }
}
