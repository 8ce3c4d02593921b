//! Predictions over what a source leaves open: the middle, and all places looked at.

use crate::evidence::measured::ask::{Predicted, disc};
use crate::garment::layup::Layup;
use crate::shelf::materials::Shelf;

/// What the disc reads in the flame, then under radiation.
pub type Both = [Predicted; 2];

/// The exposures of [`Both`].
pub const EXPOSURES: [&str; 2] = ["flame-80", "radiant-40"];

/// Predictions in the middle of every open range and at its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// Everything open in its middle.
    pub middle: Both,
    /// The ends, in a fixed order, and what else was looked at.
    pub ends: Vec<Both>,
}

impl Spread {
    /// A figure in the middle and its range over the ends; an end that is never reached is infinite, and where
    /// a run failed all three are NaN.
    pub fn of(&self, figure: impl Fn(&Both) -> f64) -> (f64, (f64, f64)) {
        let all: Vec<f64> = self.ends.iter().chain([&self.middle]).map(&figure).collect();
        if all.iter().any(|v| v.is_nan()) {
            return (f64::NAN, (f64::NAN, f64::NAN));
        }
        let low = all.iter().copied().fold(f64::INFINITY, f64::min);
        let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (figure(&self.middle), (low, high))
    }
}

/// What the disc reads behind a layup under both exposures.
pub fn both(shelf: &Shelf, layup: &Layup) -> Option<Both> {
    let [flame, radiant] =
        EXPOSURES.map(|name| shelf.exposure(name).ok().map(|e| disc(shelf, layup, e)));
    Some([flame?, radiant?])
}

#[cfg(test)]
mod tests {
    use super::{Both, Spread};
    use crate::evidence::measured::ask::Predicted;

    fn spread(times: [f64; 3]) -> Spread {
        let both = |rise24: f64| -> Both {
            let times =
                Predicted { rise12: 1.0, rise24, between: rise24 - 1.0, tpp: 0.0, factor: 0.0 };
            [times, times]
        };
        Spread { middle: both(times[1]), ends: vec![both(times[0]), both(times[2])] }
    }

    #[test]
    fn never_and_failed_are_two_things() {
        let of = |times| spread(times).of(|both| both[0].rise24);
        assert_eq!(of([3.0, 4.0, 5.0]), (4.0, (3.0, 5.0)));
        assert_eq!(of([3.0, 4.0, f64::INFINITY]), (4.0, (3.0, f64::INFINITY)));
        let (middle, (low, high)) = of([3.0, 4.0, f64::NAN]);
        assert!(middle.is_nan() && low.is_nan() && high.is_nan());
        let dead = |rise24| spread([rise24; 3]).of(|both| both[0].dead());
        assert_eq!(dead(4.0).0, -2.0);
        assert_eq!(dead(f64::INFINITY).0, f64::INFINITY);
        assert!(dead(f64::NAN).0.is_nan());
    }
}
