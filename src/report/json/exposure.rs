//! The exposure in JSON.

use crate::garment::exposure::{Disc, Exposure, Flux};
use crate::physics::units::{
    AREAL_HEAT_CAPACITY, CELSIUS, CONDUCTANCE, GRAMS, KILOPASCALS, KILOWATTS_PER_AREA, MILLIMETRES,
    SECONDS, SPECIFIC_HEAT, SQUARE_CENTIMETRES,
};
use crate::report::form::value::Object;
use crate::report::words;

/// The JSON form of an exposure.
pub fn exposure(exposure: &Exposure) -> Object {
    let (steady, series) = match &exposure.flux {
        Flux::Steady(q) => (Some(*q), None),
        Flux::Series(points) => (None, Some(points.iter().map(flux_point).collect::<Vec<_>>())),
    };
    Object::new()
        .with("name", exposure.name.as_str())
        .with("description", exposure.description.as_str())
        .with("method", exposure.method.as_str())
        .with_unit("flux", KILOWATTS_PER_AREA, steady)
        .with("flux_series", series)
        // where the series ends before the flux does: its last value is held from then on
        .with_unit("flux_held_from", SECONDS, exposure.flux_held_from())
        .with("radiant_share", exposure.radiant_share)
        .with_unit("flame_temperature", CELSIUS, exposure.temp_flame)
        .with_unit("gas_vapour", KILOPASCALS, exposure.p_vapour_gas)
        .with_unit("room_temperature", CELSIUS, exposure.temp_room)
        // absent for a continuous exposure
        .with_unit("duration", SECONDS, exposure.duration)
        .with_unit("followed_for", SECONDS, exposure.t_end)
        .with_unit("cooling_conductance", CONDUCTANCE, exposure.h_cooling)
        .with("orientation", words::orientation(exposure.orientation))
        .with_unit("spacer", MILLIMETRES, exposure.spacer)
        .with("disc", disc(&exposure.disc))
        .with("source", exposure.source.as_str())
}

fn disc(disc: &Disc) -> Object {
    Object::new()
        .with_unit("mass", GRAMS, disc.mass)
        .with_unit("specific_heat", SPECIFIC_HEAT, disc.cp)
        .with_unit("area", SQUARE_CENTIMETRES, disc.area)
        .with("emissivity", disc.emissivity)
        .with_unit("heat_capacity", AREAL_HEAT_CAPACITY, disc.cap_area())
}

fn flux_point((t, q): &(f64, f64)) -> Object {
    Object::new().with_unit("time", SECONDS, *t).with_unit("flux", KILOWATTS_PER_AREA, *q)
}
