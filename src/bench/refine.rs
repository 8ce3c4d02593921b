//! Finer and finer meshes until every reported time is known closely enough.
//!
//! Each level halves every cell and cuts the step tolerance by 8, so that the errors of the
//! second-order mesh and of the second-order step both fall by about 4. The difference of two
//! levels then estimates the error (Richardson extrapolation: P. J. Roache, J. Fluids Eng.
//! 116 (1994) 405).
//!
//! Mesh and step err in opposite directions, and a front of evaporation moves cell by cell, so
//! that two levels now and then agree by chance. The larger of the last two differences, the
//! earlier one divided by 4, is taken therefore, and two levels are never believed beyond
//! `LEAST_OF_TWO`, three beyond a quarter of it, and so on. That bound is of times and rises of
//! temperature: a value that follows these more steeply, as a burn integral does, is bounded by what
//! so much of a rise changes it by.

use crate::bench::outcome::{Valued, When};
use crate::solver::error::SolverError;

/// Ratio of the errors of two levels [–].
pub(crate) const FALL: f64 = 4.0;
/// Safety factor on the estimated error [–]. Source: Roache 1994 asks for 1.25 with three meshes, 3 with two.
pub(crate) const SAFETY: f64 = 3.0;
/// Smallest error that two levels can show, relative to the value [–]. Source: our own runs
/// of 400 made-up layups; without it one printed error in twelve was too small, with it none.
const LEAST_OF_TWO: f64 = 2.5e-3;
/// The same where water moves. Source: our own runs of 120 made-up moist layups; with the other, 4 of
/// 360 printed errors were too small, by up to a quarter; with this one none. Kept since cells are finer
/// towards a closed face, though of 450 printed errors none would now be too small with the other.
const LEAST_OF_TWO_MOIST: f64 = 4.5e-3;
/// Finest level tried.
const LEVEL_MOST: usize = 5;

/// A value that a run read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// The value.
    pub value: f64,
    /// What it changes by with all rises of temperature, over the share by which these change [unit of
    /// the value]; 0 for what follows them no more steeply than in proportion.
    pub swing: f64,
}

impl From<f64> for Value {
    fn from(value: f64) -> Value {
        Value { value, swing: 0.0 }
    }
}

/// What one run read.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// Times [s]; none if it did not happen.
    pub times: Vec<Option<f64>>,
    /// Time between two of them [s]; none unless both happened, or where nobody asks.
    pub between: Option<f64>,
    /// Other values.
    pub values: Vec<Value>,
    /// Time the run reached [s].
    pub t_end: f64,
    /// Whether water moved: drying fronts pass nodes one by one, and two meshes agree by chance more often.
    pub moist: bool,
}

/// The finest run and its readings with their errors.
#[derive(Debug, Clone)]
pub struct Refined<T> {
    /// Record of the finest run.
    pub finest: T,
    /// Times with errors, in the order of [`Readings::times`].
    pub times: Vec<When>,
    /// The time between two of them with its error; none unless the last two levels have it.
    pub between: Option<Valued>,
    /// Values with errors, in the order of [`Readings::values`].
    pub values: Vec<Valued>,
    /// Whether every time keeps to the goal.
    pub goal_met: bool,
}

/// Times and values with their errors, from the readings of two or more levels, coarsest first.
///
/// - `finest`: the record of the last one
/// - `goal`: error allowed relative to each time [–]
///
/// Panics: with fewer than two levels.
fn settle<T>(finest: T, levels: &[Readings], goal: f64) -> Refined<T> {
    let [.., coarse, fine] = levels else { panic!("two levels or more") };
    let before = levels.len().checked_sub(3).map(|i| &levels[i]);
    let of_two = if fine.moist { LEAST_OF_TWO_MOIST } else { LEAST_OF_TWO };
    let n_more = levels.len() as i32 - 2;
    let least = of_two / FALL.powi(n_more);
    // drying fronts pass nodes one by one: what a steep value takes from them falls with the cells alone
    let least_steep = if fine.moist { of_two / FALL.sqrt().powi(n_more) } else { least };
    let times: Vec<When> = (0..fine.times.len())
        .map(|i| {
            let before = before.and_then(|readings| readings.times[i]);
            match (coarse.times[i], fine.times[i]) {
                (Some(coarse), Some(fine)) => {
                    let Valued { value, error } = valued(before, (coarse, fine), least);
                    When::At { t: value, error }
                }
                (None, None) => When::NotWithin { t_end: fine.t_end },
                (Some(t), None) | (None, Some(t)) => When::Unsettled { t },
            }
        })
        .collect();
    let between = coarse
        .between
        .zip(fine.between)
        .map(|both| valued(before.and_then(|readings| readings.between), both, least));
    let values = (0..fine.values.len()).map(|i| {
        let before = before.map(|readings| readings.values[i].value);
        let (coarse, fine) = (coarse.values[i], fine.values[i]);
        let Valued { value, error } = valued(before, (coarse.value, fine.value), least);
        Valued { value, error: error.max(least_steep * fine.swing) }
    });
    let goal_met = times.iter().all(|when| within(when, goal));
    Refined { finest, values: values.collect(), times, between, goal_met }
}

