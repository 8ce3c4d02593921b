//! A draw's figure from the coarsest mesh alone.
//!
//! Layups that differ by their tolerances alone err alike on one mesh. The settled figure of the layup as it
//! stands, over its figure on the coarsest mesh, corrects every draw: a ratio estimator (W. G. Cochran,
//! Sampling Techniques, 3rd ed. 1977, ch. 6, from memory). What a draw still is off by is seen on draws
//! that are computed both ways in every run. Where that is more than the error allowed every draw is settled,
//! and so is one whose figure lies near the end of the run or beyond it.

use crate::bench::figure::{Figured, Found};
use crate::study::bits::records;

/// Draws that are computed both ways: the first specimens of the first sets. In a power of two of points
/// each input visits as many equal strata of its spread once.
pub const N_CHECKED: usize = 16;
/// Part of the time looked at, up to its end, in which a figure is settled whatever the coarsest mesh says,
/// and twice the most that the mesh may be off [–].
const NEAR_END: f64 = 0.02;

/// What 95 % of draws are off by at most, over the root mean square of 16 that are checked: right for 95 of
/// 100 runs if what they are off by is normal about 0.
///
/// 1.960 √(16/7.962), 7.962 being what χ² of 16 degrees of freedom falls below in 5 of 100 cases.
/// Source: tolerance limits of a normal variable of known mean (from memory); χ² by SciPy.
const SPREAD: f64 = 2.778;
/// How far from a target draws are settled, over what draws are off by at most [–].
const NEAR_TARGET: f64 = 2.0;

/// How a draw's figure follows from the coarsest mesh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shortcut {
    /// The settled figure of the layup as it stands over that of the coarsest mesh [–].
    pub ratio: f64,
    /// Draws that were computed both ways.
    pub n_checked: usize,
    /// What 95 % of corrected figures lie off the settled ones at most, as a share of the latter, told from
    /// those draws; not less than the farthest of them [–].
    pub off: f64,
    /// End of the time looked at [s].
    t_end: f64,
}

records! {
    Shortcut { ratio, n_checked, off, t_end }
}

impl Shortcut {
    /// From the layup as it stands and draws around it, each computed both ways; none where draws are to be
    /// settled.
    ///
    /// - `both`: settled and on the coarsest mesh, the layup as it stands first
    /// - `t_end`: end of the time looked at [s]
    /// - `off_most`: most that a corrected figure may be off [–]
    pub fn of(both: &[(Found, Found)], t_end: f64, off_most: f64) -> Option<Shortcut> {
        let ((settled, coarse), drawn) = both.split_first()?;
        let ratio = settled.valued()?.value / coarse.valued()?.value;
        let plain = Shortcut { ratio, n_checked: 0, off: 0.0, t_end };
        if (ratio - 1.0).abs() > 0.5 * NEAR_END || !ratio.is_finite() {
            return None;
        }
        let mut seen = plain;
        let mut squares = 0.0;
        for (settled, coarse) in drawn {
            let Some(corrected) = plain.corrected(coarse) else { continue };
            // one that no settled figure bears out is as far off as can be
            let settled = settled.valued().map_or(f64::INFINITY, |valued| valued.value);
            seen.n_checked += 1;
            let off = (corrected.value / settled - 1.0).abs();
            seen.off = seen.off.max(off);
            squares += off * off;
        }
        seen.off = seen.off.max(SPREAD * (squares / seen.n_checked.max(1) as f64).sqrt());
        // where most are settled on their own nothing is gained, and little is checked
        let enough = 2 * seen.n_checked >= drawn.len() && seen.n_checked > 0;
        (enough && seen.off <= off_most).then_some(seen)
    }

    /// The figure of a draw; none for one that is to be settled.
    pub fn corrected(&self, coarse: &Found) -> Option<Figured> {
        let valued = coarse.valued().filter(|_| well_within(coarse, self.t_end))?;
        Some(Figured { value: self.ratio * valued.value, reached: true })
    }
}

impl Shortcut {
    /// Whether specimens of a set lie so near to what they are counted against that settled figures may
    /// be counted otherwise: one of them or their mean, times one of `factors`; or one is to be settled anyway.
    ///
    /// - `at_least`: what they are counted against [s or J/m²]
    pub fn is_close(&self, set: &[Option<Figured>], factors: [f64; 2], at_least: f64) -> bool {
        let Some(all) = set.iter().copied().collect::<Option<Vec<Figured>>>() else { return true };
        let mean = all.iter().map(|figured| figured.value).sum::<f64>() / all.len() as f64;
        let near = |value: f64, factor: f64| {
            (factor * value / at_least - 1.0).abs() <= NEAR_TARGET * self.off
        };
        let mut values = all.iter().map(|figured| figured.value).chain([mean]);
        values.any(|value| factors.iter().any(|factor| near(value, *factor)))
    }
}

