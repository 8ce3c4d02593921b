//! A fabric under pressure: thinner, denser, and of another conductivity.

use crate::garment::estimate::{self, Bulk};
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Layup};
use crate::physics::compress::{stiffness_van_wyk, thickness_measured, thickness_van_wyk};
use crate::physics::law::Law;

/// Pressures that a layup may stand under [Pa].
pub const PRESSURES: (f64, f64) = (0.0, 100e3);
/// Pressure of the gauge where none is stated [Pa]. ISO 5084 measures at 1 kPa; for a fabric that
/// does not say: common practice, no source.
pub const PRESSURE_USUAL: f64 = 1e3;
/// Young's modulus of the usual organic fibre [Pa]; from memory, 2 GPa for wool to 20 GPa for
/// aramid staple.
const MODULUS_USUAL: f64 = 8e9;

/// The fabric as it stands under `pressure` [Pa], above 0.
///
/// Thickness goes through the measured points, scaled to the stated thickness; without points by
/// van Wyk's law, which holds the thickness below its own pressure. Conductivity moves with the
/// estimate: at each temperature times the estimate for the new share of fibre over that for the
/// old one. The void of a face keeps its share of the thickness.
pub fn pressed(fabric: &Fabric, pressure: f64) -> Fabric {
    if fabric.thickness_pressure == Some(pressure) {
        return fabric.clone();
    }
    let thickness = thickness_at(fabric, pressure);
    let by_what = if fabric.compression.is_empty() { "van Wyk" } else { "measured points" };
    let said = format!("at {} kPa by {by_what}", (1e3 * pressure).round() * 1e-6);
    Fabric { thickness_pressure: Some(pressure), ..pressed_to(fabric, thickness, &said) }
}

/// The fabric at another thickness [m], above that of its fibre alone.
///
/// - `said`: how the thickness came about, for the reader
pub fn pressed_to(fabric: &Fabric, thickness: f64, said: &str) -> Fabric {
    let moved = |known: &Known, value| estimated(known, value, said);
    let share = thickness / fabric.thickness.value;
    Fabric {
        thickness: moved(&fabric.thickness, thickness),
        conductivity: estimated(&fabric.conductivity, conductivity_at(fabric, thickness), said),
        face_void: moved(&fabric.face_void, share * fabric.face_void.value),
        ..fabric.clone()
    }
}

/// The fabric of another roll: with that areal density [kg/m²] and thickness [m], both above 0.
///
/// Conductivity moves with the estimate, as under pressure, and the void of a face keeps its share
/// of the thickness.
pub fn of_roll(fabric: &Fabric, areal_density: f64, thickness: f64) -> Fabric {
    let mut roll = fabric.clone();
    roll.areal_density.value = areal_density;
    roll.thickness.value = thickness;
    let of_roll = Bulk::of(&roll, thickness);
    roll.conductivity.value = conductivity_for(fabric, &of_roll);
    roll.face_void.value *= thickness / fabric.thickness.value;
    roll
}

/// The layup with every ply under the layup's pressure; the same layup when it has none.
pub fn pressed_layup(layup: &Layup) -> Layup {
    let mut layup = layup.clone();
    let Some(pressure) = layup.pressure.as_ref().map(|pressure| pressure.value) else {
        return layup;
    };
    for entry in &mut layup.stack {
        if let Entry::Ply(ply) = entry {
            ply.fabric = pressed(&ply.fabric, pressure);
        }
    }
    layup
}

fn estimated<T, U>(known: &Known<T>, value: U, said: &str) -> Known<U> {
    let of = match &*known.source {
        "" => known.provenance.word(),
        source => source,
    };
    Known::new(value, known.provenance.max(Provenance::Estimated), format!("{of}; {said}"))
}

/// Thickness under `pressure` [m].
fn thickness_at(fabric: &Fabric, pressure: f64) -> f64 {
    let stated = fabric.thickness.value;
    let solid = fabric.areal_density.value / fabric.fibre_density.value;
    let stiffness = stiffness_van_wyk(MODULUS_USUAL);
    let from = fabric.thickness_pressure.unwrap_or(PRESSURE_USUAL);
    if fabric.compression.is_empty() {
        return thickness_van_wyk((from, stated), solid, stiffness, pressure);
    }
    let through = |p: f64| thickness_measured(&fabric.compression, solid, stiffness, p);
    (stated * (through(pressure) / through(from))).max(solid)
}

/// Conductivity by temperature for the fabric at another thickness [W/(m·K)].
fn conductivity_at(fabric: &Fabric, thickness: f64) -> Law {
    conductivity_for(fabric, &Bulk::of(fabric, thickness))
}

/// Conductivity by temperature for the fabric once it is `bulk` [W/(m·K)].
fn conductivity_for(fabric: &Fabric, bulk: &Bulk) -> Law {
    let old = &fabric.conductivity.value;
    let unmoved = bulk.areal_density == fabric.areal_density.value;
    if unmoved && bulk.thickness == fabric.thickness.value {
        return old.clone();
    }
    let before = estimate::conductivity(&Bulk::of(fabric, fabric.thickness.value));
    let after = estimate::conductivity(bulk);
    let corners = [old, &after].into_iter().flat_map(|law| law.ramps.iter());
    let mut temps: Vec<f64> =
        corners.flat_map(|ramp| [ramp.lo, ramp.hi]).filter(|temp| temp.is_finite()).collect();
    temps.sort_by(f64::total_cmp);
    temps.dedup();
    let at = |temp: &f64| (*temp, old.at(*temp) * after.at(*temp) / before.at(*temp));
    Law::table(&temps.iter().map(at).collect::<Vec<_>>())
}
