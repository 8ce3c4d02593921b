//! When skin burns behind one place of a layup, by the gap behind it, and the share of an area that has.

use crate::study::body::air::Air;

/// Gaps at which runs are made [m]; beyond the last the answer is that of the last.
pub const GAPS: [f64; 9] = [0.0, 0.75e-3, 2e-3, 4e-3, 6.5e-3, 10e-3, 15e-3, 23e-3, 35e-3];
/// Gap over which the coordinate between these goes over from the gap to its logarithm [m]: there air
/// conducts as much as surfaces at its temperatures radiate.
const GAP_BEND: f64 = 2e-3;
/// What ln Ω counts as where nothing reached the temperature from which skin is damaged: 44 °C for some ten
/// seconds make −6, and each kelvin less about one more.
const LN_OMEGA_NONE: f64 = -10.0;

/// One degree's burn behind one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burn {
    /// When [s]; none where it does not come.
    pub t: Option<f64>,
    /// Logarithm of the burn integral at the end over what the degree asks for [–].
    pub ln_omega: f64,
}

impl Burn {
    /// A burn at `t` [s], if it comes, with the burn integral at the end over what the degree asks for [–].
    pub fn new(t: Option<f64>, omega: f64) -> Burn {
        let ln = if omega > 0.0 { libm::log(omega).max(LN_OMEGA_NONE) } else { LN_OMEGA_NONE };
        // an integral that ended at the very level it was timed at counts as reached
        Burn { t, ln_omega: if t.is_some() { ln.max(0.0) } else { ln.min(0.0) } }
    }

    /// Between this burn and another, at a share of the way [–].
    ///
    /// Times straight where both burn; where one does, it does up to where ln Ω, straight between the two, is
    /// 0, at the time of the one that burns.
    pub fn between(self, other: Burn, way: f64) -> Burn {
        let ln_omega = (1.0 - way) * self.ln_omega + way * other.ln_omega;
        let t = match (self.t, other.t) {
            (Some(one), Some(two)) => Some((1.0 - way) * one + way * two),
            (Some(t), None) | (None, Some(t)) => (ln_omega >= 0.0).then_some(t),
            (None, None) => None,
        };
        Burn { t, ln_omega }
    }
}

/// The burns of one degree at each of [`GAPS`], or at every second of them.
pub type ByGap = Vec<Burn>;

/// Where a gap stands on the axis between the runs [–].
fn along(gap: f64) -> f64 {
    libm::log(1.0 + gap / GAP_BEND)
}

/// The gap at a place of that axis [m].
fn gap_at(along: f64) -> f64 {
    GAP_BEND * libm::expm1(along)
}

/// The gaps that so many burns are of: all, or every second one.
pub fn gaps(n: usize) -> Vec<f64> {
    let stride = (GAPS.len() - 1) / (n - 1).max(1);
    GAPS.iter().copied().step_by(stride.max(1)).take(n).collect()
}

/// Whether a burn has come by `t` [s].
fn is_burnt(burn: &Burn, t: f64) -> bool {
    burn.t.is_some_and(|at| at <= t)
}

/// Share of an area burnt by `t` [s] behind gaps spread as `air` says [–]; all of it lies on the body where burns are
/// known in contact alone.
pub fn share_burnt(burns: &[Burn], air: &Air, t: f64) -> f64 {
    let contact = if burns.len() == 1 { 1.0 } else { air.in_contact() };
    let on_body = if is_burnt(&burns[0], t) { contact } else { 0.0 };
    on_body + open_burnt(burns, air, t)
}

