//! A fabric as its table has it.

use crate::garment::fabric::Fabric;
use crate::garment::fibre::Limit;
use crate::garment::known::{Known, Provenance};
use crate::physics::law::Law;
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTIVITY, CONDUCTIVITY_SLOPE, GRAMS_PER_AREA, KILOGRAMS_PER_VOLUME,
    KILOJOULES_PER_MASS, KILOPASCALS, MICROMETRES, MILLIMETRES, PERCENT, Quantity, SPECIFIC_HEAT,
    SPECIFIC_HEAT_SLOPE, VAPOUR_RESISTANCE,
};
use crate::shelf::notation::table::{Table, from, rounded, rows};

/// Temperature at which a property is written [°C].
const TEMP_REF_C: f64 = 25.0;
/// Said of a conductivity that no file gives.
const CONDUCTIVITY_ESTIMATED: &str = "from areal density, thickness and fibre";

/// Fabrics as the text of a shelf's table.
///
/// - `cited`: the word that the table has for where a value comes from
pub fn fabrics_csv(fabrics: &[Fabric], cited: impl Fn(&str) -> String) -> String {
    let table = |fabric: &Fabric| fabric_table(fabric, &fabric.name).with_origins(&cited);
    rows(&fabrics.iter().map(table).collect::<Vec<_>>())
}

/// All that a file gives of a fabric, under a name.
pub(crate) fn fabric_table(fabric: &Fabric, name: &str) -> Table {
    let mut all = Table::default();
    all.word("name", name);
    all.word("description", fabric.description.as_str());
    all.word("role", fabric.role.word());
    all.word("fibre", fabric.fibre.as_str());
    all.known("areal_density", GRAMS_PER_AREA, &fabric.areal_density);
    all.known("thickness", MILLIMETRES, &fabric.thickness);
    if let Some(pressure) = fabric.thickness_pressure {
        all.number("thickness_pressure", KILOPASCALS, pressure);
    }
    if !fabric.compression.is_empty() {
        let plain = |quantity: Quantity, si: f64| rounded(quantity.outside(si)).to_string();
        let pair =
            |(p, l): &(f64, f64)| format!("{}:{}", plain(KILOPASCALS, *p), plain(MILLIMETRES, *l));
        let text: Vec<String> = fabric.compression.iter().map(pair).collect();
        all.word("compression", text.join(" "));
    }
    let thickness_moved = fabric.thickness.provenance == Provenance::Fitted;
    if thickness_moved || *fabric.conductivity.source != *CONDUCTIVITY_ESTIMATED {
        law(&mut all, "conductivity", [CONDUCTIVITY, CONDUCTIVITY_SLOPE], &fabric.conductivity);
    }
    let heat = &fabric.specific_heat;
    match heat.value.ramps.len() > 1 && !is_of_value(heat) && heat.provenance != Provenance::Fitted
    {
        // a table that does not follow from a value is the fibre's
        true => all.tolerance("specific_heat", heat.tolerance),
        false => law(&mut all, "specific_heat", [SPECIFIC_HEAT, SPECIFIC_HEAT_SLOPE], heat),
    }
    all.known("face_void", MICROMETRES, &fabric.face_void);
    all.known("emissivity", BARE, &fabric.emissivity);
    all.known("transmissivity", BARE, &fabric.transmissivity);
    all.known("regain", PERCENT, &fabric.regain);
    all.known("vapour_resistance", VAPOUR_RESISTANCE, &fabric.vapour_resistance);
    all.known("fibre_density", KILOGRAMS_PER_VOLUME, &fabric.fibre_density);
    if let Some(decomposition) = &fabric.decomposition {
        all.known("decomposition", KILOJOULES_PER_MASS, &decomposition.heat);
        all.number("decomposition_from", CELSIUS, decomposition.temp_from);
        all.number("decomposition_to", CELSIUS, decomposition.temp_to);
    }
    // what the fibre does at its limit is known of the fibre
    let own = Limit { temp: fabric.temp_limit.clone(), event: fabric.limit_event.clone() };
    if fabric.limit_unfollowed.as_ref() == Some(&own) {
        all.known("limit", CELSIUS, &fabric.temp_limit);
    }
    all.word("limit_event", fabric.limit_event.as_str());
    all
}

/// How the rise of a property with temperature is known.
fn rise(law: &Known<Law>) -> Known<()> {
    let own = Known::new((), law.provenance, law.source.clone());
    law.rise.as_ref().map_or(own, |rise| Known::new((), rise.provenance, rise.source.clone()))
}

/// Whether the rise is what the reader makes of a value alone.
fn is_of_value(law: &Known<Law>) -> bool {
    let rise = rise(law);
    rise.provenance == Provenance::Estimated && rise.source.is_empty()
}

/// A property by temperature: its value, and its slope where it is one line that does not follow from the value.
fn law(all: &mut Table, base: &str, [unit, slope_unit]: [Quantity; 2], law: &Known<Law>) {
    let ramp = law.value.ramps.first();
    let temp_ref = CELSIUS.inside(TEMP_REF_C);
    let is_table = law.value.ramps.len() > 1;
    let held = ramp.filter(|ramp| !is_table && ramp.hi <= temp_ref);
    let temp = held.map_or(temp_ref, |ramp| ramp.hi - 10.0);
    all.known(base, unit, &law.map(|law| law.at(temp)));
    if ramp.is_some() {
        all.number(&format!("{base}_temp"), CELSIUS, temp);
    }
    if is_table || is_of_value(law) {
        return;
    }
    all.number(&format!("{base}_slope"), slope_unit, ramp.map_or(0.0, |ramp| ramp.slope));
    all.word(&format!("{base}_slope_from"), from(&rise(law)));
    if let Some(ramp) = ramp.filter(|ramp| ramp.hi.is_finite()) {
        all.number(&format!("{base}_to"), CELSIUS, ramp.hi);
    }
}
