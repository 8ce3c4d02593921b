//! A patch or embroidery over a share of the area: what it is, and the layup under it.

use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::physics::law::Law;

/// Conductivity of thread along its fibres [W/(m·K)]; common practice, no source.
pub const K_THREAD: f64 = 0.25;

/// An extra outer ply over part of the area.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Its fabric.
    pub fabric: Fabric,
    /// Share of the area that it covers [–], 0 to 1.
    pub share: f64,
    /// Share of the covered area that is thread piercing the plies as far as the first air gap [–], 0 to below 1.
    pub thread: f64,
}

impl Patch {
    /// Mass that it adds, averaged over the whole area [kg/m²].
    pub fn added(&self) -> f64 {
        self.share * self.fabric.areal_density.value
    }
}

/// The layup as it is under the patch.
pub fn with_patch(layup: &Layup, patch: &Patch) -> Layup {
    let own = Entry::Ply(Box::new(Ply { fabric: patch.fabric.clone(), joint: PlyJoint::Faces }));
    let mut stack: Vec<Entry> = std::iter::once(own).chain(layup.stack.iter().cloned()).collect();
    for entry in &mut stack {
        match entry {
            Entry::Ply(ply) => {
                ply.fabric.conductivity = ply.fabric.conductivity.map(|k| pierced(k, patch.thread));
            }
            Entry::Gap(_) => break,
        }
    }
    Layup { stack, ..layup.clone() }
}

/// Conductivity of a ply with thread in parallel.
fn pierced(k: &Law, thread: f64) -> Law {
    if thread == 0.0 {
        return k.clone();
    }
    let mut mixed = k.scaled(1.0 - thread);
    mixed.base += thread * K_THREAD;
    mixed
}