/// The part of it that does not lie on the body [–].
///
/// Between two gaps burns are as [`Burn::between`] has them, along an axis that is the gap where it is small
/// and its logarithm where it is wide.
pub fn open_burnt(burns: &[Burn], air: &Air, t: f64) -> f64 {
    if burns.len() == 1 || air.in_contact() >= 1.0 {
        return 0.0;
    }
    let mut share = 0.0;
    let gaps = gaps(burns.len());
    for (pair, ends) in burns.windows(2).zip(gaps.windows(2)) {
        let (from, to) = burnt_between(pair[0], pair[1], t);
        if to > from {
            let (lo, hi) = (along(ends[0]), along(ends[1]));
            let gap = |way: f64| match way {
                0.0 => ends[0],
                1.0 => ends[1],
                _ => gap_at((1.0 - way) * lo + way * hi),
            };
            share += air.below(gap(to)) - air.below(gap(from));
        }
    }
    let last = burns.len() - 1;
    if is_burnt(&burns[last], t) {
        share += 1.0 - air.below(gaps[last]);
    }
    share
}

/// The part of the way between two burns that has burnt by `t` [s]: from and to [–].
pub fn burnt_between(one: Burn, two: Burn, t: f64) -> (f64, f64) {
    let zero = |above: f64, below: f64| if above > below { above / (above - below) } else { 0.0 };
    match (one.t, two.t) {
        (Some(a), Some(b)) => match (a <= t, b <= t) {
            (true, true) => (0.0, 1.0),
            (true, false) => (0.0, (t - a) / (b - a)),
            (false, true) => ((t - a) / (b - a), 1.0),
            (false, false) => (0.0, 0.0),
        },
        (Some(a), None) if a <= t => (0.0, zero(one.ln_omega, two.ln_omega)),
        (None, Some(b)) if b <= t => (1.0 - zero(two.ln_omega, one.ln_omega), 1.0),
        _ => (0.0, 0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::{Burn, GAPS, gaps, share_burnt};
    use crate::study::body::air::Air;
    use approx::assert_relative_eq;

    fn burns(times: [Option<f64>; 9]) -> Vec<Burn> {
        times.iter().map(|t| Burn::new(*t, if t.is_some() { 3.0 } else { 0.01 })).collect()
    }

    #[test]
    fn every_second_gap_is_taken_for_the_error() {
        assert_eq!(gaps(9), GAPS);
        assert_eq!(gaps(5), [GAPS[0], GAPS[2], GAPS[4], GAPS[6], GAPS[8]]);
    }

    /// A mixture of contact and of one gap: 0.3 burn at 4 s, 0.7 at the gap's own 9 s, by hand.
    #[test]
    fn a_mixture_of_two_gaps_is_the_weighted_sum() {
        let times = [4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0].map(Some);
        let air = Air { contact: 0.3, mean: GAPS[5], spread: 0.0, closer: 0.0 };
        for (t, expected) in [(3.9, 0.0), (4.0, 0.3), (8.9, 0.3), (9.1, 1.0), (60.0, 1.0)] {
            assert_relative_eq!(share_burnt(&burns(times), &air, t), expected, epsilon = 1e-12);
        }
        let few = [Some(4.0), None, None, None, None, None, None, None, None];
        assert_relative_eq!(share_burnt(&burns(few), &air, 60.0), 0.3, epsilon = 1e-12);
    }

    /// Where all burn at once the share is 0 or 1, whatever the air.
    #[test]
    fn one_answer_everywhere_is_all_or_nothing() {
        let air = Air { contact: 0.2, mean: 0.012, spread: 0.008, closer: 0.0 };
        let all = burns([Some(7.0); 9]);
        assert_relative_eq!(share_burnt(&all, &air, 7.0), 1.0, epsilon = 1e-12);
        assert_eq!(share_burnt(&all, &air, 6.9), 0.0);
        assert_eq!(share_burnt(&burns([None; 9]), &air, 60.0), 0.0);
    }

    #[test]
    fn between_a_burn_and_none_the_integral_tells_how_far() {
        let (hot, cool) = (Burn::new(Some(5.0), 1f64.exp()), Burn::new(None, (-3f64).exp()));
        assert_eq!(hot.between(cool, 0.2).t, Some(5.0));
        assert_eq!(hot.between(cool, 0.3).t, None);
    }
}
