//! Coefficients of the TR-BDF2 method.
//!
//! The method: R. E. Bank et al., IEEE Trans. Electron Devices 32 (1985) 1992. Written as a
//! three-stage, stiffly accurate, L-stable singly diagonal Runge–Kutta method with a
//! third-order companion for the error estimate: M. E. Hosea and L. F. Shampine,
//! Applied Numerical Mathematics 20 (1996) 21, equations 3 to 5.

use crate::solver::pack::Pack;

/// Place of the inner stage in the step, γ = 2 − √2 [–].
pub const GAMMA: f64 = 2.0 - std::f64::consts::SQRT_2;
/// Diagonal weight of both implicit stages, d = γ/2 [–].
pub const DIAGONAL: f64 = 0.5 * GAMMA;
/// Weight of the first two stages in the step, w = √2/4 [–].
pub const WEIGHT: f64 = std::f64::consts::SQRT_2 / 4.0;
/// Weights of the step.
pub const STEP: [f64; 3] = [WEIGHT, WEIGHT, DIAGONAL];
/// Weights of the third-order companion minus those of the step.
pub const ERROR: [f64; 3] =
    [(1.0 - WEIGHT) / 3.0 - WEIGHT, (3.0 * WEIGHT + 1.0) / 3.0 - WEIGHT, DIAGONAL / 3.0 - DIAGONAL];

/// Sum of `rates` at the start, of the inner and of the last stage by [`STEP`] or [`ERROR`].
#[inline(always)]
pub(crate) fn weighed<const L: usize, const W: bool>(
    weights: [f64; 3],
    rates: [&[f64; L]; 3],
) -> Pack<L, W> {
    let [start, inner, next] = rates;
    weights[0] * Pack(*start) + weights[1] * Pack(*inner) + weights[2] * Pack(*next)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Order conditions of Runge–Kutta methods: Hairer, Nørsett & Wanner, Solving Ordinary
    /// Differential Equations I, 2nd edition, section II.2.
    #[test]
    fn weights_keep_the_order_conditions() {
        let place = [0.0, GAMMA, 1.0];
        let companion: Vec<f64> = STEP.iter().zip(ERROR).map(|(b, e)| b + e).collect();
        let moment = |b: &[f64], power: i32| -> f64 {
            b.iter().zip(place).map(|(b, c)| b * c.powi(power)).sum()
        };
        assert_abs_diff_eq!(moment(&STEP, 0), 1.0, epsilon = 1e-15);
        assert_abs_diff_eq!(moment(&STEP, 1), 0.5, epsilon = 1e-15);
        assert_abs_diff_eq!(moment(&companion, 0), 1.0, epsilon = 1e-15);
        assert_abs_diff_eq!(moment(&companion, 1), 0.5, epsilon = 1e-15);
        assert_abs_diff_eq!(moment(&companion, 2), 1.0 / 3.0, epsilon = 1e-15);
        // b·A·c = 1/6, with the rows of A being the stages
        let nested = companion[1] * DIAGONAL * GAMMA + companion[2] * (WEIGHT * GAMMA + DIAGONAL);
        assert_abs_diff_eq!(nested, 1.0 / 6.0, epsilon = 1e-15);
        assert_abs_diff_eq!(ERROR.iter().sum::<f64>(), 0.0, epsilon = 1e-15);
    }
}
