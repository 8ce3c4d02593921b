//! What each input adds to the variance: Sobol's first-order and total indices.

/// Values of one design: two independent samples and, input by input, the first with that input
/// taken from the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Runs<'a> {
    /// f(A), one per row.
    pub first: &'a [f64],
    /// f(B), one per row.
    pub second: &'a [f64],
    /// f(A with input i from B): one list per input, each with one value per row.
    pub swapped: &'a [Vec<f64>],
}

/// An estimate with the half width of its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The estimate [–].
    pub value: f64,
    /// Half width of the interval, rows taken as independent [–].
    pub half_width: f64,
}

/// The two indices of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Index {
    /// Share of the variance that goes once this input is known alone.
    pub first_order: Estimate,
    /// Share of the variance that stays while only this input is unknown.
    pub total: Estimate,
}

/// The indices of every input, in their order; none when nothing varies.
///
/// First order: mean of f(B)·(f(A_B,i) − f(A)) over the variance. Total: half the mean of
/// (f(A) − f(A_B,i))² over the variance. Values are centred first, which leaves both as they are
/// and quietens the former.
///
/// Panics: with lists of unequal length.
/// Source: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259, Table 2, rows b and f;
/// the latter is M. J. W. Jansen's, Comput. Phys. Commun. 117 (1999) 35.
pub fn indices(runs: &Runs) -> Option<Vec<Index>> {
    let n = runs.first.len();
    assert!(runs.second.len() == n && runs.swapped.iter().all(|list| list.len() == n));
    if n < 2 {
        return None;
    }
    let both = || runs.first.iter().chain(runs.second);
    let mean = both().sum::<f64>() / (2 * n) as f64;
    let variance = both().map(|f| (f - mean) * (f - mean)).sum::<f64>() / (2 * n - 1) as f64;
    if variance <= 0.0 || !variance.is_finite() {
        return None;
    }
    let of = |swapped: &Vec<f64>| {
        let rows = || runs.first.iter().zip(runs.second).zip(swapped);
        let first = rows().map(|((a, b), ab)| (b - mean) * (ab - a) / variance);
        let total = rows().map(|((a, _), ab)| 0.5 * (a - ab) * (a - ab) / variance);
        Index { first_order: estimate(first.collect()), total: estimate(total.collect()) }
    };
    Some(runs.swapped.iter().map(of).collect())
}

fn estimate(summands: Vec<f64>) -> Estimate {
    let n = summands.len() as f64;
    let value = summands.iter().sum::<f64>() / n;
    let squares = summands.iter().map(|x| (x - value) * (x - value)).sum::<f64>();
    Estimate { value, half_width: 1.96 * (squares / (n - 1.0) / n).sqrt() }
}

#[cfg(test)]
mod tests {
    use super::{Runs, indices};
    use crate::study::odds::points::Design;

    /// Values of `f` of `k` inputs on the design that the odds use.
    fn runs(f: impl Fn(&[f64]) -> f64, k: usize, n: usize) -> (Vec<f64>, Vec<f64>, Vec<Vec<f64>>) {
        let design = Design { seed: 5 };
        let row = |r: usize, from: usize| -> Vec<f64> {
            (0..k).map(|i| design.at(r, from + i)).collect()
        };
        let first = (0..n).map(|r| f(&row(r, 0))).collect();
        let second = (0..n).map(|r| f(&row(r, k))).collect();
        let swapped = (0..k).map(|i| {
            let mixed = |r: usize| {
                let mut a = row(r, 0);
                a[i] = design.at(r, k + i);
                f(&a)
            };
            (0..n).map(mixed).collect()
        });
        (first, second, swapped.collect())
    }

    /// T. Ishigami, T. Homma, Proc. ISUMA '90 (1990) 398: sin x1 + a sin² x2 + b x3⁴ sin x1, each x even
    /// in (−π, π). Closed form: V1 = (1 + b π⁴/5)²/2, V2 = a²/8, V13 = b² π⁸ (1/18 − 1/50);
    /// A. Saltelli et al., Global Sensitivity Analysis, Wiley 2008, section 4.
    #[test]
    fn the_function_of_ishigami_has_its_closed_form() {
        let (a, b) = (7.0_f64, 0.1_f64);
        let pi = std::f64::consts::PI;
        let x = |u: f64| pi * (2.0 * u - 1.0);
        let f = |u: &[f64]| {
            let [x1, x2, x3] = [x(u[0]), x(u[1]), x(u[2])];
            x1.sin() + a * x2.sin().powi(2) + b * x3.powi(4) * x1.sin()
        };
        let v1 = 0.5 * (1.0 + b * pi.powi(4) / 5.0).powi(2);
        let v2 = a * a / 8.0;
        let v13 = b * b * pi.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
        let v = v1 + v2 + v13;
        let expected = [[v1 / v, (v1 + v13) / v], [v2 / v, v2 / v], [0.0, v13 / v]];
        let (first, second, swapped) = runs(f, 3, 1 << 14);
        let found = indices(&Runs { first: &first, second: &second, swapped: &swapped }).unwrap();
        for (index, expected) in found.iter().zip(expected) {
            for (estimate, expected) in [index.first_order, index.total].iter().zip(expected) {
                let off = (estimate.value - expected).abs();
                assert!(off < 0.004, "{} is not {expected}", estimate.value);
                assert!(off <= estimate.half_width, "{off} is outside ±{}", estimate.half_width);
            }
        }
    }

    /// A weighted sum has w² over the sum of squares for both indices: the variance of a sum.
    #[test]
    fn a_weighted_sum_has_the_squares_of_its_weights() {
        let weights = [4.0, 2.0, 1.0, 0.0];
        let f = |u: &[f64]| u.iter().zip(weights).map(|(u, w)| w * u).sum();
        let (first, second, swapped) = runs(f, 4, 1 << 12);
        let found = indices(&Runs { first: &first, second: &second, swapped: &swapped }).unwrap();
        for (index, weight) in found.iter().zip(weights) {
            let expected = weight * weight / 21.0;
            assert!((index.first_order.value - expected).abs() < 2e-3, "{index:?}");
            assert!((index.total.value - expected).abs() < 2e-3, "{index:?}");
        }
    }

    #[test]
    fn what_does_not_vary_has_none() {
        let same = vec![3.0; 8];
        let swapped = vec![same.clone()];
        assert_eq!(indices(&Runs { first: &same, second: &same, swapped: &swapped }), None);
        assert_eq!(indices(&Runs { first: &[1.0], second: &[2.0], swapped: &[] }), None);
    }
}
