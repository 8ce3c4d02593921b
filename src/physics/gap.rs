//! Conduction and natural convection of the air in a gap between two parallel surfaces.
//!
//! Temperatures are signed by place, not sorted: 1 is the outer surface, 2 the inner
//! one. Radiation across the gap is the business of [`radiation`](crate::physics::radiation).

use crate::physics::air;
use crate::physics::slope::{Between, Sloped};
use crate::physics::units::GRAVITY;

/// Rayleigh number at which air between horizontal rigid plates begins to move [–].
///
/// Source: Chandrasekhar 1961 (1707.762), rounded as in Hollands et al. 1976.
pub const RAYLEIGH_ONSET: f64 = 1708.0;
/// Rayleigh number of the second term of Hollands et al. 1976 [–].
const RAYLEIGH_SECOND: f64 = 5830.0;
/// Vertical gaps below this Rayleigh number conduct only: the correlation adds less than 1e-8.
const RAYLEIGH_VERTICAL: f64 = 100.0;
/// Upper bound of g/(T ν α) for the fitted air, reached at its lowest temperature [1/(m³·K)].
const BUOYANCY_MOST: f64 = 6.6e8;

/// How the air in a gap moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Convection {
    /// Horizontal gap, outer surface below: moves while the outer surface is the hotter.
    HeatedFromBelow,
    /// Vertical gap.
    Vertical {
        /// Height over thickness [–], 1 or more.
        aspect: f64,
    },
    /// The air never moves.
    Still,
}

/// Nusselt number of air between horizontal plates heated from below, and its derivative to Ra [–].
///
/// Nu = 1 + 1.44 [1 − 1708/Ra]⁺ + [(Ra/5830)^(1/3) − 1]⁺
///
/// - `rayleigh`: Ra [–]; negative when the upper plate is the hotter, which gives 1
///
/// Range: Ra below 1e5, air, width above 12 gaps; the paper goes on to 1e8.
/// Source: Hollands, Unny, Raithby and Konicek, J. Heat Transfer 98 (1976) 189, tilt 0.
#[inline]
pub fn nusselt_horizontal_hollands(rayleigh: f64) -> Sloped {
    if rayleigh <= RAYLEIGH_ONSET {
        return Sloped { value: 1.0, slope: 0.0 };
    }
    let over_onset = RAYLEIGH_ONSET / rayleigh;
    let mut nusselt =
        Sloped { value: 1.0 + 1.44 * (1.0 - over_onset), slope: 1.44 * over_onset / rayleigh };
    if rayleigh > RAYLEIGH_SECOND {
        let root = libm::cbrt(rayleigh / RAYLEIGH_SECOND);
        nusselt.value += root - 1.0;
        nusselt.slope += root / (3.0 * rayleigh);
    }
    nusselt
}

/// Nusselt number of air in a vertical gap, and its derivative to Ra [–].
///
/// Nu = max(0.0605 Ra^(1/3), (1 + [0.104 Ra^0.293 / (1 + (6310/Ra)^1.36)]³)^(1/3), 0.242 (Ra/A)^0.272)
///
/// - `rayleigh`: Ra on the gap's thickness [–]; its size counts, the sign is that of the heat flow
/// - `aspect`: A, height over thickness [–], 1 or more
///
/// Range: A from 5 to 110, Ra from 1e2 to 2e7; below Ra 100 the value is 1 (error below 1e-8).
/// Source: ElSherbiny, Raithby and Hollands, J. Heat Transfer 104 (1982) 96.
#[inline]
pub fn nusselt_vertical_elsherbiny(rayleigh: f64, aspect: f64) -> Sloped {
    let ra = rayleigh.abs();
    if ra <= RAYLEIGH_VERTICAL {
        return Sloped { value: 1.0, slope: 0.0 };
    }
    let turbulent = 0.0605 * libm::cbrt(ra);
    let boundary = 0.242 * libm::pow(ra / aspect, 0.272);
    let damping = libm::pow(6310.0 / ra, 1.36);
    let rise = 0.104 * libm::pow(ra, 0.293) / (1.0 + damping);
    let cubed = rise * rise * rise;
    let transition = libm::cbrt(1.0 + cubed);
    // (1 + r³)^(1/3): d ln r / d ln Ra is 0.293 plus the damping's own exponent.
    let exponent = (0.293 + 1.36 * damping / (1.0 + damping)) * cubed / (1.0 + cubed);
    let (value, exponent) = [(turbulent, 1.0 / 3.0), (boundary, 0.272)]
        .into_iter()
        .fold((transition, exponent), |most, other| if other.0 > most.0 { other } else { most });
    Sloped { value, slope: value * exponent / rayleigh }
}

