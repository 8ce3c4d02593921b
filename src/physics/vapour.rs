//! Water vapour in air: saturation, heat, diffusion and flow through pores.

use crate::physics::air;
use crate::physics::slope::Sloped;
use crate::physics::units::ICE_POINT;

/// Gas constant of water vapour [J/(kg·K)]. Source: molar gas constant over 18.015 g/mol.
pub const GAS_CONSTANT_VAPOUR: f64 = 461.52;
/// Specific heat of liquid water [J/(kg·K)]; usual value.
pub const LIQUID_SPECIFIC_HEAT: f64 = 4187.0;
/// Specific heat of water vapour [J/(kg·K)]; from memory, usual for moist air.
pub const VAPOUR_SPECIFIC_HEAT: f64 = 1890.0;
/// Latent heat of evaporation at 0 °C [J/kg]; from memory, usual for moist air.
pub const LATENT_HEAT_0C: f64 = 2.501e6;
/// Temperature at which liquid water's enthalpy counts as 0 [K]: 25 °C, where accounts begin.
pub const TEMP_DATUM: f64 = ICE_POINT + 25.0;
/// Latent heat of evaporation at [`TEMP_DATUM`] [J/kg].
pub const LATENT_HEAT_DATUM: f64 =
    LATENT_HEAT_0C + (VAPOUR_SPECIFIC_HEAT - LIQUID_SPECIFIC_HEAT) * (TEMP_DATUM - ICE_POINT);
/// Diffusivity of water vapour in air at 0 °C and 1 atm [m²/s]; from memory.
pub const DIFFUSIVITY_0C: f64 = 2.19e-5;
/// Power of the absolute temperature with which the diffusivity grows [–]; from memory.
pub const DIFFUSIVITY_POWER: f64 = 1.81;
/// [`transport`] at [`TEMP_DATUM`] [kg/(m·s)].
pub const TRANSPORT_DATUM: f64 = 1.889_627_582_433_220_6e-5;
/// Saturation pressure: ln p = A − B/(T − C), coefficients A [–], B [K], C [K]; from memory.
pub const SATURATION: [f64; 3] = [23.5771, 4042.9, 37.58];
/// Temperature below which the saturation pressure is held [K].
pub const SATURATION_TEMP_LOW: f64 = 240.0;
/// Share of air below which vapour in the open flows freely [–]: pores and gaps that resist no flow.
pub const CUT_OFF_OPEN: f64 = 1e-6;
/// Bounds of [`cut_off`] [–].
const CUT_OFFS: (f64, f64) = (1e-9, 0.5);
/// Temperature at which steam flows [K].
const TEMP_STEAM: f64 = ICE_POINT + 100.0;
/// Temperature of the test of resistance to vapour [K]: 35 °C. Source: ISO 11092.
const TEMP_RESISTANCE: f64 = ICE_POINT + 35.0;
/// Relative humidity of the room where nothing else is said [–]; common practice, no source.
const ROOM_HUMIDITY: f64 = 0.5;

/// (T/T0)^0.81 as a polynomial of √(T/T0), T0 [`TEMP_DATUM`], lowest power first [–].
///
/// Source: least largest error, fitted by us: 2e-6 from 230 to 2500 K.
pub const GROWTH: [f64; 7] = [
    -0.032_324_080_249_630_016,
    0.330_208_077_663_747_4,
    0.851_863_194_100_636_8,
    -0.191_967_115_986_644_07,
    0.049_745_470_349_873_935,
    -0.008_112_771_870_397_686,
    0.000_587_807_226_865_789_9,
];

