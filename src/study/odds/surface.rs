//! A surface of degree 2 through the draws, and what each input adds to the variance by it: the draws that
//! the odds are counted on tell the contributions, too, without a run more.
//!
//! Least squares on polynomials that are orthonormal under the spread of the inputs, after B. Sudret,
//! Reliab. Eng. Syst. Saf. 93 (2008) 964. How much of the variance the surface leaves is told by sets that
//! were held out of the fit (cross-validation, M. Stone, J. R. Stat. Soc. B 36 (1974) 111), and how far the
//! shares scatter by the jackknife over the same groups (R. G. Miller, Biometrika 61 (1974) 1; both from
//! memory).

use rayon::prelude::*;

use crate::study::fit::student::two_sided;
use crate::study::odds::basis::{Spread, Term};
use crate::study::odds::indices::{Estimate, Index};

/// Groups of sets that are held out in turn.
const N_GROUPS: usize = 8;
/// Sets drawn for each term of the surface, at least: enough that held-out sets are foretold about as well
/// as those fitted (our choice).
const SETS_PER_TERM: usize = 4;
/// Share of the variance that the surface may leave; beyond it shares are not told [–] (our choice).
pub const LEFT_MOST: f64 = 0.05;

/// Draws and how their coordinates are spread.
#[derive(Debug, Clone, Copy)]
pub struct Draws<'a> {
    /// Standard coordinates of each draw.
    pub points: &'a [Vec<f64>],
    /// Its figure, the model taken as exact [s or J/m²].
    pub values: &'a [f64],
    /// Draws of a set, which share coordinates and are held out together.
    pub n_specimens: usize,
    /// How each coordinate is spread.
    pub spreads: &'a [Spread],
    /// Coordinates that move the figure: all but the model's.
    pub moving: &'a [usize],
}

/// A surface through draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Terms beside the mean.
    pub terms: Vec<Term>,
    fitted: Fitted,
}

/// The factor on the figure by which the model is off: its mean and its variance [–].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    /// Mean.
    pub mean: f64,
    /// Variance.
    pub variance: f64,
}

/// What each input adds by a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares {
    /// In the order of the inputs.
    pub inputs: Vec<Index>,
    /// Of the model's factor.
    pub model: Index,
    /// Share of the figure's variance, the model exact, that the surface leaves [–].
    pub left: f64,
}

impl Surface {
    /// The surface through draws; none where they are too few for a plane through them, or all alike.
    pub fn through(draws: &Draws) -> Option<Surface> {
        let n_sets = draws.values.len() / draws.n_specimens;
        let most = n_sets / SETS_PER_TERM;
        let plane: Vec<Term> = draws.moving.iter().map(|i| Term::Linear(*i)).collect();
        if plane.len() + 1 > most || n_sets < N_GROUPS {
            return None;
        }
        let slopes = Fitted::to(draws, &plane)?.all;
        let mut terms = plane;
        terms.extend(second_order(draws.moving, &slopes[1..], most - terms.len() - 1));
        let fitted = Fitted::to(draws, &terms)?;
        Some(Surface { terms, fitted })
    }

    /// What each input and the model's factor add to the variance of the figure times the factor; none when
    /// nothing varies.
    ///
    /// - `inputs`: the coordinates of each input
    pub fn shares(&self, inputs: &[&[usize]], factor: Factor) -> Option<Shares> {
        let whole = self.apportioned(&self.fitted.all, inputs, factor)?;
        let without: Option<Vec<Apportioned>> =
            self.fitted.without.iter().map(|c| self.apportioned(c, inputs, factor)).collect();
        let without = without?;
        let t = two_sided(0.95, N_GROUPS - 1);
        let estimate = |of: &dyn Fn(&Apportioned) -> f64| {
            let mean = without.iter().map(of).sum::<f64>() / N_GROUPS as f64;
            let squares = without.iter().map(|one| (of(one) - mean).powi(2)).sum::<f64>();
            let deviation = (squares * (N_GROUPS - 1) as f64 / N_GROUPS as f64).sqrt();
            Estimate { value: of(&whole), half_width: t * deviation + whole.left }
        };
        let index = |i: usize| Index {
            first_order: estimate(&|one| one.shares[i][0]),
            total: estimate(&|one| one.shares[i][1]),
        };
        let mut inputs: Vec<Index> = (0..=inputs.len()).map(index).collect();
        let model = inputs.pop()?;
        Some(Shares { inputs, model, left: whole.left_exact })
    }

