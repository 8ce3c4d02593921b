//! Conductivity of a fabric whose data sheet is silent on it.

use crate::physics::law::Law;
use crate::physics::units::{STEFAN_BOLTZMANN, kelvin};

/// Temperatures between which the estimate is drawn as straight lines [°C].
const CORNERS_C: [f64; 5] = [-25.0, 150.0, 400.0, 700.0, 1200.0];

/// What the estimate is made from.
pub(crate) struct Bulk {
    /// Areal density [kg/m²].
    pub areal_density: f64,
    /// Thickness [m].
    pub thickness: f64,
    /// Density of the fibre substance [kg/m³].
    pub fibre_density: f64,
    /// Conductivity of the fibre substance [W/(m·K)].
    pub k_fibre: f64,
}

/// Conductivity by temperature, from the share of the volume that fibre fills [W/(m·K)].
pub(crate) fn conductivity(bulk: &Bulk) -> Law {
    let points: Vec<(f64, f64)> =
        CORNERS_C.iter().map(|t| (kelvin(*t), conductivity_at(bulk, kelvin(*t)))).collect();
    Law::table(&points)
}

fn conductivity_at(bulk: &Bulk, temp: f64) -> f64 {
    let share = bulk.areal_density / (bulk.thickness * bulk.fibre_density);
    let k_air = 0.026 + 0.000068 * (temp - 300.0);
    let parallel = (1.0 - share) * k_air + share * bulk.k_fibre;
    let series = 1.0 / ((1.0 - share) / k_air + share / bulk.k_fibre);
    let k_rad = 8.0 * STEFAN_BOLTZMANN * temp.powi(3) * 8e-6 / (share * 0.9);
    0.2 * parallel + 0.8 * series + k_rad
}
