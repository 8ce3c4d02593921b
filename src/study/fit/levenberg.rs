//! Least squares by Levenberg's and Marquardt's method, for any residual function.
//!
//! The step solves the damped normal equations through the singular values of the scaled
//! Jacobian: with J·D⁻¹ = U·diag(σ)·Vᵀ it is D⁻¹·V·diag(σ/(σ² + λ))·Uᵀ·(−r), so that one
//! decomposition serves every damping λ. D holds the largest norm that each column has had.
//!
//! Source: Marquardt 1963, J. Soc. Indust. Appl. Math. 11, 431–441; scaling after Moré 1978, Lecture
//! Notes in Mathematics 630, 105–116; change of λ after Nielsen 1999, report IMM-REP-1999-05, Technical
//! University of Denmark (all from memory; the tests hold the result against certified data sets).

use ndarray::Array2;

use crate::study::fit::svd::parts;

/// Relative step of a central difference whose function is exact to the last bits: about the cube root of 2⁻⁵².
const STEP: f64 = 6e-6;
/// First damping, against scaled singular values of about 1 [–].
const DAMPING_START: f64 = 1e-3;
/// Damping at which no step helps any more [–].
const DAMPING_MOST: f64 = 1e16;
/// A step counts when it gains this share of what was foretold [–].
const GAIN_LEAST: f64 = 1e-4;
/// Singular values below this share of the largest are hardly felt [–].
const HARDLY_FELT: f64 = 1e-3;

/// Something whose sum of squares is to be made small.
pub trait Residuals {
    /// Why it could not be computed.
    type Error;

    /// The residuals at `x`; always as many, and not finite where `x` is out of bounds.
    fn residuals(&mut self, x: &[f64]) -> Result<Vec<f64>, Self::Error>;

    /// Their derivatives at `x`, a column for each entry of `x`: central differences unless overridden.
    fn jacobian(&mut self, x: &[f64]) -> Result<Array2<f64>, Self::Error> {
        let mut columns = Vec::with_capacity(x.len());
        for i in 0..x.len() {
            let step = STEP * x[i].abs().max(1e-8);
            let mut moved = x.to_vec();
            moved[i] = x[i] + step;
            let above = self.residuals(&moved)?;
            moved[i] = x[i] - step;
            let below = self.residuals(&moved)?;
            let slope = |(a, b): (&f64, &f64)| (a - b) / (2.0 * step);
            columns.push(above.iter().zip(&below).map(slope).collect::<Vec<f64>>());
        }
        Ok(matrix(&columns))
    }
}

/// A matrix from its columns, all of one length.
pub fn matrix(columns: &[Vec<f64>]) -> Array2<f64> {
    let n_rows = columns.first().map_or(0, Vec::len);
    Array2::from_shape_fn((n_rows, columns.len()), |(i, j)| columns[j][i])
}

/// Where to begin, within which bounds, and how closely to end.
#[derive(Debug, Clone, PartialEq)]
pub struct Start {
    /// First point.
    pub x: Vec<f64>,
    /// Lowest and highest value of each entry; infinite for none.
    pub bounds: Vec<(f64, f64)>,
    /// Ends when a step can lower the sum of squares by no more than this share [–].
    pub gain: f64,
    /// Ends when a step moves no entry by more than this share of it [–].
    pub move_least: f64,
    /// Most Jacobians.
    pub n_most: usize,
}

impl Start {
    /// From `x`, without bounds, to the last digits.
    pub fn free(x: Vec<f64>) -> Start {
        let bounds = vec![(f64::NEG_INFINITY, f64::INFINITY); x.len()];
        Start { x, bounds, gain: 1e-15, move_least: 1e-13, n_most: 500 }
    }
}

/// How the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Nothing is left to gain.
    Settled,
    /// No damping gives a step that helps; as near as the function's own noise allows.
    Stalled,
    /// The most Jacobians were used up.
    GivenUp,
}

/// The least sum of squares found.
#[derive(Debug, Clone, PartialEq)]
pub struct Least {
    /// Where.
    pub x: Vec<f64>,
    /// Residuals there.
    pub residuals: Vec<f64>,
    /// Sum of their squares.
    pub sum: f64,
    /// Jacobian there.
    pub jacobian: Array2<f64>,
    /// Jacobians computed.
    pub n_jacobians: usize,
    /// How it ended.
    pub end: End,
}

/// Why there is no least sum of squares.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble<E> {
    /// The function itself.
    Function(E),
    /// A residual at the start, or a derivative, is not finite.
    NotFinite,
    /// The feature `lapack` is not built in, or the singular values did not settle.
    NoSingularValues,
}

impl<E> From<E> for Trouble<E> {
    fn from(error: E) -> Trouble<E> {
        Trouble::Function(error)
    }
}

