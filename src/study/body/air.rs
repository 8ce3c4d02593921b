//! The air between a panel and the body: a share in contact, and a spread of gaps over the rest.

use crate::garment::body_map::{AirAt, FitFactors};
use crate::physics::body::girth_ratio;
use crate::study::odds::normal::normal_share_below;

/// How gaps are spread behind a panel.
///
/// A share lies on the body. Over the rest the gaps are lognormal: none is below 0, and the mean and the
/// standard deviation are those given; common practice, no source. A wearer who is stouter than the body that
/// the suit is drawn for makes every gap less by the same length, and what was less than that lies on the
/// body then.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Share in contact before anything makes the gaps less [–], 0 to 1.
    pub contact: f64,
    /// Mean of the other gaps before that [m], at least 0.
    pub mean: f64,
    /// Their standard deviation [m], at least 0.
    pub spread: f64,
    /// By how much every gap is less [m]; below 0 it is more.
    pub closer: f64,
}

/// Two persons' measures: kilograms and metres.
pub type Measures = (f64, f64);

impl Air {
    /// All of it lies on the body.
    pub const PRESSED: Air = Air { contact: 1.0, mean: 0.0, spread: 0.0, closer: 0.0 };

    /// The air at a place with a fit.
    ///
    /// - `wearer`, `drawn_for`: mass [kg] and height [m] of who wears the suit, and of the body that it is for
    ///
    /// A wearer's radius is the place's girth over 2π; it grows with the girth, and the suit does not.
    pub fn at(at: &AirAt, fit: &FitFactors, wearer: Measures, drawn_for: Measures) -> Air {
        let radius = at.girth.value / std::f64::consts::TAU;
        Air {
            contact: (at.contact.value * fit.contact.value).min(1.0),
            mean: at.gap.value * fit.gap.value,
            spread: at.spread.value * fit.gap.value,
            closer: radius * (girth_ratio(wearer, drawn_for) - 1.0),
        }
    }

    /// The air under cloth that has lost some of its length.
    ///
    /// - `at`: of the place
    /// - `lost`: share of its length that the cloth loses [–], at least 0
    ///
    /// Around the body the cloth is 2π times the body's radius and the mean gap long; its radius falls by the same
    /// share, and every gap by what it falls. Cloth under which there is no air is stretched.
    pub fn shrunk(self, at: &AirAt, lost: f64) -> Air {
        let radius = at.girth.value / std::f64::consts::TAU + self.mean;
        Air { closer: self.closer + lost * radius, ..self }
    }

    /// The share that lies on the body [–].
    pub fn in_contact(&self) -> f64 {
        self.below(0.0)
    }

    /// The share of the panel whose gap is at most `gap` [–], what lies on the body counted.
    ///
    /// - `gap`: [m], at least 0
    pub fn below(&self, gap: f64) -> f64 {
        let open = 1.0 - self.contact;
        let gap = gap + self.closer;
        if open <= 0.0 || gap <= 0.0 {
            return if open <= 0.0 { 1.0 } else { self.contact };
        }
        if self.spread <= 0.0 || self.mean <= 0.0 {
            return if gap >= self.mean { 1.0 } else { self.contact };
        }
        let variance = libm::log(1.0 + (self.spread / self.mean).powi(2));
        let z = (libm::log(gap / self.mean) + 0.5 * variance) / variance.sqrt();
        self.contact + open * normal_share_below(z)
    }

    /// Mean of the gaps that are open [m]; 0 where none is.
    pub fn mean_open(&self) -> f64 {
        let open = 1.0 - self.in_contact();
        if open <= 0.0 {
            return 0.0;
        }
        // trapezia of the share above a gap, in steps of a tenth of a millimetre: words alone need it
        let (step, n) = (1e-4, 2000);
        let above = |i: usize| 1.0 - self.below(step * i as f64);
        let sum: f64 = (0..n).map(|i| 0.5 * (above(i) + above(i + 1))).sum();
        step * sum / open
    }
}

#[cfg(test)]
mod tests {
    use super::Air;
    use approx::assert_relative_eq;

    const LOOSE: Air = Air { contact: 0.2, mean: 0.012, spread: 0.008, closer: 0.0 };

    /// Mean and variance of the lognormal distribution by its textbook formulas, here through the shares
    /// below a fine ladder of gaps.
    #[test]
    fn mean_and_spread_are_those_given() {
        let (step, n) = (2e-5, 20_000);
        let (mut mean, mut square) = (0.0, 0.0);
        for i in 0..n {
            let (lo, hi) = (step * f64::from(i), step * f64::from(i + 1));
            let share = (LOOSE.below(hi) - LOOSE.below(lo)) / 0.8;
            let gap = 0.5 * (lo + hi);
            mean += share * gap;
            square += share * gap * gap;
        }
        assert_relative_eq!(mean, 0.012, max_relative = 1e-3);
        assert_relative_eq!((square - mean * mean).sqrt(), 0.008, max_relative = 5e-3);
        assert_relative_eq!(LOOSE.mean_open(), 0.012, max_relative = 1e-3);
    }

    #[test]
    fn the_ends_are_contact_and_all() {
        assert_eq!(LOOSE.in_contact(), 0.2);
        assert!(LOOSE.below(1.0) > 1.0 - 1e-9);
        assert_eq!(Air::PRESSED.in_contact(), 1.0);
        let alike = Air { spread: 0.0, ..LOOSE };
        assert_eq!((alike.below(0.0119), alike.below(0.0121)), (0.2, 1.0));
    }

    /// Who is stouter by 5 mm of radius lies on what stood off by less; who is thinner, on no more than before.
    #[test]
    fn a_stouter_wearer_closes_the_small_gaps() {
        let closer = Air { closer: 0.005, ..LOOSE };
        assert_relative_eq!(closer.in_contact(), LOOSE.below(0.005));
        assert_relative_eq!(closer.below(0.01), LOOSE.below(0.015));
        let farther = Air { closer: -0.005, ..LOOSE };
        assert_eq!((farther.in_contact(), farther.below(0.005)), (0.2, 0.2));
    }
}
