//! Rate of thermal damage to skin, on plain numbers.
//!
//! A model is a list of ranges in order of temperature, each `(temp_from, ln_rate,
//! temp_activation)`: the temperature [K] it starts above, ln P [ln(1/s)] and ΔE/R [K].
//! P itself reaches 1e124, hence its logarithm.

/// Rate of damage of one range [1/s].
///
/// dΩ/dt = P exp(−ΔE/(R T))
///
/// - `temp`: T [K], above 0
/// - `ln_rate`: ln P [ln(1/s)]
/// - `temp_activation`: ΔE/R [K]
///
/// Range: that of the coefficients; nothing below their start is looked at.
/// Source: Henriques, Archives of Pathology 43 (1947) 489.
#[inline]
pub fn rate(temp: f64, ln_rate: f64, temp_activation: f64) -> f64 {
    libm::exp(ln_rate - temp_activation / temp)
}

/// Rate of damage of the range that `temp` lies in [1/s].
///
/// - `temp`: T [K], above 0
/// - `ranges`: `(temp_from [K], ln P [ln(1/s)], ΔE/R [K])` in order of temperature
///
/// Range: 0 below the first range's start; a start belongs to the range below it, the first
/// start to the first range.
/// Source: ASTM F1930 and ISO 13506-2, skin burn calculation (from memory).
#[inline]
pub fn damage_rate(temp: f64, ranges: impl IntoIterator<Item = (f64, f64, f64)>) -> f64 {
    let mut found = None;
    for (i, range) in ranges.into_iter().enumerate() {
        if temp > range.0 || (i == 0 && temp == range.0) {
            found = Some(range);
        }
    }
    found.map_or(0.0, |(_, ln_rate, temp_activation)| rate(temp, ln_rate, temp_activation))
}

/// Time at a constant temperature until the burn integral is 1 [s].
///
/// t = exp(ΔE/(R T)) / P
///
/// - `temp`, `ranges`: as [`damage_rate`]
///
/// Range: infinite below the first range's start.
/// Source: Henriques, Archives of Pathology 43 (1947) 489, integral at constant T.
pub fn time_to_burn(temp: f64, ranges: impl IntoIterator<Item = (f64, f64, f64)>) -> f64 {
    1.0 / damage_rate(temp, ranges)
}
