//! Water vapour in air: saturation, heat, diffusion.

use crate::physics::slope::Sloped;

/// Temperature below which the saturation pressure is held [K].
const TEMP_LOW: f64 = 240.0;
/// Relative humidity of the room where nothing else is said [–]; common practice, no source.
const ROOM_HUMIDITY: f64 = 0.5;

/// Saturation pressure of water over liquid and its derivative to the temperature [Pa].
///
/// p_s = exp(23.5771 − 4042.9/(T − 37.58))
///
/// - `temp`: temperature T [K]; below 240 K the value at 240 K is held
///
/// Range: 0 to 100 °C within 1 % of IAPWS-95; beyond, it rises on and on, which hot dry places
/// need: there nothing is left to be saturated.
/// Source: Antoine's equation with usual coefficients (from memory); `tests/reference/vapour_coolprop.csv`.
#[inline]
pub fn saturation_pressure(temp: f64) -> Sloped {
    let held = temp.max(TEMP_LOW);
    let over = 1.0 / (held - 37.58);
    let value = (23.5771 - 4042.9 * over).exp();
    Sloped { value, slope: if temp < TEMP_LOW { 0.0 } else { value * 4042.9 * over * over } }
}

/// Pressure of the water vapour in the air of a room where nothing else is said [Pa]: at half of saturation.
///
/// - `temp`: temperature of the room [K]
///
/// Range: as [`saturation_pressure`].
/// Source: common practice, no source; conditioning climates of textiles lie at 50 to 65 %.
pub fn room_pressure(temp: f64) -> f64 {
    ROOM_HUMIDITY * saturation_pressure(temp).value
}
