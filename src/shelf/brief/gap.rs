//! The gaps of a brief.

use crate::garment::brief::{GAP_LEAST, GapPlace, GapRange};
use crate::physics::units::MILLIMETRES;
use crate::shelf::clash::twice;
use crate::shelf::fault::Fault;
use crate::shelf::key::field::{Companions, Field, Keys, Range, field};
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;

/// Most gaps in one place.
const VALUES_MOST: usize = 1000;
const LEAST: Field = field!("least", MILLIMETRES, Range::from(0.0, 100.0), "0.5");
const MOST: Field = field!("most", MILLIMETRES, Range::from(0.0, 100.0), "2");
const STEP: Field = field!("step", MILLIMETRES, Range::from(0.05, 100.0), "0.5");
const GAP_RANGE: Keys<'_> = Keys {
    kind: "brief's gap",
    fields: &[LEAST, MOST, STEP],
    words: &["place"],
    provenance: Companions::Without,
};

/// Notes a fault for each place that is there twice.
pub(crate) fn check_gap_places(tables: &[&Record], faults: &mut Vec<Fault>) {
    for (i, table) in tables.iter().enumerate() {
        let place = table.word("place");
        let first = tables[..i].iter().find(|known| known.word("place") == place);
        if let (Some(first), false) = (first, place.is_empty()) {
            faults.push(twice("gap", place, first.place_of("place"), table.place_of("place")));
        }
    }
}

/// A range of gaps; none where it cannot be read, with the fault noted.
pub(crate) fn read_gap_range(table: &Record, faults: &mut Vec<Fault>) -> Option<GapRange> {
    GAP_RANGE.check(table, faults);
    let named = table.word("place");
    let owner = if named.is_empty() { "a gap".into() } else { format!("the gap `{named}`") };
    let mut reader = Reader { record: table, owner, faults };
    let place = reader.need_choice("place", &GapPlace::ALL.map(|place| (place.words(), place)));
    let least = reader.need_number(&LEAST);
    let most = reader.need_number(&MOST);
    let step = match table.get(STEP.key) {
        None if least.is_some() && least == most => Some(1.0),
        _ => reader.need_number(&STEP),
    };
    let (least, most, step) = (least?, most?, step?);
    if least > 0.0 && least < 1e3 * GAP_LEAST {
        let what = format!("{} of {} is too thin for a gap", LEAST.noun(), reader.owner);
        let expected = format!("0, where plies touch, or at least {} mm", 1e3 * GAP_LEAST);
        reader.fault(Fault::new(what, table.place_of(LEAST.key), expected, "give 0 or more air"));
        return None;
    }
    if least > most {
        let what = format!("the gaps of {} end before they begin", reader.owner);
        let place = table.place_of(LEAST.key);
        let fault =
            Fault::new(what, place, "`least_mm` at most `most_mm`", "change one of the two");
        reader.fault(fault.and_at(table.place_of(MOST.key)));
        return None;
    }
    let range =
        GapRange { place: place?, least: 1e-3 * least, most: 1e-3 * most, step: 1e-3 * step };
    if range.n_values() > VALUES_MOST {
        let what = format!("{} has {} gaps", reader.owner, range.n_values());
        let place = table.place_of(STEP.key);
        let expected = format!("at most {VALUES_MOST} in one place");
        reader.fault(Fault::new(what, place, expected, "take a larger step"));
        return None;
    }
    Some(range)
}
