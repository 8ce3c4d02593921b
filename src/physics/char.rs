//! Fibre that turns to char and gas: how fast, with what heat, and what the gas does at the face.
//!
//! Counted per kilogram of dry fibre at the start. A share a of it, 0 to 1, has been converted; a
//! share ν of what is converted stays as char, the rest leaves as gas. Enthalpies count from 25 °C,
//! to which the heat of charring belongs too.

use crate::physics::slope::Sloped;
use crate::physics::units::{GAS_CONSTANT, ICE_POINT};

/// Rate of warming for which a fibre's peak temperature is told [K/s]: 10 K/min.
///
/// Source: usual rate of thermogravimetry, ISO 11358-1 (from memory).
pub const WARMING: f64 = 10.0 / 60.0;
/// Temperature from which enthalpies count [K]: 25 °C.
///
/// Source: our choice; standard enthalpies of formation are given for it.
pub const TEMP_REF: f64 = 25.0 + ICE_POINT;
/// Specific heat of the gas that charring gives off [J/(kg·K)].
///
/// Source: estimated as between steam (2000) and carbon dioxide (1000) at 400 °C; no source for the mixture.
pub const GAS_SPECIFIC_HEAT: f64 = 1400.0;
/// Specific heat of char at 25 °C [J/(kg·K)]. Source: from memory, carbon at room temperature.
pub const CHAR_SPECIFIC_HEAT: f64 = 715.0;
/// Its rise with temperature [J/(kg·K²)]. Source: from memory, carbon up to 500 °C.
pub const CHAR_SPECIFIC_HEAT_SLOPE: f64 = 1.6;
/// Share of a loss of mass by which a ply gets thinner [–]; the rest of the loss opens it.
///
/// Source: our choice, half way between neither and all; 0 to 1 moves HTI24 of a felt by 15 %.
pub const THINNING_SHARE: f64 = 0.5;
/// Lowest heat of charring that a run follows [J/kg].
///
/// Source: our own runs: a node that gives off more warms itself faster than steps of 2 ms follow.
pub const HEAT_LEAST: f64 = -200e3;

/// Logarithm of the rate's factor A [ln(1/s)], from where conversion is fastest.
///
/// A = E β / (R Tp²) · exp(E/(R Tp))
///
/// - `temp_activation`: E/R [K], above 0
/// - `temp_peak`: Tp, where conversion is fastest while warming at β [K], above 0
/// - `warming`: β [K/s], above 0
///
/// Range: one step of first order; its logarithm, as A itself reaches 1e20 and more.
/// Source: Kissinger, Analytical Chemistry 29 (1957) 1702, equation 4 with n = 1 (from memory).
pub fn ln_rate_kissinger(temp_activation: f64, temp_peak: f64, warming: f64) -> f64 {
    libm::log(temp_activation * warming / (temp_peak * temp_peak)) + temp_activation / temp_peak
}

/// Share of what is left that is converted in a second [1/s].
///
/// K = A exp(−E/(R T))
///
/// - `temp`: T [K], above 0
/// - `ln_rate`: ln A [ln(1/s)]
/// - `temp_activation`: E/R [K]
///
/// Range: one step of first order, da/dt = K (1 − a).
/// Source: Arrhenius; Antal, Varhegyi, Jakab, Ind. Eng. Chem. Res. 37 (1998) 1267, cellulose.
#[inline]
pub fn rate(temp: f64, ln_rate: f64, temp_activation: f64) -> f64 {
    libm::exp(ln_rate - temp_activation / temp)
}

/// Converted share after a time at constant rate [–].
///
/// a⁺ = 1 − (1 − a) exp(−K Δt)
///
/// - `converted`: a [–], 0 to 1
/// - `rate`: K [1/s], 0 or more
/// - `dt`: Δt [s], 0 or more
///
/// Range: 0 to 1 whatever the step; exact at constant temperature.
/// Source: integral of da/dt = K (1 − a).
#[inline]
pub fn converted_after(converted: f64, rate: f64, dt: f64) -> f64 {
    converted - (1.0 - converted) * libm::expm1(-rate * dt)
}

