//! Thickness of a fabric under pressure.

/// Pressure factor of van Wyk's law for a mass of fibres [Pa].
///
/// K E, with K = 0.01
///
/// - `modulus`: Young's modulus of the fibre E [Pa]
///
/// Range: loose wool; other masses differ several times over, measured points are better.
/// Source: van Wyk, Journal of the Textile Institute 37 (1946) T285; K from memory.
pub fn stiffness_van_wyk(modulus: f64) -> f64 {
    0.01 * modulus
}

/// Pressure factor of van Wyk's law through two measured points [Pa].
///
/// K E = (P2 − P1) / (φ2³ − φ1³)
///
/// - `light`, `heavy`: `(pressure [Pa], fibre volume fraction [–])`, the second the higher in both
///
/// Range: two points apart; equal fractions give infinity, which [`fraction_van_wyk`] takes as rigid.
/// Source: van Wyk 1946, solved for K E.
pub fn stiffness_of_points(light: (f64, f64), heavy: (f64, f64)) -> f64 {
    (heavy.0 - light.0) / (heavy.1.powi(3) - light.1.powi(3))
}

/// Fibre volume fraction under a pressure, by van Wyk's law through a measured point [–].
///
/// P − P1 = K E (φ³ − φ1³); φ being m/(ρ L), this is K E m³/ρ³ (1/v³ − 1/v1³) with v the volume
///
/// - `point`: `(pressure P1 [Pa], fibre volume fraction φ1 [–])` as measured
/// - `stiffness`: K E [Pa], above 0
/// - `pressure`: P [Pa]
///
/// Range: P from P1 up; below P1 the measured value is held, since the loft that a fabric regains is
/// no matter of this law; never above 1, solid fibre.
/// Source: van Wyk, Journal of the Textile Institute 37 (1946) T285 (from memory).
pub fn fraction_van_wyk(point: (f64, f64), stiffness: f64, pressure: f64) -> f64 {
    let added = (pressure - point.0).max(0.0) / stiffness;
    libm::cbrt(point.1.powi(3) + added).max(point.1).min(1.0)
}

/// Thickness under a pressure, by van Wyk's law through a measured point [m].
///
/// L = L_solid / φ, see [`fraction_van_wyk`]
///
/// - `point`: `(pressure [Pa], thickness [m])` as measured
/// - `solid`: thickness of the fibre alone, areal density over fibre density [m]
/// - `stiffness`: K E [Pa], above 0
/// - `pressure`: P [Pa]
///
/// Range: as [`fraction_van_wyk`]; falls with P, never below `solid`.
/// Source: van Wyk 1946 (from memory).
pub fn thickness_van_wyk(point: (f64, f64), solid: f64, stiffness: f64, pressure: f64) -> f64 {
    if pressure <= point.0 {
        return point.1.max(solid);
    }
    solid / fraction_van_wyk((point.0, solid / point.1), stiffness, pressure)
}

/// Thickness under a pressure, from measured points [m].
///
/// Between points straight in L over ln P; above the last by van Wyk's law through the last two
/// points, below the first the first is held.
///
/// - `points`: `(pressure [Pa], thickness [m])`, at least one; pressures above 0 and increasing,
///   thicknesses falling or level
/// - `solid`: thickness of the fibre alone [m]
/// - `stiffness`: K E [Pa] for a single point, see [`stiffness_van_wyk`]
/// - `pressure`: P [Pa], above 0
///
/// Range: falls with P; never below `solid`. Panics: if `points` is empty.
/// Source: thickness falls nearly as ln P over the range of gauges, common practice, no source; van Wyk 1946.
pub fn thickness_measured(points: &[(f64, f64)], solid: f64, stiffness: f64, pressure: f64) -> f64 {
    let last = points[points.len() - 1];
    if pressure >= last.0 {
        let stiffness = match points {
            [.., before, _] => {
                stiffness_of_points((before.0, solid / before.1), (last.0, solid / last.1))
            }
            _ => stiffness,
        };
        return thickness_van_wyk(last, solid, stiffness, pressure);
    }
    let above = points.partition_point(|point| point.0 <= pressure);
    if above == 0 {
        return points[0].1.max(solid);
    }
    let (from, to) = (points[above - 1], points[above]);
    let share = libm::log(pressure / from.0) / libm::log(to.0 / from.0);
    (from.1 + share * (to.1 - from.1)).max(solid)
}
