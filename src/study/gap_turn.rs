//! Where more air stops helping, and the numbers that say why.

use crate::bench::outcome::When;
use crate::physics::gap::RAYLEIGH_ONSET;
use crate::study::gap_point::{GapPoint, Shares};

/// Gain of a further millimetre, relative to the figure, below which air is said to help no more [1/m].
pub const GAIN_LEAST: f64 = 0.01 / 1e-3;
/// Share of convection from which on the air is said to move [–].
pub const CONVECTION_FELT: f64 = 0.01;

/// How the time to a rise of 24 K goes with the gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Course {
    /// It is longest at the turn and shorter beyond, by more than the numerical error.
    Optimum,
    /// From the turn on, no wider gap gains more than [`GAIN_LEAST`].
    Flattens,
    /// It still grows at the widest gap.
    StillGains,
}

/// The turn of a sweep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// How the figure goes.
    pub course: Course,
    /// The point at the turn; the last one while air still gains.
    pub at: usize,
    /// The last point with a settled time; all numbers are of points up to it.
    pub last: usize,
    /// Time at the turn [s].
    pub t: f64,
    /// Time at the last point [s].
    pub t_last: f64,
    /// Gain of the last millimetres over the time, per length [1/m].
    pub gain_last: f64,
    /// First gap at which convection carries more than [`CONVECTION_FELT`] of the heat [m].
    pub moves_from: Option<f64>,
    /// First gap at which the Rayleigh number passes the onset between horizontal plates [m].
    pub onset_from: Option<f64>,
    /// Shares of the heat at the narrowest gap.
    pub shares_first: Shares,
    /// Shares of the heat at the turn.
    pub shares: Shares,
    /// Shares of the heat at the last point.
    pub shares_last: Shares,
}

/// The turn of a sweep whose gaps grow; none for fewer than three settled times.
pub fn turn(points: &[GapPoint]) -> Option<Turn> {
    let settled: Vec<(f64, f64, f64)> = points
        .iter()
        .map_while(|point| match point.disc.rise24 {
            When::At { t, error } => Some((point.gap, t, error)),
            _ => None,
        })
        .collect();
    if settled.len() < 3 {
        return None;
    }
    let last = settled.len() - 1;
    let (course, at) = course(&settled);
    let gain_last = (settled[last].1 - settled[last - 1].1)
        / (settled[last].0 - settled[last - 1].0)
        / settled[last].1;
    let upto = &points[..=last];
    let first_gap =
        |of: &dyn Fn(&GapPoint) -> bool| upto.iter().find(|p| of(p)).map(|point| point.gap);
    Some(Turn {
        course,
        at,
        last,
        t: settled[at].1,
        t_last: settled[last].1,
        gain_last,
        moves_from: first_gap(&|p| p.shares().convection > CONVECTION_FELT),
        onset_from: first_gap(&|p| p.rayleigh_most() > RAYLEIGH_ONSET),
        shares_first: points[0].shares(),
        shares: points[at].shares(),
        shares_last: points[last].shares(),
    })
}

/// The course through `(gap, time, error)` and its point.
fn course(settled: &[(f64, f64, f64)]) -> (Course, usize) {
    let last = settled.len() - 1;
    let top = (0..=last).rev().max_by(|a, b| settled[*a].1.total_cmp(&settled[*b].1)).unwrap_or(0);
    let falls =
        settled[top..].iter().any(|(_, t, error)| t + error < settled[top].1 - settled[top].2);
    if falls {
        return (Course::Optimum, top);
    }
    let helps_no_more = |i: &usize| {
        let (gap, t, _) = settled[*i];
        settled[i + 1..]
            .iter()
            .all(|(wider, later, _)| (later - t) / (wider - gap) < GAIN_LEAST * t)
    };
    match (0..last).find(helps_no_more) {
        Some(at) => (Course::Flattens, at),
        None => (Course::StillGains, last),
    }
}

#[cfg(test)]
mod tests {
    use super::{Course, course};

    fn of(times: &[f64]) -> (Course, usize) {
        let points: Vec<_> =
            times.iter().enumerate().map(|(i, t)| (1e-3 * (i + 1) as f64, *t, 0.01)).collect();
        course(&points)
    }

    #[test]
    fn optimum_flat_and_still_gaining_are_told_apart() {
        assert_eq!(of(&[10.0, 12.0, 13.0, 12.5]), (Course::Optimum, 2));
        assert_eq!(of(&[10.0, 12.0, 12.05, 12.06]), (Course::Flattens, 1));
        assert_eq!(of(&[10.0, 11.0, 12.0, 13.0]), (Course::StillGains, 3));
        // a fall within the numerical error is none
        assert_eq!(of(&[10.0, 12.0, 13.0, 12.99]), (Course::Flattens, 2));
        assert_eq!(of(&[13.0, 12.0, 11.0]), (Course::Optimum, 0));
    }
}
