//! A list of rolls read by itself, before it is held against a layup.

use std::sync::Arc;

use crate::shelf::fault::{Fault, Faults, enough};
use crate::shelf::file::text::Text;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::lab::rolls::{sheet_of, some_rows};
use crate::shelf::materials::Shelf;

/// Names of the lots. Whether a ply or a fabric is the layup's, and how far a roll is off it, shows
/// when the list is held against the layup.
///
/// Errors: every fault of the file.
pub(crate) fn check_rolls(text: &Arc<Text>, shelf: &Shelf) -> Result<Vec<String>, Faults> {
    let mut faults = Vec::new();
    let (sheet, of_what) = sheet_of(text, &mut faults).ok_or_else(|| Faults(faults.clone()))?;
    let mut names = Vec::new();
    for record in &sheet.records {
        if enough(&faults) {
            break;
        }
        let name = record.word("lot");
        let owner = if name.is_empty() { "a roll".into() } else { format!("roll `{name}`") };
        let mut reader = Reader { record, owner, faults: &mut faults };
        names.extend(reader.need_word("lot"));
        for_what(&mut reader, of_what, shelf);
        reader.need_number(&kinds::AREAL_DENSITY);
        reader.need_number(&kinds::THICKNESS);
    }
    some_rows(text, sheet.records.len(), &mut faults);
    if faults.is_empty() { Ok(names) } else { Err(Faults(faults)) }
}

/// A ply is a number from 1 on or a fabric on the shelf.
fn for_what(reader: &mut Reader<'_>, of_what: &str, shelf: &Shelf) {
    let Some(word) = reader.need_word(of_what) else { return };
    let place = reader.record.place_of(of_what);
    match word.parse::<i64>() {
        Ok(number) if of_what == "ply" && number >= 1 => {}
        Ok(number) if of_what == "ply" => {
            let what = format!("{} is for ply {number}", reader.owner);
            let mend = "count the plies from the outside, gaps left out";
            reader.fault(Fault::new(what, place, "1, the outermost, or more", mend));
        }
        _ => {
            if let Err(unknown) = shelf.fabric(&word) {
                reader.fault(unknown.at(place));
            }
        }
    }
}