/// Saturation pressure of water over liquid and its derivative to the temperature [Pa].
///
/// p_s = exp(23.5771 − 4042.9/(T − 37.58))
///
/// - `temp`: temperature T [K]; below 240 K the value at 240 K is held
///
/// Range: 0 to 120 °C within 1 % of IAPWS-95; beyond, it rises on and on, which hot dry places
/// need: there nothing is left to be saturated.
/// Source: Antoine's equation with usual coefficients (from memory); `tests/reference/vapour_coolprop.csv`.
#[inline]
pub fn saturation_pressure(temp: f64) -> Sloped {
    let [a, b, c] = SATURATION;
    let over = 1.0 / (temp.max(SATURATION_TEMP_LOW) - c);
    let value = libm::exp(a - b * over);
    let held = temp < SATURATION_TEMP_LOW;
    Sloped { value, slope: if held { 0.0 } else { value * b * over * over } }
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

/// Enthalpy of liquid water beyond that at 25 °C [J/kg].
///
/// h = 4187 (T − 298.15)
///
/// - `temp`: T [K]
///
/// Range: 0 to 110 °C, where the latent heat comes out within 1 %; beyond: the line goes on.
/// Source: usual value of the specific heat, from memory.
#[inline]
pub fn enthalpy_liquid(temp: f64) -> f64 {
    LIQUID_SPECIFIC_HEAT * (temp - TEMP_DATUM)
}

/// Enthalpy of water vapour beyond that of liquid at 25 °C [J/kg].
///
/// h = h_lv(25 °C) + 1890 (T − 298.15)
///
/// - `temp`: T [K]
///
/// Range: less that of liquid within 1 % of the latent heat from 0 to 110 °C; beyond: the line goes on.
/// Source: as for moist air, from memory; `tests/reference/vapour_coolprop.csv`.
#[inline]
pub fn enthalpy_vapour(temp: f64) -> f64 {
    LATENT_HEAT_DATUM + VAPOUR_SPECIFIC_HEAT * (temp - TEMP_DATUM)
}

/// Diffusivity of water vapour in air at 1 atm [m²/s].
///
/// D = 2.19e-5 (T/273.15)^1.81
///
/// - `temp`: T [K], above 0
///
/// Range: 250 to 1500 K (by the power law); its tolerance is some 5 % at room temperature.
/// Source: from memory.
#[inline]
pub fn diffusivity(temp: f64) -> f64 {
    DIFFUSIVITY_0C * libm::pow(temp / ICE_POINT, DIFFUSIVITY_POWER)
}

/// Mass that diffuses through 1 m of still air per unit of [`stefan`]'s potential, and its derivative
/// to the temperature [kg/(m·s)].
///
/// t = D P/(Rv T)
///
/// - `temp`: T [K], above 0
///
/// Range: as [`diffusivity`].
/// Source: Stefan's law of diffusion through air at rest; ideal gas.
#[inline]
pub fn transport(temp: f64) -> Sloped {
    let value = diffusivity(temp) * air::PRESSURE / (GAS_CONSTANT_VAPOUR * temp);
    Sloped { value, slope: (DIFFUSIVITY_POWER - 1.0) * value / temp }
}

/// Potential that drives vapour through air at rest, and its derivative to the vapour pressure [–].
///
/// Λ = −ln(1 − p/P) while p is below (1 − e)P, then straight on with the slope 1/(eP)
///
/// - `p`: vapour pressure [Pa], 0 or more
/// - `cut_off`: e, share of air below which steam flows rather than diffuses [–], above 0, at most 1
///
/// Range: any; the derivative is continuous.
/// Source: Stefan's diffusion through air at rest; the cut-off stands for flow by Darcy's law.
#[inline]
pub fn stefan(p: f64, cut_off: f64) -> Sloped {
    let air = 1.0 - p / air::PRESSURE;
    let held = air.max(cut_off);
    Sloped { value: (held - air) / cut_off - libm::log(held), slope: 1.0 / (held * air::PRESSURE) }
}

/// Share of air at which flow through pores carries as much as diffusion [–], held to 1e-9..0.5.
///
/// e = D δ μ/(P K), at 100 °C
///
/// - `openness`: δ, diffusion over that through still air [–]
/// - `permeability`: K [m²], above 0
///
/// Range: pores wide against the mean free path.
/// Source: slope of [`stefan`] set equal to that of Darcy's law.
pub fn cut_off(openness: f64, permeability: f64) -> f64 {
    let mu = air::kinematic_viscosity(TEMP_STEAM).value * air::density(TEMP_STEAM);
    let share = diffusivity(TEMP_STEAM) * openness * mu / (air::PRESSURE * permeability);
    share.clamp(CUT_OFFS.0, CUT_OFFS.1)
}

/// Diffusion through a felt over that through still air [–].
///
/// δ = (1 − f)^1.5
///
/// - `fraction`: fibre volume fraction f [–], 0 to 1
///
/// Range: fibres at random.
/// Source: Bruggeman's power for the pores between grains, from memory.
pub fn openness_of_felt(fraction: f64) -> f64 {
    libm::pow(1.0 - fraction, 1.5)
}

/// Diffusion through a woven or knit over that through still air [–].
///
/// δ = 0.4 (1 − f)
///
/// - `fraction`: fibre volume fraction f [–], 0 to 1
///
/// Range: usual cloth; the yarns leave less open than their fibres' volume says.
/// Source: from memory.
pub fn openness_of_cloth(fraction: f64) -> f64 {
    0.4 * (1.0 - fraction)
}

/// Permeability of a felt [m²].
///
/// K = d²/(64 f^1.5 (1 + 56 f³))
///
/// - `radius`: half of the fibre's diameter d [m]
/// - `fraction`: fibre volume fraction f [–], 0.006 to 0.3
///
/// Range: fibres at random across the flow; 30 % either way.
/// Source: Davies, Proc. Inst. Mech. Eng. B 1 (1952) 185 (from memory).
pub fn permeability_of_felt_davies(radius: f64, fraction: f64) -> f64 {
    let d = 2.0 * radius;
    d * d / (64.0 * libm::pow(fraction, 1.5) * (1.0 + 56.0 * fraction.powi(3)))
}

/// Thickness of still air that resists vapour as much [m].
///
/// s = Ret h_lv D/(Rv T), at 35 °C
///
/// - `resistance`: water-vapour resistance Ret [m²·Pa/W], 0 or more
///
/// Range: as measured by a sweating guarded hot plate; 20 m²·Pa/W are 9 mm.
/// Source: definition of Ret in ISO 11092; [`diffusivity`].
pub fn still_air_of_resistance(resistance: f64) -> f64 {
    let temp = TEMP_RESISTANCE;
    let latent = enthalpy_vapour(temp) - enthalpy_liquid(temp);
    resistance * latent * diffusivity(temp) / (GAS_CONSTANT_VAPOUR * temp)
}
