//! The stack of a layup: plies with their overrides, and gaps.

use crate::garment::fabric::Fabric;
use crate::garment::known::Known;
use crate::garment::layup::{Entry, Gap, Ply, PlyJoint};
use crate::shelf::fault::Fault;
use crate::shelf::key::field::{Companions, Field, Keys, joined};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::{Origin, Reader};
use crate::shelf::layup::cloth::Cloth;
use crate::shelf::notation::record::{Cell, Record, Value};
use crate::shelf::stock::fabric::read_fabric;

const N_PLY_FIELDS: usize = kinds::FABRIC_FIELDS.len() + 1;
/// All that a stack entry may hold; the gap comes last.
const ENTRY_FIELDS: [Field; N_PLY_FIELDS + 1] =
    joined(&[&kinds::FABRIC_FIELDS, &[kinds::JOINT, kinds::GAP]]);

/// Says in a word what lies between the faces.
const JOINT_WORD: &str = "joint";
const PLY_WORDS: [&str; 4] = ["ply", "from", "limit_event", JOINT_WORD];

/// Plies and gaps of a stack; common practice, no source: garments have two to six.
const ENTRIES_MOST: usize = 60;

/// The entries in order; those that cannot be read are left out, with their faults noted.
pub(crate) fn read_stack(root: &Record, cloth: &Cloth<'_>, faults: &mut Vec<Fault>) -> Vec<Entry> {
    let tables = root.tables("stack");
    let n_plies = tables.iter().filter(|table| table.get("ply").is_some()).count();
    if n_plies == 0 {
        let mend = "add `[[stack]]` with `ply = \"…\"`, outermost first";
        let place = root.place_of("stack");
        faults.push(Fault::new("the layup has no plies", place, "at least one ply", mend).absent());
    }
    if let Some(beyond) = tables.get(ENTRIES_MOST) {
        let what = format!("the stack has {} entries", tables.len());
        let mend = "look whether it is the file that was meant";
        let expected = format!("at most {ENTRIES_MOST}: no garment has a tenth of that");
        faults.push(Fault::new(what, beyond.place(), expected, mend));
        return Vec::new();
    }
    check_order(tables, faults);
    tables.iter().filter_map(|table| read_entry(table, cloth, faults)).collect()
}

/// Gaps only between plies or behind the last, and no joint that leads into air.
fn check_order(tables: &[Record], faults: &mut Vec<Fault>) {
    let is_gap = |table: &Record| table.get("gap_mm").is_some() && table.get("ply").is_none();
    if let Some(first) = tables.first().filter(|first| is_gap(first)) {
        let what = "the outermost entry is a gap";
        let mend = "remove it: the flame's side needs no air";
        faults.push(Fault::new(what, first.place_of("gap_mm"), "a ply outermost", mend));
    }
    for pair in tables.windows(2) {
        if is_gap(&pair[0]) && is_gap(&pair[1]) {
            let expected = "at most one gap between two plies";
            let mend = "join the two into one gap, or put a ply between them";
            let fault = Fault::new("two gaps in a row", pair[0].place_of("gap_mm"), expected, mend);
            faults.push(fault.and_at(pair[1].place_of("gap_mm")));
        }
        if is_gap(&pair[1]) {
            if let Some(joint) = pair[0].get(kinds::JOINT.key).or_else(|| pair[0].get(JOINT_WORD)) {
                let what = "a joint leads into a gap";
                let expected = "a joint only where two plies, or a ply and its backing, touch";
                let fault =
                    Fault::new(what, joint.place(), expected, "remove the joint or the gap");
                faults.push(fault.and_at(pair[1].place_of("gap_mm")));
            }
        }
    }
}

fn read_entry(table: &Record, cloth: &Cloth<'_>, faults: &mut Vec<Fault>) -> Option<Entry> {
    let fields = &ENTRY_FIELDS;
    match (table.get("ply"), table.get(kinds::GAP.key)) {
        (Some(ply), Some(gap)) => {
            let what = "an entry of the stack is both a ply and a gap";
            let mend = "make two entries of it";
            let fault = Fault::new(what, ply.place(), "either `ply` or `gap_mm`", mend);
            faults.push(fault.and_at(gap.place()));
            None
        }
        (None, Some(_)) => {
            kinds::GAP_ENTRY.check(table, faults);
            read_gap(table, faults).map(Entry::Gap)
        }
        (Some(_), None) => {
            let ply_fields = &fields[..N_PLY_FIELDS];
            let provenance = Companions::Each;
            let keys = Keys { kind: "ply", fields: ply_fields, words: &PLY_WORDS, provenance };
            keys.check(table, faults);
            read_ply(table, cloth, faults).map(|ply| Entry::Ply(Box::new(ply)))
        }
        (None, None) => {
            let before = faults.len();
            let provenance = Companions::Each;
            let keys = Keys { kind: "stack entry", fields, words: &PLY_WORDS, provenance };
            keys.check(table, faults);
            if faults.len() == before {
                let what = "an entry of the stack is neither a ply nor a gap";
                let mend = "give `ply = \"…\"` or `gap_mm`";
                let fault = Fault::new(what, table.place(), "`ply` or `gap_mm`", mend);
                faults.push(fault.absent());
            }
            None
        }
    }
}