/// Rayleigh number of the air in a gap, signed as outer minus inner temperature [–].
///
/// Ra = g (T1 − T2) d³ / (Tm ν α), properties at the mean Tm = (T1 + T2)/2
///
/// - `temp_outer`, `temp_inner`: surface temperatures T1, T2 [K], above 0
/// - `thickness`: d [m], 0 or more
///
/// Range: mean temperature 200 to 2300 K, air at 1 atm; beyond: properties are held.
/// Source: definition with the ideal gas's expansion 1/Tm; air as [`air`].
#[inline]
pub fn rayleigh(temp_outer: f64, temp_inner: f64, thickness: f64) -> Between {
    let temp = 0.5 * (temp_outer + temp_inner);
    let difference = temp_outer - temp_inner;
    let nu = air::kinematic_viscosity(temp);
    let alpha = air::thermal_diffusivity(temp);
    let per_kelvin = GRAVITY * thickness * thickness * thickness / (temp * nu.value * alpha.value);
    let falloff = 1.0 / temp + nu.slope / nu.value + alpha.slope / alpha.value;
    let by_mean = -0.5 * per_kelvin * difference * falloff;
    Between {
        value: per_kelvin * difference,
        slope_outer: by_mean + per_kelvin,
        slope_inner: by_mean - per_kelvin,
    }
}

/// Nusselt number for a way of moving, and its derivative to Ra [–].
///
/// - `rayleigh`: Ra [–], positive when the outer surface is the hotter
///
/// Range: as the correlation of the way of moving; still air gives 1.
/// Source: [`nusselt_horizontal_hollands`], [`nusselt_vertical_elsherbiny`].
#[inline]
pub fn nusselt(rayleigh: f64, convection: Convection) -> Sloped {
    match convection {
        Convection::HeatedFromBelow => nusselt_horizontal_hollands(rayleigh),
        Convection::Vertical { aspect } => nusselt_vertical_elsherbiny(rayleigh, aspect),
        Convection::Still => Sloped { value: 1.0, slope: 0.0 },
    }
}

/// Conductance of the air in a gap without radiation, and its derivatives [W/(m²·K)].
///
/// h = Nu(Ra) k(Tm) / d
///
/// - `temp_outer`, `temp_inner`: surface temperatures T1, T2 [K], above 0
/// - `thickness`: d [m], above 0
/// - `convection`: how the air moves
///
/// Range: as [`rayleigh`] and the correlation; the derivative jumps where the air begins to move.
/// Source: definition of Nu.
#[inline]
pub fn conductance(
    temp_outer: f64,
    temp_inner: f64,
    thickness: f64,
    convection: Convection,
) -> Between {
    let still = conductance_still(temp_outer, temp_inner, thickness);
    if stays_still(temp_outer - temp_inner, thickness, convection) {
        return still;
    }
    let ra = rayleigh(temp_outer, temp_inner, thickness);
    let nusselt = nusselt(ra.value, convection);
    Between {
        value: still.value * nusselt.value,
        slope_outer: still.slope_outer * nusselt.value
            + still.value * nusselt.slope * ra.slope_outer,
        slope_inner: still.slope_inner * nusselt.value
            + still.value * nusselt.slope * ra.slope_inner,
    }
}

/// Conductance of still air in a gap without radiation, and its derivatives [W/(m²·K)].
///
/// h = k(Tm) / d
///
/// - `temp_outer`, `temp_inner`: surface temperatures [K], Tm their mean
/// - `thickness`: d [m], above 0
///
/// Range: as [`air::conductivity`].
/// Source: Fourier's law.
#[inline(always)]
pub fn conductance_still(temp_outer: f64, temp_inner: f64, thickness: f64) -> Between {
    let k = air::conductivity(0.5 * (temp_outer + temp_inner));
    let by_mean = 0.5 * k.slope / thickness;
    Between { value: k.value / thickness, slope_outer: by_mean, slope_inner: by_mean }
}

/// Whether the air cannot move at any mean temperature; spares thin gaps the properties.
///
/// - `difference`: outer minus inner surface temperature [K]
/// - `thickness`: of the gap [m]
///
/// Source: the onset of each correlation at the highest buoyancy that air has.
#[inline]
pub fn stays_still(difference: f64, thickness: f64, convection: Convection) -> bool {
    let most = BUOYANCY_MOST * thickness * thickness * thickness;
    match convection {
        Convection::HeatedFromBelow => most * difference <= RAYLEIGH_ONSET,
        Convection::Vertical { .. } => most * difference.abs() <= RAYLEIGH_VERTICAL,
        Convection::Still => true,
    }
}

#[cfg(test)]
mod tests {
    use super::{BUOYANCY_MOST, rayleigh};

    #[test]
    fn no_mean_temperature_beats_the_bound_of_buoyancy() {
        let steps = (0..2200).map(|i| 200.0 + f64::from(i));
        let most =
            steps.map(|temp| rayleigh(temp + 0.5, temp - 0.5, 1.0).value).fold(0.0, f64::max);
        assert!(most < BUOYANCY_MOST && most > 0.9 * BUOYANCY_MOST, "{most:e}");
    }
}
