//! A fabric as its table has it.

use crate::garment::fabric::Fabric;
use crate::garment::fibre::Limit;
use crate::garment::known::{Known, Provenance};
use crate::garment::property::{OfPly, TEMP_REF_C};
use crate::physics::law::Law;
use crate::physics::units::{
    CELSIUS, CONDUCTIVITY_SLOPE, KILOJOULES_PER_MASS, KILOPASCALS, Quantity, SPECIFIC_HEAT_SLOPE,
};
use crate::shelf::notation::table::{Table, from, rounded, rows};

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
    for of in OfPly::OF_FABRIC {
        put(&mut all, of, fabric);
    }
    all.word("limit_event", fabric.limit_event.as_str());
    all
}

/// A property, with what is said beside it; nothing where it is known of the fibre, or estimated from others.
fn put(all: &mut Table, of: OfPly, fabric: &Fabric) {
    match of {
        OfPly::Conductivity => {
            let law = &fabric.conductivity;
            let thickness = OfPly::Thickness.known(fabric);
            let thickness_moved = thickness.provenance == Provenance::Fitted;
            if thickness_moved || *law.source != *CONDUCTIVITY_ESTIMATED {
                put_law(all, of, CONDUCTIVITY_SLOPE, law);
            }
        }
        OfPly::SpecificHeat => {
            let law = &fabric.specific_heat;
            let is_table = law.value.ramps.len() > 1 && !is_of_value(law);
            match is_table && law.provenance != Provenance::Fitted {
                // a table that does not follow from a value is the fibre's
                true => all.tolerance(of.name(), law.tolerance),
                false => put_law(all, of, SPECIFIC_HEAT_SLOPE, law),
            }
        }
        OfPly::Limit => {
            if let Some(decomposition) = &fabric.decomposition {
                all.known("decomposition", KILOJOULES_PER_MASS, &decomposition.heat);
                all.number("decomposition_from", CELSIUS, decomposition.temp_from);
                all.number("decomposition_to", CELSIUS, decomposition.temp_to);
            }
            // what the fibre does at its limit is known of the fibre
            let own = Limit { temp: fabric.temp_limit.clone(), event: fabric.limit_event.clone() };
            if fabric.limit_unfollowed.as_ref() == Some(&own) {
                all.known(of.name(), of.quantity(), &own.temp);
            }
        }
        _ => all.known(of.name(), of.quantity(), &of.known(fabric)),
    }
    if of == OfPly::Thickness {
        if let Some(pressure) = fabric.thickness_pressure {
            all.number("thickness_pressure", KILOPASCALS, pressure);
        }
        if !fabric.compression.is_empty() {
            let plain = |quantity: Quantity, si: f64| rounded(quantity.outside(si)).to_string();
            let pair = |(p, l): &(f64, f64)| {
                format!("{}:{}", plain(KILOPASCALS, *p), plain(of.quantity(), *l))
            };
            let text: Vec<String> = fabric.compression.iter().map(pair).collect();
            all.word("compression", text.join(" "));
        }
    }
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
fn put_law(all: &mut Table, of: OfPly, slope_unit: Quantity, law: &Known<Law>) {
    let base = of.name();
    let ramp = law.value.ramps.first();
    let temp_ref = CELSIUS.inside(TEMP_REF_C);
    let is_table = law.value.ramps.len() > 1;
    let held = ramp.filter(|ramp| !is_table && ramp.hi <= temp_ref);
    let temp = held.map_or(temp_ref, |ramp| ramp.hi - 10.0);
    all.known(base, of.quantity(), &law.map(|law| law.at(temp)));
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
