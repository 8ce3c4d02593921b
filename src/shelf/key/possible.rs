//! What a layup may hold and still be cloth: the rules by which files are refused, for whoever moves values.
//!
//! A value that is moved, by a fit say, stays where a file that holds it is read again.

use crate::garment::estimate::Bulk;
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, PlyJoint, Quilting};
use crate::garment::property::TEMP_REF_C;
use crate::garment::stitched::solid_thickness;
use crate::physics::moisture::WATER_DENSITY;
use crate::physics::units::kelvin;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;

/// What is measured of a conductivity may be off by this factor, contact and moisture included; common
/// practice, no source.
pub(crate) const CONDUCTIVITY_FACTOR: f64 = 2.0;

/// Whether a file that holds the layup's values is read.
pub fn is_possible(layup: &Layup) -> bool {
    let entries = layup.stack.iter().all(|entry| match entry {
        Entry::Gap(gap) => takes(&kinds::GAP, gap.thickness.value),
        Entry::Ply(ply) => {
            let joint = match &ply.joint {
                PlyJoint::Conductance(h) => takes(&kinds::JOINT, h.value),
                PlyJoint::Faces | PlyJoint::Shared => true,
            };
            joint && is_cloth(&ply.fabric)
        }
    });
    let pressed = |quilting: &Quilting| {
        takes(&kinds::PRESSED, quilting.pressed.value)
            && quilting.pressed.value > solid_thickness(layup)
    };
    entries && layup.quilting.as_ref().is_none_or(pressed)
}

/// Least and most flux of an exposure [W/m²].
pub fn fluxes() -> (f64, f64) {
    let (least, most) = kinds::FLUX.range.ends();
    (kinds::FLUX.quantity.inside(least), kinds::FLUX.quantity.inside(most))
}

/// Whether files take a value in SI.
fn takes(field: &Field, si: f64) -> bool {
    field.range.slip(field.quantity.outside(si)).is_none()
}

fn is_cloth(fabric: &Fabric) -> bool {
    let bulk = Bulk::of(fabric, fabric.thickness.value);
    let temp = kelvin(TEMP_REF_C);
    let k = fabric.conductivity.value.at(temp);
    let (least, most) = conductivities(&bulk, temp);
    let regain = fabric.regain.value;
    kinds::OF_FABRIC.iter().all(|(of, field)| takes(field, of.value(fabric)))
        && !is_too_dense(&bulk)
        && (least..=most).contains(&k)
        && fabric.face_void.value <= bulk.thickness
        && regain <= regain_most(&bulk, regain, fabric.fibre_regain)
}

/// Cloth is no denser than its fibre.
pub(crate) fn is_too_dense(bulk: &Bulk) -> bool {
    bulk.areal_density / bulk.thickness > bulk.fibre_density
}

/// Conductivities at `temp` [K] that cloth may be said to have [W/(m·K)]: none less than its fibre and air
/// one behind the other, none more than both side by side, but for what a measurement is off by.
pub(crate) fn conductivities(bulk: &Bulk, temp: f64) -> (f64, f64) {
    let (low, high) = bulk.conductivities(temp);
    (low / CONDUCTIVITY_FACTOR, high * CONDUCTIVITY_FACTOR)
}

/// Water for which fibre and pores have room, per dry mass, where the areal density holds `regain` [kg/kg].
pub(crate) fn regain_most(bulk: &Bulk, regain: f64, of_fibre: f64) -> f64 {
    let dry = bulk.areal_density / (1.0 + regain);
    let pores = bulk.thickness - dry / bulk.fibre_density;
    of_fibre + WATER_DENSITY * pores / dry
}
