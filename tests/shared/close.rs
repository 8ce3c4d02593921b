//! Comparisons that fail on NaN and infinity before they compare.

#[track_caller]
fn finite(value: f64, expected: f64) {
    assert!(value.is_finite(), "value is {value}, expected {expected}");
    assert!(expected.is_finite(), "expected value is {expected}");
}

/// Fails unless `value` is within `tolerance` of `expected`.
#[track_caller]
pub fn within(value: f64, expected: f64, tolerance: f64) {
    finite(value, expected);
    let off = (value - expected).abs();
    assert!(off <= tolerance, "{value} differs from {expected} by {off:e}, above {tolerance:e}");
}

/// Fails unless `value` is within the share `tolerance` of `expected`.
#[track_caller]
pub fn within_share(value: f64, expected: f64, tolerance: f64) {
    finite(value, expected);
    let off = (value / expected - 1.0).abs();
    assert!(
        off <= tolerance,
        "{value} differs from {expected} by {off:e} of it, above {tolerance:e}"
    );
}

#[test]
#[should_panic(expected = "value is NaN")]
fn a_value_that_is_no_number_is_never_close() {
    within(f64::NAN, 1.0, 1.0);
}

#[test]
#[should_panic(expected = "expected value is inf")]
fn infinity_is_never_close() {
    within_share(1.0, f64::INFINITY, 1.0);
}
