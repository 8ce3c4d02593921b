//! The tridiagonal kernel: Thomas elimination of `L` independent systems side by side.

use crate::solver::pack::Pack;

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
    /// With `ties`, the last unknown is one and the same in all systems, and its equation is the
    /// sum of their last rows weighted by `ties`.
    ///
    /// Source: Golub & Van Loan, Matrix Computations, 4th edition, algorithm 4.3.6 (as LU with
    /// unit upper factor).
    pub fn factor(&mut self, ties: Option<&[f64; L]>) {
        let n = self.diag.len();
        assert!(self.lower.len() == n && self.upper.len() == n, "three diagonals of one length");
        let mut before = [0.0; L];
        for i in 0..n {
            let (lower, diag, upper) = (&self.lower[i], &mut self.diag[i], &mut self.upper[i]);
            for l in 0..L {
                diag[l] = 1.0 / (diag[l] - lower[l] * before[l]);
                upper[l] *= diag[l];
                before[l] = upper[l];
            }
        }
        if let Some(weights) = ties {
            let pivots = self.diag[n - 1].map(|inverse| 1.0 / inverse);
            self.diag[n - 1] = [1.0 / weighted(weights, &pivots); L];
        }
    }

    /// Solves in place for one right-hand side per system, after [`Tridiagonal::factor`] with the same `ties`.
    #[inline(always)]
    pub fn solve(&self, rhs: &mut [[f64; L]], ties: Option<&[f64; L]>) {
        self.solve_packed::<false>(rhs, ties);
    }

    /// As [`Tridiagonal::solve`], for either target.
    #[inline(always)]
    pub(crate) fn solve_packed<const W: bool>(
        &self,
        rhs: &mut [[f64; L]],
        ties: Option<&[f64; L]>,
    ) {
        let n = self.diag.len();
        assert!(rhs.len() == n, "right-hand side of the system's length");
        let mut before = Pack::<L, W>::ZERO;
        for i in 0..n {
            before = Pack(rhs[i]) - Pack(self.lower[i]) * before;
            if i + 1 == n {
                if let Some(weights) = ties {
                    before = Pack::all(weighted(weights, &before.0));
                }
            }
            before = before * Pack(self.diag[i]);
            rhs[i] = before.0;
        }
        for i in (0..n.saturating_sub(1)).rev() {
            before = Pack(rhs[i]) - Pack(self.upper[i]) * before;
            rhs[i] = before.0;
        }
    }
}

/// Σ weight·value over the lanes, in their order.
pub(crate) fn weighted<const L: usize>(weights: &[f64; L], values: &[f64; L]) -> f64 {
    let mut sum = 0.0;
    for l in 0..L {
        sum += weights[l] * values[l];
    }
    sum
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
            one.factor(None);
            one.solve(&mut rhs, None);
            four.factor(None);
            four.solve(&mut rhs4, None);
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
