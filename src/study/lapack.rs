//! The only door to LAPACK: the singular values that a fit rests on, the Cholesky factors of a
//! kriging, and a cross-check of the project's own tridiagonal solver.
//!
//! LAPACK's last bits change with the processor and the version. What is made of them is printed
//! with fewer digits than that touches; compare with tolerances only.

use std::ffi::c_int;
use std::sync::Once;

use ndarray::{Array1, Array2};
use ndarray_linalg::{
    CholeskyFactorized, FactorizeC, JobSvd, MatrixLayout, SVDDC, SolveC, SolveTridiagonal,
    Tridiagonal, UPLO,
};

unsafe extern "C" {
    fn openblas_set_num_threads(n_threads: c_int);
}

/// Solution of a tridiagonal system by LAPACK's `dgttrf` and `dgttrs` [unit of `rhs` over that of the matrix].
///
/// - `lower`, `upper`: n − 1 entries beside the diagonal, all finite
/// - `diag`, `rhs`: n entries, n at least 2, all finite
///
/// Returns none when the matrix is singular, a length does not fit or an entry is not finite.
/// Panics: none.
pub fn solve_tridiagonal(
    lower: &[f64],
    diag: &[f64],
    upper: &[f64],
    rhs: &[f64],
) -> Option<Vec<f64>> {
    let n = diag.len();
    let fits = n >= 2 && rhs.len() == n && lower.len() == n - 1 && upper.len() == n - 1;
    let finite = [lower, diag, upper, rhs].iter().all(|part| part.iter().all(|v| v.is_finite()));
    if !fits || !finite {
        return None;
    }
    use_one_thread();
    let size = i32::try_from(n).ok()?;
    let matrix = Tridiagonal {
        l: MatrixLayout::C { row: size, lda: size },
        dl: lower.to_vec(),
        d: diag.to_vec(),
        du: upper.to_vec(),
    };
    let solution = matrix.solve_tridiagonal(&Array1::from(rhs.to_vec())).ok()?.to_vec();
    solution.iter().all(|v| v.is_finite()).then_some(solution)
}

/// Singular values σ of a matrix, falling, with its left and right vectors: A = U·diag(σ)·Vᵀ.
#[derive(Debug, Clone, PartialEq)]
pub struct Svd {
    /// Left vectors as columns, one for each singular value.
    pub u: Array2<f64>,
    /// Singular values, largest first, min(rows, columns) of them.
    pub sigma: Vec<f64>,
    /// Right vectors as rows, one for each singular value.
    pub vt: Array2<f64>,
}

/// Thin singular value decomposition by LAPACK's `dgesdd`.
///
/// - `matrix`: at least one row and column, all finite
///
/// Returns none when the matrix is empty, an entry is not finite or the iteration does not settle.
/// Panics: none.
pub fn thin_svd(matrix: &Array2<f64>) -> Option<Svd> {
    if matrix.is_empty() || !matrix.iter().all(|v| v.is_finite()) {
        return None;
    }
    use_one_thread();
    let (u, sigma, vt) = matrix.svddc(JobSvd::Some).ok()?;
    Some(Svd { u: u?, sigma: sigma.to_vec(), vt: vt? })
}

/// A symmetric positive matrix in its Cholesky factors, A = L·Lᵀ.
pub struct Factors(CholeskyFactorized<ndarray::OwnedRepr<f64>>);

/// Cholesky factors by LAPACK's `dpotrf`.
///
/// - `matrix`: square, symmetric (its lower half is read), all finite
///
/// Returns none when the matrix is empty, not square, not finite or not positive definite.
/// Panics: none.
pub fn cholesky(matrix: &Array2<f64>) -> Option<Factors> {
    let square = matrix.nrows() == matrix.ncols() && !matrix.is_empty();
    if !square || !matrix.iter().all(|v| v.is_finite()) {
        return None;
    }
    use_one_thread();
    matrix.factorizec(UPLO::Lower).ok().map(Factors)
}

impl Factors {
    /// Solution x of A·x = `rhs` by LAPACK's `dpotrs`; none when a length does not fit or an entry is not finite.
    pub fn solve(&self, rhs: &[f64]) -> Option<Vec<f64>> {
        if rhs.len() != self.0.factor.nrows() || !rhs.iter().all(|v| v.is_finite()) {
            return None;
        }
        let x = self.0.solvec(&Array1::from(rhs.to_vec())).ok()?.to_vec();
        x.iter().all(|v| v.is_finite()).then_some(x)
    }
}