/// Whether a figure on the coarsest mesh is reached so long before the end of the time looked at [s] that
/// finer meshes reach it, too.
pub fn well_within(coarse: &Found, t_end: f64) -> bool {
    matches!(coarse, Found::Value { t, .. } if *t <= (1.0 - NEAR_END) * t_end)
}

#[cfg(test)]
mod tests {
    use super::Shortcut;
    use crate::bench::figure::Found;
    use crate::bench::outcome::Valued;

    fn at(t: f64) -> Found {
        Found::Value { valued: Valued { value: t, error: 0.0 }, t, beyond: false }
    }

    const NOT: Found = Found::AtLeast { least: 60.0, t_end: 60.0 };

    fn of(both: &[(Found, Found)]) -> Option<Shortcut> {
        Shortcut::of(both, 60.0, 5e-3)
    }

    #[test]
    fn the_ratio_is_that_of_the_layup_as_it_stands() {
        let both = [(at(10.0), at(10.05)), (at(20.01), at(20.1)), (at(7.99), at(8.04))];
        let found = of(&both).unwrap();
        assert_eq!((found.ratio, found.n_checked), (10.0 / 10.05, 2));
        // 20.1 and 8.04 are corrected to 20 and 8
        let [one, other] = [0.01 / 20.01, 0.01 / 7.99_f64];
        let expected = 2.778 * ((one * one + other * other) / 2.0).sqrt();
        assert!((found.off - expected).abs() < 1e-12, "{found:?}");
        // one far off among many: not less than that one
        let many = [(at(10.0), at(10.0)); 15];
        let outlier = of(&[&many[..], &[(at(10.0), at(10.04))]].concat()).unwrap();
        assert!((outlier.off - 0.004).abs() < 1e-12, "{outlier:?}");
        let corrected = found.corrected(&at(30.15)).unwrap();
        assert!(corrected.reached && (corrected.value - 30.0).abs() < 1e-12);
    }

    #[test]
    fn draws_are_settled_where_the_coarsest_mesh_is_no_guide() {
        let nominal = (at(10.0), at(10.0));
        assert!(of(&[nominal, (at(10.0), at(10.017))]).is_some());
        assert_eq!(of(&[nominal, (at(10.0), at(10.02))]), None, "too far off");
        assert_eq!(of(&[(at(10.0), at(10.2)), (at(10.0), at(10.2))]), None, "all too far off");
        assert_eq!(of(&[nominal]), None, "nothing checked");
        assert_eq!(of(&[nominal, (NOT, at(50.0))]), None, "not borne out");
        assert_eq!(of(&[nominal, (NOT, NOT), (NOT, NOT), (at(9.0), at(9.0))]), None, "most beyond");
        assert_eq!(of(&[(NOT, NOT), (at(9.0), at(9.0))]), None, "no figure to go by");
    }

    #[test]
    fn sets_near_the_target_are_settled() {
        let found = of(&[(at(10.0), at(10.0)), (at(20.0), at(20.01))]).unwrap();
        assert!((found.off - 2.778 * 5e-4).abs() < 1e-12);
        let set = |all: [f64; 3]| all.map(|t| found.corrected(&at(t)));
        let close = |all: [f64; 3], model: f64| found.is_close(&set(all), [1.0, model], 12.0);
        assert!(!close([11.0, 11.5, 14.0], 1.05));
        assert!(close([11.0, 12.03, 14.0], 1.05), "one of them");
        assert!(close([11.0, 11.5, 14.0], 12.02 / 11.5), "one of them with the model in it");
        assert!(close([11.0, 11.5, 13.51], 1.05), "their mean");
        assert!(close([11.0, 11.5, 59.9], 1.05), "one is settled anyway");
    }

    #[test]
    fn a_figure_near_the_end_of_the_run_is_settled() {
        let found = of(&[(at(10.0), at(10.0)), (at(59.0), at(59.0)), (at(9.0), at(9.0))]).unwrap();
        assert_eq!(found.n_checked, 1);
        assert!(found.corrected(&at(58.0)).is_some());
        assert_eq!(found.corrected(&at(59.0)), None);
        assert_eq!(found.corrected(&NOT), None);
    }
}
