//! Layups and fabrics in a report, each value with its source.

use crate::bench::lies::Stack;
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::Layup;
use crate::garment::property::{OfPly, TEMP_REF_C};
use crate::garment::source::{Source, keys};
use crate::physics::units::{KILOJOULES_PER_MASS, KILOPASCALS};
use crate::report::document::{Block, Document, Grid};
use crate::report::form::rows::grid;
use crate::report::layup::{columns, lines};
use crate::report::number::Shown;
use crate::report::{lies, property};

/// A layup: its note, its stack, its quilting.
///
/// - `stack`: how it lay when figures were computed
pub fn layup_block(document: &mut Document, layup: &Layup, stack: Stack<'_>) {
    document.blocks.push(Block::Lesser(layup.name.clone()));
    document.text(&layup.note);
    document.table(grid(&columns(), &lines(layup)));
    if let Some(quilted) = lies::sentence(layup, stack) {
        document.note(&quilted);
    }
    if let Some(pressure) = &layup.pressure {
        let pressure = KILOPASCALS.short(pressure.value, 3);
        document.note(&format!("Under {pressure} kPa; thickness and conductivity follow."));
    }
}

/// Every value of each fabric once, with its provenance, then the sources that they name.
pub fn materials_block(document: &mut Document, layups: &[&Layup], sources: &[&Source]) {
    document.heading("Materials and sources");
    document.note(&format!(
        "Conductivity and specific heat at {TEMP_REF_C:.0} °C; both vary with temperature."
    ));
    let mut fabrics: Vec<&Fabric> = Vec::new();
    for ply in layups.iter().flat_map(|layup| layup.plies()) {
        if !fabrics.contains(&&ply.fabric) {
            fabrics.push(&ply.fabric);
        }
    }
    let mut grid = Grid::new(["fabric", "property", ">value", "how it is known", "source"]);
    let mut used: Vec<String> = Vec::new();
    for fabric in fabrics {
        for (i, property) in properties(fabric).into_iter().enumerate() {
            let name = if i == 0 { fabric.name.as_str() } else { "" };
            let row = [name, property.name, &property.value, property.provenance.word()];
            grid.row(row.iter().copied().chain([property.source.as_str()]));
            used.push(property.source);
        }
    }
    document.table(grid);
    sources_block(document, &used, sources);
}

/// The entries of the shelf's list whose keys are used.
fn sources_block(document: &mut Document, used: &[String], sources: &[&Source]) {
    let is_used =
        |source: &&&Source| used.iter().any(|text| keys(text).any(|key| key == source.key));
    let lines: Vec<String> = sources
        .iter()
        .filter(is_used)
        .map(|source| format!("{}: {}", source.key, source.citation))
        .collect();
    if !lines.is_empty() {
        document.blocks.push(Block::Lesser("Sources named above".to_owned()));
        document.blocks.push(Block::List(lines));
    }
}

/// One value of a fabric.
struct Property {
    name: &'static str,
    value: String,
    provenance: Provenance,
    source: String,
}

fn properties(fabric: &Fabric) -> Vec<Property> {
    fn of(name: &'static str, value: String, known: &Known) -> Property {
        Property { name, value, provenance: known.provenance, source: known.told_source() }
    }
    let left_out = [OfPly::VapourResistance, OfPly::FibreDensity];
    let told = OfPly::OF_FABRIC.into_iter().filter(|one| !left_out.contains(one));
    let mut all: Vec<Property> = told
        .map(|one| of(property::called(one), property::shown(one, fabric), &one.known(fabric)))
        .collect();
    if let Some(d) = &fabric.decomposition {
        let heat = format!("{} kJ/kg", KILOJOULES_PER_MASS.short(d.heat.value, 1));
        all.push(of("decomposition", heat, &d.heat));
    }
    all
}

/// Flags that the data of layups raise: estimates, inventions, quilting that is not computed.
///
/// - `stacks`: how the layups lay when figures were computed
pub fn data_flags(layups: &[&Layup], stacks: &[Stack<'_>]) -> Vec<String> {
    let all: Vec<Provenance> = layups
        .iter()
        .flat_map(|layup| layup.plies())
        .flat_map(|ply| {
            properties(&ply.fabric).into_iter().map(|p| p.provenance).collect::<Vec<_>>()
        })
        .collect();
    let n = |kind| all.iter().filter(|p| **p == kind).count();
    let mut flags = Vec::new();
    for kind in [Provenance::Memory, Provenance::CommonPractice, Provenance::Estimated] {
        if n(kind) > 0 {
            flags.push(format!("{} of {} fabric values are known as: {kind}.", n(kind), all.len()));
        }
    }
    if n(Provenance::Invented) > 0 {
        let n = n(Provenance::Invented);
        flags.push(format!("{n} of {} fabric values are invented for the demo.", all.len()));
    }
    let mut why: Vec<&str> = stacks.iter().filter_map(|stack| lies::why_flat(*stack)).collect();
    why.dedup();
    flags.extend(why.into_iter().map(|why| format!("A quilted layup lies flat: {why}.")));
    flags
}
