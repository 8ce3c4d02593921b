//! What the bench measured: curves of the disc's rise, or times alone.

use crate::shelf::lab::curve::Curve;

/// A time to a rise of the disc, as a report states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timed {
    /// Rise of the disc [K].
    pub rise: f64,
    /// When it was reached [s].
    pub t: f64,
}

/// What the fit follows.
#[derive(Debug, Clone, PartialEq)]
pub enum Readings {
    /// Rise over time, one curve a specimen.
    Curves(Vec<Curve>),
    /// Times alone, each with this standard deviation [s].
    Times {
        /// The times.
        times: Vec<Timed>,
        /// Standard deviation of each [s].
        deviation: f64,
    },
}

impl Readings {
    /// Number of readings.
    pub fn count(&self) -> usize {
        match self {
            Readings::Curves(curves) => curves.iter().map(|curve| curve.points.len()).sum(),
            Readings::Times { times, .. } => times.len(),
        }
    }

    /// The values read, curve by curve: rises [K] or times [s].
    pub fn values(&self) -> Vec<f64> {
        match self {
            Readings::Curves(curves) => {
                curves.iter().flat_map(|c| c.points.iter().map(|p| p.1)).collect()
            }
            Readings::Times { times, .. } => times.iter().map(|timed| timed.t).collect(),
        }
    }

    /// The last moment that is looked at [s].
    pub fn t_last(&self) -> f64 {
        match self {
            Readings::Curves(curves) => {
                let times = curves.iter().flat_map(|c| c.points.iter().map(|p| p.0));
                times.fold(0.0, f64::max)
            }
            Readings::Times { times, .. } => times.iter().map(|timed| timed.t).fold(0.0, f64::max),
        }
    }
}
