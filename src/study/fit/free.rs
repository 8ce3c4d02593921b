//! What may be fitted, from where to where.

use crate::garment::exposure::Exposure;
use crate::garment::layup::{Entry, Layup, PlyJoint};
use crate::study::property::{OfPly, Property};

/// A property is looked for from this share of its first value up to its inverse [–].
const REACH: f64 = 0.2;

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
                let mut plies = layup.stack.iter_mut().filter_map(|entry| match entry {
                    Entry::Ply(ply) => Some(ply),
                    Entry::Gap(_) => None,
                });
                if let Some(PlyJoint::Conductance(h)) = plies.nth(j).map(|ply| &mut ply.joint) {
                    h.value *= factor;
                }
            }
        }
    }

    /// The values that a file may hold [SI].
    pub fn admissible(self, layup: &Layup) -> (f64, f64) {
        match self {
            What::Property(Property::Ply(j, of)) => match of {
                OfPly::Conductivity => (0.005, 5.0),
                OfPly::SpecificHeat => (200.0, 10e3),
                // a ply is no denser than its fibre
                OfPly::Thickness => {
                    let solid = layup.plies().nth(j).map_or(0.0, |ply| {
                        ply.fabric.areal_density.value / ply.fabric.fibre_density.value
                    });
                    (1.0001 * solid, 50e-3)
                }
                OfPly::Emissivity => (1e-3, 1.0),
                OfPly::FaceVoid => (1e-9, 1e-3),
                _ => (0.0, f64::INFINITY),
            },
            What::Property(Property::Gap(_)) => (1e-6, 0.1),
            What::Property(Property::RadiantShare) => (1e-3, 1.0 - 1e-9),
            What::Property(Property::Flux) => (100.0, 500e3),
            What::Property(_) => (0.0, f64::INFINITY),
            What::Joint(_) => (1e-3, 100e3),
        }
    }
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
        let (least, most) = what.admissible(layup);
        let range = match range {
            Some((low, high)) if low < least * (1.0 - 1e-9) || high > most * (1.0 + 1e-9) => {
                return Err(NotFree::RangeTooWide);
            }
            Some(range) => range,
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
