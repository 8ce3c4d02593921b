//! Claim: every analytic derivative is the derivative of its own value.
//! Source: central differences, by two steps and Richardson's extrapolation.
//! Tolerance: 1e-6 of the value over the variable, the rounding left in the differences.

use crate::close::within;
use proptest::prelude::*;
use stillair::physics::fibre::{self, FibreMass};
use stillair::physics::gap::{self, Convection};
use stillair::physics::slope::{Between, Sloped};
use stillair::physics::{air, char, copper, moisture, radiation, stoll};

/// Derivative by central differences of two steps, free of the first error term.
fn difference(f: impl Fn(f64) -> f64, x: f64, step: f64) -> f64 {
    let central = |step: f64| (f(x + step) - f(x - step)) / (2.0 * step);
    (4.0 * central(0.5 * step) - central(step)) / 3.0
}

#[track_caller]
fn sloped(f: impl Fn(f64) -> Sloped, x: f64) {
    let at = f(x);
    let by_difference = difference(|x| f(x).value, x, 1e-4 * x.abs());
    within(at.slope, by_difference, 1e-6 * (at.value / x).abs().max(at.slope.abs()));
}

#[track_caller]
fn between(f: impl Fn(f64, f64) -> Between, outer: f64, inner: f64) {
    let at = f(outer, inner);
    let by_outer = difference(|x| f(x, inner).value, outer, 1e-4 * outer);
    let by_inner = difference(|x| f(outer, x).value, inner, 1e-4 * inner);
    let scale = at.value.abs() / outer.min(inner) + at.slope_outer.abs() + at.slope_inner.abs();
    within(at.slope_outer, by_outer, 1e-6 * scale);
    within(at.slope_inner, by_inner, 1e-6 * scale);
}

/// Whether a value is clear of a kink by more than the differences reach.
fn clear(value: f64, kink: f64) -> bool {
    (value / kink - 1.0).abs() > 0.02
}

proptest! {
    #[test]
    fn of_air(temp in 201.0..2299.0_f64) {
        sloped(air::conductivity, temp);
        sloped(air::kinematic_viscosity, temp);
        sloped(air::thermal_diffusivity, temp);
    }

    #[test]
    fn of_char_and_gas(temp in 310.0..1400.0_f64, converted in 0.0..1.0_f64) {
        sloped(char::char_enthalpy, temp);
        sloped(char::gas_enthalpy, temp);
        let fibre = |temp: f64| Sloped { value: 1400.0 * (temp - 298.15), slope: 1400.0 };
        let charred =
            |temp: f64| char::enthalpy_of_charring(converted, 0.4, -80e3, fibre(temp), temp);
        sloped(charred, temp);
    }

    #[test]
    fn of_nusselt_numbers(log_ra in 1.0..7.0_f64, aspect in 5.0..110.0_f64) {
        let ra = 10.0_f64.powf(log_ra);
        if clear(ra, 1708.0) && clear(ra, 5830.0) {
            sloped(gap::nusselt_horizontal_hollands, ra);
        }
        // Kinks lie where another of the three terms becomes the largest.
        let vertical = |ra: f64| gap::nusselt_vertical_elsherbiny(ra, aspect);
        let logarithmic = |ra: f64| vertical(ra).slope * ra / vertical(ra).value;
        let smooth = (logarithmic(ra * 1.001) - logarithmic(ra * 0.999)).abs() < 2e-3;
        if smooth && clear(ra, 100.0) {
            sloped(vertical, ra);
            sloped(vertical, -ra);
        }
    }

    #[test]
    fn of_gaps(
        outer in 250.0..1500.0_f64,
        inner in 250.0..1500.0_f64,
        log_thickness in -3.5..-1.5_f64,
    ) {
        let thickness = 10.0_f64.powf(log_thickness);
        between(|a, b| gap::rayleigh(a, b, thickness), outer, inner);
        between(|a, b| gap::conductance(a, b, thickness, Convection::Still), outer, inner);
        let ra = gap::rayleigh(outer, inner, thickness).value;
        if (outer - inner).abs() > 20.0 && clear(ra, 1708.0) && clear(ra, 5830.0) {
            let below = |a, b| gap::conductance(a, b, thickness, Convection::HeatedFromBelow);
            between(below, outer, inner);
            let logarithmic = |ra: f64| {
                let nusselt = gap::nusselt_vertical_elsherbiny(ra, 40.0);
                nusselt.slope * ra / nusselt.value
            };
            let smooth = (logarithmic(ra * 1.02) - logarithmic(ra * 0.98)).abs() < 2e-2;
            if smooth && clear(ra.abs(), 100.0) {
                let vertical = Convection::Vertical { aspect: 40.0 };
                between(|a, b| gap::conductance(a, b, thickness, vertical), outer, inner);
            }
        }
    }

    #[test]
    fn of_radiation(outer in 200.0..2500.0_f64, inner in 200.0..2500.0_f64, e in 0.05..1.0_f64) {
        between(|a, b| radiation::heat_flux(a, b, e), outer, inner);
        between(|a, b| radiation::conductance(a, b, e), outer, inner);
    }

    #[test]
    fn of_water(temp in 280.0..420.0_f64, peak in 250.0..450.0_f64) {
        let ends = [moisture::EVAPORATION_FROM, moisture::EVAPORATION_TO, peak];
        prop_assume!(ends.iter().all(|end| (temp - end).abs() > 0.1));
        sloped(moisture::evaporated_share, temp);
        sloped(|temp| moisture::water_enthalpy(temp, peak), temp);
    }

    #[test]
    fn of_fibres(
        temp in 250.0..900.0_f64,
        fraction in 0.01..0.5_f64,
        k_fibre in 0.05..0.6_f64,
        share in 0.0..1.0_f64,
    ) {
        let fibres = FibreMass {
            fraction,
            k_fibre,
            k_fibre_slope: 3e-4,
            parallel_share: share,
            radius: 6e-6,
            emissivity: 0.9,
        };
        sloped(|temp| fibre::conductivity(&fibres, temp), temp);
    }

    #[test]
    fn of_stoll_and_copper(t in 0.5..60.0_f64, temp in 280.0..1000.0_f64) {
        sloped(stoll::heat, t);
        sloped(copper::specific_heat, temp);
    }
}
