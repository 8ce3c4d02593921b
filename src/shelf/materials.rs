//! The shelf of materials, and what is looked up on it.

use std::path::Path;

use crate::garment::band::Bands;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::fibre::Fibre;
use crate::garment::skin::Skin;
use crate::garment::source::Source;
use crate::garment::target::Target;
use crate::shelf::fault::Unknown;
use crate::shelf::notation::record::Record;
use crate::shelf::stock::raw::{Kind, LayupFile, Raw};

pub use crate::shelf::clash::Clash;

/// Fabrics, fibres, exposures, targets, skins, bands, sources and example layups.
#[derive(Debug, Clone)]
pub struct Shelf {
    pub(crate) fabrics: Vec<Fabric>,
    pub(crate) fibres: Vec<Fibre>,
    pub(crate) exposures: Vec<Exposure>,
    pub(crate) targets: Vec<Target>,
    pub(crate) skins: Vec<Skin>,
    pub(crate) bands: Bands,
    pub(crate) sources: Vec<Source>,
    pub(crate) raw: Raw,
}

/// What a file turned out to hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    /// Kind of the entries, such as "fabric".
    pub kind: &'static str,
    /// Their names, in the file's order.
    pub names: Vec<String>,
    /// What is possible but unusual about them, a sentence each.
    pub notes: Vec<String>,
}

impl Shelf {
    /// The fabrics in shelf order.
    pub fn fabrics(&self) -> impl Iterator<Item = &Fabric> {
        self.fabrics.iter()
    }

    /// The fibres in shelf order.
    pub fn fibres(&self) -> impl Iterator<Item = &Fibre> {
        self.fibres.iter()
    }

    /// The exposures in shelf order.
    pub fn exposures(&self) -> impl Iterator<Item = &Exposure> {
        self.exposures.iter()
    }

    /// The targets in shelf order.
    pub fn targets(&self) -> impl Iterator<Item = &Target> {
        self.targets.iter()
    }

    /// The skins in shelf order.
    pub fn skins(&self) -> impl Iterator<Item = &Skin> {
        self.skins.iter()
    }

    /// How far the bench may lie from a prediction.
    pub fn bands(&self) -> &Bands {
        &self.bands
    }

    /// The sources in shelf order.
    pub fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sources.iter()
    }

    /// The names of the layups that lie on the shelf, in shelf order.
    pub fn layup_names(&self) -> impl Iterator<Item = &str> {
        self.raw.layups.iter().map(|layup| layup.name.as_str())
    }

    /// The fabric of that name.
    pub fn fabric(&self, name: &str) -> Result<&Fabric, Unknown> {
        find("fabric", &self.fabrics, name, |fabric| &fabric.name)
    }

    /// The fibre of that name; blends are not listed.
    pub fn fibre(&self, name: &str) -> Result<&Fibre, Unknown> {
        find("fibre", &self.fibres, name, |fibre| &fibre.name)
    }

    /// The exposure of that name.
    pub fn exposure(&self, name: &str) -> Result<&Exposure, Unknown> {
        find("exposure", &self.exposures, name, |exposure| &exposure.name)
    }

    /// The target of that name.
    pub fn target(&self, name: &str) -> Result<&Target, Unknown> {
        find("target", &self.targets, name, |target| &target.name)
    }

    /// The skin of that name.
    pub fn skin(&self, name: &str) -> Result<&Skin, Unknown> {
        find("skin", &self.skins, name, |skin| &skin.name)
    }

    /// The skin of a name, or the first on the shelf.
    pub fn skin_or_first(&self, name: Option<&str>) -> Result<&Skin, Unknown> {
        let first = || self.skins.first().map_or("", |skin| skin.name.as_str());
        self.skin(name.unwrap_or_else(first))
    }

    /// The source with that key.
    pub fn source(&self, key: &str) -> Result<&Source, Unknown> {
        find("source", &self.sources, key, |source| &source.key)
    }

    /// The text of the layup of that name, as its file has it.
    pub fn layup_text(&self, name: &str) -> Result<&str, Unknown> {
        self.layup_file(name).map(|layup| layup.text.as_str())
    }

    /// Where the layup of that name lies; for a built-in one, where it lies in the project.
    pub fn layup_path(&self, name: &str) -> Result<&Path, Unknown> {
        self.layup_file(name).map(|layup| layup.path.as_path())
    }

    /// The names of the suits that lie on the shelf, in shelf order.
    pub fn suit_names(&self) -> impl Iterator<Item = &str> {
        self.raw.suits.iter().map(|suit| suit.name.as_str())
    }

    /// The text of the suit of that name, and where it lies; for a built-in one, in the project.
    pub fn suit_file(&self, name: &str) -> Result<(&str, &Path), Unknown> {
        let suit = find("suit", &self.raw.suits, name, |suit| &suit.name)?;
        Ok((suit.text.as_str(), suit.path.as_path()))
    }

    /// Names that are defined more than once, with the place that is used.
    pub fn clashes(&self) -> &[Clash] {
        &self.raw.clashes
    }

    fn layup_file(&self, name: &str) -> Result<&LayupFile, Unknown> {
        find("layup", &self.raw.layups, name, |layup| &layup.name)
    }

    /// The record that a fabric was read from.
    pub(crate) fn fabric_record(&self, name: &str) -> Option<&Record> {
        self.raw.of(Kind::Fabric).iter().find(|record| record.word("name") == name)
    }
}

fn find<'s, T>(
    kind: &'static str,
    all: &'s [T],
    name: &str,
    name_of: impl Fn(&T) -> &String,
) -> Result<&'s T, Unknown> {
    all.iter()
        .find(|item| name_of(item) == name)
        .ok_or_else(|| Unknown::new(kind, name, all.iter().map(|item| name_of(item).as_str())))
}