/// Enthalpy of char above 25 °C and its derivative to `temp` [J/kg].
///
/// h = 715 (T − T0) + 0.8 (T − T0)², T0 25 °C
///
/// - `temp`: T [K]
///
/// Range: 25 to 700 °C; beyond, carbon's specific heat rises less.
/// Source: integral of c = 715 + 1.6 (T − 25 °C), carbon (from memory).
#[inline]
pub fn char_enthalpy(temp: f64) -> Sloped {
    let above = temp - TEMP_REF;
    Sloped {
        value: above * (CHAR_SPECIFIC_HEAT + 0.5 * CHAR_SPECIFIC_HEAT_SLOPE * above),
        slope: CHAR_SPECIFIC_HEAT + CHAR_SPECIFIC_HEAT_SLOPE * above,
    }
}

/// Enthalpy of charring's gas above 25 °C and its derivative to `temp` [J/kg].
///
/// h = 1400 (T − T0), T0 25 °C
///
/// - `temp`: T [K]
///
/// Range: any.
/// Source: integral of [`GAS_SPECIFIC_HEAT`].
#[inline]
pub fn gas_enthalpy(temp: f64) -> Sloped {
    Sloped { value: GAS_SPECIFIC_HEAT * (temp - TEMP_REF), slope: GAS_SPECIFIC_HEAT }
}

/// Enthalpy that charring adds to a fibre, beyond that of unconverted fibre, and its derivative [J/kg].
///
/// a (ν h_char − h_fibre + Δh)
///
/// - `converted`: a [–], 0 to 1
/// - `residue`: ν [–], 0 to 1
/// - `heat`: Δh, taken up at 25 °C per mass of fibre [J/kg], negative when given off
/// - `fibre`: the dry fibre's enthalpy above 25 °C and its derivative [J/kg]
/// - `temp`: T [K]
///
/// Range: any; together with the fibre's own, (1 − a) h_fibre + a ν h_char + a Δh.
/// Source: enthalpies of mixtures add up; definition of the heat of reaction.
#[inline]
pub fn enthalpy_of_charring(
    converted: f64,
    residue: f64,
    heat: f64,
    fibre: Sloped,
    temp: f64,
) -> Sloped {
    let char = char_enthalpy(temp);
    Sloped {
        value: converted * (residue * char.value - fibre.value + heat),
        slope: converted * (residue * char.slope - fibre.slope),
    }
}

/// Blowing number φ of gas that leaves a face [–].
///
/// φ = G c / h0
///
/// - `gas`: G, mass of gas by area and time [kg/(m²·s)], 0 or more
/// - `h`: h0, coefficient without blowing [W/(m²·K)], above 0
///
/// Range: any.
/// Source: Bird, Stewart, Lightfoot, Transport Phenomena, 2nd edition, section 19.4 and 22.8, film theory (from memory).
#[inline]
pub fn blowing_number(gas: f64, h: f64) -> f64 {
    gas * GAS_SPECIFIC_HEAT / h
}

/// Share of a face's heat transfer that blowing leaves [–].
///
/// h/h0 = φ/(e^φ − 1)
///
/// - `phi`: blowing number φ [–]; negative for suction
///
/// Range: any; 1 without blowing, 1 − φ/2 for little of it, 0 for much.
/// Source: Bird, Stewart, Lightfoot, Transport Phenomena, 2nd edition, section 22.8, film theory (from memory).
#[inline]
pub fn blowing_factor(phi: f64) -> f64 {
    // the quotient loses its meaning where both are nearly nothing
    if phi.abs() < 1e-8 { 1.0 - 0.5 * phi } else { phi / libm::expm1(phi) }
}

/// Temperature E/R that belongs to an activation energy [K].
///
/// - `energy`: E [J/mol]
///
/// Range: any.
/// Source: definition, R by CODATA 2018.
pub fn temp_activation(energy: f64) -> f64 {
    energy / GAS_CONSTANT
}
