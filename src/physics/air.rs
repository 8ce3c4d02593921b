//! Dry air at one standard atmosphere.
//!
//! Low-order polynomials in T/1000 K, since they are evaluated in every Newton
//! iteration of the solver. Fitted by `tests/reference/fit_air.py` to CoolProp 8.0.0
//! (Lemmon, Jacobsen, Penoncello and Friend 2000; Lemmon and Jacobsen 2004), minimax
//! in relative error from 200 to 2300 K. CoolProp's own equations end at 2000 K and
//! are extrapolated above. Outside 200 to 2300 K the value at the nearer end is held.

use crate::physics::slope::{Sloped, polynomial};
use crate::physics::units::GAS_CONSTANT;

/// Lowest temperature of the fits [K]; below it values are held.
pub const TEMP_LOW: f64 = 200.0;
/// Highest temperature of the fits [K]; above it values are held.
pub const TEMP_HIGH: f64 = 2300.0;
/// Standard atmosphere [Pa]. Source: CGPM 1954.
pub const PRESSURE: f64 = 101_325.0;
/// Molar mass of dry air [kg/mol]. Source: Lemmon et al. 2000, as in CoolProp 8.0.0.
pub const MOLAR_MASS: f64 = 0.028_965_46;

/// Coefficients of [`conductivity`] in T/1000 K, lowest power first [W/(m·K)]; largest relative error 0.271 %
/// over 200 to 2300 K and over 250 to 1500 K.
///
/// Source: as [`conductivity`].
pub const CONDUCTIVITY: [f64; 5] =
    [6.671396e-04, 9.849493e-02, -4.948726e-02, 2.150596e-02, -3.559932e-03];
/// Largest relative error 0.267 % over 200 to 2300 K and over 250 to 1500 K.
const KINEMATIC_VISCOSITY: [f64; 5] =
    [-2.104263e-06, 2.311912e-05, 1.319956e-04, -3.668797e-05, 6.639371e-06];
/// Largest relative error 0.280 % over 200 to 2300 K and over 250 to 1500 K.
const DIFFUSIVITY: [f64; 6] =
    [-1.326738e-06, 7.979120e-06, 2.893092e-04, -2.027127e-04, 8.974775e-05, -1.455544e-05];

/// A fit and its derivative to the temperature, held outside its range.
#[inline(always)]
fn fitted<const N: usize>(coefficients: &[f64; N], temp: f64) -> Sloped {
    let held = temp.clamp(TEMP_LOW, TEMP_HIGH);
    let inside = if held == temp { 1e-3 } else { 0.0 };
    let fit = polynomial(coefficients, held * 1e-3);
    Sloped { value: fit.value, slope: fit.slope * inside }
}

/// Thermal conductivity of dry air and its derivative to the temperature [W/(m·K)].
///
/// - `temp`: temperature [K]
///
/// Range: 200 to 2300 K within 0.3 % of CoolProp; beyond: the end value is held, slope 0.
/// Source: fit to CoolProp 8.0.0 (Lemmon and Jacobsen 2004), `tests/reference/fit_air.py`.
#[inline(always)]
pub fn conductivity(temp: f64) -> Sloped {
    fitted(&CONDUCTIVITY, temp)
}

/// Kinematic viscosity of dry air at 1 atm and its derivative to the temperature [m²/s].
///
/// - `temp`: temperature [K]
///
/// Range: 200 to 2300 K within 0.3 % of CoolProp; beyond: the end value is held, slope 0.
/// Source: fit to CoolProp 8.0.0 (Lemmon and Jacobsen 2004), `tests/reference/fit_air.py`.
#[inline]
pub fn kinematic_viscosity(temp: f64) -> Sloped {
    fitted(&KINEMATIC_VISCOSITY, temp)
}

/// Thermal diffusivity of dry air at 1 atm and its derivative to the temperature [m²/s].
///
/// - `temp`: temperature [K]
///
/// Range: 200 to 2300 K within 0.3 % of CoolProp; beyond: the end value is held, slope 0.
/// Source: fit to CoolProp 8.0.0 (Lemmon et al. 2000 and 2004), `tests/reference/fit_air.py`.
#[inline]
pub fn thermal_diffusivity(temp: f64) -> Sloped {
    fitted(&DIFFUSIVITY, temp)
}

/// Prandtl number of dry air at 1 atm [–].
///
/// Pr = ν / α
///
/// - `temp`: temperature [K]
///
/// Range: 200 to 2300 K within 0.6 % of CoolProp; beyond: the end value is held.
/// Source: definition; properties as [`kinematic_viscosity`] and [`thermal_diffusivity`].
#[inline]
pub fn prandtl(temp: f64) -> f64 {
    kinematic_viscosity(temp).value / thermal_diffusivity(temp).value
}

/// Density of dry air at 1 atm as an ideal gas [kg/m³].
///
/// ρ = p M / (R T)
///
/// - `temp`: temperature [K], above 0
///
/// Range: above 200 K within 0.25 % of CoolProp, above 250 K within 0.1 %.
/// Source: ideal gas law; molar mass of Lemmon et al. 2000.
#[inline]
pub fn density(temp: f64) -> f64 {
    PRESSURE * MOLAR_MASS / (GAS_CONSTANT * temp)
}

/// Specific heat of dry air at 1 atm [J/(kg·K)].
///
/// c = k / (ρ α)
///
/// - `temp`: temperature [K]
///
/// Range: 200 to 2300 K within 0.7 % of CoolProp; beyond: not meaningful.
/// Source: definition of α; properties as [`conductivity`] and [`thermal_diffusivity`].
#[inline]
pub fn specific_heat(temp: f64) -> f64 {
    conductivity(temp).value / (density(temp) * thermal_diffusivity(temp).value)
}
