//! Radiation absorbed in depth by a ply that lets some of it through.

/// Extinction coefficient of a ply [1/m].
///
/// γ = −ln τ / L
///
/// - `transmissivity`: τ [–], in [0, 1]
/// - `thickness`: L [m], above 0
///
/// Range: infinite for an opaque ply, which absorbs at its surface.
/// Source: Torvi and Dale, Fire Technology 35 (1999) 210 (from memory); Beer's law.
pub fn extinction(transmissivity: f64, thickness: f64) -> f64 {
    -libm::log(transmissivity) / thickness
}

/// Share of the radiation entering at depth 0 that is absorbed between two depths [–].
///
/// exp(−γ x1) − exp(−γ x2), the exact integral of γ exp(−γ x)
///
/// - `extinction`: γ [1/m], 0 or more and finite
/// - `from`, `to`: depths x1 ≤ x2 [m], 0 or more
///
/// Range: any; the share of a whole ply is 1 − τ.
/// Source: Beer's law.
pub fn share_absorbed(extinction: f64, from: f64, to: f64) -> f64 {
    -libm::exp(-extinction * from) * libm::expm1(-extinction * (to - from))
}
