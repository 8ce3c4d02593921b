//! Delivered rolls as they were measured, from a CSV file.

use std::collections::HashMap;
use std::path::Path;
use std::sync::Arc;

use crate::garment::layup::Layup;
use crate::shelf::fault::{Fault, Faults, Unknown, enough};
use crate::shelf::file::sizes;
use crate::shelf::file::text::Text;
use crate::shelf::key::field::{Companions, Field, Keys};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::sheet::{self, Sheet};
use crate::shelf::notation::tree;
use crate::shelf::stock::exposure::check_columns;

/// A measured value this many times off the layup's is a slip of a unit or a row, not a lot.
const FACTOR_MOST: f64 = 2.0;

const KEYS: Keys<'_> = Keys {
    kind: "list of rolls",
    fields: &[kinds::AREAL_DENSITY, kinds::THICKNESS],
    words: &["lot", "ply", "fabric", "note"],
    provenance: Companions::Without,
};

/// One delivered roll.
#[derive(Debug, Clone, PartialEq)]
pub struct Roll {
    /// Name of the lot.
    pub lot: String,
    /// Plies of the layup that are cut from it, 0 outermost.
    pub plies: Vec<usize>,
    /// Name of the fabric.
    pub fabric: String,
    /// Measured areal density [kg/m²].
    pub areal_density: f64,
    /// Measured thickness [m].
    pub thickness: f64,
}

/// The rolls of a CSV file (`lot`, `ply` or `fabric`, `areal_density_g_m2`, `thickness_mm`), in its
/// order.
///
/// Errors: every fault of the file.
pub fn read_lots(path: &Path, layup: &Layup) -> Result<Vec<Roll>, Faults> {
    let text = Text::load(path, sizes::ROLLS)?;
    let mut faults = Vec::new();
    let (sheet, of_what) = sheet_of(&text, &mut faults).ok_or_else(|| Faults(faults.clone()))?;
    let mut seen: HashMap<(String, Vec<usize>), &Record> = HashMap::new();
    let mut rolls: Vec<Roll> = Vec::new();
    for record in &sheet.records {
        if enough(&faults) {
            break;
        }
        let Some(roll) = read_roll(record, of_what, layup, &mut faults) else { continue };
        let key = (roll.lot.clone(), roll.plies.clone());
        if let Some(first) = seen.get(&key) {
            let what = format!("lot `{}` of {} is there twice", roll.lot, roll.fabric);
            let mend = "give each roll a name of its own, or remove one row";
            let fault = Fault::new(what, first.place_of("lot"), "each roll once", mend);
            faults.push(fault.and_at(record.place_of("lot")));
        }
        seen.entry(key).or_insert(record);
        rolls.push(roll);
    }
    some_rows(&text, rolls.len(), &mut faults);
    if faults.is_empty() { Ok(rolls) } else { Err(Faults(faults)) }
}

/// The rows of a list of rolls, and the column that says what they are for; none where the columns
/// are not those of such a list, with the faults noted.
pub(crate) fn sheet_of(text: &Arc<Text>, faults: &mut Vec<Fault>) -> Option<(Sheet, &'static str)> {
    let sheet = sheet::parse(text, faults)?;
    let has = |key: &str| sheet.header.cells.iter().any(|cell| cell.key == key);
    let of_what = if has("fabric") { "fabric" } else { "ply" };
    let needed = ["lot", of_what, kinds::AREAL_DENSITY.key, kinds::THICKNESS.key];
    let mut found = Vec::new();
    check_columns(&KEYS, &needed, &sheet.header, &mut found);
    if has("ply") && has("fabric") {
        let place = sheet.header.place_of("ply");
        let fault = Fault::new(
            "the rolls have both a ply and a fabric",
            place,
            "either a column `ply` or a column `fabric`",
            "remove one of the two",
        );
        found.push(fault.and_at(sheet.header.place_of("fabric")));
    }
    if !found.is_empty() {
        tree::add_beyond_syntax(faults, found);
        return None;
    }
    Some((sheet, of_what))
}

/// The list has rows.
pub(crate) fn some_rows(text: &Arc<Text>, n: usize, faults: &mut Vec<Fault>) {
    if n == 0 && faults.is_empty() {
        let place = text.place(0..0, "");
        let mend = "add a row for each delivered roll";
        faults.push(Fault::new("the list holds no roll", place, "at least one roll", mend));
    }
}

