//! The exposure in words.

use crate::garment::exposure::{Exposure, Flux};
use crate::physics::units::{
    AREAL_HEAT_CAPACITY, GRAMS, KILOPASCALS, KILOWATTS_PER_AREA, MILLIMETRES, PERCENT, celsius,
};
use crate::report::number::{Shown, fixed, short};
use crate::report::table::paragraph;
use crate::report::words;

/// The exposure in text.
pub fn section(exposure: &Exposure) -> String {
    let mut out = String::new();
    if !exposure.description.is_empty() {
        out.push_str(&paragraph(&exposure.description, 2));
    }
    out.push_str(&paragraph(&sentence(exposure), 2));
    out
}

/// Name and method.
pub fn title(exposure: &Exposure) -> String {
    match exposure.method.as_str() {
        "" => exposure.name.clone(),
        method => format!("{} ({method})", exposure.name),
    }
}

/// Flux, duration, surroundings and disc, in one paragraph.
pub fn sentence(exposure: &Exposure) -> String {
    let end = match exposure.duration {
        Some(t) => format!("flame taken away after {} s", short(t, 3)),
        None => "continuous".to_string(),
    };
    let flame = if exposure.is_radiant() {
        String::new()
    } else {
        format!(
            "flame gas at {} °C with {} kPa of vapour, ",
            fixed(celsius(exposure.temp_flame), 0),
            KILOPASCALS.short(exposure.p_vapour_gas, 1)
        )
    };
    let spacer = if exposure.spacer > 0.0 {
        format!("disc behind a spacer of {} mm", MILLIMETRES.short(exposure.spacer, 2))
    } else {
        "disc touching the layup".to_string()
    };
    format!(
        "{}, {}, {flame}room at {} °C, {}, {end}, followed for at most {} s. Copper {spacer}: {} g, \
         {} kJ/(m²·K).",
        flux(exposure),
        radiant(exposure.radiant_share),
        fixed(celsius(exposure.temp_room), 0),
        words::orientation(exposure.orientation),
        short(exposure.t_end, 3),
        GRAMS.short(exposure.disc.mass, 2),
        AREAL_HEAT_CAPACITY.fixed(exposure.disc.cap_area(), 2),
    )
}

fn flux(exposure: &Exposure) -> String {
    match &exposure.flux {
        Flux::Steady(q) => {
            format!("{} kW/m² to a cold black calorimeter", KILOWATTS_PER_AREA.short(*q, 2))
        }
        Flux::Series(points) => {
            let top = points.iter().map(|(_, q)| *q).fold(0.0, f64::max);
            let held = held(exposure).map_or(String::new(), |held| format!(" ({held})"));
            format!(
                "flux over time from {} points, at most {} kW/m² to a cold black calorimeter{held}",
                points.len(),
                KILOWATTS_PER_AREA.short(top, 2)
            )
        }
    }
}

/// What is taken for the flux where its series ends before the time looked at; none where it does not.
pub fn held(exposure: &Exposure) -> Option<String> {
    let (Flux::Series(points), Some(t)) = (&exposure.flux, exposure.flux_held_from()) else {
        return None;
    };
    let last = points.last().map_or(0.0, |(_, q)| *q);
    let (last, t) = (KILOWATTS_PER_AREA.short(last, 2), short(t, 3));
    Some(format!("the series ends at {t} s: its last value, {last} kW/m², is held from then on"))
}

fn radiant(share: f64) -> String {
    if share == 1.0 {
        "all of it radiant".to_string()
    } else if share == 0.0 {
        "none of it radiant".to_string()
    } else {
        format!("{} % of it radiant", PERCENT.short(share, 1))
    }
}

/// Flux, radiant share and duration, short enough for a list.
pub fn brief(exposure: &Exposure) -> String {
    let flux = match &exposure.flux {
        Flux::Steady(q) => format!("{} kW/m²", KILOWATTS_PER_AREA.short(*q, 2)),
        Flux::Series(points) => format!("flux from {} points", points.len()),
    };
    let end = exposure.duration.map_or("continuous".to_string(), |t| format!("{} s", short(t, 3)));
    format!("{flux}, {}, {end}", radiant(exposure.radiant_share))
}
