//! A ply under a stitch line, and faces that touch.

use crate::garment::fabric::Fabric;
use crate::garment::layup::{Ply, PlyJoint};
use crate::garment::press::pressed_to;

/// Air that stands for faces of one temperature where other paths of the same quilting have air [m].
///
/// Paths side by side are of one shape, so that each has an air layer at the same joints. Its
/// resistance, 4e-7 m²·K/W at room temperature, is a hundred-thousandth of a layup's.
const SHARED: f64 = 1e-8;

/// Air between the faces of two plies that touch [m], above 0: as deep as the voids of both faces.
pub(crate) fn touching(outer: &Ply, inner: &Ply) -> f64 {
    match outer.joint {
        PlyJoint::Faces => outer.face_air(Some(inner)).max(SHARED),
        PlyJoint::Shared | PlyJoint::Conductance(_) => SHARED,
    }
}

/// A fabric pressed to `factor` of its thickness, its conductivity moved with the estimate; untouched at 1.
pub(crate) fn at_factor(fabric: &Fabric, factor: f64) -> Fabric {
    if factor == 1.0 {
        return fabric.clone();
    }
    pressed_to(fabric, factor * fabric.thickness.value, "pressed at a stitch line")
}
