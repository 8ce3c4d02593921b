//! What the page may choose from: fabrics, exposures, skins, targets, layups and the words of the trade.

use std::path::Path;

use serde::Serialize;
use serde_json::Value as Json;

use crate::NOTICE;
use crate::bench::figure::figure_name;
use crate::desk::anchors::Anchors;
use crate::desk::asked::State;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::layup::Pattern;
use crate::garment::target::Target;
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::exposure::brief;
use crate::report::glossary::{Term, terms};
use crate::report::json::finite::{Finite, rounded};
use crate::report::number::fixed;
use crate::report::verdict::threshold;
use crate::shelf::layup::loose::loose;
use crate::shelf::materials::Shelf;

#[derive(Serialize)]
struct Laid<'a> {
    version: &'static str,
    notice: &'static str,
    /// What the page begins with.
    start: &'a State,
    /// Words that a command needs for the same bands.
    anchored: &'a [String],
    fabrics: Vec<Cloth<'a>>,
    exposures: Vec<Given<'a>>,
    skins: Vec<&'a str>,
    targets: Vec<Aim<'a>>,
    layups: Vec<Example>,
    patterns: Vec<&'static str>,
    terms: Vec<Word<'a>>,
}

#[derive(Serialize)]
struct Cloth<'a> {
    name: &'a str,
    description: &'a str,
    role: &'static str,
    fibre: &'a str,
    thickness: String,
    areal_density: String,
    regain_pct: Finite,
}

#[derive(Serialize)]
struct Given<'a> {
    name: &'a str,
    description: &'a str,
    brief: String,
    method: &'a str,
}

#[derive(Serialize)]
struct Aim<'a> {
    name: &'a str,
    description: &'a str,
    standard: &'a str,
    exposure: &'a str,
    asks: String,
}

#[derive(Serialize)]
struct Example {
    name: String,
    layup: Json,
}

#[derive(Serialize)]
struct Word<'a> {
    name: &'a str,
    also: &'a [String],
    says: &'a str,
    source: &'a str,
}

/// The shelf as JSON, with what the page begins with.
///
/// Errors: a number that is not finite.
pub fn laid(shelf: &Shelf, start: &State, anchors: &Anchors) -> Result<Vec<u8>, serde_json::Error> {
    let example = |name: &str| {
        let text = shelf.layup_text(name).ok()?;
        let layup = loose(text, Path::new(name)).ok()?;
        Some(Example { name: name.to_owned(), layup })
    };
    serde_json::to_vec(&Laid {
        version: env!("CARGO_PKG_VERSION"),
        notice: NOTICE,
        start,
        anchored: &anchors.words,
        fabrics: shelf.fabrics().map(cloth).collect(),
        exposures: shelf.exposures().map(given).collect(),
        skins: shelf.skins().map(|skin| skin.name.as_str()).collect(),
        targets: shelf.targets().map(|target| aim(target, shelf)).collect(),
        layups: shelf.layup_names().filter_map(example).collect(),
        patterns: Pattern::ALL.map(Pattern::word).to_vec(),
        terms: terms().iter().map(word).collect(),
    })
}

fn cloth(fabric: &Fabric) -> Cloth<'_> {
    Cloth {
        name: &fabric.name,
        description: &fabric.description,
        role: fabric.role.word(),
        fibre: &fabric.fibre,
        thickness: fixed(MILLIMETRES.outside(fabric.thickness.value), 2),
        areal_density: fixed(GRAMS_PER_AREA.outside(fabric.areal_density.value), 0),
        regain_pct: rounded(PERCENT.outside(fabric.regain.value)),
    }
}

fn given(exposure: &Exposure) -> Given<'_> {
    Given {
        name: &exposure.name,
        description: &exposure.description,
        brief: brief(exposure),
        method: &exposure.method,
    }
}

fn aim<'a>(target: &'a Target, shelf: &Shelf) -> Aim<'a> {
    let name =
        shelf.exposure(&target.exposure).map_or("", |given| figure_name(target.figure, given));
    Aim {
        name: &target.name,
        description: &target.description,
        standard: &target.standard,
        exposure: &target.exposure,
        asks: format!("{name} ≥ {}", threshold(target)),
    }
}

fn word(term: &Term) -> Word<'_> {
    Word { name: &term.name, also: &term.also, says: &term.says, source: &term.source }
}
