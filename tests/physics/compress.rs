//! Claim: thickness falls with pressure, through the measured points, to solid fibre at most.
//! Source: van Wyk, Journal of the Textile Institute 37 (1946) T285: pressure grows as the
//! cube of the fibre volume fraction; measured points are given back as they are.
//! Tolerance: rounding.

use crate::close::within_share;
use proptest::prelude::*;
use stillair::physics::compress::{
    stiffness_of_points, stiffness_van_wyk, thickness_measured, thickness_van_wyk,
};

const SOLID: f64 = 0.1 / 1380.0;

#[test]
fn doubling_the_fraction_takes_eight_times_the_pressure() {
    // Far above the measured point the law is P = K E φ³ and nothing else.
    let stiffness = stiffness_van_wyk(1e10);
    let loose = (0.0, SOLID / 1e-4);
    for pressure in [1e3, 1e4, 1e5] {
        let thin = thickness_van_wyk(loose, SOLID, stiffness, 8.0 * pressure);
        let thick = thickness_van_wyk(loose, SOLID, stiffness, pressure);
        within_share(thick / thin, 2.0, 1e-6);
        within_share(stiffness * (SOLID / thick).powi(3), pressure, 1e-6);
    }
}

#[test]
fn two_points_give_the_law_through_both() {
    let (light, heavy) = ((500.0, 2.0e-3), (5000.0, 1.4e-3));
    let stiffness = stiffness_of_points((light.0, SOLID / light.1), (heavy.0, SOLID / heavy.1));
    within_share(thickness_van_wyk(light, SOLID, stiffness, heavy.0), heavy.1, 1e-12);
    within_share(thickness_measured(&[light, heavy], SOLID, 1.0, light.0), light.1, 1e-12);
    within_share(thickness_measured(&[light, heavy], SOLID, 1.0, heavy.0), heavy.1, 1e-12);
    let next = thickness_van_wyk(heavy, SOLID, stiffness, 2e4);
    within_share(thickness_measured(&[light, heavy], SOLID, 1.0, 2e4), next, 1e-12);
}

#[test]
fn never_thinner_than_its_fibre() {
    let point = (1e3, 1.5e-3);
    within_share(thickness_van_wyk(point, SOLID, 1e6, 1e12), SOLID, 1e-12);
    within_share(thickness_measured(&[point], SOLID, 1e6, 1e12), SOLID, 1e-12);
}

#[test]
fn level_points_are_rigid() {
    let points = [(500.0, 1e-3), (5000.0, 1e-3)];
    within_share(thickness_measured(&points, SOLID, 1.0, 1e6), 1e-3, 1e-12);
}

proptest! {
    #[test]
    fn thickness_never_rises_with_pressure(
        first in 0.5e-3..5e-3_f64,
        kept in proptest::collection::vec(0.5..1.0_f64, 0..4),
        stiffness in 1e5..1e9_f64,
        pressures in (1.0..1e6_f64, 1.0..1e6_f64),
    ) {
        let mut points = vec![(500.0, first)];
        for share in kept {
            let last = points[points.len() - 1];
            points.push((last.0 * 4.0, (last.1 * share).max(SOLID)));
        }
        let (low, high) = (pressures.0.min(pressures.1), pressures.0.max(pressures.1));
        let at = |pressure| thickness_measured(&points, SOLID, stiffness, pressure);
        prop_assert!(at(high) <= at(low) * (1.0 + 1e-12));
        prop_assert!(at(high) >= SOLID * (1.0 - 1e-12));
        for point in &points {
            within_share(at(point.0), point.1, 1e-12);
        }
    }
}
