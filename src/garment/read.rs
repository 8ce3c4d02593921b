//! Layups and single exposures from the user's files.

use std::path::Path;
use std::sync::Arc;

use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::fault::{Fault, Faults, Unknown};
use crate::garment::kinds;
use crate::garment::known::Known;
use crate::garment::layup::{Entry, Layup};
use crate::garment::read_fabric::read_fabric;
use crate::garment::read_quilting::read_quilting;
use crate::garment::read_stack::{own_value, read_stack};
use crate::garment::reader::Reader;
use crate::garment::record::Record;
use crate::garment::shelf::{Shelf, twice};
use crate::garment::text::{Form, Text};
use crate::garment::tree;

/// A layup from a TOML file; its fabrics come from the shelf or from the file itself.
///
/// Errors: every fault of the file.
pub fn read_layup(path: &Path, shelf: &Shelf) -> Result<Layup, Faults> {
    read_layup_of(&Text::load(path, Form::Toml)?, shelf)
}

/// A layup from a text that stands for the file `path`.
///
/// Errors: every fault of the text.
pub fn read_layup_text(text: &str, path: &Path, shelf: &Shelf) -> Result<Layup, Faults> {
    read_layup_of(&Text::new(path.display().to_string(), text, Form::Toml), shelf)
}

/// One exposure from a TOML file; a flux series named in it is looked for beside the file.
///
/// Errors: every fault of the file and of its flux series.
pub fn read_exposure(path: &Path, _shelf: &Shelf) -> Result<Exposure, Faults> {
    let text = Text::load(path, Form::Toml)?;
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

fn empty(text: &Text, expected: &str) -> Fault {
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
    let mut found = Vec::new();
    kinds::LAYUP.check(&root, &mut found);
    let mut reader = Reader::new(&root, "layup", &mut found);
    let name = reader.need_word("name");
    let note = reader.word("note").unwrap_or_default();
    let pressure = read_pressure(&mut reader);
    let cloth = Cloth::read(&root, shelf, &mut found);
    let stack = read_stack(&root, &cloth, &mut found);
    let n_plies = stack.iter().filter(|entry| matches!(entry, Entry::Ply(_))).count();
    let mut layup = Layup { name: String::new(), note, stack, pressure, quilting: None };
    layup.quilting = read_quilting(&root, n_plies, layup.plies_thickness(), &mut found);
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
    own_value(reader, &kinds::PRESSURE, 1e3)
}

/// The fabrics that a layup may name: its own and the shelf's.
pub(crate) struct Cloth<'s> {
    shelf: &'s Shelf,
    own: Vec<(&'s Record, Option<Fabric>)>,
}

impl<'s> Cloth<'s> {
    fn read(root: &'s Record, shelf: &'s Shelf, faults: &mut Vec<Fault>) -> Cloth<'s> {
        let mut own: Vec<(&Record, Option<Fabric>)> = Vec::new();
        for record in root.tables("fabric") {
            kinds::FABRIC.check(record, faults);
            let name = record.word("name");
            let earlier = own.iter().map(|(record, _)| *record).chain(shelf.fabric_record(name));
            if let Some(first) = earlier.into_iter().find(|known| known.word("name") == name)
                && !name.is_empty()
            {
                let (first, second) = (first.place_of("name"), record.place_of("name"));
                faults.push(twice("fabric", name, second, first));
            }
            own.push((record, read_fabric(record, &shelf.fibres, faults)));
        }
        Cloth { shelf, own }
    }

    /// The record of the fabric, and the fabric unless its own record is faulty.
    pub fn find(&self, name: &str) -> Result<(&Record, Option<&Fabric>), Unknown> {
        if let Some((record, fabric)) = self.own.iter().find(|(r, _)| r.word("name") == name) {
            return Ok((record, fabric.as_ref()));
        }
        let fabric = self.shelf.fabrics.iter().find(|fabric| fabric.name == name);
        match self.shelf.fabric_record(name) {
            Some(record) => Ok((record, fabric)),
            None => {
                let own = self.own.iter().map(|(record, _)| record.word("name"));
                let known = self.shelf.fabrics().map(|fabric| fabric.name.as_str());
                Err(Unknown::new("fabric", name, own.chain(known)))
            }
        }
    }

    /// The fibres that a fabric may be made of.
    pub fn fibres(&self) -> &[crate::garment::fibre::Fibre] {
        &self.shelf.fibres
    }
}
