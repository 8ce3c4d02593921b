//! Water bound by fibres: with which humidity it stands in balance, and the heat that binds it.
//!
//! Amounts are ratios z = r/R65 of the regain r to the regain at 65 % of saturation: written so, one
//! isotherm serves all fibres, and two of them that touch share one ratio.

use crate::physics::slope::Sloped;
use crate::physics::vapour::GAS_CONSTANT_VAPOUR;

/// Scale of the isotherm [–]; from memory.
pub const ISOTHERM_SCALE: f64 = 0.578;
/// Place of its bend at low humidity [–]; from memory.
pub const ISOTHERM_LOW: f64 = 0.321;
/// Place of its pole beyond saturation [–]; from memory.
pub const ISOTHERM_HIGH: f64 = 1.262;
/// Temperature at which the isotherm holds [K].
pub const TEMP_ISOTHERM: f64 = 298.15;
/// Heat beyond the latent heat that binds the first water [J/kg]. Source: viscose, Morton and Hearle,
/// Physical Properties of Textile Fibres (from memory); para-aramid by analogy.
pub const HEAT_FIRST: f64 = 1.17e6;
/// How fast that heat falls with z [–]. Source: as [`HEAT_FIRST`].
pub const HEAT_FALL: f64 = 3.5;
/// How round the corner is at which a fibre's activity is held below 1 [–]; our choice: at the corner
/// itself it stands at 0.97, and at 0.997 where x is half as much again. A sharper corner (2e-4) made
/// drying fronts pass nodes so abruptly that a printed error no longer covered them.
pub const CAP_ROUND: f64 = 1e-3;
/// Power of the cap of a film on a bare face [–]; our choice.
pub const CAP_POWER_FILM: i32 = 8;
/// Water on a bare face below which it counts as a part of a film [kg/m²]; our choice, a tenth of a
/// micrometre.
pub const FILM_LEAST: f64 = 1e-4;

/// Relative humidity in balance with bound water at 25 °C, uncapped, and its derivative to the ratio [–].
///
/// φ from z = 0.578 φ [1/(0.321 + φ) + 1/(1.262 − φ)]
///
/// - `ratio`: z, regain over regain at 65 % of saturation [–], 0 or more
///
/// Range: 0 to 1 for z up to 3.4; beyond, up to 1.262 without end.
/// Source: sigmoid of hydrophilic fibres, from memory; the root is our own.
#[inline]
pub fn relative_humidity(ratio: f64) -> Sloped {
    let (low, high) = (ISOTHERM_LOW, ISOTHERM_HIGH);
    let z = ratio / ISOTHERM_SCALE;
    let b = low + high - (high - low) * z;
    let root = (b * b + 4.0 * low * high * z * z).sqrt();
    let value = match b > 0.0 {
        true => 2.0 * low * high * z / (b + root),
        false => (root - b) / (2.0 * z),
    };
    Sloped { value, slope: (low + value) * (high - value) / (root * ISOTHERM_SCALE) }
}

/// Heat beyond the latent heat that binds water at a ratio [J/kg].
///
/// Q = Q0/(1 + 3.5 z)
///
/// - `ratio`: z, regain over regain at 65 % of saturation [–], 0 or more
///
/// Range: hydrophilic fibres; the same heat stands in [`activity`], or the two would disagree.
/// Source: viscose, Morton and Hearle (from memory).
#[inline]
pub fn heat(ratio: f64) -> f64 {
    HEAT_FIRST / (1.0 + HEAT_FALL * ratio)
}

/// Heat that has bound all water up to a ratio, per regain at 65 %, and its derivative [J/kg].
///
/// ∫ Q dz = (Q0/3.5) ln(1 + 3.5 z)
///
/// - `ratio`: z, regain over regain at 65 % of saturation [–], 0 or more
///
/// Range: as [`heat`].
/// Source: integral of [`heat`].
#[inline]
pub fn heat_bound(ratio: f64) -> Sloped {
    let value = HEAT_FIRST / HEAT_FALL * libm::log(1.0 + HEAT_FALL * ratio);
    Sloped { value, slope: heat(ratio) }
}

/// A value held below 1, and its derivative to the value.
///
/// x/(1 + xⁿ)^(1/n)
///
/// - `x`: 0 or more
/// - `power`: n [–], even
///
/// Range: any; 1 within 1e-3 from x = 1.3 on at n = 20.
/// Source: smooth form of min(x, 1), our choice.
#[inline]
pub fn capped(x: f64, power: i32) -> Sloped {
    let own = 1.0 / f64::from(power);
    if x <= 1.0 {
        let grown = 1.0 + x.powi(power);
        let value = x * libm::pow(grown, -own);
        Sloped { value, slope: value / (x.max(f64::MIN_POSITIVE) * grown) }
    } else {
        let fallen = x.powi(-power);
        let value = libm::pow(1.0 + fallen, -own);
        Sloped { value, slope: value / x * fallen / (1.0 + fallen) }
    }
}

/// A value held below 1 by a hyperbola, and its derivative to the value.
///
/// y = 2x/(1 + x + s), s = √((1 − x)² + 4 e x), e [`CAP_ROUND`]; y′ = (1 − y)/s
///
/// - `x`: 0 or more
///
/// Range: any; as sharp as [`capped`] of the 20th power at its corner, and without a power.
/// Source: smooth form of min(x, 1), the non-rectangular hyperbola; our choice.
#[inline]
pub fn rounded(x: f64) -> Sloped {
    let s = ((1.0 - x) * (1.0 - x) + 4.0 * CAP_ROUND * x).sqrt();
    let value = 2.0 * x / (1.0 + x + s);
    Sloped { value, slope: (1.0 - value) / s }
}

/// Activity of bound water: its vapour pressure over that of saturation [–].
///
/// a = round(φ(z)·exp[(Q(z)/Rv)·(1/T0 − 1/T)]); beyond the corner the water is liquid
///
/// - `ratio`: z, regain over regain at 65 % of saturation [–], 0 or more
/// - `temp`: T [K], above 0
///
/// Range: 0 to 1; hot fibres by the law of Clausius and Clapeyron.
/// Source: [`relative_humidity`], [`heat`], [`rounded`]; T0 is 25 °C.
#[inline]
pub fn activity(ratio: f64, temp: f64) -> f64 {
    let colder = 1.0 / TEMP_ISOTHERM - 1.0 / temp;
    let loosened = libm::exp(heat(ratio) / GAS_CONSTANT_VAPOUR * colder);
    rounded(relative_humidity(ratio).value * loosened).value
}

/// Activity of a film of water on a bare face [–].
///
/// a = cap(w/w0)
///
/// - `water`: w [kg/m²], 0 or more
///
/// Range: 0 to 1.
/// Source: our choice; w0 is [`FILM_LEAST`].
#[inline]
pub fn activity_of_film(water: f64) -> f64 {
    capped(water / FILM_LEAST, CAP_POWER_FILM).value
}
