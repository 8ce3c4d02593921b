//! Layups and single exposures from the user's files.

use std::path::Path;
use std::sync::Arc;

use crate::garment::cloth::Cloth;
use crate::garment::exposure::Exposure;
use crate::garment::fault::{Fault, Faults};
use crate::garment::kinds;
use crate::garment::known::Known;
use crate::garment::layup::Layup;
use crate::garment::one_line::{self, is_one_line};
use crate::garment::read_quilting::read_quilting;
use crate::garment::read_stack::read_stack;
use crate::garment::reader::Reader;
use crate::garment::record::Record;
use crate::garment::shelf::Shelf;
use crate::garment::sizes;
use crate::garment::text::{Form, Text};
use crate::garment::tree;

/// A layup from a TOML file; its fabrics come from the shelf or from the file itself.
///
/// Errors: every fault of the file.
pub fn read_layup(path: &Path, shelf: &Shelf) -> Result<Layup, Faults> {
    read_layup_of(&Text::load(path, sizes::WRITTEN)?, shelf)
}

/// A layup from a text that stands for the file `path`, or in one line.
///
/// Errors: every fault of the text.
pub fn read_layup_text(text: &str, path: &Path, shelf: &Shelf) -> Result<Layup, Faults> {
    if !is_one_line(text) {
        let text = Text::new(path.display().to_string(), text, Form::Toml);
        return read_layup_of(&text.checked()?, shelf);
    }
    let text = Text::new(one_line::PLACE, text, Form::Line).checked()?;
    let mut faults = Vec::new();
    let root = one_line::parse(&text, &mut faults);
    read_root(&root, faults, shelf)
}

/// One exposure from a TOML file; a flux series named in it is looked for beside the file.
///
/// Errors: every fault of the file and of its flux series.
pub fn read_exposure(path: &Path, _shelf: &Shelf) -> Result<Exposure, Faults> {
    let text = Text::load(path, sizes::WRITTEN)?;
    let mut faults = Vec::new();
    let root = tree::parse(&text, &mut faults);
    let tables = root.tables("exposure");
    let record = match tables {
        [] => &root,
        [one] => one,
        [_, second, ..] => {
            let what = format!("the file has {} exposures", tables.len());
            let mend = "lay the file on a shelf and name the exposure, or keep one";
            return Err(Fault::new(what, second.place(), "one exposure", mend).into());
        }
    };
    let mut found = Vec::new();
    if root.cells.is_empty() && faults.is_empty() {
        return Err(empty(&text, "an exposure").into());
    }
    kinds::EXPOSURE.check(record, &mut found);
    let exposure = crate::garment::read_exposure::read_exposure(record, &mut found);
    tree::add_beyond_syntax(&mut faults, found);
    match exposure {
        Some(exposure) if faults.is_empty() => Ok(exposure),
        _ => Err(Faults(faults)),
    }
}

/// The fault of a file without content.
pub(crate) fn empty(text: &Text, expected: &str) -> Fault {
    let mend = "write it, or name another file";
    Fault::new("the file is empty", text.place(0..0, ""), expected, mend)
}

/// A layup from a text with its name.
pub(crate) fn read_layup_of(text: &Arc<Text>, shelf: &Shelf) -> Result<Layup, Faults> {
    let mut faults = Vec::new();
    let root = tree::parse(text, &mut faults);
    if root.cells.is_empty() && faults.is_empty() {
        return Err(empty(text, "a layup with its plies").into());
    }
    read_root(&root, faults, shelf)
}

/// The layup of a record, of which `faults` are known already.
fn read_root(root: &Record, mut faults: Vec<Fault>, shelf: &Shelf) -> Result<Layup, Faults> {
    let mut found = Vec::new();
    kinds::LAYUP.check(root, &mut found);
    let mut reader = Reader::new(root, "layup", &mut found);
    let name = reader.need_word("name");
    let note = reader.word("note").unwrap_or_default();
    let pressure = read_pressure(&mut reader);
    let cloth = Cloth::read(root, shelf, &mut found);
    let stack = read_stack(root, &cloth, &mut found);
    let mut layup = Layup { name: String::new(), note, stack, pressure, quilting: None };
    layup.quilting = read_quilting(root, &layup, &mut found);
    tree::add_beyond_syntax(&mut faults, found);
    match name {
        Some(name) if faults.is_empty() => Ok(Layup { name, ..layup }),
        _ => Err(Faults(faults)),
    }
}

/// The pressure that the plies stand under; it needs plies that touch.
fn read_pressure(reader: &mut Reader<'_>) -> Option<Known> {
    let record = reader.record;
    let cell = record.get(kinds::PRESSURE.key)?;
    if let Some(gap) = record.tables("stack").iter().find_map(|table| table.get(kinds::GAP.key)) {
        let what = "the layup stands under pressure but has an air gap";
        let expected = "a pressure only where all plies touch";
        let mend = "remove the gap or the pressure";
        reader.fault(Fault::new(what, cell.place(), expected, mend).and_at(gap.place()));
    }
    reader.own_value(&kinds::PRESSURE, 1e3)
}
