//! Conversions between the units of files and output and the SI used inside.

/// Ice point on the kelvin scale [K]. Source: definition of the degree Celsius, SI brochure, 9th edition.
pub const ICE_POINT: f64 = 273.15;
/// Stefan–Boltzmann constant [W/(m²·K⁴)]. Source: CODATA 2018.
pub const STEFAN_BOLTZMANN: f64 = 5.670374419e-8;
/// Molar gas constant [J/(mol·K)]. Source: CODATA 2018.
pub const GAS_CONSTANT: f64 = 8.314462618;
/// Standard gravity [m/s²]. Source: CGPM 1901.
pub const GRAVITY: f64 = 9.80665;
/// Standard atmosphere [Pa]. Source: 10th CGPM 1954.
pub const ATMOSPHERE: f64 = 101_325.0;
/// Joules in one International Table calorie [J]. Source: 5th International Conference on Properties of Steam, 1956.
pub const JOULE_PER_CALORIE: f64 = 4.1868;

/// Temperature in kelvin from degrees Celsius [K]. Source: definition of the degree Celsius.
pub fn kelvin(temp_celsius: f64) -> f64 {
    temp_celsius + ICE_POINT
}

/// Temperature in degrees Celsius from kelvin [°C]. Source: definition of the degree Celsius.
pub fn celsius(temp: f64) -> f64 {
    temp - ICE_POINT
}

/// Heat per area in cal/cm² from J/m² [cal/cm²]. Source: International Table calorie.
pub fn cal_cm2(heat: f64) -> f64 {
    heat / from_cal_cm2(1.0)
}

/// Heat per area in J/m² from cal/cm² [J/m²]. Source: International Table calorie; 1e4 cm² in a m².
pub fn from_cal_cm2(heat_cal_cm2: f64) -> f64 {
    heat_cal_cm2 * (JOULE_PER_CALORIE * 1e4)
}
