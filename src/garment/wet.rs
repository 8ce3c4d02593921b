//! A ply with more water in it than it is conditioned to.

use crate::garment::estimate::Bulk;
use crate::garment::fabric::Fabric;
use crate::physics::fibre::{self, FibreMass, volume_fraction};
use crate::physics::moisture;

/// Temperature at which water's share in the conduction is reckoned [K]: between room and boiling.
const TEMP_WET: f64 = 330.0;

/// What the fabric's fibres and air are, without water that was added.
pub fn fibres(fabric: &Fabric) -> FibreMass {
    let dry = fabric.dry_density();
    let areal_density = dry * (1.0 + fabric.regain_conditioned);
    Bulk { areal_density, ..Bulk::of(fabric, fabric.thickness.value) }.fibres()
}

/// Conductivity that water beyond the conditioned regain adds to a fabric [W/(m·K)]; 0 where there is none.
pub fn conductivity_of_water(fabric: &Fabric) -> f64 {
    let added = fabric.regain.value - fabric.regain_conditioned;
    if added <= 0.0 {
        return 0.0;
    }
    let dry = fabric.dry_density();
    let water = volume_fraction(dry * added, fabric.thickness.value, moisture::WATER_DENSITY);
    fibre::conduction_of_water(&fibres(fabric), water, TEMP_WET)
}
