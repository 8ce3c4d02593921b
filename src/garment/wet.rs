//! A ply with more water in it than it is conditioned to.

use crate::garment::estimate::Bulk;
use crate::garment::fabric::Fabric;
use crate::physics::fibre::{self, volume_fraction};
use crate::physics::moisture;

/// Temperature at which water's share in the conduction is reckoned [K]: between room and boiling.
const TEMP_WET: f64 = 330.0;

/// Conductivity that water beyond the conditioned regain adds to a fabric [W/(m·K)]; 0 where there is none.
pub fn conductivity_of_water(fabric: &Fabric) -> f64 {
    let added = fabric.regain.value - fabric.regain_conditioned;
    if added <= 0.0 {
        return 0.0;
    }
    let dry = fabric.areal_density.value / (1.0 + fabric.regain.value);
    let thickness = fabric.thickness.value;
    let areal_density = dry * (1.0 + fabric.regain_conditioned);
    let fibres = Bulk { areal_density, ..Bulk::of(fabric, thickness) }.fibres();
    let water = volume_fraction(dry * added, thickness, moisture::WATER_DENSITY);
    fibre::conduction_of_water(&fibres, water, TEMP_WET)
}
