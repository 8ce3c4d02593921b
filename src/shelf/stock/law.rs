//! A property that varies with temperature, from its value, slope and their temperatures.

use crate::garment::known::{Known, Provenance};
use crate::physics::law::Law;
use crate::physics::units::{celsius, kelvin};
use crate::shelf::fault::Fault;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::stock::fibre::not_positive;

/// The keys that describe one property.
pub(crate) struct LawKeys {
    noun: &'static str,
    value: Field,
    slope: Field,
    temp: Field,
    hold: Field,
}

impl LawKeys {
    /// Thermal conductivity.
    pub const CONDUCTIVITY: LawKeys = LawKeys {
        noun: "conductivity",
        value: kinds::CONDUCTIVITY,
        slope: kinds::CONDUCTIVITY_SLOPE,
        temp: kinds::CONDUCTIVITY_TEMP,
        hold: kinds::CONDUCTIVITY_TO,
    };
    /// Specific heat.
    pub const SPECIFIC_HEAT: LawKeys = LawKeys {
        noun: "specific heat",
        value: kinds::SPECIFIC_HEAT,
        slope: kinds::SPECIFIC_HEAT_SLOPE,
        temp: kinds::SPECIFIC_HEAT_TEMP,
        hold: kinds::SPECIFIC_HEAT_TO,
    };
}

/// What a record gives of a property.
pub(crate) struct Start {
    /// Value at its temperature.
    pub value: Option<Known>,
    /// Change per kelvin.
    pub slope: Option<Known>,
}

/// The property by temperature; `fallback` gives what is blank: all of it, or only its rise.
pub(crate) fn read_law(
    reader: &mut Reader<'_>,
    keys: &LawKeys,
    start: Start,
    fallback: Known<Law>,
) -> Known<Law> {
    let Some(value) = start.value else {
        for field in [&keys.slope, &keys.temp, &keys.hold] {
            let mend = "leave it blank too, to have the property estimated";
            without(reader, field, &keys.value, mend);
        }
        return fallback;
    };
    let temp_ref = kelvin(reader.number(&keys.temp).unwrap_or(25.0));
    let known = match start.slope {
        Some(slope) => {
            let hold = hold(reader, keys, temp_ref);
            let lo = f64::NEG_INFINITY;
            let law = Law::line_held(value.value, temp_ref, slope.value, lo, hold);
            value.map(|_| law).with_rise(slope.provenance, slope.source)
        }
        None => {
            let mend = "leave it blank too, to have the rise estimated";
            without(reader, &keys.hold, &keys.slope, mend);
            with_rise_of(&fallback.value, &value, temp_ref)
        }
    };
    let (owner, record) = (&reader.owner, reader.record);
    let fault = not_positive(&known.value, keys.noun, owner, record, keys.slope.key);
    reader.faults.extend(fault);
    known
}

/// The fault of a key that only says something about another that is blank.
fn without(reader: &mut Reader<'_>, given: &Field, blank: &Field, mend: &str) {
    if let Some(cell) = reader.record.get(given.key) {
        let what = format!("{} of {} is given without {}", given.key, reader.owner, blank.key);
        let mend = format!("give `{}`, or {mend}", blank.key);
        let fault = Fault::new(what, cell.place(), format!("`{}` beside it", blank.key), mend);
        reader.fault(fault);
    }
}

/// Temperature from which the value is held [K].
fn hold(reader: &mut Reader<'_>, keys: &LawKeys, temp_ref: f64) -> f64 {
    let hold = reader.number(&keys.hold).map_or(f64::INFINITY, kelvin);
    if hold <= temp_ref {
        let what = format!("{} of {} is not above {}", keys.hold.key, reader.owner, keys.temp.key);
        let expected = format!("more than {:.0} °C", celsius(temp_ref));
        let mend = "leave it blank where the rise has no known end";
        reader.fault(Fault::new(what, reader.record.place_of(keys.hold.key), expected, mend));
    }
    hold
}

/// The law `shape`, scaled so that it goes through `value` at `temp_ref` [K].
fn with_rise_of(shape: &Law, value: &Known, temp_ref: f64) -> Known<Law> {
    let law = shape.scaled(value.value / shape.at(temp_ref));
    value.map(|_| law).with_rise(Provenance::Estimated, "")
}
