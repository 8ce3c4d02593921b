//! Complete: exposure that gives human skin a second-degree burn, as measured.

use rayon::prelude::*;

use crate::evidence::measured::record::{Basis, Class, Comparison, Kind, Subject};
use crate::evidence::verify::bare::time_to_second_degree;
use crate::evidence::verify::table::{Row, rows};
use crate::shelf::materials::Shelf;

/// How the comparison is made, and what it is not.
const NOTE: &str = "Second-degree burn. Flux taken as absorbed whole at the bare surface; insulated afterwards, as \
the manikin standards' check does; the predicted time is the exposure that ends at Ω = 1. The \
damage constants go back to blister tests of the same laboratory: agreement shows that skin is \
computed as the standards mean it, not that the model is right for every skin. Range: the \
printed flux is rounded.";

/// Exponent of the flux in the time to a burn, by which the flux's rounding widens it [–].
/// Source: inverse of the exponent of Stoll's curve, `physics::stoll`.
const FLUX_EXPONENT: f64 = 1.41;

/// Half a unit of the last digit of a printed number.
fn half_a_digit(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, after)| after.len());
    0.5 * 0.1_f64.powi(decimals as i32)
}

/// The 22 rows of the table.
pub fn tissue(shelf: &Shelf) -> Vec<Comparison> {
    let Ok(skin) = shelf.skin("f1930-iso13506") else { return Vec::new() };
    let compare = |row: &Row| {
        let t = row.number("exposure_time_s");
        let flux = row.number("heat_flux_kW_m2");
        let rounding = FLUX_EXPONENT * half_a_digit(row.text("heat_flux_kW_m2")) / flux;
        let read = time_to_second_degree(skin, 1e3 * flux, (0.4 * t, 2.5 * t));
        Comparison {
            name: format!("burn at {flux} kW/m²"),
            class: Class::Complete,
            kind: Kind::Skin,
            subject: Subject::Skin,
            figure: "second degree".to_string(),
            basis: Basis::Uncalibrated,
            unit: "s".to_string(),
            measured: (t, t),
            predicted: read.value,
            range: (
                read.value * (1.0 - rounding) - read.error,
                read.value * (1.0 + rounding) + read.error,
            ),
            source: row.text("source").to_string(),
            provenance: format!("flux and time {}", row.text("provenance_flux")),
            note: NOTE.to_string(),
        }
    };
    rows("stoll.csv").par_iter().map(compare).collect()
}
