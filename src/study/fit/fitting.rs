//! The fit as a whole: values, intervals, and what the readings cannot tell.

use crate::garment::exposure::{ColdFlame, Exposure};
use crate::garment::layup::Layup;
use crate::solver::error::SolverError;
use crate::study::answer::{Quilts, admit, as_computed};
use crate::study::fit::free::Free;
use crate::study::fit::levenberg::{End, Start, Trouble, least_squares};
use crate::study::fit::model::{Model, STEP};
use crate::study::fit::readings::Readings;
use crate::study::fit::spread::{Scatter, Spread, spread};
use crate::study::fit::twins::{Twins, twins};
use crate::study::quilt::error::QuiltError;

/// Level of the mesh.
pub const LEVEL: usize = 1;
/// The search ends when a step gains less than this share of the sum of squares [–].
const GAIN: f64 = 1e-7;
/// A first search on the next coarser mesh ends earlier [–].
const GAIN_ROUGH: f64 = 1e-3;
/// Or when it moves no property by more than this share of it [–].
const MOVE_LEAST: f64 = 1e-6;
/// As near to what is not possible any more, a value has come to an end [–].
const NEAR: f64 = 1e-4;
/// Most Jacobians.
const N_MOST: usize = 60;

/// What is fitted to what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Task<'a> {
    /// The layup, as in its file; pressed before it is run.
    pub layup: &'a Layup,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The free properties, at least one.
    pub free: &'a [Free],
    /// What was measured.
    pub readings: &'a Readings,
    /// Level of the mesh; usually [`LEVEL`].
    pub level: usize,
    /// Whether quilting is computed.
    pub quilts: Quilts,
}

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The layup before the fit.
    pub layup: Layup,
    /// The exposure before the fit.
    pub exposure: Exposure,
    /// Whether quilting was computed.
    pub quilts: Quilts,
    /// The free properties.
    pub free: Vec<Free>,
    /// What was measured.
    pub readings: Readings,
    /// Fitted values [SI].
    pub values: Vec<f64>,
    /// Half of the 95 % interval of each [SI]; none when the readings say nothing of it.
    pub half_widths: Vec<Option<f64>>,
    /// Whether each ended at an end of its range.
    pub at_end: Vec<bool>,
    /// Intervals and correlations, of factors.
    pub spread: Spread,
    /// What goes together.
    pub twins: Vec<Twins>,
    /// The layup with the fitted values.
    pub fitted_layup: Layup,
    /// The exposure with the fitted values, to its own end.
    pub fitted_exposure: Exposure,
    /// What each reading should be before the fit: rises [K] or times [s].
    pub before: Vec<f64>,
    /// What each reading should be by the fit.
    pub after: Vec<f64>,
    /// Correlation of each residual with the next within its curve [–]; none for times.
    pub next_to_next: Option<f64>,
    /// Largest relative difference between derivatives at the step and at half of it [–].
    pub step_error: f64,
    /// Largest change of a predicted reading on the next finer mesh [K] or [s].
    pub mesh_error: f64,
    /// How the search ended.
    pub end: End,
    /// Jacobians computed.
    pub n_jacobians: usize,
    /// Runs of the solver.
    pub n_runs: usize,
}

/// Why there is no fit.
#[derive(Debug, Clone, PartialEq)]
pub enum FitError {
    /// Fewer readings than properties.
    TooFew {
        /// Readings.
        n_readings: usize,
        /// Free properties.
        n_free: usize,
    },
    /// A pressure across an air gap.
    PressedAcrossGap,
    /// A quilting that cannot be.
    Quilt(QuiltError),
    /// Flame gas colder than the limit of the outermost ply.
    ColdFlame(ColdFlame),
    /// With the values before the fit the disc does not reach a rise that was timed.
    NotReached,
    /// The solver could not follow the layup.
    Solver(SolverError),
    /// No singular values.
    NoSingularValues,
}

impl From<Trouble<SolverError>> for FitError {
    fn from(trouble: Trouble<SolverError>) -> FitError {
        match trouble {
            Trouble::Function(error) => FitError::Solver(error),
            Trouble::NotFinite => FitError::NotReached,
            Trouble::NoSingularValues => FitError::NoSingularValues,
        }
    }
}

