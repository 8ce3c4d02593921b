//! Whether ratios drift with mass, thickness, regain or washing, more than chance explains.
//!
//! Tests of one layup, washed as often, are one case: two rounds of one cloth say nothing twice
//! about mass. Four measures are looked at, so that each is held to a quarter of the level: a book
//! without any drift tells of one in 1 of 20.

use crate::study::book::likeness::Likeness;
use crate::study::fit::student::two_sided;

/// Fewest cases in which a drift is looked for.
pub const N_CASES_LEAST: usize = 6;
/// Fewest different values of the measure among them.
pub const N_VALUES_LEAST: usize = 3;
/// Chance that a drift is told of by chance, over all measures together [–].
pub const CHANCE: f64 = 0.05;

/// What was found along a measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Told {
    /// Too few cases, or too few different values among them.
    TooFew,
    /// Nothing that chance does not explain.
    Chance {
        /// Correlation of the ratio's logarithm with the measure [–].
        correlation: f64,
    },
    /// More than chance explains.
    Drift {
        /// Correlation of the ratio's logarithm with the measure [–].
        correlation: f64,
    },
}

/// A measure along which the ratios may drift.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The measure, in words.
    pub along: &'static str,
    /// How many cases.
    pub n_cases: usize,
    /// How many different values of the measure.
    pub n_values: usize,
    /// What was found.
    pub told: Told,
}

/// A test with a prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// What tells its layup from others.
    pub key: String,
    /// Its figure.
    pub figure: String,
    /// How often it was washed.
    pub washed: u32,
    /// What its layup is like.
    pub likeness: Likeness,
    /// Logarithm of bench over prediction.
    pub ln_ratio: f64,
}

/// A measure's name and how it is read of a case.
type Measure = (&'static str, fn(&Pooled) -> f64);

/// Tests of one layup washed as often, as one.
struct Pooled {
    key: String,
    figure: String,
    washed: u32,
    likeness: Likeness,
    ln_ratios: Vec<f64>,
}

impl Pooled {
    fn ln_ratio(&self) -> f64 {
        self.ln_ratios.iter().sum::<f64>() / self.ln_ratios.len() as f64
    }
}

/// What was found along each measure, over all tests with a prediction.
pub fn drifts(tests: Vec<Seen>) -> Vec<Drift> {
    let measures: [Measure; 4] = [
        ("mass", |case| case.likeness.ln_mass),
        ("thickness", |case| case.likeness.ln_thickness),
        ("regain", |case| case.likeness.regain),
        ("washing", |case| f64::from(case.washed)),
    ];
    let level = 1.0 - CHANCE / measures.len() as f64;
    let cases = cases(tests);
    let drift = |(along, measure): Measure| {
        let points: Vec<(f64, f64)> = cases.iter().map(|c| (measure(c), c.ln_ratio())).collect();
        let n_values = different(points.iter().map(|point| point.0));
        Drift { along, n_cases: points.len(), n_values, told: told(&points, n_values, level) }
    };
    measures.into_iter().map(drift).collect()
}

fn cases(tests: Vec<Seen>) -> Vec<Pooled> {
    let mut cases: Vec<Pooled> = Vec::new();
    for Seen { key, figure, washed, likeness, ln_ratio } in tests {
        let same =
            |case: &&mut Pooled| case.key == key && case.washed == washed && case.figure == figure;
        match cases.iter_mut().find(same) {
            Some(case) => case.ln_ratios.push(ln_ratio),
            None => cases.push(Pooled { key, figure, washed, likeness, ln_ratios: vec![ln_ratio] }),
        }
    }
    cases
}

/// How many values differ by more than a thousandth of what they span.
fn different(values: impl Iterator<Item = f64>) -> usize {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    let span = match (values.first(), values.last()) {
        (Some(first), Some(last)) => last - first,
        _ => return 0,
    };
    values.dedup_by(|b, a| (*b - *a).abs() <= 1e-3 * span);
    values.len()
}

/// - `points`: measure and logarithm of the ratio, case by case
/// - `level`: beyond which chance is left out [–]
fn told(points: &[(f64, f64)], n_values: usize, level: f64) -> Told {
    if points.len() < N_CASES_LEAST || n_values < N_VALUES_LEAST {
        return Told::TooFew;
    }
    let Some(correlation) = correlation(points) else {
        return Told::Chance { correlation: 0.0 };
    };
    let freedom = points.len() - 2;
    // t of a correlation: Student's law if there is none (textbook, from memory)
    let t = correlation.abs() * (freedom as f64 / (1.0 - correlation * correlation)).sqrt();
    match t > two_sided(level, freedom) {
        true => Told::Drift { correlation },
        false => Told::Chance { correlation },
    }
}

/// Correlation of pairs [–]; none where either side does not vary.
fn correlation(points: &[(f64, f64)]) -> Option<f64> {
    let n = points.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / n;
    let (x_mean, y_mean) = (mean(|p| p.0), mean(|p| p.1));
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (x, y) in points {
        let (dx, dy) = (x - x_mean, y - y_mean);
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
    }
    let varies = xx > 1e-18 * (1.0 + x_mean * x_mean) && yy > 1e-18;
    varies.then(|| (xy / (xx * yy).sqrt()).clamp(-1.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::{CHANCE, Told, correlation, different, told};
    use approx::assert_relative_eq;

    /// Anscombe's first set, correlation 0.81642 (The American Statistician 27 (1973) 17; from memory).
    #[test]
    fn correlation_of_a_published_set() {
        let x = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0];
        let y = [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68];
        let points: Vec<(f64, f64)> = x.into_iter().zip(y).collect();
        assert_relative_eq!(correlation(&points).unwrap(), 0.81642, epsilon = 1e-5);
        assert_eq!(correlation(&[(1.0, 2.0), (1.0, 3.0)]), None);
    }

    /// Critical correlation for 4 degrees of freedom at two-sided 1.25 %: t = 4.3147 (so that
    /// r = 0.907; from the t law by numerical integration, computed for this test).
    #[test]
    fn a_drift_needs_cases_values_and_more_than_chance() {
        let level = 1.0 - CHANCE / 4.0;
        let line = |noise: f64| -> Vec<(f64, f64)> {
            let signs = [1.0, -1.0, -1.0, 1.0, -1.0, 1.0];
            (0..6).map(|i| (i as f64, 0.1 * i as f64 + noise * signs[i])).collect()
        };
        assert!(
            matches!(told(&line(0.02), 6, level), Told::Drift { correlation } if correlation > 0.95)
        );
        assert!(matches!(told(&line(0.30), 6, level), Told::Chance { .. }));
        // four tests, be they in line, and two values of a measure, be it washing, tell of none
        assert_eq!(told(&line(0.0)[..4], 4, level), Told::TooFew);
        assert_eq!(told(&line(0.0), 2, level), Told::TooFew);
    }

    #[test]
    fn values_that_hardly_differ_are_one() {
        assert_eq!(different([0.0, 0.0, 5.0, 5.001, 10.0].into_iter()), 3);
        assert_eq!(different([3.0, 3.0].into_iter()), 1);
        assert_eq!(different(std::iter::empty()), 0);
    }
}
