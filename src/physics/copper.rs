//! The copper of a calorimeter.

use crate::physics::slope::{Sloped, polynomial};
use crate::physics::units::JOULE_PER_CALORIE;

/// Molar mass of copper [g/mol]. Source: ASTM F1959/F2700, heat flux clause (from memory).
const MOLAR_MASS: f64 = 63.546;
/// Coefficients A to D in t = T/1000 K [cal/(mol·K)]. Source: ASTM F1959/F2700 (from memory).
const SERIES: [f64; 4] = [4.237312, 6.715751, -7.46962, 3.339491];
/// Coefficient E of 1/t² [cal/(mol·K)]. Source: ASTM F1959/F2700 (from memory).
const INVERSE_SQUARE: f64 = 0.016398;

/// Specific heat of copper and its derivative to the temperature [J/(kg·K)].
///
/// c = 4.1868 (A + B t + C t² + D t³ + E/t²) / 63.546 J/(g·K), t = T/1000 K
///
/// - `temp`: T [K], above 0
///
/// Range: 280 to 1000 K, as calorimeters are used; 0.385 J/(g·K) at 25 °C, 5.5 % more at 200 °C.
/// Source: ASTM F1959 and F2700, heat flux clause (from memory).
pub fn specific_heat(temp: f64) -> Sloped {
    let t = temp * 1e-3;
    let series = polynomial(&SERIES, t);
    let inverse = INVERSE_SQUARE / (t * t);
    let scale = JOULE_PER_CALORIE / MOLAR_MASS * 1e3;
    Sloped {
        value: scale * (series.value + inverse),
        slope: scale * 1e-3 * (series.slope - 2.0 * inverse / t),
    }
}

/// Heat capacity of a calorimeter per area of its face [J/(m²·K)].
///
/// C_A = m c / A
///
/// - `mass`: m [kg]
/// - `cp`: c [J/(kg·K)]
/// - `area`: A [m²], above 0
///
/// Range: any; the whole mass at one temperature.
/// Source: ISO 9151, calculation of the heat flux from the disc's rise (from memory).
pub fn cap_area(mass: f64, cp: f64, area: f64) -> f64 {
    mass * cp / area
}

/// Rate of rise of a calorimeter that takes up a heat flux without loss [K/s].
///
/// dT/dt = q / C_A
///
/// - `q`: heat flux taken up [W/m²]
/// - `cap_area`: C_A [J/(m²·K)], above 0
///
/// Range: no loss to holder or room, as at the start of a test.
/// Source: ISO 9151, calculation of the heat flux from the disc's rise (from memory).
pub fn rise_rate(q: f64, cap_area: f64) -> f64 {
    q / cap_area
}
