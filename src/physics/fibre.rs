//! How much of a fabric is fibre, and an estimate of its conductivity where none is known.
//!
//! The estimate is conduction through fibre and air in mixed series and parallel, plus
//! radiation from fibre to fibre. At room temperature it lies within a tenth of the bands
//! that are common practice, and up to a fifth below published battings
//! (`tests/physics/fibre.rs` lists each), so a value from here deserves a wide tolerance:
//! a quarter either way, more when hot.

use crate::physics::air;
use crate::physics::moisture::WATER_CONDUCTIVITY;
use crate::physics::slope::Sloped;
use crate::physics::units::STEFAN_BOLTZMANN;

/// Share of the fibre that lies in parallel with the heat flow in wovens [–].
///
/// Source: Baxter, Proc. Phys. Soc. 58 (1946) 105, wool fabrics and felts (from memory).
pub const PARALLEL_BAXTER: f64 = 0.21;
/// Share of the fibre that lies in parallel with the heat flow where fibres lie at random [–]:
/// knits, felts, battings (that choice is ours).
///
/// Source: Schuhmeister 1877, as quoted by Baxter 1946 (from memory).
pub const PARALLEL_SCHUHMEISTER: f64 = 1.0 / 3.0;
/// Temperature that [`FibreMass::k_fibre`] is given at [K].
pub const TEMP_FIBRE: f64 = 300.0;

/// A mass of fibres and air, as the estimate sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FibreMass {
    /// Fibre volume fraction [–], in (0, 1).
    pub fraction: f64,
    /// Conductivity of the fibre across its axis at 300 K [W/(m·K)], above 0.
    pub k_fibre: f64,
    /// Its change with temperature [W/(m·K²)]; 0 where nothing is known.
    pub k_fibre_slope: f64,
    /// Share of the fibre that lies in parallel with the heat flow [–], 0 to 1.
    pub parallel_share: f64,
    /// Radius of a fibre [m], above 0.
    pub radius: f64,
    /// Emissivity of a fibre [–], in (0, 1].
    pub emissivity: f64,
}

/// Fibre volume fraction of a fabric [–].
///
/// f = m / (L ρ)
///
/// - `areal_density`: m [kg/m²]
/// - `thickness`: L [m], above 0
/// - `rho_fibre`: density of the fibre itself ρ [kg/m³], above 0
///
/// Range: 0 to 1; above 1 the three figures cannot belong to one fabric, the caller rejects them.
/// Source: definition.
pub fn volume_fraction(areal_density: f64, thickness: f64, rho_fibre: f64) -> f64 {
    areal_density / (thickness * rho_fibre)
}

/// Radius of a round fibre from its fineness [m].
///
/// r = √(fineness / (π ρ))
///
/// - `fineness`: mass per length [kg/m]; 1 dtex is 1e-7 kg/m
/// - `rho_fibre`: ρ [kg/m³], above 0
///
/// Range: round, solid fibres.
/// Source: definition of the tex, ISO 1144.
pub fn radius_of_fineness(fineness: f64, rho_fibre: f64) -> f64 {
    (fineness / (std::f64::consts::PI * rho_fibre)).sqrt()
}

/// Estimated conductivity of a mass of fibres and still air, and its derivative to temperature [W/(m·K)].
///
/// k = x [f kf + (1−f) ka] + (1−x) / [f/kf + (1−f)/ka] + k_rad
///
/// - `fibres`: what the mass is made of
/// - `temp`: T [K]
///
/// Range: 250 to 700 K, f below 0.5, dry. At 700 K it is a third of the law of Torvi and Dale 1999,
/// which grows five times as steeply; nearer to what guarded hot plates read at room temperature.
/// Source: Schuhmeister 1877, Baxter 1946 (series and parallel); Farnworth 1983 (k_rad); all from memory.
pub fn conductivity(fibres: &FibreMass, temp: f64) -> Sloped {
    let mixed = conduction(fibres, temp);
    let radiated = radiation(fibres, temp);
    Sloped { value: mixed.value + radiated.value, slope: mixed.slope + radiated.slope }
}

/// Conduction alone of a mass of fibres and still air, and its derivative to temperature [W/(m·K)].
///
/// k = x [f kf + (1−f) ka] + (1−x) / [f/kf + (1−f)/ka]
///
/// - `fibres`: what the mass is made of
/// - `temp`: T [K]
///
/// Range: as [`conductivity`].
/// Source: Schuhmeister 1877; Baxter, Proc. Phys. Soc. 58 (1946) 105 (from memory).
pub fn conduction(fibres: &FibreMass, temp: f64) -> Sloped {
    let k_air = air::conductivity(temp);
    let k_fibre = fibres.k_fibre + fibres.k_fibre_slope * (temp - TEMP_FIBRE);
    let (f, x) = (fibres.fraction, fibres.parallel_share);
    let parallel = f * k_fibre + (1.0 - f) * k_air.value;
    let parallel_slope = f * fibres.k_fibre_slope + (1.0 - f) * k_air.slope;
    let series = 1.0 / (f / k_fibre + (1.0 - f) / k_air.value);
    let series_slope = series
        * series
        * (f * fibres.k_fibre_slope / (k_fibre * k_fibre)
            + (1.0 - f) * k_air.slope / (k_air.value * k_air.value));
    Sloped {
        value: x * parallel + (1.0 - x) * series,
        slope: x * parallel_slope + (1.0 - x) * series_slope,
    }
}

/// What water between the fibres adds to [`conduction`], where it stands in place of air [W/(m·K)].
///
/// Δk = x w (kw − ka) + (1−x) {1/[f/kf + w/kw + (1−f−w)/ka] − 1/[f/kf + (1−f)/ka]}
///
/// - `fibres`: what the mass is made of
/// - `water`: volume fraction of the water w [–], 0 or more
/// - `temp`: T of fibre and air [K]; the water's conductivity is that of 330 K
///
/// Range: f + w up to 1, water beyond that finds no room and is left out. Never above x = 1, the
/// bound of Wiener 1912.
/// Source: form of Schuhmeister 1877 and Baxter, Proc. Phys. Soc. 58 (1946) 105 (from memory); water
/// as a third phase that lies as the fibre does is our choice.
pub fn conduction_of_water(fibres: &FibreMass, water: f64, temp: f64) -> f64 {
    let k_air = air::conductivity(temp).value;
    let k_fibre = fibres.k_fibre + fibres.k_fibre_slope * (temp - TEMP_FIBRE);
    let (f, x) = (fibres.fraction, fibres.parallel_share);
    let w = water.clamp(0.0, (1.0 - f).max(0.0));
    let series = |w: f64| 1.0 / (f / k_fibre + w / WATER_CONDUCTIVITY + (1.0 - f - w) / k_air);
    x * w * (WATER_CONDUCTIVITY - k_air) + (1.0 - x) * (series(w) - series(0.0))
}

/// Radiation from fibre to fibre as a conductivity, and its derivative to temperature [W/(m·K)].
///
/// k_rad = 8 σ T³ r / (f ε)
///
/// - `fibres`: what the mass is made of
/// - `temp`: T [K]
///
/// Range: masses many mean free paths r/(f ε) thick; a millimetre of felt is some seven of them.
/// Source: Farnworth, Textile Research Journal 53 (1983) 717 (from memory).
pub fn radiation(fibres: &FibreMass, temp: f64) -> Sloped {
    let free_path = fibres.radius / (fibres.fraction * fibres.emissivity);
    let by_square = 8.0 * STEFAN_BOLTZMANN * free_path * temp * temp;
    Sloped { value: by_square * temp, slope: 3.0 * by_square }
}