/// OpenBLAS starts a thread per core; the studies already keep every core busy.
fn use_one_thread() {
    static ONCE: Once = Once::new();
    // SAFETY: a plain setter of OpenBLAS, called once with a valid count.
    ONCE.call_once(|| unsafe { openblas_set_num_threads(1) });
}

#[cfg(test)]
mod tests {
    use super::{cholesky, solve_tridiagonal, thin_svd};
    use approx::assert_relative_eq;
    use ndarray::array;

    /// [[3, 0], [4, 5]] has the singular values 3√5 and √5 (Strang, Introduction to Linear Algebra,
    /// 5th edition 2016, section 7.2, worked example; from memory).
    #[test]
    fn singular_values_of_a_worked_example() {
        let matrix = array![[3.0, 0.0], [4.0, 5.0]];
        let svd = thin_svd(&matrix).unwrap();
        assert_relative_eq!(svd.sigma[0], 45f64.sqrt(), max_relative = 1e-14);
        assert_relative_eq!(svd.sigma[1], 5f64.sqrt(), max_relative = 1e-14);
        let sigma = ndarray::Array2::from_diag(&ndarray::Array1::from(svd.sigma.clone()));
        let again = svd.u.dot(&sigma).dot(&svd.vt);
        assert!(again.iter().zip(&matrix).all(|(a, b)| (a - b).abs() < 1e-14));
        assert_eq!(thin_svd(&array![[f64::NAN]]), None);
    }

    /// The second-difference matrix: its inverse is known in closed form,
    /// min(i, j)·(n + 1 − max(i, j)) / (n + 1) (Meurant 1992, SIAM J. Matrix Anal. Appl. 13, section 2).
    #[test]
    fn second_difference_matrix_has_its_known_inverse() {
        let n = 40;
        let (off, diag) = (vec![-1.0; n - 1], vec![2.0; n]);
        for j in [0, 7, n - 1] {
            let mut rhs = vec![0.0; n];
            rhs[j] = 1.0;
            let column = solve_tridiagonal(&off, &diag, &off, &rhs).unwrap();
            for (i, got) in column.iter().enumerate() {
                let (low, high) = (i.min(j) + 1, i.max(j) + 1);
                let expected = low as f64 * (n + 1 - high) as f64 / (n + 1) as f64;
                assert_relative_eq!(*got, expected, max_relative = 1e-12);
            }
        }
    }

    /// [[4, 12, −16], [12, 37, −43], [−16, −43, 98]] has the factor [[2, 0, 0], [6, 1, 0], [−8, 5, 3]]
    /// (the example of many a textbook and encyclopaedia; from memory): x = (1, 2, 3) is found again.
    #[test]
    fn cholesky_of_a_worked_example() {
        let matrix = array![[4.0, 12.0, -16.0], [12.0, 37.0, -43.0], [-16.0, -43.0, 98.0]];
        let x = cholesky(&matrix).unwrap().solve(&[-20.0, -43.0, 192.0]).unwrap();
        for (got, expected) in x.iter().zip([1.0, 2.0, 3.0]) {
            assert_relative_eq!(*got, expected, max_relative = 1e-10);
        }
        assert!(cholesky(&array![[1.0, 2.0], [2.0, 1.0]]).is_none(), "not positive");
        assert!(cholesky(&array![[f64::NAN]]).is_none());
        assert!(cholesky(&matrix).unwrap().solve(&[1.0]).is_none(), "length");
    }

    #[test]
    fn refuses_what_it_cannot_solve() {
        assert_eq!(solve_tridiagonal(&[1.0], &[1.0, 1.0], &[1.0], &[1.0, 2.0]), None, "singular");
        assert_eq!(solve_tridiagonal(&[1.0], &[1.0, 2.0], &[], &[1.0, 2.0]), None, "length");
        assert_eq!(solve_tridiagonal(&[f64::NAN], &[1.0, 2.0], &[0.0], &[1.0, 2.0]), None);
        assert_eq!(solve_tridiagonal(&[], &[], &[], &[]), None, "empty");
    }
}
