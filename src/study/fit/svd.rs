//! Singular values for the fit; without the feature `lapack` there are none.

use ndarray::Array2;

/// Singular values, largest first, with left vectors as columns and right vectors as rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Parts {
    /// Left vectors.
    pub u: Array2<f64>,
    /// Singular values.
    pub sigma: Vec<f64>,
    /// Right vectors.
    pub vt: Array2<f64>,
}

/// The matrix taken apart; none without the feature `lapack`, for an empty matrix or one that is not finite.
#[cfg(feature = "lapack")]
pub fn parts(matrix: &Array2<f64>) -> Option<Parts> {
    let svd = crate::study::lapack::thin_svd(matrix)?;
    Some(Parts { u: svd.u, sigma: svd.sigma, vt: svd.vt })
}

/// The matrix taken apart; none without the feature `lapack`, for an empty matrix or one that is not finite.
#[cfg(not(feature = "lapack"))]
pub fn parts(_matrix: &Array2<f64>) -> Option<Parts> {
    None
}
