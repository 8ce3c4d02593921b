//! A fitted layup, fabric or exposure as a file that every command reads.
//!
//! Each fitted value is marked `fitted`, with the readings it comes from and its interval. A ply
//! whose fabric is no longer the shelf's stands in the file as a fabric of its own.

use crate::NOTICE;
use crate::garment::exposure::Told;
use crate::garment::fabric::Fabric;
use crate::garment::known::Provenance;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::report::fit::warnings;
use crate::report::fit_words::{name, outside};
use crate::report::number::significant;
use crate::report::table::wrap;
use crate::shelf::layup::write;
use crate::shelf::materials::Shelf;
use crate::shelf::stock::{exposure_write, fabric_write};
use crate::study::fit::fitting::Fit;
use crate::study::fit::free::{Free, What};
use crate::study::fit::readings::Readings;
use crate::study::property::Property;

/// Keys in the shelf's list of sources: of a fitted value, and of one kept whose source is no key.
const SOURCE_FITTED: &str = "bench-fit";
const SOURCE_KEPT: &str = "fit-kept";
/// Columns of a comment.
const COMMENT: usize = 96;

/// The layup with its fitted values marked.
pub fn marked(fit: &Fit) -> Layup {
    let mut layup = fit.fitted_layup.clone();
    for (i, free) in fit.free.iter().enumerate() {
        let origin = origin(fit, i);
        match free.what {
            What::Property(Property::Ply(j, of)) => {
                if let Some(ply) = nth_ply(&mut layup, j) {
                    of.mark_fitted(&mut ply.fabric, &origin);
                }
            }
            What::Property(Property::Gap(j)) => {
                let mut gaps = layup.stack.iter_mut().filter_map(|entry| match entry {
                    Entry::Gap(gap) => Some(gap),
                    Entry::Ply(_) => None,
                });
                if let Some(gap) = gaps.nth(j) {
                    gap.thickness.mark_fitted(&origin);
                }
            }
            What::Joint(j) => {
                if let Some(PlyJoint::Conductance(h)) = nth_ply(&mut layup, j).map(|p| &mut p.joint)
                {
                    h.mark_fitted(&origin);
                }
            }
            What::Property(_) => {}
        }
    }
    layup
}

fn nth_ply(layup: &mut Layup, j: usize) -> Option<&mut Ply> {
    let plies = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Ply(ply) => Some(ply.as_mut()),
        Entry::Gap(_) => None,
    });
    plies.into_iter().nth(j)
}

/// Where a fitted value comes from, with its interval; no date, so that the same readings give the same file.
fn origin(fit: &Fit, i: usize) -> String {
    let interval = match fit.half_widths[i] {
        Some(half) => {
            format!("95 % ± {}", significant(outside(fit.free[i].what, half).0, 2))
        }
        None => "no interval".to_string(),
    };
    format!("{} under {}, {interval}", sources(fit), fit.exposure.name)
}

fn sources(fit: &Fit) -> String {
    match &fit.readings {
        Readings::Curves(curves) => {
            let files: Vec<&str> = curves.iter().map(|curve| curve.name.as_str()).collect();
            files.join(" and ")
        }
        Readings::Times { times, .. } => {
            let each: Vec<String> =
                times.iter().map(|timed| format!("{} K at {} s", timed.rise, timed.t)).collect();
            each.join(" and ")
        }
    }
}

/// The comment at the head of a file: what it is, what it rests on, what it cannot be used for.
fn head(fit: &Fit) -> String {
    let values: Vec<String> = fit
        .free
        .iter()
        .zip(&fit.values)
        .map(|(free, value)| {
            let (value, unit) = outside(free.what, *value);
            let text = format!("{} {} {unit}", name(free.what, &fit.layup), significant(value, 4));
            text.trim_end().to_string()
        })
        .collect();
    let mut sentences = vec![format!(
        "Fitted by stillair {} to {} under {}: {}.",
        env!("CARGO_PKG_VERSION"),
        sources(fit),
        fit.exposure.name,
        values.join(", ")
    )];
    sentences.extend(warnings(fit));
    sentences.push(NOTICE.to_string());
    let lines = sentences.iter().flat_map(|sentence| wrap(sentence, COMMENT));
    lines.map(|line| format!("# {line}\n")).collect()
}

/// The layup as a TOML file.
pub fn layup_toml(fit: &Fit, shelf: &Shelf) -> String {
    let mut layup = marked(fit);
    layup.note = match layup.note.as_str() {
        "" => "fitted to the bench".to_string(),
        note if note.ends_with("fitted to the bench") => note.to_string(),
        note => format!("{note}; fitted to the bench"),
    };
    head(fit) + &write::layup_toml(&layup, |fabric, ply| own_name(fabric, ply, shelf))
}

/// The fitted fabrics as rows of a shelf's `fabrics.csv`; none when no property of a ply was fitted.
pub fn fabrics_csv(fit: &Fit, shelf: &Shelf) -> Option<String> {
    let layup = marked(fit);
    let fitted = |j: usize| {
        let of_ply =
            |free: &Free| matches!(free.what, What::Property(Property::Ply(ply, _)) if ply == j);
        fit.free.iter().any(of_ply)
    };
    let plies = layup.plies().enumerate().filter(|(j, _)| fitted(*j));
    let fabrics: Vec<Fabric> = plies
        .map(|(j, ply)| {
            let name = own_name(&ply.fabric, j + 1, shelf).unwrap_or(ply.fabric.name.clone());
            let description = format!("{}; fitted to {}", ply.fabric.description, sources(fit));
            Fabric { name, description, ..ply.fabric.clone() }
        })
        .collect();
    let rows = || fabric_write::fabrics_csv(&fabrics, |origin| cited(origin, shelf));
    (!fabrics.is_empty()).then(|| head(fit) + &rows())
}

/// Where a value comes from, with a source that a shelf lists in place of one that it does not.
fn cited(origin: &str, shelf: &Shelf) -> String {
    match origin.split_once(": ") {
        Some((provenance, _)) if provenance == Provenance::Fitted.word() => {
            format!("{provenance}: {SOURCE_FITTED}")
        }
        Some((provenance, source)) if shelf.source(source).is_err() => {
            format!("{provenance}: {SOURCE_KEPT}")
        }
        _ => origin.to_string(),
    }
}

/// The exposure as a TOML file; none for a flux over time, which needs a file of its own.
pub fn exposure_toml(fit: &Fit) -> Option<String> {
    let mut exposure = fit.fitted_exposure.clone();
    exposure.name = format!("{}-fitted", exposure.name.trim_end_matches("-fitted"));
    exposure.source = format!("fitted to {}", sources(fit));
    // what was said of a value does not hold for the fitted one
    let boundary = &mut exposure.boundary;
    for (property, told) in [
        (Property::RadiantShare, &mut boundary.radiant_share),
        (Property::FlameTemperature, &mut boundary.temp_flame),
    ] {
        if fit.free.iter().any(|free| free.what == What::Property(property)) {
            *told = Told::default();
        }
    }
    Some(head(fit) + &exposure_write::exposure_toml(&exposure)?)
}

/// The name under which a ply's fabric stands in a file of its own; none where it is the shelf's.
fn own_name(fabric: &Fabric, ply: usize, shelf: &Shelf) -> Option<String> {
    if shelf.fabric(&fabric.name).is_ok_and(|known| known == fabric) {
        return None;
    }
    let base = fabric.name.split("-fitted-").next().unwrap_or(&fabric.name);
    Some(format!("{base}-fitted-{ply}"))
}
