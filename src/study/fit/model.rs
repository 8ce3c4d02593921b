//! The solver's disc at the moments of the readings, and how it moves with each property.
//!
//! Every run has the mesh of the first, stretched with the plies, and the same step tolerance, so
//! that the difference of two runs is the property's. Runs of one Jacobian go through the solver
//! side by side.

use ndarray::Array2;
use rayon::prelude::*;

use crate::bench::assemble::Backing;
use crate::bench::rise::rise_through;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::press::pressed_layup;
use crate::shelf::key::possible::is_possible;
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::shape::Shape;
use crate::solver::stream::{Stream, march_stream};
use crate::solver::tied::march_paths;
use crate::solver::watch::{Next, Step, Watch};
use crate::study::fit::free::Free;
use crate::study::fit::levenberg::{Residuals, matrix};
use crate::study::fit::readings::Readings;
use crate::study::sensitivity::paths_laid;

/// Problems side by side in the solver.
const N_LANES: usize = 4;
/// Step tolerance, tighter than the mesh asks for, since differences are taken [–].
const TOL: f64 = 1e-4;
/// Relative step of the differences [–].
pub const STEP: f64 = 0.01;

/// What is asked of a run.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    /// Moments, rising [s].
    times: Vec<f64>,
    /// Rises whose time is wanted [K].
    levels: Vec<f64>,
    /// For each reading, its place among `times`, or among `levels`.
    places: Vec<usize>,
}

impl Asked {
    fn of(readings: &Readings) -> Asked {
        let sorted = |values: &mut Vec<f64>| {
            values.sort_by(f64::total_cmp);
            values.dedup();
        };
        let place = |all: &[f64], value: f64| all.partition_point(|v| *v < value);
        match readings {
            Readings::Curves(curves) => {
                let all = || curves.iter().flat_map(|c| c.points.iter().map(|p| p.0));
                let mut times: Vec<f64> = all().collect();
                sorted(&mut times);
                let places = all().map(|t| place(&times, t)).collect();
                Asked { times, levels: Vec::new(), places }
            }
            Readings::Times { times, .. } => {
                let mut levels: Vec<f64> = times.iter().map(|timed| timed.rise).collect();
                sorted(&mut levels);
                let places = times.iter().map(|timed| place(&levels, timed.rise)).collect();
                Asked { times: Vec::new(), levels, places }
            }
        }
    }
}

/// The disc as the properties' factors move it.
#[derive(Debug, Clone)]
pub struct Model<'a> {
    layup: &'a Layup,
    exposure: Exposure,
    free: &'a [Free],
    asked: Asked,
    observed: Vec<f64>,
    level: usize,
    base: Layup,
    node_behind: usize,
    /// Runs of the solver so far.
    pub n_runs: usize,
}

