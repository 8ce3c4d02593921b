//! Bands from memory: what practice remembers without a source.

use rayon::prelude::*;

use crate::evidence::measured::ask::{Predicted, disc, plies, shelf_layup};
use crate::evidence::measured::record::{Basis, Class, Comparison, Kind, Place, Subject, median};
use crate::evidence::verify::table::rows;
use crate::garment::fabric::Role;
use crate::garment::layup::Layup;
use crate::shelf::materials::Shelf;

/// Areal densities that count as about 200 g/m² [kg/m²].
const ABOUT_200: std::ops::RangeInclusive<f64> = 0.19..=0.21;

/// Outer wovens of about 200 g/m² on the shelf, each alone.
fn wovens(shelf: &Shelf) -> Vec<Layup> {
    let named = shelf
        .fabrics()
        .filter(|fabric| fabric.role == Role::Outer)
        .filter(|fabric| ABOUT_200.contains(&fabric.areal_density.value));
    named.filter_map(|fabric| plies(shelf, &[&fabric.name])).collect()
}

fn assemblies(shelf: &Shelf) -> Vec<Layup> {
    (1..=5).filter_map(|n| shelf_layup(shelf, &format!("published-assembly-{n}"))).collect()
}

/// Reads one figure off the disc's.
type Figure = fn(&Predicted) -> f64;

/// Which figure a row of the table is, and the exposure that gives it.
fn figure(id: &str) -> Option<(&'static str, Figure)> {
    Some(match id {
        "woven_flame_24" | "assembly_flame_24" => ("flame-80", |times| times.rise24),
        "woven_tpp" => ("mixed-84-contact", |times| times.tpp),
        "woven_tpp_spaced" => ("mixed-84-spaced", |times| times.tpp),
        "assembly_radiant_24" => ("radiant-40", |times| times.rise24),
        _ => return None,
    })
}

/// The likely cause of a band that is not met, said in the output itself.
fn cause(id: &str, place: Place) -> &'static str {
    match (id, place) {
        (_, Place::Inside) => "",
        ("woven_flame_24" | "woven_tpp", _) => {
            "Not met in full: too short. A single ply on copper hangs on what lies between its face and the \
             disc; the air there is 8 % of the thickness by rule, known to ±100 % and without a \
             source. The heat of drying is in; the heat of decomposition, which a woven that \
             chars takes up above 400 °C, is on no fabric of the shelf, and the gas that then blows outwards is not modelled."
        }
        ("woven_tpp_spaced", _) => {
            "Not met in full. The gap is one of clean still or moving air: smoke and gases of the \
             charring cloth, which absorb radiation, and its sagging towards the disc are not \
             modelled; the flame's radiant share is taken as half."
        }
        _ => {
            "Not met in full. Conductivity is estimated from mass and thickness, ±25 % either way, \
             and weighs most; the air between the plies comes next."
        }
    }
}

/// The bands, each over all layups that it speaks of.
pub fn bands(shelf: &Shelf) -> Vec<Comparison> {
    let (wovens, assemblies) = (wovens(shelf), assemblies(shelf));
    let mut found = Vec::new();
    for row in rows("measured.csv").iter().filter(|row| row.text("class") == "band") {
        let id = row.text("id");
        let (what, subject, layups) = match id.starts_with("woven") {
            true => ("wovens", Subject::Woven, &wovens),
            false => ("assemblies", Subject::ManyPlies, &assemblies),
        };
        let Some((exposure, figure)) = figure(id) else { continue };
        let Ok(exposure) = shelf.exposure(exposure) else { continue };
        let values: Vec<f64> =
            layups.par_iter().map(|layup| figure(&disc(shelf, layup, exposure))).collect();
        let low = values.iter().copied().fold(f64::INFINITY, f64::min);
        let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut comparison = Comparison {
            name: format!("{} {what}, {}", layups.len(), row.text("figure")),
            class: Class::Band,
            kind: if row.text("kind") == "flame" { Kind::Flame } else { Kind::Radiant },
            subject,
            figure: row.text("figure").to_string(),
            basis: Basis::Uncalibrated,
            unit: row.text("unit").to_string(),
            measured: (row.number("low"), row.number("high")),
            predicted: median(&values),
            range: (low, high),
            source: row.text("source").to_string(),
            provenance: row.text("provenance").to_string(),
            note: String::new(),
        };
        comparison.note = cause(id, comparison.place()).to_string();
        found.push(comparison);
    }
    found
}
