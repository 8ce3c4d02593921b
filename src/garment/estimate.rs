//! Conductivity of a fabric whose data sheet is silent on it.

use crate::garment::fabric::{Fabric, Role};
use crate::physics::fibre::{
    self, FibreMass, PARALLEL_BAXTER, PARALLEL_SCHUHMEISTER, radius_of_fineness, volume_fraction,
};
use crate::physics::law::Law;
use crate::physics::units::kelvin;

/// Temperatures between which the estimate is drawn as straight lines [°C].
///
/// Chords of a curve that bends upwards lie above it; a test holds them within 2 % from 0 to 1000 °C.
/// Few corners, since each costs the solver; constant outside, where no fibre is left.
const CORNERS_C: [f64; 6] = [-25.0, 175.0, 375.0, 575.0, 775.0, 1000.0];
/// Fineness of the usual staple fibre, 2 dtex [kg/m]. Common practice, no source.
const FINENESS_USUAL: f64 = 2e-7;
/// Emissivity of a single fibre [–]. Common practice, no source.
const EMISSIVITY_FIBRE: f64 = 0.9;

/// Depth of the air in a face as a share of the thickness [–], from what the fabric is for.
///
/// Thickness is measured at about 1 kPa; plies in a garment or under a disc touch at about 0.1 to
/// 0.5 kPa and stand that much higher. Tolerance ±100 %; no source.
fn face_void_share(role: Role) -> f64 {
    match role {
        Role::Outer | Role::Lining | Role::Inner | Role::Embroidery => 0.08,
        Role::Felt => 0.05,
        Role::Barrier => 0.03,
    }
}

/// Mean depth of air in a face, for a fabric of that role and `thickness` [m].
pub(crate) fn face_void(role: Role, thickness: f64) -> f64 {
    face_void_share(role) * thickness
}

/// What the estimate is made from.
pub(crate) struct Bulk {
    /// What the fabric is for; felts lie at random, cloth lies flat.
    pub role: Role,
    /// Areal density [kg/m²].
    pub areal_density: f64,
    /// Thickness [m].
    pub thickness: f64,
    /// Density of the fibre substance [kg/m³].
    pub fibre_density: f64,
    /// Conductivity of the fibre substance [W/(m·K)].
    pub k_fibre: f64,
}

impl Bulk {
    /// What the estimate of `fabric` is made from when it is `thickness` [m] thick.
    pub fn of(fabric: &Fabric, thickness: f64) -> Bulk {
        Bulk {
            role: fabric.role,
            areal_density: fabric.areal_density.value,
            thickness,
            fibre_density: fabric.fibre_density.value,
            k_fibre: fabric.fibre_conductivity.value,
        }
    }

    /// The mass of fibres and air that it is.
    pub fn fibres(&self) -> FibreMass {
        let at_random = matches!(self.role, Role::Felt | Role::Barrier);
        FibreMass {
            fraction: volume_fraction(self.areal_density, self.thickness, self.fibre_density),
            k_fibre: self.k_fibre,
            k_fibre_slope: 0.0,
            parallel_share: if at_random { PARALLEL_SCHUHMEISTER } else { PARALLEL_BAXTER },
            radius: radius_of_fineness(FINENESS_USUAL, self.fibre_density),
            emissivity: EMISSIVITY_FIBRE,
        }
    }

    /// Conductivity with fibre and air in series, and side by side with radiation between fibres, at
    /// `temp` [K]: no mass of both lies outside [W/(m·K)].
    pub fn conductivities(&self, temp: f64) -> (f64, f64) {
        let fibres = self.fibres();
        let series = fibre::conduction(&FibreMass { parallel_share: 0.0, ..fibres }, temp);
        let parallel = fibre::conductivity(&FibreMass { parallel_share: 1.0, ..fibres }, temp);
        (series.value, parallel.value)
    }
}

/// Conductivity by temperature, from the share of the volume that fibre fills [W/(m·K)].
pub(crate) fn conductivity(bulk: &Bulk) -> Law {
    let fibres = bulk.fibres();
    let at = |celsius: &f64| {
        let temp = kelvin(*celsius);
        (temp, fibre::conductivity(&fibres, temp).value)
    };
    Law::table(&CORNERS_C.iter().map(at).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::{Bulk, conductivity};
    use crate::garment::fabric::Role;
    use crate::physics::fibre;
    use crate::physics::units::kelvin;

    #[test]
    fn the_straight_lines_stay_near_the_estimate() {
        for (role, areal_density, thickness) in [
            (Role::Outer, 0.200, 0.45e-3),
            (Role::Felt, 0.100, 1.3e-3),
            (Role::Inner, 0.140, 0.6e-3),
        ] {
            let bulk =
                Bulk { role, areal_density, thickness, fibre_density: 1380.0, k_fibre: 0.25 };
            let law = conductivity(&bulk);
            for n in 0..=100 {
                let temp = kelvin(10.0 * f64::from(n));
                let exact = fibre::conductivity(&bulk.fibres(), temp).value;
                let off = law.at(temp) / exact - 1.0;
                assert!(off.abs() < 0.02, "{role:?} at {temp:.0} K: {:.2} %", off * 100.0);
            }
        }
    }
}
