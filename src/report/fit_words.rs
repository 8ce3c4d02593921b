//! What may be fitted, in words, keys and units.

use crate::garment::layup::{Entry, Layup};
use crate::garment::property::OfPly;
use crate::physics::units::{CONDUCTANCE, Quantity};
use crate::report::sensitivity;
use crate::study::fit::free::What;
use crate::study::property::Property;

/// The property in words, such as "conductivity, ply 2".
pub fn name(what: What, layup: &Layup) -> String {
    match what {
        What::Property(Property::Gap(j)) => format!("air gap behind ply {}", ply_before(layup, j)),
        What::Property(property) => sensitivity::name(property),
        What::Joint(j) => format!("joint behind ply {}", j + 1),
    }
}

/// The unit of its value.
pub fn quantity(what: What) -> Quantity {
    match what {
        What::Property(property) => property.quantity(),
        What::Joint(_) => CONDUCTANCE,
    }
}

/// The value outside, and its unit; a value is a multiple of its SI value.
pub fn outside(what: What, value: f64) -> (f64, &'static str) {
    let quantity = quantity(what);
    (quantity.outside(value), quantity.unit)
}

/// The key that files have for it.
pub fn key(what: What) -> String {
    match what {
        What::Property(property) => property.key(),
        What::Joint(_) => CONDUCTANCE.key("joint"),
    }
}

/// Number of the ply before gap `j`, counted from 1.
pub fn ply_before(layup: &Layup, j: usize) -> usize {
    let (mut n_plies, mut n_gaps) = (0, 0);
    for entry in &layup.stack {
        match entry {
            Entry::Ply(_) => n_plies += 1,
            Entry::Gap(_) if n_gaps == j => return n_plies,
            Entry::Gap(_) => n_gaps += 1,
        }
    }
    n_plies
}

/// How to learn it otherwise.
pub fn otherwise(what: What) -> &'static str {
    match what {
        What::Property(Property::Ply(_, of)) => match of {
            OfPly::Thickness => "measure it with a gauge (ISO 5084)",
            OfPly::Conductivity => "measure it in a guarded hot plate or a heat flow meter",
            OfPly::SpecificHeat => "measure it by calorimetry (DSC)",
            OfPly::Emissivity => "measure it by infrared reflectance",
            OfPly::CharHeat => "measure it by calorimetry (DSC)",
            OfPly::FaceVoid => "measure a stack of two such plies against twice one of them",
            _ => "measure it on the fabric",
        },
        What::Property(Property::Gap(_)) => "measure the spacer",
        What::Property(Property::Flux) => "run the bare disc before the specimens",
        What::Property(_) => "measure it with a radiometer beside the calorimeter",
        What::Joint(_) => "run a stack with that joint alone",
    }
}