impl<'a> Model<'a> {
    /// The disc behind `layup`, as quilted if it has a quilting, at a level of the mesh, asked for what `readings` tell.
    pub fn new(
        layup: &'a Layup,
        exposure: &Exposure,
        free: &'a [Free],
        readings: &Readings,
        level: usize,
    ) -> Model<'a> {
        let mut exposure = exposure.clone();
        exposure.t_end = match readings {
            Readings::Curves(_) => readings.t_last() * 1.001 + 1e-3,
            Readings::Times { .. } => exposure.t_end.max(4.0 * readings.t_last()),
        };
        let base = pressed_layup(layup);
        let own = paths_laid((&base, &base), (&exposure, &exposure), Backing::Disc, level);
        let node_behind = own[0].0.node_behind;
        let (asked, observed) = (Asked::of(readings), readings.values());
        Model { layup, exposure, free, asked, observed, level, base, node_behind, n_runs: 0 }
    }

    /// Layup and exposure with each free property multiplied by its factor.
    pub fn moved(&self, factors: &[f64]) -> (Layup, Exposure) {
        let (mut layup, mut exposure) = (self.layup.clone(), self.exposure.clone());
        for (free, factor) in self.free.iter().zip(factors) {
            free.what.scale(&mut layup, &mut exposure, *factor);
        }
        (layup, exposure)
    }

    /// Whether a file may hold the layup at a point; a layup that no file holds anyway may be moved freely.
    pub fn may_be(&self, factors: &[f64]) -> bool {
        is_possible(&self.moved(factors).0) || !is_possible(self.layup)
    }

    /// The layup at a point: one problem, or the paths of a cell with their shares of the area [–].
    fn problems(&self, factors: &[f64]) -> Vec<(Problem, f64)> {
        let (layup, exposure) = self.moved(factors);
        let layup = pressed_layup(&layup);
        let exposures = (&self.exposure, &exposure);
        let laid = paths_laid((&self.base, &layup), exposures, Backing::Disc, self.level);
        laid.into_iter().map(|(laid, share)| (laid.problem, share)).collect()
    }

    /// What each reading should be at each of `points`; not finite where a rise is not reached.
    pub fn predicted(&mut self, points: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, SolverError> {
        self.n_runs += points.len();
        let laid: Vec<Vec<(Problem, f64)>> =
            points.iter().map(|point| self.problems(point)).collect();
        let runs = if self.base.quilting.is_some() {
            let over_cell = |paths: &Vec<(Problem, f64)>| self.over_cell(paths);
            vec![laid.par_iter().map(over_cell).collect::<Result<Vec<Disc>, _>>()?]
        } else {
            let problems: Vec<Problem> =
                laid.into_iter().flatten().map(|(problem, _)| problem).collect();
            let batches: Vec<&[Problem]> = problems.chunks(N_LANES).collect();
            let run = |batch: &&[Problem]| self.run(batch);
            match batches.as_slice() {
                [one] => vec![self.run(one)?],
                several => several.par_iter().map(run).collect::<Result<_, _>>()?,
            }
        };
        let read = |disc: Disc| -> Vec<f64> {
            let at = |place: &usize| match self.asked.levels.is_empty() {
                true => disc.values.get(*place).copied(),
                false => disc.reached[*place],
            };
            self.asked.places.iter().map(|place| at(place).unwrap_or(f64::NAN)).collect()
        };
        Ok(runs.into_iter().flatten().map(read).collect())
    }

    /// Runs the paths of a cell into the one disc.
    fn over_cell(&self, paths: &[(Problem, f64)]) -> Result<Disc, SolverError> {
        let options = Options { tol: TOL, ..Options::default() };
        let watch = |_| Disc::new(&self.asked, self.node_behind, self.exposure.temp_room);
        let paths: Vec<(&Problem, f64)> =
            paths.iter().map(|(problem, share)| (problem, *share)).collect();
        let tied = march_paths(&paths, &options, watch)?;
        Ok(tied.watches.into_iter().next().expect("a cell has paths"))
    }

    /// Runs problems side by side where their shapes agree.
    fn run(&self, problems: &[Problem]) -> Result<Vec<Disc>, SolverError> {
        let options = Options { tol: TOL, ..Options::default() };
        let watch = || Disc::new(&self.asked, self.node_behind, self.exposure.temp_room);
        let shape = Shape::of(&problems[0]);
        if problems.len() == 1 || problems.iter().any(|problem| Shape::of(problem) != shape) {
            let alone = |problem: &Problem| {
                let mut watch = watch();
                march(problem, &options, &mut watch).map(|_| watch)
            };
            return problems.iter().map(alone).collect();
        }
        let mut batch =
            Batch { problems, next: 0, watch: watch(), ended: vec![None; problems.len()] };
        march_stream::<_, N_LANES>(&mut batch, &options);
        batch.ended.into_iter().map(|disc| disc.expect("every problem ends")).collect()
    }

    /// Derivatives by the factors, by differences of `step` [–]: central, or from within at a bound.
    pub fn slopes(&mut self, factors: &[f64], step: f64) -> Result<Array2<f64>, SolverError> {
        let mut points = Vec::new();
        let mut weights = Vec::new();
        for (i, free) in self.free.iter().enumerate() {
            let h = step * factors[i];
            // what is admissible may end where the range does
            let (low, high) = free.factors();
            let side = match () {
                () if factors[i] + h > high => -h,
                () if factors[i] - h < low => h,
                () => 0.0,
            };
            let offsets = match side {
                0.0 => vec![(h, 0.5 / h), (-h, -0.5 / h)],
                s => vec![(0.0, -1.5 / s), (s, 2.0 / s), (2.0 * s, -0.5 / s)],
            };
            for (offset, weight) in offsets {
                let mut point = factors.to_vec();
                point[i] += offset;
                points.push(point);
                weights.push((i, weight));
            }
        }
        let predicted = self.predicted(&points)?;
        let mut columns = vec![vec![0.0; self.observed.len()]; factors.len()];
        for (values, (i, weight)) in predicted.iter().zip(weights) {
            for (slot, value) in columns[i].iter_mut().zip(values) {
                *slot += weight * value;
            }
        }
        Ok(matrix(&columns))
    }
}

impl Residuals for Model<'_> {
    type Error = SolverError;

    fn residuals(&mut self, factors: &[f64]) -> Result<Vec<f64>, SolverError> {
        // each may be possible with the others as they were, and all of them together not
        if !self.may_be(factors) {
            return Ok(vec![f64::NAN; self.observed.len()]);
        }
        let predicted = self.predicted(&[factors.to_vec()])?;
        let all = predicted.into_iter().flatten().zip(&self.observed);
        Ok(all.map(|(predicted, observed)| predicted - observed).collect())
    }

    fn jacobian(&mut self, factors: &[f64]) -> Result<Array2<f64>, SolverError> {
        self.slopes(factors, STEP)
    }
}

/// Watches the disc at given moments.
#[derive(Debug, Clone)]
struct Disc {
    asked: Asked,
    node: usize,
    temp_start: f64,
    values: Vec<f64>,
    reached: Vec<Option<f64>>,
}

impl Disc {
    fn new(asked: &Asked, node: usize, temp_start: f64) -> Disc {
        let reached = vec![None; asked.levels.len()];
        Disc { asked: asked.clone(), node, temp_start, values: Vec::new(), reached }
    }
}

impl Watch for Disc {
    fn step(&mut self, step: &Step<'_>) -> Next {
        while let Some(t) = self.asked.times.get(self.values.len()).filter(|t| **t <= step.t1) {
            self.values.push(step.temp(self.node, t.max(step.t0)) - self.temp_start);
        }
        for (reached, level) in self.reached.iter_mut().zip(&self.asked.levels) {
            *reached = reached.or_else(|| rise_through(step, self.node, self.temp_start + level));
        }
        let all =
            self.values.len() == self.asked.times.len() && self.reached.iter().all(Option::is_some);
        if all { Next::Stop } else { Next::Go }
    }
}

struct Batch<'a> {
    problems: &'a [Problem],
    next: usize,
    watch: Disc,
    ended: Vec<Option<Result<Disc, SolverError>>>,
}

impl<'a> Stream<'a> for Batch<'a> {
    type Watch = Disc;

    fn next(&mut self) -> Option<(&'a Problem, Disc)> {
        let problem = self.problems.get(self.next)?;
        self.next += 1;
        Some((problem, self.watch.clone()))
    }

    fn ended(&mut self, order: usize, watch: Disc, end: Result<Ledger, SolverError>) {
        self.ended[order] = Some(end.map(|_| watch));
    }
}
