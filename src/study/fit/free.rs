//! What may be fitted, from where to where.

use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, PlyJoint};
use crate::shelf::key::possible::{self, is_possible};
use crate::study::property::Property;

/// A property is looked for from this share of its first value up to its inverse [–].
const REACH: f64 = 0.2;
/// No key's least and most possible values are further apart than this factor [–].
const FAR: f64 = 1e6;
/// Halvings of the way there, until a part of it is left that no digit shows.
const N_HALVINGS: usize = 48;
/// A file tells seven digits [–].
const ROUNDED: f64 = 1e-6;

/// Something that readings may teach.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A property of a ply, a gap or the exposure.
    Property(Property),
    /// Conductance of the joint behind ply `j`, 0 outermost.
    Joint(usize),
}

/// One property to be fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Free {
    /// What it is.
    pub what: What,
    /// Its value before the fit [SI]; one that varies with temperature at 25 °C.
    pub start: f64,
    /// Lowest and highest value looked at [SI].
    pub range: (f64, f64),
}

/// Why something cannot be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotFree {
    /// The layup has no such ply, gap or exposure property.
    Absent,
    /// The ply touches the next without a conductance.
    NoConductance,
    /// It is zero, which no factor moves.
    Zero,
    /// The value before the fit lies outside the range.
    StartOutside,
    /// The range asked for leaves what is admissible.
    RangeTooWide,
}

impl What {
    /// Its value [SI].
    pub fn value(self, layup: &Layup, exposure: &Exposure) -> f64 {
        match self {
            What::Property(property) => property.value(layup, exposure),
            What::Joint(j) => match layup.plies().nth(j).map(|ply| &ply.joint) {
                Some(PlyJoint::Conductance(conductance)) => conductance.value,
                _ => 0.0,
            },
        }
    }

    /// Multiplies it by `factor`.
    pub fn scale(self, layup: &mut Layup, exposure: &mut Exposure, factor: f64) {
        match self {
            What::Property(property) => property.scale(layup, exposure, factor),
            What::Joint(j) => {
                let ply = layup.plies_mut().nth(j);
                if let Some(PlyJoint::Conductance(h)) = ply.map(|ply| &mut ply.joint) {
                    h.value *= factor;
                }
            }
        }
    }

    /// The values that a file may hold, the rest of the layup as it is [SI].
    pub fn admissible(self, layup: &Layup, exposure: &Exposure) -> (f64, f64) {
        match self {
            // with none of either, or with nothing else, it would be another kind of exposure
            What::Property(Property::RadiantShare) => (1e-3, 1.0 - 1e-6),
            What::Property(Property::Flux) => possible::fluxes(),
            What::Property(Property::Ply(..) | Property::Gap(_)) | What::Joint(_) => {
                let start = self.value(layup, exposure);
                let goes = |factor: f64| self.is_possible(layup, exposure, factor);
                (start * last(&goes, 1.0 / FAR), start * last(&goes, FAR))
            }
            What::Property(_) => (0.0, f64::INFINITY),
        }
    }

    /// Whether a file may hold the layup when this is multiplied by `factor`.
    fn is_possible(self, layup: &Layup, exposure: &Exposure, factor: f64) -> bool {
        let (mut layup, mut exposure) = (layup.clone(), exposure.clone());
        self.scale(&mut layup, &mut exposure, factor);
        is_possible(&layup)
    }
}

/// The last factor on the way from 1 to `end` that goes, as closely as a file tells it.
fn last(goes: &dyn Fn(f64) -> bool, end: f64) -> f64 {
    let (mut near, mut far) = (0.0, libm::log(end));
    for _ in 0..N_HALVINGS {
        let middle = 0.5 * (near + far);
        if goes(libm::exp(middle)) { near = middle } else { far = middle }
    }
    // what is rounded when it is written must not fall beyond
    libm::exp(near.signum() * (near.abs() - ROUNDED).max(0.0))
}

impl Free {
    /// `what` to be fitted from `range` [SI]; without one, from a fifth to five times its value, as far as admissible.
    ///
    /// Errors: nothing there to move, or a range that does not hold the value or is not admissible.
    pub fn new(
        what: What,
        range: Option<(f64, f64)>,
        layup: &Layup,
        exposure: &Exposure,
    ) -> Result<Free, NotFree> {
        let there = match what {
            What::Property(Property::Ply(j, _)) | What::Joint(j) => j < layup.plies().count(),
            What::Property(Property::Gap(j)) => j < layup.gaps().count(),
            // without gas, the first of it would be another kind of exposure
            What::Property(Property::RadiantShare) => exposure.radiant_share < 1.0,
            What::Property(_) => true,
        };
        if !there {
            return Err(NotFree::Absent);
        }
        let start = what.value(layup, exposure);
        match what {
            What::Joint(_) if start == 0.0 => return Err(NotFree::NoConductance),
            _ if start == 0.0 => return Err(NotFree::Zero),
            _ => {}
        }
        let (least, most) = what.admissible(layup, exposure);
        let range = match range {
            Some((low, high))
                if low < least * (1.0 - 2.0 * ROUNDED) || high > most * (1.0 + 2.0 * ROUNDED) =>
            {
                return Err(NotFree::RangeTooWide);
            }
            Some((low, high)) => (low.max(least), high.min(most)),
            None => ((start * REACH).max(least.min(start)), (start / REACH).min(most.max(start))),
        };
        if start < range.0 || start > range.1 {
            return Err(NotFree::StartOutside);
        }
        Ok(Free { what, start, range })
    }

    /// Its range as factors of the value before the fit [–].
    pub fn factors(&self) -> (f64, f64) {
        (self.range.0 / self.start, self.range.1 / self.start)
    }
}
