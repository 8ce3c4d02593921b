//! Claim: shares absorbed in depth are the exact integral of Beer's law and add up.
//! Source: Beer's law; quadrature of γ exp(−γ x).
//! Tolerance: 1e-10, the quadrature's own error.

use crate::close::{within, within_share};
use proptest::prelude::*;
use stillair::evidence::verify::exact;
use stillair::physics::beer::{extinction, share_absorbed};

/// Simpson's rule of γ exp(−γ x).
fn quadrature(extinction: f64, from: f64, to: f64) -> f64 {
    let n = 400;
    let step = (to - from) / f64::from(2 * n);
    let at = |i: i32| extinction * (-extinction * (from + f64::from(i) * step)).exp();
    (0..n).map(|i| (at(2 * i) + 4.0 * at(2 * i + 1) + at(2 * i + 2)) * step / 3.0).sum()
}

#[test]
fn a_whole_ply_absorbs_what_it_does_not_pass() {
    for transmissivity in [1e-6, 0.01, 0.3, 0.9, 1.0] {
        let extinction = extinction(transmissivity, 6e-4);
        within(share_absorbed(extinction, 0.0, 6e-4), 1.0 - transmissivity, 1e-15);
    }
    assert_eq!(extinction(0.0, 1e-3), f64::INFINITY);
}

#[test]
fn shared_cases_are_kept() {
    for case in exact::absorbed_in_depth().iter().chain(&exact::water_driven_out()) {
        assert!(case.is_kept(), "{case:?}");
    }
}

proptest! {
    #[test]
    fn shares_are_the_integral(tau in 0.001..0.99_f64, from in 0.0..1.0_f64, width in 0.01..1.0_f64) {
        let extinction = extinction(tau, 1e-3);
        let (from, to) = (from * 1e-3, (from + width) * 1e-3);
        within_share(share_absorbed(extinction, from, to), quadrature(extinction, from, to), 1e-10);
        let middle = 0.3 * from + 0.7 * to;
        let parts = share_absorbed(extinction, from, middle) + share_absorbed(extinction, middle, to);
        within(parts, share_absorbed(extinction, from, to), 1e-15);
    }
}
