//! What the Jacobian at the least sum of squares says of each entry's interval and of pairs.

use ndarray::Array2;

use crate::study::fit::levenberg::Least;
use crate::study::fit::student::{NORMAL_95, two_sided};
use crate::study::fit::svd::parts;

/// Level of the intervals [–].
pub const LEVEL: f64 = 0.95;
/// Smallest over largest singular value below which the Jacobian counts as singular [–].
const SINGULAR: f64 = 1e-9;

/// How far the readings scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scatter {
    /// Not known: told by the residuals themselves.
    FromResiduals,
    /// Standard deviation of a residual [unit of the residuals].
    Stated(f64),
}

/// Intervals, correlations and the weakest direction.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// Half of the 95 % interval of each entry; none when the data say nothing of it.
    pub half_widths: Vec<Option<f64>>,
    /// Correlation of each pair [–], ones on the diagonal; none when the Jacobian is singular.
    pub correlation: Option<Array2<f64>>,
    /// Largest over smallest singular value of the Jacobian with columns of length 1 [–]; infinite
    /// when it is singular.
    pub condition: f64,
    /// The direction that the residuals feel least, of length 1, in units of equal effect [–].
    pub weakest: Vec<f64>,
    /// Length of each column of the Jacobian: what the entry alone does to the residuals.
    pub effects: Vec<f64>,
    /// Standard deviation of a residual.
    pub deviation: Option<f64>,
    /// Residuals less entries.
    pub freedom: usize,
}

/// The spread at a least sum of squares; none without singular values.
///
/// The linear theory: covariance s²·(JᵀJ)⁻¹, s² the sum of squares over the degrees of freedom, and
/// Student's t for the interval.
///
/// Source: Draper and Smith, Applied Regression Analysis, 3rd edition 1998, chapters 5 and 24 (from
/// memory); condition of scaled columns after Belsley, Kuh and Welsch, Regression Diagnostics, 1980,
/// chapter 3 (from memory).
pub fn spread(least: &Least, scatter: Scatter) -> Option<Spread> {
    let jacobian = &least.jacobian;
    let (n, p) = jacobian.dim();
    let effects: Vec<f64> =
        (0..p).map(|j| jacobian.column(j).iter().map(|v| v * v).sum::<f64>().sqrt()).collect();
    let unit = |j: usize| if effects[j] > 0.0 { effects[j] } else { 1.0 };
    let scaled = Array2::from_shape_fn((n, p), |(i, j)| jacobian[[i, j]] / unit(j));
    let svd = parts(&scaled)?;
    let freedom = n.saturating_sub(p);
    let most = svd.sigma.first().copied().unwrap_or(0.0);
    let least_sigma = if n < p { 0.0 } else { svd.sigma.last().copied().unwrap_or(0.0) };
    let singular = least_sigma <= SINGULAR * most;
    let (deviation, quantile) = match scatter {
        Scatter::Stated(deviation) => (Some(deviation), NORMAL_95),
        Scatter::FromResiduals if freedom == 0 => (None, NORMAL_95),
        Scatter::FromResiduals => {
            (Some((least.sum / freedom as f64).sqrt()), two_sided(LEVEL, freedom))
        }
    };
    let covariance = |j: usize, l: usize| -> f64 {
        let terms = svd.sigma.iter().enumerate();
        terms.map(|(m, sigma)| svd.vt[[m, j]] * svd.vt[[m, l]] / (sigma * sigma)).sum()
    };
    let half_width = |j: usize| {
        let deviation = deviation.filter(|_| !singular)?;
        Some(quantile * deviation * covariance(j, j).sqrt() / unit(j))
    };
    let correlation = (!singular).then(|| {
        Array2::from_shape_fn((p, p), |(j, l)| {
            if j == l {
                1.0
            } else {
                covariance(j, l) / (covariance(j, j) * covariance(l, l)).sqrt()
            }
        })
    });
    let weakest = svd.vt.rows().into_iter().next_back().map_or(Vec::new(), |row| row.to_vec());
    Some(Spread {
        half_widths: (0..p).map(half_width).collect(),
        correlation,
        condition: if singular { f64::INFINITY } else { most / least_sigma },
        weakest,
        effects,
        deviation,
        freedom,
    })
}
