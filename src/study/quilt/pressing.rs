//! A ply under a stitch line, and a gap that is closed.

use crate::garment::fabric::Fabric;
use crate::garment::press::pressed_to;

/// Gap that stands for none where other paths of the same quilting have one [m].
///
/// Paths side by side are of one shape, so that each has an air layer at the same joints. Its
/// resistance, 4e-7 m²·K/W at room temperature, is a hundred-thousandth of a layup's. The voids of
/// the faces come on top of it as of any gap.
pub(crate) const CLOSED: f64 = 1e-8;

/// A fabric pressed to `factor` of its thickness, its conductivity moved with the estimate; untouched at 1.
pub(crate) fn at_factor(fabric: &Fabric, factor: f64) -> Fabric {
    if factor == 1.0 {
        return fabric.clone();
    }
    pressed_to(fabric, factor * fabric.thickness.value, "pressed at a stitch line")
}
