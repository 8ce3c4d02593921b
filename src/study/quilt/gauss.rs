//! Gauss–Legendre quadrature on the unit interval.

use std::f64::consts::PI;

/// Points and weights of Gauss–Legendre quadrature on (0, 1), points increasing [–].
///
/// Σ w f(x) is exact for polynomials up to degree 2n − 1; the weights add up to 1.
///
/// - `n`: number of points, at least 1
///
/// Points are the roots of the Legendre polynomial P_n, found by Newton's method from
/// cos(π (i + 3/4) / (n + 1/2)); weights 2 / ((1 − x²) P_n'²) on (−1, 1).
/// Panics: if `n` is 0.
/// Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 25.4.29 and 22.16.6.
pub fn gauss_legendre(n: usize) -> Vec<(f64, f64)> {
    assert!(n > 0, "a quadrature has at least one point");
    (0..n)
        .map(|i| {
            let mut x = -libm::cos(PI * (i as f64 + 0.75) / (n as f64 + 0.5));
            let mut slope = 1.0;
            // quadratic convergence from that start: six rounds reach the last bit
            for _ in 0..6 {
                let (value, derivative) = legendre(n, x);
                slope = derivative;
                x -= value / derivative;
            }
            (0.5 * (1.0 + x), 1.0 / ((1.0 - x * x) * slope * slope))
        })
        .collect()
}

/// P_n and its derivative at `x` inside (−1, 1), by the three-term recurrence.
fn legendre(n: usize, x: f64) -> (f64, f64) {
    let (mut before, mut now) = (1.0, x);
    for k in 2..=n {
        let k = k as f64;
        (before, now) = (now, ((2.0 * k - 1.0) * x * now - (k - 1.0) * before) / k);
    }
    (now, n as f64 * (x * now - before) / (x * x - 1.0))
}

#[cfg(test)]
mod tests {
    use super::gauss_legendre;
    use approx::assert_relative_eq;

    #[test]
    fn moments_are_exact_up_to_their_degree() {
        for n in 1..=32 {
            let rule = gauss_legendre(n);
            assert!(rule.windows(2).all(|pair| pair[0].0 < pair[1].0));
            for degree in 0..2 * n {
                let sum: f64 = rule.iter().map(|(x, w)| w * x.powi(degree as i32)).sum();
                assert_relative_eq!(sum, 1.0 / (degree + 1) as f64, max_relative = 1e-13);
            }
        }
    }

    /// Abramowitz & Stegun, table 25.4, n = 3 and n = 10, moved from (−1, 1) to (0, 1).
    #[test]
    fn points_are_those_of_the_table() {
        let three = gauss_legendre(3);
        assert_relative_eq!(2.0 * three[2].0 - 1.0, 0.774_596_669_241_483, max_relative = 1e-14);
        assert_relative_eq!(2.0 * three[1].1, 0.888_888_888_888_889, max_relative = 1e-14);
        let ten = gauss_legendre(10);
        assert_relative_eq!(2.0 * ten[9].0 - 1.0, 0.973_906_528_517_172, max_relative = 1e-14);
        assert_relative_eq!(2.0 * ten[9].1, 0.066_671_344_308_688, max_relative = 1e-12);
    }
}
