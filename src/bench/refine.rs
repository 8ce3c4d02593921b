//! Finer and finer meshes until every reported time is known closely enough.
//!
//! Each level halves every cell and cuts the step tolerance by 8, so that the errors of the
//! second-order mesh and of the second-order step both fall by about 4. The difference of two
//! levels then estimates the error (Richardson extrapolation: P. J. Roache, J. Fluids Eng.
//! 116 (1994) 405).

use crate::bench::outcome::{Valued, When};
use crate::solver::error::SolverError;

/// Ratio of the errors of two levels [–].
const FALL: f64 = 4.0;
/// Safety factor on the estimated error [–]. Source: Roache 1994 asks for 1.25 with three meshes, 3 with two.
const SAFETY: f64 = 3.0;
/// Finest level tried.
pub const LEVEL_MOST: usize = 5;

/// What one run read.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// Times [s]; none if it did not happen.
    pub times: Vec<Option<f64>>,
    /// Other values.
    pub values: Vec<f64>,
    /// Time the run reached [s].
    pub t_end: f64,
}

/// The finest run and its readings with their errors.
#[derive(Debug, Clone)]
pub struct Refined<T> {
    /// Record of the finest run.
    pub finest: T,
    /// Times with errors, in the order of [`Readings::times`].
    pub times: Vec<When>,
    /// Values with errors, in the order of [`Readings::values`].
    pub values: Vec<Valued>,
    /// Whether every time keeps to the goal.
    pub goal_met: bool,
}

/// Runs levels from `level_first` on until every time's error is within `goal` of the time [–].
///
/// Errors: those of `run`.
pub fn refine<T>(
    level_first: usize,
    goal: f64,
    mut run: impl FnMut(usize) -> Result<(T, Readings), SolverError>,
) -> Result<Refined<T>, SolverError> {
    let (_, mut coarse) = run(level_first)?;
    let mut level = level_first + 1;
    loop {
        let (finest, fine) = run(level)?;
        let times: Vec<When> = coarse
            .times
            .iter()
            .zip(&fine.times)
            .map(|(coarse, fine_time)| settle(*coarse, *fine_time, fine.t_end))
            .collect();
        let goal_met = times.iter().all(|when| within(when, goal));
        if goal_met || level >= LEVEL_MOST {
            let values = coarse.values.iter().zip(&fine.values).map(|(c, f)| valued(*c, *f));
            return Ok(Refined { finest, times, values: values.collect(), goal_met });
        }
        coarse = fine;
        level += 1;
    }
}

fn valued(coarse: f64, fine: f64) -> Valued {
    let step = (fine - coarse) / (FALL - 1.0);
    Valued { value: fine + step, error: SAFETY * step.abs() }
}

fn settle(coarse: Option<f64>, fine: Option<f64>, t_end: f64) -> When {
    match (coarse, fine) {
        (Some(coarse), Some(fine)) => {
            let Valued { value, error } = valued(coarse, fine);
            When::At { t: value, error }
        }
        (None, None) => When::NotWithin { t_end },
        (Some(t), None) | (None, Some(t)) => When::Unsettled { t },
    }
}

fn within(when: &When, goal: f64) -> bool {
    match when {
        When::At { t, error } => *error <= goal * t,
        When::NotWithin { .. } => true,
        When::Unsettled { .. } => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A reading with error 0.4·4^−level around 10 s.
    fn second_order(level: usize) -> Readings {
        let time = 10.0 + 0.4 / 4f64.powi(level as i32);
        Readings { times: vec![Some(time), None], values: vec![time], t_end: 30.0 }
    }

    #[test]
    fn extrapolates_second_order_and_covers_the_error() {
        let refined = refine(0, 5e-3, |level| Ok((level, second_order(level)))).unwrap();
        assert!(refined.goal_met);
        assert_eq!(refined.finest, 3);
        let When::At { t, error } = refined.times[0] else { panic!("reached") };
        assert!((t - 10.0).abs() < 1e-12 && error > 0.4 / 64.0 && error <= 0.05);
        assert_eq!(refined.times[1], When::NotWithin { t_end: 30.0 });
    }

    #[test]
    fn a_time_that_only_one_level_sees_stays_unsettled() {
        let odd = |level: usize| {
            let times = vec![(level % 2 == 1).then_some(5.0)];
            Ok(((), Readings { times, values: vec![], t_end: 9.0 }))
        };
        let refined = refine(0, 5e-3, odd).unwrap();
        assert!(!refined.goal_met);
        assert_eq!(refined.times[0], When::Unsettled { t: 5.0 });
    }
}
