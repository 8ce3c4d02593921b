//! The exposure in JSON.

#![expect(non_snake_case, reason = "units in keys keep their SI case")]

use serde::Serialize;

use crate::garment::exposure::{self, Flux};
use crate::physics::units::celsius;
use crate::report::json::finite::{Finite, rounded};
use crate::report::words;

/// An exposure.
#[derive(Serialize)]
pub struct Exposure<'a> {
    name: &'a str,
    description: &'a str,
    method: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    flux_kW_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    flux_series: Option<Vec<FluxPoint>>,
    /// Where the series ends before the flux does: its last value is held from then on.
    #[serde(skip_serializing_if = "Option::is_none")]
    flux_held_from_s: Option<Finite>,
    radiant_share: Finite,
    flame_temperature_C: Finite,
    gas_vapour_kPa: Finite,
    room_temperature_C: Finite,
    /// Absent for a continuous exposure.
    #[serde(skip_serializing_if = "Option::is_none")]
    duration_s: Option<Finite>,
    followed_for_s: Finite,
    cooling_conductance_W_m2K: Finite,
    orientation: &'static str,
    spacer_mm: Finite,
    disc: Disc,
    source: &'a str,
}

#[derive(Serialize)]
struct FluxPoint {
    time_s: Finite,
    flux_kW_m2: Finite,
}

#[derive(Serialize)]
struct Disc {
    mass_g: Finite,
    specific_heat_J_kgK: Finite,
    area_cm2: Finite,
    emissivity: Finite,
    heat_capacity_kJ_m2K: Finite,
}

impl<'a> Exposure<'a> {
    /// The JSON form of an exposure.
    pub fn new(exposure: &'a exposure::Exposure) -> Exposure<'a> {
        let (steady, series) = match &exposure.flux {
            Flux::Steady(q) => (Some(rounded(1e-3 * q)), None),
            Flux::Series(points) => (None, Some(points.iter().map(flux_point).collect())),
        };
        Exposure {
            name: &exposure.name,
            description: &exposure.description,
            method: &exposure.method,
            flux_kW_m2: steady,
            flux_series: series,
            flux_held_from_s: exposure.flux_held_from().map(rounded),
            radiant_share: rounded(exposure.radiant_share),
            flame_temperature_C: rounded(celsius(exposure.temp_flame)),
            gas_vapour_kPa: rounded(1e-3 * exposure.p_vapour_gas),
            room_temperature_C: rounded(celsius(exposure.temp_room)),
            duration_s: exposure.duration.map(rounded),
            followed_for_s: rounded(exposure.t_end),
            cooling_conductance_W_m2K: rounded(exposure.h_cooling),
            orientation: words::orientation(exposure.orientation),
            spacer_mm: rounded(1e3 * exposure.spacer),
            disc: Disc {
                mass_g: rounded(1e3 * exposure.disc.mass),
                specific_heat_J_kgK: rounded(exposure.disc.cp),
                area_cm2: rounded(1e4 * exposure.disc.area),
                emissivity: rounded(exposure.disc.emissivity),
                heat_capacity_kJ_m2K: rounded(1e-3 * exposure.disc.cap_area()),
            },
            source: &exposure.source,
        }
    }
}

fn flux_point((t, q): &(f64, f64)) -> FluxPoint {
    FluxPoint { time_s: rounded(*t), flux_kW_m2: rounded(1e-3 * q) }
}