fn read_gap(table: &Record, faults: &mut Vec<Fault>) -> Option<Gap> {
    let mut reader = Reader { record: table, owner: "the stack".to_owned(), faults };
    let tolerance = reader.si(&kinds::GAP_TOLERANCE);
    let thickness = reader.own_value(&kinds::GAP)?;
    Some(Gap { thickness: Known { tolerance, ..thickness } })
}

fn read_ply(table: &Record, cloth: &Cloth<'_>, faults: &mut Vec<Fault>) -> Option<Ply> {
    let mut reader = Reader { record: table, owner: "the stack".to_owned(), faults };
    let name = reader.need_word("ply")?;
    if let Origin::Wrong = reader.origin("") {
        return None;
    }
    reader.owner = format!("ply `{name}`");
    let joint = read_joint(&mut reader);
    let (record, fabric) = match cloth.find(&name) {
        Ok(found) => found,
        Err(unknown) => {
            faults.push(unknown.at(table.place_of("ply")));
            return None;
        }
    };
    let fabric = overridden(table, record, fabric?, cloth, faults)?;
    joint.map(|joint| Ply { fabric, joint })
}

/// The words of a joint.
#[derive(Clone, Copy)]
enum Touch {
    Faces,
    Shared,
}

/// What lies between the faces; none when what is said of it is wrong.
pub(crate) fn read_joint(reader: &mut Reader<'_>) -> Option<PlyJoint> {
    let record = reader.record;
    match (record.get(kinds::JOINT.key), record.get(JOINT_WORD)) {
        (Some(conductance), Some(word)) => {
            let what = format!("{} has two joints to the next face", reader.owner);
            let expected = format!("either `{}` or `{JOINT_WORD}`", kinds::JOINT.key);
            let fault = Fault::new(what, conductance.place(), expected, "remove one of the two");
            reader.fault(fault.and_at(word.place()));
            None
        }
        (Some(_), None) => reader.own_value(&kinds::JOINT).map(PlyJoint::Conductance),
        (None, Some(_)) => {
            let choices = [("faces", Touch::Faces), ("shared", Touch::Shared)];
            reader.need_choice(JOINT_WORD, &choices).map(|touch| match touch {
                Touch::Faces => PlyJoint::Faces,
                Touch::Shared => PlyJoint::Shared,
            })
        }
        (None, None) => Some(PlyJoint::default()),
    }
}

/// The fabric with the entry's own values in place of the shelf's.
fn overridden(
    table: &Record,
    record: &Record,
    fabric: &Fabric,
    cloth: &Cloth<'_>,
    faults: &mut Vec<Fault>,
) -> Option<Fabric> {
    let own: Vec<&Cell> = table
        .cells
        .iter()
        .filter(|cell| {
            !["ply", "from", kinds::JOINT.key, "joint_from", JOINT_WORD]
                .contains(&cell.key.as_str())
        })
        .collect();
    if own.is_empty() {
        return Some(fabric.clone());
    }
    let mut merged = record.clone();
    for field in kinds::FABRIC_FIELDS.iter() {
        let Some(cell) = table.get(field.key) else { continue };
        let from_key = format!("{}_from", field.base);
        let stale = |key: &str| key == field.key || key == from_key || goes_with(field, key);
        merged.cells.retain(|cell| !stale(&cell.key));
        let from = table.get(&from_key).or_else(|| table.get("from"));
        let value = from.map_or(Value::Word("measured".to_owned()), |cell| cell.value.clone());
        let said = from.unwrap_or(cell);
        merged.cells.push(Cell { key: from_key, value, ..said.clone() });
    }
    merged.cells.retain(|cell| cell.key != "limit_event" || table.get("limit_event").is_none());
    merged.cells.extend(own.into_iter().filter(|cell| !cell.key.ends_with("_from")).cloned());
    // mass, thickness and conductivity hold for the regain that the shelf gives
    let regain_conditioned = fabric.regain_conditioned;
    read_fabric(&merged, cloth.fibres(), faults).map(|own| Fabric { regain_conditioned, ..own })
}

/// Whether the shelf's `key` says under which condition its value holds, and so goes with it.
fn goes_with(field: &Field, key: &str) -> bool {
    if key.strip_suffix("_tolerance_pct") == Some(field.base) {
        return true;
    }
    match field.base {
        "thickness" => key == kinds::THICKNESS_PRESSURE.key,
        "conductivity" => key == kinds::CONDUCTIVITY_TEMP.key,
        "specific_heat" => key == kinds::SPECIFIC_HEAT_TEMP.key,
        "decomposition" => {
            [kinds::DECOMPOSITION_FROM.key, kinds::DECOMPOSITION_TO.key].contains(&key)
        }
        _ => false,
    }
}
