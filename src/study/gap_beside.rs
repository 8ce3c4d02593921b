//! The same gap opened in several layups: which lasts longest at which thickness, and where two change places.

use crate::bench::outcome::When;
use crate::study::gap::GapSweep;
use crate::study::gap_point::GapPoint;

/// Where the time to a rise of 24 K of two layups changes its order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The layup that lasts longer in narrower gaps, by its place.
    pub narrower: usize,
    /// The layup that lasts longer in wider gaps.
    pub wider: usize,
    /// Thickness at which both last alike [m].
    pub gap: f64,
}

/// The same gap opened in several layups.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// Each layup's sweep, all over the same thicknesses.
    pub sweeps: Vec<GapSweep>,
    /// Where two change places.
    pub crossings: Vec<Crossing>,
}

impl Beside {
    /// What the sweeps come to.
    ///
    /// - `sweeps`: over the same thicknesses, which grow
    ///
    /// Panics: sweeps of different lengths.
    pub fn of(sweeps: Vec<GapSweep>) -> Beside {
        let crossings = crossings(&sweeps);
        Beside { sweeps, crossings }
    }
}

/// Every crossing of two layups' times, by the layups' order, then the gap.
///
/// Only what lies apart by more than the numerical errors of both counts as an order; between the last
/// thickness of one order and the first of the other the times are taken as straight.
fn crossings(sweeps: &[GapSweep]) -> Vec<Crossing> {
    let mut found = Vec::new();
    for one in 0..sweeps.len() {
        for other in one + 1..sweeps.len() {
            let (a, b) = (&sweeps[one].points, &sweeps[other].points);
            assert_eq!(a.len(), b.len(), "sweeps over the same thicknesses");
            let apart: Vec<(f64, f64, f64)> =
                a.iter().zip(b).filter_map(|(a, b)| difference(a, b)).collect();
            found.extend(changes(&apart).map(|(gap, first)| {
                let (narrower, wider) = if first { (one, other) } else { (other, one) };
                Crossing { narrower, wider, gap }
            }));
        }
    }
    found
}

/// Gap [m], difference of both times and the sum of their errors [s].
fn difference(a: &GapPoint, b: &GapPoint) -> Option<(f64, f64, f64)> {
    match (a.disc.rise24, b.disc.rise24) {
        (When::At { t, error }, When::At { t: other, error: of_other }) => {
            Some((a.gap, t - other, error + of_other))
        }
        _ => None,
    }
}

/// Where a difference changes its sign for good, and whether it was above 0 before.
fn changes(apart: &[(f64, f64, f64)]) -> impl Iterator<Item = (f64, bool)> {
    let decided: Vec<usize> =
        (0..apart.len()).filter(|i| apart[*i].1.abs() > apart[*i].2).collect();
    let mut found = Vec::new();
    for pair in decided.windows(2) {
        let (before, after) = (apart[pair[0]].1 > 0.0, apart[pair[1]].1 > 0.0);
        if before == after {
            continue;
        }
        // the two thicknesses between which the difference passes through 0 last
        let ends = (pair[0]..pair[1]).rev().find(|i| (apart[*i].1 > 0.0) == before);
        let at = ends.unwrap_or(pair[0]);
        let ((x0, d0, _), (x1, d1, _)) = (apart[at], apart[at + 1]);
        found.push((x0 + (x1 - x0) * d0 / (d0 - d1), before));
    }
    found.into_iter()
}

impl GapSweep {
    /// The point at which a layup lasts longest, of those that are settled; the narrowest of equal ones.
    pub fn longest(&self) -> Option<&GapPoint> {
        let t = |point: &&GapPoint| point.disc.rise24.t();
        let settled = self.points.iter().filter(|point| t(point).is_some());
        settled.rev().max_by(|a, b| {
            t(a).unwrap_or(f64::NEG_INFINITY).total_cmp(&t(b).unwrap_or(f64::NEG_INFINITY))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::changes;

    fn of(differences: &[f64]) -> Vec<(f64, bool)> {
        let apart: Vec<_> =
            differences.iter().enumerate().map(|(i, d)| (i as f64, *d, 0.1)).collect();
        changes(&apart).collect()
    }

    #[test]
    fn an_order_changes_where_the_difference_passes_0() {
        assert_eq!(of(&[1.0, 2.0, 3.0]), []);
        assert_eq!(of(&[1.0, -1.0, -2.0]), [(0.5, true)]);
        assert_eq!(of(&[-1.0, -0.5, 0.5, -0.5]), [(1.5, false), (2.5, true)]);
    }

    #[test]
    fn what_lies_within_the_errors_has_no_order() {
        assert_eq!(of(&[1.0, -0.05, 1.0]), []);
        assert_eq!(of(&[0.05, -1.0, -2.0]), []);
        // 0.05, -0.05: the straight line passes 0 between the two
        assert_eq!(of(&[1.0, 0.05, -0.05, -1.0]), [(1.5, true)]);
    }
}
