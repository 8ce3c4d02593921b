//! The only door to LAPACK: a cross-check of the project's own tridiagonal solver.
//!
//! Nothing that a result is made of goes through here: LAPACK's last bits change with
//! the processor, the thread count and the version. Compare with tolerances only.

use std::ffi::c_int;
use std::sync::Once;

use ndarray::Array1;
use ndarray_linalg::{MatrixLayout, SolveTridiagonal, Tridiagonal};

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

/// OpenBLAS starts a thread per core; the studies already keep every core busy.
fn use_one_thread() {
    static ONCE: Once = Once::new();
    // SAFETY: a plain setter of OpenBLAS, called once with a valid count.
    ONCE.call_once(|| unsafe { openblas_set_num_threads(1) });
}

#[cfg(test)]
mod tests {
    use super::solve_tridiagonal;
    use approx::assert_relative_eq;

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

    #[test]
    fn refuses_what_it_cannot_solve() {
        assert_eq!(solve_tridiagonal(&[1.0], &[1.0, 1.0], &[1.0], &[1.0, 2.0]), None, "singular");
        assert_eq!(solve_tridiagonal(&[1.0], &[1.0, 2.0], &[], &[1.0, 2.0]), None, "length");
        assert_eq!(solve_tridiagonal(&[f64::NAN], &[1.0, 2.0], &[0.0], &[1.0, 2.0]), None);
        assert_eq!(solve_tridiagonal(&[], &[], &[], &[]), None, "empty");
    }
}