    /// The shares by one list of coefficients.
    ///
    /// The factor is independent of the figure, so that the variance of their product is
    /// (m² + v)(f² + V) − m² f², means m and f, variances v and V.
    fn apportioned(&self, c: &[f64], inputs: &[&[usize]], factor: Factor) -> Option<Apportioned> {
        let explained: f64 = c[1..].iter().map(|c| c * c).sum();
        let left = self.fitted.left;
        let (of_figure, f) = (explained + left, c[0]);
        let Factor { mean: m, variance: v } = factor;
        let whole = (m * m + v) * (f * f + of_figure) - m * m * f * f;
        // what rounding leaves of draws that are all alike
        if whole <= 1e-18 * (m * f).powi(2) || !whole.is_finite() {
            return None;
        }
        let of = |input: &&[usize]| {
            let (mut alone, mut in_all) = (0.0, 0.0);
            for (term, c) in self.terms.iter().zip(&c[1..]) {
                let inside = term.coordinates().map(|i| input.contains(&i));
                alone += if inside == [true, true] { c * c } else { 0.0 };
                in_all += if inside == [false, false] { 0.0 } else { c * c };
            }
            [m * m * alone / whole, (m * m + v) * in_all / whole]
        };
        let mut shares: Vec<[f64; 2]> = inputs.iter().map(of).collect();
        shares.push([v * f * f / whole, v * (f * f + of_figure) / whole]);
        let left_exact = if of_figure > 0.0 { left / of_figure } else { 0.0 };
        Some(Apportioned { shares, left: (m * m + v) * left / whole, left_exact })
    }
}

struct Apportioned {
    /// Alone and in all; the model's last.
    shares: Vec<[f64; 2]>,
    /// What the surface leaves of the variance with the model in it.
    left: f64,
    /// And with the model exact.
    left_exact: f64,
}

/// Squares and products of the coordinates with the largest slopes, at most `n` of them.
fn second_order(moving: &[usize], slopes: &[f64], n: usize) -> Vec<Term> {
    let mut all = Vec::new();
    for (k, i) in moving.iter().enumerate() {
        all.push((slopes[k] * slopes[k], Term::Square(*i)));
        for (l, j) in moving.iter().enumerate().skip(k + 1) {
            all.push(((slopes[k] * slopes[l]).abs(), Term::Product(*i, *j)));
        }
    }
    // stable: equal ones stay in the order of the inputs
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    all.truncate(n);
    all.into_iter().map(|(_, term)| term).collect()
}

/// Least squares from all draws, and with each group held out.
#[derive(Debug, Clone, PartialEq)]
struct Fitted {
    /// Mean and a coefficient for each term, from all draws [s or J/m²].
    all: Vec<f64>,
    /// The same with one group held out.
    without: Vec<Vec<f64>>,
    /// Variance of what the fit foretells of draws held out less what they are.
    left: f64,
}

impl Fitted {
    fn to(draws: &Draws, terms: &[Term]) -> Option<Fitted> {
        let row = |i: usize| -> Vec<f64> {
            let x = &draws.points[i];
            let of_terms = terms.iter().map(|term| term.at(x, draws.spreads));
            std::iter::once(1.0).chain(of_terms).collect()
        };
        // Sets that follow one another: of Sobol's points every eighth one lies in one and the same eighth
        // of a coordinate, and holding those out would leave a hole.
        let n_sets = draws.values.len() / draws.n_specimens;
        let in_group = |group: usize| {
            let end = |group: usize| n_sets * group / N_GROUPS * draws.n_specimens;
            end(group)..end(group + 1)
        };
        let sums = |group: usize| {
            let mut sums = Normal::new(terms.len() + 1);
            in_group(group).for_each(|i| sums.add(&row(i), draws.values[i]));
            sums
        };
        let groups: Vec<Normal> = (0..N_GROUPS).into_par_iter().map(sums).collect();
        let whole = groups.iter().fold(Normal::new(terms.len() + 1), |all, one| all.with(one, 1.0));
        let held_out = |group: usize| -> Option<(Vec<f64>, f64)> {
            let c = whole.clone().with(&groups[group], -1.0).solved()?;
            let off = |i: usize| {
                let foretold: f64 = row(i).iter().zip(&c).map(|(x, c)| x * c).sum();
                (foretold - draws.values[i]).powi(2)
            };
            let off = in_group(group).map(off).sum();
            Some((c, off))
        };
        let held_out: Option<Vec<(Vec<f64>, f64)>> =
            (0..N_GROUPS).into_par_iter().map(held_out).collect();
        let (without, off): (Vec<Vec<f64>>, Vec<f64>) = held_out?.into_iter().unzip();
        let left = off.iter().sum::<f64>() / draws.values.len() as f64;
        Some(Fitted { all: whole.solved()?, without, left })
    }
}

