//! A Gaussian process over a few observations: what they say of a place that was not observed.

use ndarray::Array2;

/// What is believed of a place before anything was observed there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    /// Expected value.
    pub mean: f64,
    /// Standard deviation, above 0.
    pub deviation: f64,
}

/// One observation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// What was read.
    pub value: f64,
    /// Variance of the reading's own error, above 0.
    pub variance: f64,
    /// What was believed of the place before.
    pub before: Belief,
}

/// What the observations say of a place.
///
/// y = μ(x) + σ(x)·z(x) + error, with z a process of mean 0, variance 1 and correlation ρ(x, x′):
/// mean = μ* + cᵀ K⁻¹ (y − μ), variance = σ*² − cᵀ K⁻¹ c, with c = σ* σ ρ(x*, x) and
/// K = σ σ′ ρ(x, x′) + error's variance on the diagonal.
///
/// - `seen`: the observations; with none the belief comes back
/// - `alike(i, j)`: correlation of observations `i` and `j` [–], 1 for `i` = `j`
/// - `to_asked`: correlation of each observation with the place asked for [–]
/// - `before`: what was believed of that place
///
/// Returns none without the feature `lapack`, for lengths that do not fit, for entries that are not
/// finite, and where the correlations are those of no process (the matrix is not positive).
/// Source: Rasmussen and Williams, Gaussian Processes for Machine Learning, MIT Press 2006,
/// equations 2.23 and 2.24 (from memory); the tests hold it to another library's figures.
pub fn krige(
    seen: &[Observation],
    alike: impl Fn(usize, usize) -> f64,
    to_asked: &[f64],
    before: Belief,
) -> Option<Belief> {
    if seen.is_empty() {
        return Some(before);
    }
    if to_asked.len() != seen.len() {
        return None;
    }
    let n = seen.len();
    let deviation = |i: usize| seen[i].before.deviation;
    let matrix = Array2::from_shape_fn((n, n), |(i, j)| {
        let own = if i == j { seen[i].variance } else { 0.0 };
        deviation(i) * deviation(j) * alike(i, j) + own
    });
    let towards: Vec<f64> = (0..n).map(|i| before.deviation * deviation(i) * to_asked[i]).collect();
    let off: Vec<f64> = seen.iter().map(|one| one.value - one.before.mean).collect();
    let weights = solve(&matrix, &towards)?;
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mean = before.mean + dot(&weights, &off);
    let variance = before.deviation * before.deviation - dot(&weights, &towards);
    // a reading without error at the very place leaves nothing, but for rounding
    let deviation = variance.max(0.0).sqrt();
    (mean.is_finite() && variance.is_finite()).then_some(Belief { mean, deviation })
}

#[cfg(feature = "lapack")]
fn solve(matrix: &Array2<f64>, rhs: &[f64]) -> Option<Vec<f64>> {
    crate::study::lapack::cholesky(matrix)?.solve(rhs)
}

#[cfg(not(feature = "lapack"))]
fn solve(_matrix: &Array2<f64>, _rhs: &[f64]) -> Option<Vec<f64>> {
    None
}

#[cfg(all(test, feature = "lapack"))]
mod tests {
    use super::{Belief, Observation, krige};
    use approx::assert_relative_eq;

    fn unit(value: f64, variance: f64) -> Observation {
        Observation { value, variance, before: Belief { mean: 0.0, deviation: 1.0 } }
    }

    /// Two observations: the 2×2 system written out by hand.
    #[test]
    fn two_points_in_closed_form() {
        let (r, a, b) = (0.4, 0.8, 0.3);
        let (va, vb) = (0.05, 0.1);
        let seen = [unit(0.7, va), unit(-0.2, vb)];
        let alike = |i: usize, j: usize| if i == j { 1.0 } else { r };
        let before = Belief { mean: -0.1, deviation: 0.5 };
        let got = krige(&seen, alike, &[a, b], before).unwrap();
        let (p, q) = (1.0 + va, 1.0 + vb);
        let det = p * q - r * r;
        let (ca, cb) = (0.5 * a, 0.5 * b);
        let weights = ((q * ca - r * cb) / det, (p * cb - r * ca) / det);
        let mean = -0.1 + weights.0 * 0.7 - weights.1 * 0.2;
        let variance = 0.25 - weights.0 * ca - weights.1 * cb;
        assert_relative_eq!(got.mean, mean, max_relative = 1e-12);
        assert_relative_eq!(got.deviation, variance.sqrt(), max_relative = 1e-12);
    }

    #[test]
    fn one_point_reduces_to_its_own_value_and_none_to_the_belief() {
        let before = Belief { mean: -0.2, deviation: 0.3 };
        let seen = [Observation { value: 0.1, variance: 1e-6, before }];
        let got = krige(&seen, |_, _| 1.0, &[1.0], before).unwrap();
        assert_relative_eq!(got.mean, 0.1, epsilon = 1e-4);
        assert!(got.deviation < 2e-3, "{got:?}");
        assert_eq!(krige(&[], |_, _| 1.0, &[], before), Some(before));
        let far = krige(&seen, |_, _| 1.0, &[0.0], before).unwrap();
        assert_eq!(far, before);
    }

    /// Mean and deviation by scikit-learn's GaussianProcessRegressor on fixed data:
    /// `tests/reference/fits/kriging.csv`, made by `kriging.py` beside it.
    #[test]
    fn agrees_with_another_library() {
        let table = include_str!("../../../tests/reference/fits/kriging.csv");
        let rows: Vec<Vec<f64>> = table
            .lines()
            .filter(|line| !line.starts_with('#') && !line.starts_with("kind"))
            .map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
            .collect();
        // kind 0: x1, x2, value, variance; kind 1: x1, x2, mean, deviation
        let (seen, asked): (Vec<&Vec<f64>>, Vec<&Vec<f64>>) =
            rows.iter().partition(|row| row[0] == 0.0);
        let alike = |a: &[f64], b: &[f64]| {
            let square = ((a[1] - b[1]) / 0.7).powi(2) + ((a[2] - b[2]) / 1.5).powi(2);
            libm::exp(-0.5 * square)
        };
        let before = Belief { mean: 0.0, deviation: 0.3 };
        let observations: Vec<Observation> = seen
            .iter()
            .map(|row| Observation { value: row[3], variance: row[4], before })
            .collect();
        assert_eq!((seen.len(), asked.len()), (8, 12));
        for row in asked {
            let to: Vec<f64> = seen.iter().map(|one| alike(one, row)).collect();
            let got = krige(&observations, |i, j| alike(seen[i], seen[j]), &to, before).unwrap();
            assert_relative_eq!(got.mean, row[3], epsilon = 1e-8);
            assert_relative_eq!(got.deviation, row[4], epsilon = 1e-8);
        }
    }
}