fn read_roll(
    record: &Record,
    of_what: &str,
    layup: &Layup,
    faults: &mut Vec<Fault>,
) -> Option<Roll> {
    let before = faults.len();
    let name = record.word("lot");
    let owner = if name.is_empty() { "a roll".into() } else { format!("roll `{name}`") };
    let mut reader = Reader { record, owner, faults };
    let lot = reader.need_word("lot");
    let plies = plies(&mut reader, of_what, layup);
    let mass = reader.need_number(&kinds::AREAL_DENSITY).map(|g| 1e-3 * g);
    let thickness = reader.need_number(&kinds::THICKNESS).map(|mm| 1e-3 * mm);
    let (lot, plies, mass, thickness) = (lot?, plies?, mass?, thickness?);
    let fabric = &layup.plies().nth(*plies.first()?)?.fabric;
    near_layup(&mut reader, &kinds::AREAL_DENSITY, (mass, fabric.areal_density.value, 1e3));
    near_layup(&mut reader, &kinds::THICKNESS, (thickness, fabric.thickness.value, 1e3));
    if mass / thickness > fabric.fibre_density.value && reader.faults.len() == before {
        let what = format!(
            "{} is denser than its fibre: {:.0} kg/m³ of fabric, {:.0} kg/m³ of fibre",
            reader.owner,
            mass / thickness,
            fabric.fibre_density.value
        );
        let expected = "areal density over thickness at most the density of the fibre";
        let place = record.place_of(kinds::THICKNESS.key);
        let fault = Fault::new(what, place, expected, "check both values");
        reader.fault(fault.and_at(record.place_of(kinds::AREAL_DENSITY.key)));
    }
    let fabric = fabric.name.clone();
    (faults.len() == before).then_some(Roll { lot, plies, fabric, areal_density: mass, thickness })
}

/// The plies that a roll is for: one by its number, or all of a fabric.
fn plies(reader: &mut Reader<'_>, of_what: &str, layup: &Layup) -> Option<Vec<usize>> {
    let word = reader.need_word(of_what)?;
    let n_plies = layup.plies().count();
    let place = reader.record.place_of(of_what);
    if let (true, Ok(number)) = (of_what == "ply", word.parse::<usize>()) {
        if (1..=n_plies).contains(&number) {
            return Some(vec![number - 1]);
        }
        let what = format!("{} is for ply {number}, which the layup has not", reader.owner);
        let expected = format!("1, the outermost, to {n_plies}");
        let mend = "count the plies from the outside, gaps left out";
        reader.fault(Fault::new(what, place, expected, mend));
        return None;
    }
    let names: Vec<&str> = layup.plies().map(|ply| ply.fabric.name.as_str()).collect();
    let of_name = |(j, name): (usize, &&str)| (*name == word).then_some(j);
    let found: Vec<usize> = names.iter().enumerate().filter_map(of_name).collect();
    if found.is_empty() {
        let unknown = Unknown::new("ply of the layup", &word, names.into_iter());
        let mend = if unknown.nearest.is_empty() {
            "name a fabric of the layup or, in a column `ply`, its number from the outside".into()
        } else {
            unknown.mend()
        };
        let expected = "a fabric of the layup, or the number of a ply";
        reader.fault(Fault::new(unknown.what(), place, expected, mend));
        return None;
    }
    Some(found)
}

/// `(measured, layup's, to the file's unit)`: a value far off the layup's is no lot of its fabric.
fn near_layup(reader: &mut Reader<'_>, field: &Field, (measured, known, scale): (f64, f64, f64)) {
    let ratio = measured / known;
    if (1.0 / FACTOR_MOST..=FACTOR_MOST).contains(&ratio) {
        return;
    }
    let times = if ratio > 1.0 { ratio } else { 1.0 / ratio };
    let more = if ratio > 1.0 { "above" } else { "below" };
    let what = format!(
        "{} of {} is {times:.1} times {more} that of the layup, {} {}",
        field.noun(),
        reader.owner,
        (1e4 * scale * known).round() / 1e4,
        field.unit
    );
    let expected = format!("within {FACTOR_MOST} times of the layup's value, in {}", field.unit);
    let mend = "check the unit and the ply; a lot of the same fabric does not vary that much";
    let place = reader.record.place_of(field.key);
    reader.fault(Fault::new(what, place, expected, mend));
}