/// Normal equations, the lower triangle row by row.
#[derive(Debug, Clone)]
struct Normal {
    n: usize,
    matrix: Vec<f64>,
    rhs: Vec<f64>,
}

impl Normal {
    fn new(n: usize) -> Normal {
        Normal { n, matrix: vec![0.0; n * n], rhs: vec![0.0; n] }
    }

    fn add(&mut self, row: &[f64], value: f64) {
        for (i, x) in row.iter().enumerate() {
            self.rhs[i] += x * value;
            let line = &mut self.matrix[i * self.n..i * self.n + i + 1];
            for (sum, y) in line.iter_mut().zip(row) {
                *sum += x * y;
            }
        }
    }

    fn with(mut self, other: &Normal, sign: f64) -> Normal {
        let add = |to: &mut [f64], from: &[f64]| {
            to.iter_mut().zip(from).for_each(|(to, from)| *to += sign * from);
        };
        add(&mut self.matrix, &other.matrix);
        add(&mut self.rhs, &other.rhs);
        self
    }

    /// Solution by Cholesky's factors, none where the matrix is not positive definite.
    ///
    /// Not by the LAPACK that the fit uses: its last bits change with the processor, and odds are the same
    /// bits everywhere and do not need it. Orthonormal terms keep the matrix near a multiple of one.
    /// Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. 2013, 4.2.
    fn solved(&self) -> Option<Vec<f64>> {
        let n = self.n;
        let mut l = self.matrix.clone();
        for i in 0..n {
            for j in 0..=i {
                let dot: f64 = (0..j).map(|k| l[i * n + k] * l[j * n + k]).sum();
                let sum = self.matrix[i * n + j] - dot;
                if i == j {
                    let floor = 1e-12 * self.matrix[i * n + i];
                    if sum.is_nan() || sum <= floor {
                        return None;
                    }
                    l[i * n + i] = sum.sqrt();
                } else {
                    l[i * n + j] = sum / l[j * n + j];
                }
            }
        }
        let mut x = self.rhs.clone();
        for i in 0..n {
            let dot: f64 = (0..i).map(|k| l[i * n + k] * x[k]).sum();
            x[i] = (x[i] - dot) / l[i * n + i];
        }
        for i in (0..n).rev() {
            let dot: f64 = (i + 1..n).map(|k| l[k * n + i] * x[k]).sum();
            x[i] = (x[i] - dot) / l[i * n + i];
        }
        Some(x)
    }
}

#[cfg(test)]
mod tests {
    use super::{Draws, Factor, Shares, Surface};
    use crate::study::odds::basis::Spread;
    use crate::study::odds::normal::normal_quantile;
    use crate::study::odds::points::Design;

    const EXACT: Factor = Factor { mean: 1.0, variance: 0.0 };

    /// Shares of a function of normal coordinates, the last of them even, each an input.
    fn shares(f: impl Fn(&[f64]) -> f64, k: usize, n: usize, factor: Factor) -> Option<Shares> {
        let design = Design { seed: 5 };
        let mut spreads = vec![Spread::Normal; k];
        spreads[k - 1] = Spread::Even;
        let x = |r: usize, i: usize| match spreads[i] {
            Spread::Normal => normal_quantile(design.at(r, i)),
            Spread::Even => 2.0 * design.at(r, i) - 1.0,
        };
        let points: Vec<Vec<f64>> = (0..n).map(|r| (0..k).map(|i| x(r, i)).collect()).collect();
        let values: Vec<f64> = points.iter().map(|x| f(x)).collect();
        let moving: Vec<usize> = (0..k).collect();
        let draws = Draws {
            points: &points,
            values: &values,
            n_specimens: 1,
            spreads: &spreads,
            moving: &moving,
        };
        let inputs: Vec<[usize; 1]> = (0..k).map(|i| [i]).collect();
        let inputs: Vec<&[usize]> = inputs.iter().map(|input| input.as_slice()).collect();
        Surface::through(&draws)?.shares(&inputs, factor)
    }

