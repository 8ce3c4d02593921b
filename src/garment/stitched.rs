//! What a layup's plies allow of a quilting: how far a stitch presses them, and where air finds a place.

use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};

/// Thickness of all plies, pressed by the same factor, at which the first of them is solid fibre [m].
pub fn solid_thickness(layup: &Layup) -> f64 {
    let solid_share = |ply: &Ply| {
        let fabric = &ply.fabric;
        fabric.areal_density.value / (fabric.fibre_density.value * fabric.thickness.value)
    };
    layup.plies_thickness() * layup.plies().map(solid_share).fold(0.0, f64::max)
}

/// Whether each joint between plies can open, outermost first: not if it has a conductance of its own.
pub fn takes_air(layup: &Layup) -> Vec<bool> {
    let n_joints = layup.plies().count().saturating_sub(1);
    let plies = layup.plies().take(n_joints).zip(listed_gaps(layup));
    plies.map(|(ply, gap)| gap > 0.0 || !matches!(ply.joint, PlyJoint::Conductance(_))).collect()
}

/// Thickness of the gap behind each ply as listed, 0 where there is none [m].
pub fn listed_gaps(layup: &Layup) -> Vec<f64> {
    let mut gaps = Vec::new();
    for entry in &layup.stack {
        match entry {
            Entry::Ply(_) => gaps.push(0.0),
            Entry::Gap(gap) => {
                if let Some(last) = gaps.last_mut() {
                    *last = gap.thickness.value;
                }
            }
        }
    }
    gaps
}
