//! The fabrics that the plies of a layup are cut from.

use crate::garment::fabric::Fabric;
use crate::garment::fibre::Fibre;
use crate::shelf::clash::twice;
use crate::shelf::fault::{Fault, Unknown};
use crate::shelf::key::kinds;
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::Record;
use crate::shelf::stock::fabric::read_fabric;

/// The fabrics that a layup may name: its own and the shelf's.
pub(crate) struct Cloth<'s> {
    shelf: &'s Shelf,
    own: Vec<(&'s Record, Option<Fabric>)>,
}

impl<'s> Cloth<'s> {
    /// The fabrics of the layup file `root` before those of the shelf.
    pub fn read(root: &'s Record, shelf: &'s Shelf, faults: &mut Vec<Fault>) -> Cloth<'s> {
        let mut own: Vec<(&Record, Option<Fabric>)> = Vec::new();
        for record in root.tables("fabric") {
            kinds::FABRIC.check(record, faults);
            let name = record.word("name");
            let earlier = own.iter().map(|(record, _)| *record).chain(shelf.fabric_record(name));
            if let Some(first) = earlier.into_iter().find(|known| known.word("name") == name) {
                if !name.is_empty() {
                    let (first, second) = (first.place_of("name"), record.place_of("name"));
                    faults.push(twice("fabric", name, second, first));
                }
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
    pub fn fibres(&self) -> &[Fibre] {
        &self.shelf.fibres
    }
}