    #[track_caller]
    fn near(found: &Shares, expected: &[[f64; 2]], within: f64) {
        let all = found.inputs.iter().chain([&found.model]);
        for (index, expected) in all.zip(expected) {
            let both = [index.first_order, index.total];
            for (estimate, expected) in both.iter().zip(expected) {
                let off = (estimate.value - expected).abs();
                assert!(off <= within, "{} is not {expected}", estimate.value);
                assert!(off <= estimate.half_width + 1e-12, "{off}, ±{}", estimate.half_width);
            }
        }
    }

    /// 10 + 2x + y² + xy + 3z, x and y normal, z even from −1 to 1: by hand the variances are 4, 2, 1 and 3.
    #[test]
    fn a_surface_of_degree_two_has_its_closed_form() {
        let f = |x: &[f64]| 10.0 + 2.0 * x[0] + x[1] * x[1] + x[0] * x[1] + 3.0 * x[2];
        let found = shares(f, 3, 64, EXACT).unwrap();
        near(&found, &[[0.4, 0.5], [0.2, 0.3], [0.3, 0.3], [0.0, 0.0]], 1e-12);
        assert!(found.left < 1e-20, "{}", found.left);
    }

    /// A factor of mean 2 and variance 1 on 10 + 2x + 3z, z even: by hand (4 + 1)·(100 + 4 + 3) − 400 = 135.
    #[test]
    fn a_factor_of_its_own_multiplies_the_variance() {
        let f = |x: &[f64]| 10.0 + 2.0 * x[0] + 3.0 * x[1];
        let found = shares(f, 2, 64, Factor { mean: 2.0, variance: 1.0 }).unwrap();
        let expected = [[16.0, 20.0], [12.0, 15.0], [100.0, 107.0]];
        near(&found, &expected.map(|pair| pair.map(|part| part / 135.0)), 1e-12);
    }

    /// exp(s₁x + s₂y), log-normal: first order (exp s₁² − 1)/(exp(s₁² + s₂²) − 1) in closed form (I. M.
    /// Sobol, Math. Comput. Simul. 55 (2001) 271, for a product; the variance of a log-normal). Beyond degree 2
    /// lies 1 − (s² + s⁴/2)/(exp s² − 1), s² = s₁² + s₂², by Hermite's series of the exponential.
    #[test]
    fn what_the_surface_leaves_is_in_the_half_width() {
        let squares = [0.2_f64 * 0.2, 0.15 * 0.15];
        let f = |x: &[f64]| (0.2 * x[0] + 0.15 * x[1]).exp();
        let whole = squares.iter().sum::<f64>().exp_m1();
        let first = squares.map(|s| s.exp_m1() / whole);
        let total = [1.0 - first[1], 1.0 - first[0]];
        let sum = squares.iter().sum::<f64>();
        let beyond = 1.0 - (sum + 0.5 * sum * sum) / whole;
        let found = shares(f, 3, 1 << 13, EXACT).unwrap();
        assert!((0.5..2.0).contains(&(found.left / beyond)), "{} is not {beyond}", found.left);
        near(&found, &[[first[0], total[0]], [first[1], total[1]], [0.0; 2], [0.0; 2]], 2e-3);
    }

    /// A step is no surface: the share it leaves says so.
    #[test]
    fn what_is_no_surface_leaves_much() {
        let found = shares(|x| if x[0] > 1.0 { 1.0 } else { 0.0 }, 3, 256, EXACT).unwrap();
        assert!(found.left > 0.2, "{}", found.left);
    }

    #[test]
    fn too_few_draws_or_none_that_differ_have_no_shares() {
        assert_eq!(shares(|x| x[0], 3, 12, EXACT), None);
        assert_eq!(shares(|_| 3.0, 3, 64, EXACT), None);
        assert!(shares(|_| 3.0, 3, 64, Factor { mean: 1.0, variance: 0.1 }).is_some());
    }
}
