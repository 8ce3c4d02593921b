//! Layups from the user's files.

use std::path::Path;
use std::sync::Arc;

use crate::garment::known::Known;
use crate::garment::layup::Layup;
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::file::text::{Form, Text};
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::layup::cloth::Cloth;
use crate::shelf::layup::one_line::{self, is_one_line};
use crate::shelf::layup::quilting::read_quilting;
use crate::shelf::layup::stack::read_stack;
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::tree;

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

/// A layup from a text with its name.
pub(crate) fn read_layup_of(text: &Arc<Text>, shelf: &Shelf) -> Result<Layup, Faults> {
    let mut faults = Vec::new();
    let root = tree::parse(text, &mut faults);
    if root.cells.is_empty() && faults.is_empty() {
        return Err(text.empty("a layup with its plies").into());
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
    reader.own_value(&kinds::PRESSURE)
}