/// Fits the free properties to the readings.
///
/// Errors: see [`FitError`].
pub fn fit(task: &Task) -> Result<Fit, FitError> {
    let (n_readings, n_free) = (task.readings.count(), task.free.len());
    if n_readings < n_free || n_readings == 0 {
        return Err(FitError::TooFew { n_readings, n_free });
    }
    if task.layup.pressed_across_gap() {
        return Err(FitError::PressedAcrossGap);
    }
    task.exposure.hot_enough_for(task.layup).map_err(FitError::ColdFlame)?;
    admit(task.layup, task.quilts).map_err(FitError::Quilt)?;
    let computed = as_computed(task.layup, task.quilts);
    let model = |level| Model::new(&computed, task.exposure, task.free, task.readings, level);
    let mut coarse = model(task.level);
    let ones = vec![1.0; n_free];
    let before = one(&mut coarse, &ones)?;
    let mut start = Start {
        x: ones,
        bounds: task.free.iter().map(Free::factors).collect(),
        gain: GAIN,
        move_least: MOVE_LEAST,
        n_most: N_MOST,
    };
    let mut n_runs = 0;
    if let Some(rougher) = task.level.checked_sub(1) {
        // most of the way is gone at half the work
        let mut rough = model(rougher);
        start.x = least_squares(&mut rough, &Start { gain: GAIN_ROUGH, ..start.clone() })?.x;
        n_runs += rough.n_runs;
    }
    let least = least_squares(&mut coarse, &start)?;
    let scatter = match task.readings {
        Readings::Curves(_) => Scatter::FromResiduals,
        Readings::Times { deviation, .. } => Scatter::Stated(*deviation),
    };
    let spread = spread(&least, scatter).ok_or(FitError::NoSingularValues)?;
    let half = coarse.slopes(&least.x, 0.5 * STEP).map_err(FitError::Solver)?;
    let after = one(&mut coarse, &least.x)?;
    let finer = one(&mut model(task.level + 1), &least.x)?;
    let apart = |(a, b): (&f64, &f64)| (a - b).abs();
    let (mut fitted_layup, mut fitted_exposure) = (task.layup.clone(), task.exposure.clone());
    for (free, factor) in task.free.iter().zip(&least.x) {
        free.what.scale(&mut fitted_layup, &mut fitted_exposure, *factor);
    }
    fitted_exposure.t_end = task.exposure.t_end;
    let start = |i: usize| task.free[i].start;
    // at an end of its own range, or of what is possible with the others
    let at_end = |(i, free): (usize, &Free)| {
        let (low, high) = free.factors();
        let moved = |share: f64| {
            let mut x = least.x.clone();
            x[i] *= share;
            coarse.may_be(&x)
        };
        least.x[i] <= low || least.x[i] >= high || !moved(1.0 - NEAR) || !moved(1.0 + NEAR)
    };
    Ok(Fit {
        layup: task.layup.clone(),
        exposure: task.exposure.clone(),
        quilts: task.quilts,
        free: task.free.to_vec(),
        readings: task.readings.clone(),
        values: least.x.iter().enumerate().map(|(i, x)| x * start(i)).collect(),
        half_widths: (0..n_free).map(|i| spread.half_widths[i].map(|w| w * start(i))).collect(),
        at_end: task.free.iter().enumerate().map(at_end).collect(),
        twins: twins(task.free, &least.x, &spread),
        fitted_layup,
        fitted_exposure,
        next_to_next: next_to_next(task.readings, &least.residuals),
        step_error: step_error(&least.jacobian, &half),
        mesh_error: after.iter().zip(&finer).map(apart).fold(0.0, f64::max),
        before,
        after,
        spread,
        end: least.end,
        n_jacobians: least.n_jacobians,
        n_runs: n_runs + coarse.n_runs + 1,
    })
}

/// The readings at one point; all must be reached.
fn one(model: &mut Model, factors: &[f64]) -> Result<Vec<f64>, FitError> {
    let all = model.predicted(&[factors.to_vec()]).map_err(FitError::Solver)?;
    let values: Vec<f64> = all.into_iter().flatten().collect();
    if values.iter().all(|v| v.is_finite()) { Ok(values) } else { Err(FitError::NotReached) }
}

/// Largest difference of two columns, relative to the column's length.
fn step_error(wide: &ndarray::Array2<f64>, narrow: &ndarray::Array2<f64>) -> f64 {
    let columns = wide.columns().into_iter().zip(narrow.columns());
    columns
        .map(|(wide, narrow)| {
            let length =
                |values: &mut dyn Iterator<Item = f64>| values.map(|v| v * v).sum::<f64>().sqrt();
            let apart = length(&mut wide.iter().zip(narrow).map(|(a, b)| a - b));
            let whole = length(&mut narrow.iter().copied());
            if whole > 0.0 { apart / whole } else { 0.0 }
        })
        .fold(0.0, f64::max)
}

/// Correlation of each residual with the next one of its curve, about zero.
fn next_to_next(readings: &Readings, residuals: &[f64]) -> Option<f64> {
    let Readings::Curves(curves) = readings else { return None };
    let (mut products, mut from) = (0.0, 0);
    for curve in curves {
        let own = &residuals[from..from + curve.points.len()];
        products += own.windows(2).map(|pair| pair[0] * pair[1]).sum::<f64>();
        from += curve.points.len();
    }
    let squares: f64 = residuals.iter().map(|r| r * r).sum();
    (squares > 0.0).then(|| products / squares)
}

/// Largest difference of the readings of `layup`, as read back from a file, from the fitted ones [K] or [s].
///
/// Errors: those of the solver.
pub fn read_back(fit: &Fit, layup: &Layup) -> Result<f64, FitError> {
    let computed = as_computed(layup, fit.quilts);
    let mut model = Model::new(&computed, &fit.fitted_exposure, &[], &fit.readings, LEVEL);
    let read = one(&mut model, &[])?;
    Ok(read.iter().zip(&fit.after).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max))
}
