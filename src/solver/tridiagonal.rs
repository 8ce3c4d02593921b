//! The tridiagonal kernel: Thomas elimination of `L` independent systems side by side.

/// Coefficients of `L` tridiagonal systems of the same size, one row an equation.
///
/// `lower[0]` and `upper[n−1]` are not used.
#[derive(Debug, Clone, Default)]
pub struct Tridiagonal<const L: usize> {
    /// Coefficient of the unknown before.
    pub lower: Vec<[f64; L]>,
    /// Coefficient of the row's own unknown; holds its inverse pivot once factored.
    pub diag: Vec<[f64; L]>,
    /// Coefficient of the unknown after; holds the eliminated value once factored.
    pub upper: Vec<[f64; L]>,
}

impl<const L: usize> Tridiagonal<L> {
    /// Systems of `n` unknowns, all coefficients 0.
    pub fn zeros(n: usize) -> Tridiagonal<L> {
        Tridiagonal { lower: vec![[0.0; L]; n], diag: vec![[0.0; L]; n], upper: vec![[0.0; L]; n] }
    }

    /// Factors in place without pivoting, for diagonally dominant systems.
    ///
    /// Source: Golub & Van Loan, Matrix Computations, 4th edition, algorithm 4.3.6 (as LU with
    /// unit upper factor).
    pub fn factor(&mut self) {
        let n = self.diag.len();
        assert!(self.lower.len() == n && self.upper.len() == n, "three diagonals of one length");
        let mut before = [0.0; L];
        for i in 0..n {
            for l in 0..L {
                let pivot = 1.0 / (self.diag[i][l] - self.lower[i][l] * before[l]);
                self.diag[i][l] = pivot;
                self.upper[i][l] *= pivot;
                before[l] = self.upper[i][l];
            }
        }
    }

    /// Solves in place for one right-hand side per system, after [`Tridiagonal::factor`].
    pub fn solve(&self, rhs: &mut [[f64; L]]) {
        let n = self.diag.len();
        assert!(rhs.len() == n, "right-hand side of the system's length");
        let mut before = [0.0; L];
        for i in 0..n {
            for l in 0..L {
                before[l] = (rhs[i][l] - self.lower[i][l] * before[l]) * self.diag[i][l];
            }
            rhs[i] = before;
        }
        for i in (0..n.saturating_sub(1)).rev() {
            for l in 0..L {
                before[l] = rhs[i][l] - self.upper[i][l] * before[l];
            }
            rhs[i] = before;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Tridiagonal;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn residual_is_at_rounding_and_lanes_agree_to_the_bit(
            rows in prop::collection::vec((-1.0..1.0f64, 0.1..3.0f64, -1.0..1.0f64, -9.0..9.0f64), 1..60)
        ) {
            let n = rows.len();
            let mut one = Tridiagonal::<1>::zeros(n);
            let mut four = Tridiagonal::<4>::zeros(n);
            let mut rhs = vec![[0.0; 1]; n];
            let mut rhs4 = vec![[0.0; 4]; n];
            for (i, (lower, excess, upper, b)) in rows.iter().enumerate() {
                let diag = lower.abs() + upper.abs() + excess;
                one.lower[i] = [*lower];
                one.diag[i] = [diag];
                one.upper[i] = [*upper];
                rhs[i] = [*b];
                four.lower[i] = [*lower; 4];
                four.diag[i] = [diag; 4];
                four.upper[i] = [*upper; 4];
                rhs4[i] = [*b, 0.5 * b, -b, *b];
            }
            let whole = one.clone();
            one.factor();
            one.solve(&mut rhs);
            four.factor();
            four.solve(&mut rhs4);
            for i in 0..n {
                let mut sum = whole.diag[i][0] * rhs[i][0];
                if i > 0 { sum += whole.lower[i][0] * rhs[i - 1][0]; }
                if i + 1 < n { sum += whole.upper[i][0] * rhs[i + 1][0]; }
                prop_assert!((sum - rows[i].3).abs() < 1e-12 * (1.0 + rows[i].3.abs()) * 10.0);
                prop_assert_eq!(rhs[i][0].to_bits(), rhs4[i][0].to_bits());
                prop_assert_eq!(rhs[i][0].to_bits(), rhs4[i][3].to_bits());
            }
        }
    }
}