/// Runs levels from `level_first` on until every time's error is within `goal` of the time [–].
///
/// Errors: those of `run`.
pub fn refine<T>(
    level_first: usize,
    goal: f64,
    mut run: impl FnMut(usize) -> Result<(T, Readings), SolverError>,
) -> Result<Refined<T>, SolverError> {
    let (_, coarsest) = run(level_first)?;
    let mut levels = vec![coarsest];
    for level in level_first + 1.. {
        let (finest, readings) = run(level)?;
        levels.push(readings);
        let refined = settle(finest, &levels, goal);
        if refined.goal_met || level >= LEVEL_MOST {
            return Ok(refined);
        }
    }
    unreachable!("the last level returns")
}

/// As [`refine`] from level 0 on, for `n` cases at once: each goes on for as long as it has to.
///
/// - `run`: takes a level and the cases still open, and gives one run for each in that order
///
/// Errors, case by case: those of `run`.
pub fn refine_all<T, E>(
    n: usize,
    goal: f64,
    mut run: impl FnMut(usize, &[usize]) -> Vec<Result<(T, Readings), E>>,
) -> Vec<Result<Refined<T>, E>> {
    let mut levels: Vec<Vec<Readings>> = vec![Vec::new(); n];
    let mut all: Vec<Option<Result<Refined<T>, E>>> = (0..n).map(|_| None).collect();
    let mut open: Vec<usize> = (0..n).collect();
    for level in 0..=LEVEL_MOST {
        for (i, run) in open.iter().zip(run(level, &open)) {
            let (finest, readings) = match run {
                Ok(run) => run,
                Err(error) => {
                    all[*i] = Some(Err(error));
                    continue;
                }
            };
            levels[*i].push(readings);
            if level > 0 {
                let refined = settle(finest, &levels[*i], goal);
                if refined.goal_met || level == LEVEL_MOST {
                    all[*i] = Some(Ok(refined));
                }
            }
        }
        open.retain(|i| all[*i].is_none());
        if open.is_empty() {
            break;
        }
    }
    all.into_iter().map(|one| one.expect("the last level settles what is open")).collect()
}

/// `least` is the smallest relative error that so many levels can show.
fn valued(coarser: Option<f64>, (coarse, fine): (f64, f64), least: f64) -> Valued {
    let step = (fine - coarse) / (FALL - 1.0);
    let value = fine + step;
    let seen = SAFETY * step.abs();
    let step_before = coarser.map_or(0.0, |coarser| (coarse - coarser) / (FALL - 1.0));
    let error = seen.max(SAFETY * step_before.abs() / FALL).max(least * value.abs());
    Valued { value, error }
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
        Readings {
            times: vec![Some(time), None],
            between: None,
            values: vec![time.into()],
            t_end: 30.0,
            moist: false,
        }
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
    fn many_at_once_are_each_as_alone() {
        let reads = |i: usize, level: usize| {
            let time = 10.0 + i as f64 / 5f64.powi(level as i32);
            Readings {
                times: vec![Some(time)],
                between: None,
                values: vec![time.into()],
                t_end: 30.0,
                moist: false,
            }
        };
        let failed = || SolverError::GivenUp { t: 2.0 };
        let all = refine_all(5, 5e-3, |level, open| {
            let one = |i: &usize| match (*i, level) {
                (2, 1) => Err(failed()),
                _ => Ok(((*i, level), reads(*i, level))),
            };
            open.iter().map(one).collect()
        });
        for (i, found) in all.into_iter().enumerate() {
            let alone = refine(0, 5e-3, |level| Ok(((i, level), reads(i, level)))).unwrap();
            match found {
                Err(error) => assert_eq!((i, error), (2, failed())),
                Ok(found) => assert_eq!(
                    (found.finest, found.times, found.values, found.goal_met),
                    (alone.finest, alone.times, alone.values, alone.goal_met)
                ),
            }
        }
    }

    #[test]
    fn two_levels_that_agree_by_chance_are_not_believed() {
        let chance = |level: usize| {
            let time = [10.0, 10.0, 10.3, 10.36, 10.37, 10.371][level];
            Ok((
                level,
                Readings {
                    times: vec![Some(time)],
                    between: None,
                    values: vec![time.into()],
                    t_end: 30.0,
                    moist: false,
                },
            ))
        };
        let refined = refine(0, 5e-3, chance).unwrap();
        let When::At { t, error } = refined.times[0] else { panic!("reached") };
        assert!(refined.finest == 1 && error >= 2.5e-3 * t && t == 10.0);
        let strict = refine(0, 2e-3, chance).unwrap();
        let When::At { error, .. } = strict.times[0] else { panic!("reached") };
        // levels 3 and 4 differ by 0.01, levels 2 and 3 by 0.06: a quarter of the latter counts
        assert!(strict.finest == 4 && (error - 0.015).abs() < 1e-12, "± {error}");
    }

    #[test]
    fn a_time_that_only_one_level_sees_stays_unsettled() {
        let odd = |level: usize| {
            let times = vec![(level % 2 == 1).then_some(5.0)];
            Ok(((), Readings { times, between: None, values: vec![], t_end: 9.0, moist: false }))
        };
        let refined = refine(0, 5e-3, odd).unwrap();
        assert!(!refined.goal_met);
        assert_eq!(refined.times[0], When::Unsettled { t: 5.0 });
    }
}
