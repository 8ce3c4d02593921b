//! Water held by fibres: what it takes to warm it and to drive it out.
//!
//! Counted per kilogram of water present at the start. Water leaves over a window of
//! temperature and does not come back: on cooling, what has left no longer counts. The
//! vapour's own warming and the extra heat that binds the last few per cent of water to
//! the fibre are left out.

use crate::physics::slope::Sloped;
use crate::physics::units::ICE_POINT;

/// Specific heat of liquid water, mean of 25 to 100 °C [J/(kg·K)].
///
/// Source: IAPWS-95 by CoolProp 8.0.0, `tests/reference/water_coolprop.csv`.
pub const WATER_SPECIFIC_HEAT: f64 = 4191.2;
/// Latent heat of evaporation of water at 100 °C [J/kg].
///
/// Source: IAPWS-95 by CoolProp 8.0.0, `tests/reference/water_coolprop.csv`.
pub const WATER_LATENT_HEAT: f64 = 2.2564e6;
/// Conductivity of liquid water at 330 K [W/(m·K)]; 6 % less at 25 °C, 5 % more at 100 °C.
///
/// Source: Huber and others 2012 by CoolProp 8.0.0, `tests/reference/water_coolprop.csv`.
pub const WATER_CONDUCTIVITY: f64 = 0.647867;
/// Density of liquid water at 330 K [kg/m³].
///
/// Source: IAPWS-95 by CoolProp 8.0.0, `tests/reference/water_coolprop.csv`.
pub const WATER_DENSITY: f64 = 984.75;
/// Temperature at which water begins to leave [K]: 75 °C.
///
/// Source: Torvi and Dale, Fire Technology 35 (1999) 210, drying range (from memory).
pub const EVAPORATION_FROM: f64 = 75.0 + ICE_POINT;
/// Temperature at which all water has left [K]: 125 °C.
///
/// Source: Torvi and Dale, Fire Technology 35 (1999) 210, drying range (from memory).
pub const EVAPORATION_TO: f64 = 125.0 + ICE_POINT;

const WINDOW: f64 = EVAPORATION_TO - EVAPORATION_FROM;

#[inline]
fn place_in_window(temp: f64) -> f64 {
    ((temp - EVAPORATION_FROM) / WINDOW).clamp(0.0, 1.0)
}

/// Share of the water that has left once `temp` has been reached, and its derivative [–].
///
/// s = 3u² − 2u³ with u = (T − T_from)/(T_to − T_from) held to 0..1
///
/// - `temp`: highest temperature reached so far [K]
///
/// Range: any; 0 below the window, 1 above.
/// Source: smooth step over the drying range of Torvi and Dale 1999; the shape is our choice.
#[inline]
pub fn evaporated_share(temp: f64) -> Sloped {
    let u = place_in_window(temp);
    Sloped { value: u * u * (3.0 - 2.0 * u), slope: 6.0 * u * (1.0 - u) / WINDOW }
}

/// Heat taken up by the water per kilogram present at the start, and its derivative to `temp` [J/kg].
///
/// H = F(T) while T is the highest temperature so far, with F = ∫ c (1 − s) dT + L s;
/// below the peak Tp, H = F(Tp) + c (1 − s(Tp)) (T − Tp)
///
/// - `temp`: temperature T [K]
/// - `temp_peak`: highest temperature before this moment Tp [K]; T itself is taken when above it
///
/// Range: any; zero where a never heated sample is at the window's lower end. At T = Tp the
/// derivative is that of further heating.
/// Source: integral of the definition above in closed form.
#[inline]
pub fn water_enthalpy(temp: f64, temp_peak: f64) -> Sloped {
    let top = temp.max(temp_peak);
    let u = place_in_window(top);
    let share = evaporated_share(top);
    let kept = WATER_SPECIFIC_HEAT * (1.0 - share.value);
    // ∫(1 − s) dT is T below the window and WINDOW·(u − u³ + u⁴/2) inside it.
    let warmed = (top - EVAPORATION_FROM).min(0.0) + WINDOW * u * (1.0 - u * u * (1.0 - 0.5 * u));
    let leaving = if temp >= temp_peak { WATER_LATENT_HEAT * share.slope } else { 0.0 };
    Sloped {
        value: WATER_SPECIFIC_HEAT * warmed + WATER_LATENT_HEAT * share.value + kept * (temp - top),
        slope: kept + leaving,
    }
}
