//! Predictions over what a source leaves open: the middle, and all places looked at.

use crate::garment::layup::Layup;
use crate::garment::shelf::Shelf;
use crate::study::measured::ask::{DiscTimes, disc};

/// What the disc reads in the flame, then under radiation.
pub type Both = [DiscTimes; 2];

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
    /// A figure in the middle and its range over the ends; an end that is never reached is infinite.
    pub fn of(&self, figure: impl Fn(&Both) -> f64) -> (f64, (f64, f64)) {
        let all = self.ends.iter().chain([&self.middle]).map(&figure);
        let range = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
            let v = if v.is_nan() { f64::INFINITY } else { v };
            (low.min(v), high.max(v))
        });
        (figure(&self.middle), range)
    }
}

/// What the disc reads behind a layup under both exposures.
pub fn both(shelf: &Shelf, layup: &Layup) -> Option<Both> {
    let [flame, radiant] =
        EXPOSURES.map(|name| shelf.exposure(name).ok().map(|e| disc(shelf, layup, e)));
    Some([flame?, radiant?])
}