/// Looks for the least sum of squares.
///
/// Errors: those of the function, and [`Trouble`]'s own.
pub fn least_squares<R: Residuals>(
    function: &mut R,
    start: &Start,
) -> Result<Least, Trouble<R::Error>> {
    let mut x: Vec<f64> =
        start.x.iter().zip(&start.bounds).map(|(x, (lo, hi))| x.clamp(*lo, *hi)).collect();
    let mut residuals = function.residuals(&x)?;
    let mut sum = squares(&residuals);
    if !sum.is_finite() {
        return Err(Trouble::NotFinite);
    }
    let mut scale = vec![0.0f64; x.len()];
    let (mut damping, mut n_jacobians) = (DAMPING_START, 0);
    loop {
        let jacobian = function.jacobian(&x)?;
        n_jacobians += 1;
        if !jacobian.iter().all(|v| v.is_finite()) {
            return Err(Trouble::NotFinite);
        }
        let done = |end| Least {
            x: x.clone(),
            residuals: residuals.clone(),
            sum,
            jacobian: jacobian.clone(),
            n_jacobians,
            end,
        };
        let free = not_held(&x, &start.bounds, &jacobian, &residuals);
        if free.is_empty() || sum == 0.0 {
            return Ok(done(End::Settled));
        }
        if n_jacobians > start.n_most {
            return Ok(done(End::GivenUp));
        }
        for (j, scale) in scale.iter_mut().enumerate() {
            *scale = scale.max(squares(jacobian.column(j)).sqrt());
        }
        let step =
            Step::new(&jacobian, &residuals, &scale, &free).ok_or(Trouble::NoSingularValues)?;
        let mut growth = 2.0;
        let end = loop {
            let tried = step.tried(&x, &start.bounds, damping);
            let foretold = sum - foretold(&jacobian, &residuals, &x, &tried);
            let near = |(a, b): (&f64, &f64)| (a - b).abs() <= start.move_least * a.abs();
            // a damped step may gain little where an undamped one would gain much
            let little = foretold.max(step.in_sight()) <= start.gain * sum;
            if little || x.iter().zip(&tried).all(near) {
                break Some(End::Settled);
            }
            let there = function.residuals(&tried)?;
            let sum_there = squares(&there);
            let ratio = (sum - sum_there) / foretold;
            if sum_there.is_finite() && ratio > GAIN_LEAST {
                (x, residuals, sum) = (tried, there, sum_there);
                damping *= (1.0 - (2.0 * ratio - 1.0).powi(3)).max(1.0 / 3.0);
                damping = damping.max(1e-20);
                break None;
            }
            damping *= growth;
            growth *= 2.0;
            if damping > DAMPING_MOST {
                break Some(End::Stalled);
            }
        };
        if let Some(end) = end {
            let sum = squares(&residuals);
            return Ok(Least { x, residuals, sum, jacobian, n_jacobians, end });
        }
    }
}

fn squares<'a>(values: impl IntoIterator<Item = &'a f64>) -> f64 {
    values.into_iter().map(|v| v * v).sum()
}

/// Entries that are not held by a bound which the descent pushes against.
fn not_held(
    x: &[f64],
    bounds: &[(f64, f64)],
    jacobian: &Array2<f64>,
    residuals: &[f64],
) -> Vec<usize> {
    let rises =
        |j: usize| jacobian.column(j).iter().zip(residuals).map(|(a, r)| a * r).sum::<f64>();
    let held = |j: usize| {
        let (lo, hi) = bounds[j];
        (x[j] <= lo && rises(j) >= 0.0) || (x[j] >= hi && rises(j) <= 0.0)
    };
    (0..x.len()).filter(|j| !held(*j)).collect()
}

/// Sum of squares at `tried` if the residuals were straight lines.
fn foretold(jacobian: &Array2<f64>, residuals: &[f64], x: &[f64], tried: &[f64]) -> f64 {
    let rows = jacobian.rows().into_iter().zip(residuals);
    rows.map(|(row, r)| {
        let moved: f64 = row.iter().zip(x.iter().zip(tried)).map(|(a, (x, t))| a * (t - x)).sum();
        (r + moved).powi(2)
    })
    .sum()
}

/// The decomposition that every damping of one Jacobian shares.
struct Step<'a> {
    free: &'a [usize],
    scale: Vec<f64>,
    sigma: Vec<f64>,
    vt: Array2<f64>,
    /// Uᵀ·(−r).
    pull: Vec<f64>,
}

impl<'a> Step<'a> {
    fn new(
        jacobian: &Array2<f64>,
        residuals: &[f64],
        scale: &[f64],
        free: &'a [usize],
    ) -> Option<Step<'a>> {
        // a column of zeros moves nothing, and is left where it is
        let scale: Vec<f64> =
            free.iter().map(|j| if scale[*j] > 0.0 { scale[*j] } else { 1.0 }).collect();
        let scaled = Array2::from_shape_fn((residuals.len(), free.len()), |(i, j)| {
            jacobian[[i, free[j]]] / scale[j]
        });
        let svd = parts(&scaled)?;
        let pull = |column: ndarray::ArrayView1<f64>| -> f64 {
            -column.iter().zip(residuals).map(|(u, r)| u * r).sum::<f64>()
        };
        let pull = svd.u.columns().into_iter().map(pull).collect();
        Some(Step { free, scale, sigma: svd.sigma, vt: svd.vt, pull })
    }

    /// What the undamped step would gain, directions that are hardly felt left out.
    fn in_sight(&self) -> f64 {
        let most = self.sigma.first().copied().unwrap_or(0.0);
        let felt = self.sigma.iter().zip(&self.pull).filter(|(s, _)| **s > HARDLY_FELT * most);
        felt.map(|(_, pull)| pull * pull).sum()
    }

    fn tried(&self, x: &[f64], bounds: &[(f64, f64)], damping: f64) -> Vec<f64> {
        let mut tried = x.to_vec();
        for (place, j) in self.free.iter().enumerate() {
            let terms = self.sigma.iter().zip(&self.pull).enumerate();
            let along: f64 = terms
                .filter(|(_, (sigma, _))| **sigma > 0.0)
                .map(|(m, (sigma, pull))| {
                    self.vt[[m, place]] * pull * sigma / (sigma * sigma + damping)
                })
                .sum();
            let (lo, hi) = bounds[*j];
            tried[*j] = (x[*j] + along / self.scale[place]).clamp(lo, hi);
        }
        tried
    }
}
