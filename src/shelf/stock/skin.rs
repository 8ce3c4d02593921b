//! Skins from their records.

use crate::garment::skin::{Damage, DamageRange, Skin, SkinLayer};
use crate::physics::units::{celsius, kelvin};
use crate::shelf::fault::Fault;
use crate::shelf::key::field::Keys;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::stock::fabric::name;

/// A skin from its record; none when anything is wrong with it.
pub(crate) fn read_skin(record: &Record, faults: &mut Vec<Fault>) -> Option<Skin> {
    let before = faults.len();
    kinds::SKIN.check(record, faults);
    let mut reader = Reader::new(record, "skin", faults);
    let owner = reader.owner.clone();
    let name = name(&mut reader);
    let description = reader.word("description").unwrap_or_default();
    let temp_surface = reader.need_number(&kinds::SURFACE_TEMPERATURE);
    let temp_core = reader.need_number(&kinds::CORE_TEMPERATURE);
    let source = reader.word("source").unwrap_or_default();
    let layers = layers(record, &owner, faults);
    let basal = damage(record, "basal", &owner, faults);
    let dermal = damage(record, "dermal", &owner, faults);
    if faults.len() > before {
        return None;
    }
    Some(Skin {
        name: name?,
        description,
        layers,
        temp_surface: kelvin(temp_surface?),
        temp_core: kelvin(temp_core?),
        basal: basal?,
        dermal: dermal?,
        source,
    })
}

/// The burn integral looks below the first and the second layer, so three are needed.
fn layers(record: &Record, owner: &str, faults: &mut Vec<Fault>) -> Vec<SkinLayer> {
    let tables = record.tables("layer");
    if tables.len() != 3 {
        let what = format!("{owner} has {} layers", tables.len());
        let expected = "three: epidermis, dermis, subcutaneous tissue";
        let mend = "write one `[[skin.layer]]` for each";
        faults.push(Fault::new(what, record.place_of("layer"), expected, mend).absent());
    }
    tables.iter().filter_map(|table| layer(table, owner, faults)).collect()
}

fn layer(table: &Record, owner: &str, faults: &mut Vec<Fault>) -> Option<SkinLayer> {
    kinds::SKIN_LAYER.check(table, faults);
    let owner = format!("a layer of {owner}");
    let mut reader = Reader { record: table, owner, faults };
    let name = reader.need_word("name");
    let thickness = reader.need_number(&kinds::SKIN_THICKNESS);
    let k = reader.need_number(&kinds::SKIN_CONDUCTIVITY);
    let rho_cp = reader.need_number(&kinds::HEAT_CAPACITY);
    let perfusion = reader.number(&kinds::PERFUSION).unwrap_or(0.0);
    Some(SkinLayer {
        name: name?,
        thickness: thickness? * 1e-3,
        k: k?,
        rho_cp: rho_cp? * 1e6,
        perfusion,
    })
}

fn damage(
    record: &Record,
    key: &'static str,
    owner: &str,
    faults: &mut Vec<Fault>,
) -> Option<Damage> {
    let tables = record.tables(key);
    if tables.is_empty() {
        let what = format!("{owner} has no {key} damage");
        let mend = format!("write `[[skin.{key}]]` with above_C, rate_per_s and activation_K");
        let expected = "at least one range of temperature";
        faults.push(Fault::new(what, record.place_of(key), expected, mend).absent());
    }
    let mut ranges: Vec<DamageRange> = Vec::new();
    for table in tables {
        let keys = Keys { kind: "range of skin damage", ..kinds::DAMAGE };
        keys.check(table, faults);
        let mut reader =
            Reader { record: table, owner: format!("the {key} damage of {owner}"), faults };
        let from = reader.need_number(&kinds::DAMAGE_FROM);
        let rate = reader.need_number(&kinds::DAMAGE_RATE);
        let activation = reader.need_number(&kinds::DAMAGE_ACTIVATION);
        let (Some(from), Some(rate), Some(activation)) = (from, rate, activation) else { continue };
        let temp_from = kelvin(from);
        at_once(&mut reader, rate, activation);
        if ranges.last().is_some_and(|last| last.temp_from >= temp_from) {
            let what = format!("the {key} damage of {owner} has its ranges out of order");
            let place = table.place_of(kinds::DAMAGE_FROM.key);
            let mend = "sort the ranges by temperature";
            faults.push(Fault::new(what, place, "`above_C` that rises", mend));
        }
        ranges.push(DamageRange {
            temp_from,
            ln_rate: libm::log(rate),
            temp_activation: activation,
        });
    }
    (!ranges.is_empty()).then_some(Damage { ranges })
}

/// Degrees Celsius at which skin is damaged at a rate of 1 per second; published sets say 53 to 63.
const AT_ONCE_C: (f64, f64) = (45.0, 100.0);

/// Rate and activation belong together: skin is destroyed within a second somewhere above what it bears
/// for ever and below what boils.
fn at_once(reader: &mut Reader<'_>, rate: f64, activation: f64) {
    let temp = activation / libm::log(rate);
    let (low, high) = AT_ONCE_C;
    if rate > 1.0 && (kelvin(low)..=kelvin(high)).contains(&temp) {
        return;
    }
    let what = match rate > 1.0 {
        true => format!("{} comes to 1 per second at {:.0} °C", reader.owner, celsius(temp)),
        false => format!("{} never comes to 1 per second", reader.owner),
    };
    let expected = format!(
        "a rate of 1 per second between {low} and {high} °C, where skin burns at once; published sets \
         reach it at 53 to 63 °C"
    );
    let mend = "check `rate_per_s` and `activation_K`: both come from one source, the latter in K";
    let record = reader.record;
    let fault = Fault::new(what, record.place_of(kinds::DAMAGE_RATE.key), expected, mend);
    reader.fault(fault.and_at(record.place_of(kinds::DAMAGE_ACTIVATION.key)));
}
