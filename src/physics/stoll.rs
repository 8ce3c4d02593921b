//! The Stoll criterion: heat that human skin bears to a second-degree burn.

use crate::physics::slope::Sloped;

/// Heat borne in one second [J/m²]: 5.0204 J/cm². Source: ASTM F1959 and F2703 (from memory).
const HEAT_FIRST_SECOND: f64 = 5.0204e4;
/// Exponent of time [–]. Source: ASTM F1959 and F2703 (from memory).
const EXPONENT: f64 = 0.2901;

/// One row of the published table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Time of exposure [s].
    pub t: f64,
    /// Heat flux [W/m²].
    pub q: f64,
    /// Heat over the whole exposure [J/m²].
    pub heat: f64,
    /// Rise of the calorimeter of the method [K].
    pub rise: f64,
}

const fn row(t: f64, flux_kw: f64, heat_kj: f64, rise: f64) -> Row {
    Row { t, q: flux_kw * 1e3, heat: heat_kj * 1e3, rise }
}

/// Human tissue tolerance to a second-degree burn, 1 to 30 s.
///
/// Source: Stoll and Chianta 1969, as tabulated in the ASTM and NFPA thermal protective
/// performance methods; heat and rise from 4 s on are from memory, as
/// `tests/reference/stoll.csv` marks row by row.
pub const TABLE: [Row; 22] = [
    row(1.0, 50.0, 50.0, 8.9),
    row(2.0, 31.0, 61.0, 10.8),
    row(3.0, 23.0, 69.0, 12.2),
    row(4.0, 19.0, 75.0, 13.3),
    row(5.0, 16.0, 80.0, 14.1),
    row(6.0, 14.0, 85.0, 15.1),
    row(7.0, 13.0, 88.0, 15.5),
    row(8.0, 11.5, 92.0, 16.2),
    row(9.0, 10.6, 95.0, 16.8),
    row(10.0, 9.8, 98.0, 17.3),
    row(11.0, 9.2, 101.0, 17.8),
    row(12.0, 8.6, 103.0, 18.2),
    row(13.0, 8.1, 106.0, 18.7),
    row(14.0, 7.7, 108.0, 19.1),
    row(15.0, 7.4, 111.0, 19.7),
    row(16.0, 7.0, 113.0, 19.8),
    row(17.0, 6.7, 114.0, 20.2),
    row(18.0, 6.4, 116.0, 20.6),
    row(19.0, 6.2, 118.0, 20.8),
    row(20.0, 6.0, 120.0, 21.2),
    row(25.0, 5.1, 128.0, 22.6),
    row(30.0, 4.5, 134.0, 23.8),
];

/// Heat borne up to a time by the power law, and its derivative to time [J/m²].
///
/// E = 5.0204 t^0.2901 J/cm²
///
/// - `t`: time of exposure [s], above 0
///
/// Range: 1 to 30 s; beyond: the power law goes on, without data behind it.
/// Source: ASTM F1959 and F2703 (from memory); a fit to Stoll and Chianta 1969.
pub fn heat(t: f64) -> Sloped {
    let value = HEAT_FIRST_SECOND * libm::pow(t, EXPONENT);
    Sloped { value, slope: EXPONENT * value / t }
}

/// Constant heat flux borne for a time by the power law [W/m²].
///
/// q = E / t = 50.204 t^(0.2901 − 1) kW/m²
///
/// - `t`: time of exposure [s], above 0
///
/// Range: 1 to 30 s, as [`heat`].
/// Source: ASTM F1959 and F2703 (from memory).
pub fn flux(t: f64) -> f64 {
    heat(t).value / t
}

/// Time for which a constant heat flux is borne by the power law [s].
///
/// t = (q / 50.204 kW/m²)^(1 / (0.2901 − 1))
///
/// - `q`: heat flux [W/m²], above 0
///
/// Range: 4.3 to 50.2 kW/m², as [`heat`].
/// Source: inverse of [`flux`].
pub fn time_at_flux(q: f64) -> f64 {
    libm::pow(q / HEAT_FIRST_SECOND, 1.0 / (EXPONENT - 1.0))
}

/// Heat borne up to a time by the published table, straight between rows on log scales [J/m²].
///
/// - `t`: time of exposure [s], above 0
///
/// Range: 1 to 30 s; beyond: the first or last pair of rows is followed further.
/// Source: [`TABLE`]; straight lines on log scales, common practice, no source.
pub fn heat_tabulated(t: f64) -> f64 {
    let above = TABLE.iter().position(|row| row.t >= t).unwrap_or(TABLE.len() - 1).max(1);
    let (from, to) = (TABLE[above - 1], TABLE[above]);
    let share = libm::log(t / from.t) / libm::log(to.t / from.t);
    from.heat * libm::pow(to.heat / from.heat, share)
}
