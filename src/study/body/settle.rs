//! Burns on a coarse mesh and on one twice as fine put together: what they come to, and the least and the most that
//! they leave open.

use crate::bench::refine::{FALL, SAFETY};
use crate::study::body::burns::{Burn, ByGap};
use crate::study::body::cell::Behind;
use crate::study::body::runs::REST;

/// The burns behind some layups, extrapolated from two meshes.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// What they come to.
    pub burns: Vec<Behind>,
    /// The least: every burn integral less by its own error. Near the threshold of a burn whole places turn with
    /// it, and the share of an area with them.
    pub least: Vec<Behind>,
    /// The most: what comes within its error of the threshold counts as burnt.
    pub most: Vec<Behind>,
    /// With every second gap and fewer places.
    pub halved: Vec<Behind>,
}

impl Settled {
    /// From the burns behind the same layups on two meshes.
    ///
    /// - `fine`: at all gaps of `coarse`, or at every second of them: the meshes' error is smooth in the gap, and
    ///   what its neighbours differ by counts into the error between them
    pub fn of(coarse: &[Behind], fine: &[Behind]) -> Settled {
        let end = |which: f64| {
            let with = |coarse: &[Burn], fine: &[Burn]| at_end(coarse, fine, which);
            coarse.iter().zip(fine).map(|(one, two)| one.merged(two, with)).collect()
        };
        let burns: Vec<Behind> = end(0.0);
        let halved = burns.iter().map(Behind::halved).collect();
        Settled { burns, least: end(-1.0), most: end(1.0), halved }
    }

    /// What an answer's error is told by: fewer gaps and places, the least, the most.
    pub fn open(&self) -> [&[Behind]; 3] {
        [&self.halved, &self.least, &self.most]
    }
}

/// How a burn moves from the coarse mesh to the extrapolated one.
#[derive(Debug, Clone, Copy)]
struct Shift {
    /// Of ln Ω [–].
    ln_omega: f64,
    /// Error of ln Ω then [–], a bound.
    error: f64,
    /// Of its time where both meshes have one, else 0 [s].
    t: f64,
    /// The time on the fine mesh, if there is one [s].
    fine: Option<f64>,
}

impl Shift {
    fn of(coarse: Burn, fine: Burn) -> Shift {
        let beyond = |coarse: f64, fine: f64| (fine - coarse) * FALL / (FALL - 1.0);
        let t = coarse.t.zip(fine.t).map_or(0.0, |(coarse, fine)| beyond(coarse, fine));
        Shift {
            ln_omega: beyond(coarse.ln_omega, fine.ln_omega),
            error: SAFETY * (fine.ln_omega - coarse.ln_omega).abs() / (FALL - 1.0),
            t,
            fine: fine.t,
        }
    }

    /// In the middle between two gaps.
    fn between(self, other: Shift) -> Shift {
        let middle = |one: f64, two: f64| 0.5 * (one + two);
        let apart = (self.ln_omega - other.ln_omega).abs();
        Shift {
            ln_omega: middle(self.ln_omega, other.ln_omega),
            error: self.error.max(other.error) + 0.5 * apart,
            t: middle(self.t, other.t),
            fine: self.fine.zip(other.fine).map(|(one, two)| middle(one, two)),
        }
    }

    /// The burn of the coarse mesh moved.
    ///
    /// - `end`: by so many errors more [–]
    fn moved(&self, coarse: Burn, end: f64) -> Burn {
        let ln_omega = coarse.ln_omega + self.ln_omega + end * self.error;
        // where neither mesh says when, at the last
        let t = coarse.t.map(|t| t + self.t).or(self.fine).or((end > 0.0).then_some(REST));
        let t = t.filter(|_| ln_omega >= 0.0);
        Burn { t, ln_omega: if t.is_some() { ln_omega } else { ln_omega.min(0.0) } }
    }
}

fn at_end(coarse: &[Burn], fine: &[Burn], end: f64) -> ByGap {
    let every = coarse.len().div_ceil(fine.len());
    let known = |i: usize| Shift::of(coarse[i * every], fine[i]);
    let moved = |(i, burn): (usize, &Burn)| {
        let (before, is_known) = (i / every, i % every == 0);
        let shift = if is_known { known(before) } else { known(before).between(known(before + 1)) };
        shift.moved(*burn, end)
    };
    coarse.iter().enumerate().map(moved).collect()
}

#[cfg(test)]
mod tests {
    use super::at_end;
    use crate::study::body::burns::Burn;
    use approx::assert_relative_eq;

    fn burns(ln_omegas: &[f64]) -> Vec<Burn> {
        let burn = |ln: &f64| Burn { t: (*ln >= 0.0).then_some(9.0 - ln), ln_omega: *ln };
        ln_omegas.iter().map(burn).collect()
    }

    /// Errors of second order, by hand: 0.3 on the coarse mesh and 0.075 on the fine one about what is true.
    #[test]
    fn an_error_of_second_order_is_taken_away() {
        let truth = [2.0, 1.0, -1.0];
        let off = |by: f64| burns(&truth.map(|ln| ln + by));
        for fine in [off(0.075), off(0.075).into_iter().step_by(2).collect()] {
            let found = at_end(&off(0.3), &fine, 0.0);
            for (burn, ln_omega) in found.iter().zip(truth) {
                assert_relative_eq!(burn.ln_omega, ln_omega, epsilon = 1e-12);
            }
            assert_relative_eq!(found[0].t.unwrap(), 7.0, epsilon = 1e-12);
            assert_eq!(found[2].t, None);
        }
    }

    /// A burn on the coarse mesh alone: the extrapolated integral says that there is none, its error that there
    /// may be one.
    #[test]
    fn near_the_threshold_both_ways_are_left_open() {
        let (coarse, fine) = (burns(&[0.02]), burns(&[-0.01]));
        let [least, found, most] = [-1.0, 0.0, 1.0].map(|end| at_end(&coarse, &fine, end)[0]);
        assert_eq!((least.t, found.t), (None, None));
        assert_relative_eq!(found.ln_omega, -0.02, epsilon = 1e-12);
        assert_relative_eq!(most.ln_omega, 0.01, epsilon = 1e-12);
        assert!(most.t.is_some());
        let sure = burns(&[-2.0]);
        assert_eq!(at_end(&sure, &sure, 1.0)[0].t, None);
    }
}
