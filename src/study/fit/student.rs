//! Student's t distribution.

use std::f64::consts::FRAC_PI_2;

/// The t beyond which lies a share of 1 − `level` on both sides together [–].
///
/// - `level`: above 0, below 1
/// - `freedom`: degrees of freedom, at least 1
///
/// The share within ±t for ν degrees is a finite sum in θ = atan(t/√ν); bisection inverts it.
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4 (from
/// memory); the tests hold it against a published table.
pub fn two_sided(level: f64, freedom: usize) -> f64 {
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if within(middle, freedom) < level { low = middle } else { high = middle }
    }
    (freedom as f64).sqrt() * libm::tan(0.5 * (low + high))
}

/// Share within ±t, t = √ν·tan θ.
fn within(theta: f64, freedom: usize) -> f64 {
    let (sin, cos) = libm::sincos(theta);
    let odd = freedom % 2 == 1;
    // the terms' factors are 1, 2/3, 2·4/(3·5), … times cos for odd ν, and 1, 1/2, 1·3/(2·4), … for even ν
    let (mut term, mut sum, mut i) = if odd { (cos, 0.0, 1) } else { (1.0, 0.0, 0) };
    while i + 2 <= freedom {
        sum += term;
        let (above, below) = ((i + 1) as f64, (i + 2) as f64);
        term *= cos * cos * above / below;
        i += 2;
    }
    if odd { (theta + sin * sum) / FRAC_PI_2 } else { sin * sum }
}

/// The same for infinitely many degrees of freedom, to four digits, at the level of 95 %.
///
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1 (from memory).
pub const NORMAL_95: f64 = 1.959964;

#[cfg(test)]
mod tests {
    use super::{NORMAL_95, two_sided};
    use std::f64::consts::PI;

    /// Source: NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2, column 0.975 (from
    /// memory). Tolerance: the table's rounding.
    #[test]
    fn agrees_with_the_published_table() {
        for (freedom, expected) in [
            (1, 12.706),
            (2, 4.303),
            (3, 3.182),
            (4, 2.776),
            (5, 2.571),
            (8, 2.306),
            (10, 2.228),
            (15, 2.131),
            (20, 2.086),
            (30, 2.042),
            (40, 2.021),
            (60, 2.000),
            (100, 1.984),
        ] {
            let t = two_sided(0.95, freedom);
            assert!((t - expected).abs() <= 5.1e-4, "{freedom}: {t}, table {expected}");
        }
        for (freedom, expected) in [(1, 63.657), (2, 9.925), (5, 4.032), (30, 2.750)] {
            let t = two_sided(0.99, freedom);
            assert!((t - expected).abs() <= 5.1e-4, "{freedom}: {t}, table {expected}");
        }
    }

    /// One degree is Cauchy's: t = tan(π·level/2); many degrees are the normal distribution's.
    #[test]
    fn closed_forms() {
        let cauchy = (0.5 * PI * 0.95).tan();
        assert!((two_sided(0.95, 1) / cauchy - 1.0).abs() < 1e-12);
        assert!((two_sided(0.95, 100_000) - NORMAL_95).abs() < 5e-5);
    }
}
