//! Radiation between two large parallel grey surfaces.

use crate::physics::slope::Between;
use crate::physics::units::STEFAN_BOLTZMANN;

/// Effective emissivity of two large parallel grey surfaces [–].
///
/// 1 / (1/ε1 + 1/ε2 − 1)
///
/// - `emissivity_outer`, `emissivity_inner`: ε1, ε2 [–], in (0, 1]
///
/// Range: gap much smaller than the surface; grey, diffuse, opaque surfaces.
/// Source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, 6th ed., eq. 13.19 (from memory).
#[inline]
pub fn effective_emissivity(emissivity_outer: f64, emissivity_inner: f64) -> f64 {
    1.0 / (1.0 / emissivity_outer + 1.0 / emissivity_inner - 1.0)
}

/// Heat flux by radiation from surface 1 to surface 2, and its derivatives [W/m²].
///
/// q = σ ε (T1⁴ − T2⁴)
///
/// - `temp_outer`, `temp_inner`: surface temperatures T1, T2 [K], 0 or more
/// - `emissivity`: effective emissivity ε [–], see [`effective_emissivity`]
///
/// Range: gap much smaller than the surface; the air between takes no part.
/// Source: Incropera and DeWitt, 6th ed., eq. 13.19 (from memory).
#[inline]
pub fn heat_flux(temp_outer: f64, temp_inner: f64, emissivity: f64) -> Between {
    let factor = STEFAN_BOLTZMANN * emissivity;
    let (squared_outer, squared_inner) = (temp_outer * temp_outer, temp_inner * temp_inner);
    Between {
        value: factor
            * (squared_outer + squared_inner)
            * (temp_outer + temp_inner)
            * (temp_outer - temp_inner),
        slope_outer: 4.0 * factor * squared_outer * temp_outer,
        slope_inner: -4.0 * factor * squared_inner * temp_inner,
    }
}

/// Conductance of radiation between two surfaces, and its derivatives [W/(m²·K)].
///
/// h = σ ε (T1² + T2²)(T1 + T2), so that q = h (T1 − T2) exactly
///
/// - `temp_outer`, `temp_inner`: surface temperatures T1, T2 [K], 0 or more
/// - `emissivity`: effective emissivity ε [–], see [`effective_emissivity`]
///
/// Range: as [`heat_flux`].
/// Source: Incropera and DeWitt, 6th ed., eq. 1.9 (from memory).
#[inline]
pub fn conductance(temp_outer: f64, temp_inner: f64, emissivity: f64) -> Between {
    let factor = STEFAN_BOLTZMANN * emissivity;
    let sum = temp_outer + temp_inner;
    let squares = temp_outer * temp_outer + temp_inner * temp_inner;
    Between {
        value: factor * squares * sum,
        slope_outer: factor * (squares + 2.0 * temp_outer * sum),
        slope_inner: factor * (squares + 2.0 * temp_inner * sum),
    }
}
