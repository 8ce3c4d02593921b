//! Points in the unit cube that fill it more evenly than chance does.
//!
//! Sobol's sequence, Owen-scrambled by hashing: S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008)
//! 2635 (direction numbers); B. Burley, J. Comput. Graph. Techniques 9 (2020) 4 (scrambling). Each
//! coordinate is a function of its index, dimension and seed alone: blocks can be run in any order,
//! and again.

use sobol_burley::{NUM_DIMENSIONS, sample};

/// Most points of one design.
pub const N_MOST: usize = 1 << 16;
/// Half the spacing of the numbers that the sequence gives: keeps every coordinate off 0 and 1.
const HALF_STEP: f64 = 0.5 / (1_u32 << 24) as f64;

/// One design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Design {
    /// Which of the scramblings.
    pub seed: u32,
}

impl Design {
    /// Coordinate `dimension` of point `index`, in (0, 1).
    ///
    /// Beyond the dimensions of the sequence it starts again under another scrambling.
    ///
    /// Panics: with `index` at or above [`N_MOST`].
    pub fn at(self, index: usize, dimension: usize) -> f64 {
        assert!(index < N_MOST, "{index} is beyond the last point of the sequence");
        let n_dimensions = NUM_DIMENSIONS as usize;
        let turn = (dimension / n_dimensions) as u32;
        let seed = self.seed.wrapping_mul(0x9E37_79B9).wrapping_add(turn);
        let dimension = (dimension % n_dimensions) as u32;
        (f64::from(sample(index as u32, dimension, seed)) + HALF_STEP).min(1.0 - HALF_STEP)
    }
}

#[cfg(test)]
mod tests {
    use super::{Design, N_MOST};

    /// In every power of two of points each coordinate visits each of as many equal strata once:
    /// the defining property of a (0, m, 1)-net, kept by Owen's scrambling (A. B. Owen, in Monte
    /// Carlo and Quasi-Monte Carlo Methods in Scientific Computing, 1995, 299).
    #[test]
    fn each_coordinate_visits_each_stratum_once() {
        for seed in [0, 1, 7] {
            for dimension in [0, 1, 17, 99, 255, 256, 300] {
                for n in [16_usize, 256, 1024] {
                    let mut seen = vec![0; n];
                    for i in 0..n {
                        seen[(Design { seed }.at(i, dimension) * n as f64) as usize] += 1;
                    }
                    assert!(seen.iter().all(|count| *count == 1), "{seed} {dimension} {n}");
                }
            }
        }
    }

    /// The first two coordinates are a (0, m, 2)-net: each of 2^m boxes of any shape holds one point.
    #[test]
    fn the_first_two_coordinates_fill_every_box_once() {
        let design = Design { seed: 3 };
        for bits in 0..=8_u32 {
            let (n_across, n_up) = (1_usize << bits, 1_usize << (8 - bits));
            let mut seen = vec![0; 256];
            for i in 0..256 {
                let across = (design.at(i, 0) * n_across as f64) as usize;
                let up = (design.at(i, 1) * n_up as f64) as usize;
                seen[across * n_up + up] += 1;
            }
            assert!(seen.iter().all(|count| *count == 1), "{n_across} by {n_up}");
        }
    }

    #[test]
    fn points_lie_inside_and_seeds_differ() {
        for i in (0..N_MOST).step_by(251) {
            for dimension in 0..40 {
                let u = Design { seed: 1 }.at(i, dimension);
                assert!(u > 0.0 && u < 1.0, "{u}");
            }
        }
        let row = |seed| (0..64).map(|i| Design { seed }.at(i, 0)).collect::<Vec<_>>();
        assert_ne!(row(1), row(2));
    }
}
