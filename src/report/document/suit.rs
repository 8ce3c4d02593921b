//! The report of a suit.

use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::source::Source;
use crate::physics::units::GRAMS;
use crate::report::anchored;
use crate::report::document::body::body_block;
use crate::report::document::layup::outcome_flags;
use crate::report::document::materials::{data_flags, layup_block, materials_block};
use crate::report::document::shared::{
    Again, again_block, assumptions, begin, exposure_block, flags,
};
use crate::report::document::{Document, Drawing};
use crate::report::form::rows::grid;
use crate::report::number::Shown;
use crate::report::suit::{columns, rows, words};
use crate::report::words::list;
use crate::study::answer::stack;
use crate::study::body::record::BodyStudy;
use crate::study::suit_judged::Judged;

/// The report of a suit.
///
/// - `body`: the suit on a body with its drawing, or why it has no answer there
pub fn suit_document(
    judged: &Judged<'_>,
    (drawing, body): (Drawing, Result<(BodyStudy, Drawing), String>),
    sources: &[&Source],
    again: &Again,
) -> Document {
    let suit = &judged.study.suit;
    let question = format!(
        "What does \"{}\" weigh, which panel is its weakest, and where can grams be saved without \
         making that one weaker?",
        suit.name
    );
    let mut document = begin(&suit.name, &question, again);
    let grams = GRAMS.fixed(judged.study.mass(), 0);
    let answer = format!("The panels weigh {grams} g. {}", words::weakest(judged));
    document.front(answer, drawing, &[]);
    document.first_line(judged.study.stacks());
    document.text(&suit.note);
    document.heading("Results");
    document.table(grid(&columns::predicted(), &rows::own_rows(judged)));
    words::remarks(judged).iter().for_each(|remark| document.note(remark));
    anchored::block(&mut document, &judged.told());
    stitch_lines(&mut document, judged);
    match body {
        Ok((study, drawing)) => body_block(&mut document, &study, drawing),
        Err(why) => document.note(&format!("Not put on a body: {why}.")),
    }
    document.heading("Grams");
    document.text(&words::body(judged));
    document.table(grid(&columns::of_grams(), &columns::grams(judged)));
    savings(&mut document, judged);
    document.heading("Bill of materials");
    document.table(grid(&columns::of_items(), &columns::items(&judged.bill)));
    document.note(&words::allowance(suit));
    document.heading("Layups");
    let layups = layups(judged);
    layups
        .iter()
        .for_each(|layup| layup_block(&mut document, layup, stack(layup, judged.study.quilts)));
    document.heading("Exposures");
    let mut exposures: Vec<&Exposure> = Vec::new();
    for panel in &suit.panels {
        if !exposures.contains(&&panel.exposure) {
            exposures.push(&panel.exposure);
        }
    }
    exposures.iter().for_each(|exposure| exposure_block(&mut document, exposure));
    materials_block(&mut document, &layups, sources);
    assumptions(&mut document);
    flags(&mut document, found_flags(judged, &layups));
    again_block(&mut document, again);
    document
}

/// The different layups, as named, in the order in which panels and alternatives name them.
fn layups<'a>(judged: &'a Judged<'_>) -> Vec<&'a Layup> {
    let mut all: Vec<&Layup> = Vec::new();
    for fitted in judged.study.panels.iter().flat_map(|panel| &panel.fitted) {
        // a layup without its quilting is told of once, under the same name
        let same =
            |known: &&Layup| known.name == fitted.layup.name && known.stack == fitted.layup.stack;
        match all.iter().position(same) {
            Some(i) if all[i].quilting.is_none() => all[i] = &fitted.layup,
            Some(_) => {}
            None => all.push(&fitted.layup),
        }
    }
    all
}

fn found_flags(judged: &Judged<'_>, layups: &[&Layup]) -> Vec<String> {
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for (panel, studied) in judged.study.suit.panels.iter().zip(&judged.study.panels) {
        for flag in studied.own().outcomes.iter().flat_map(|outcome| outcome_flags(outcome, "")) {
            match told.iter_mut().find(|(known, _)| *known == flag) {
                Some((_, panels)) if panels.contains(&panel.name.as_str()) => {}
                Some((_, panels)) => panels.push(&panel.name),
                None => told.push((flag, vec![&panel.name])),
            }
        }
    }
    // what holds for several panels is said once
    let once = told.into_iter().map(|(flag, panels)| format!("{}: {flag}", list(&panels)));
    let mut found: Vec<String> = once.collect();
    let pressed = judged.study.suit.panels.iter().filter(|panel| panel.pressure.is_some()).count();
    if pressed > 0 {
        found.push(format!(
            "{pressed} panels are pressed: their thickness and conductivity are estimated."
        ));
    }
    let stacks: Vec<_> = layups.iter().map(|layup| stack(layup, judged.study.quilts)).collect();
    found.extend(data_flags(layups, &stacks));
    found
}

fn stitch_lines(document: &mut Document, judged: &Judged<'_>) {
    let rows = rows::sewn(judged);
    if rows.is_empty() {
        return;
    }
    document.heading("Stitch lines: disc and skin");
    document.text(
        "The bench's one disc averages over a cell, skin does not: where the stitch line presses the \
         plies, the wearer burns first.",
    );
    document.table(grid(&columns::of_sewn(), &rows));
    document
        .note("Skin: time of the second-degree burn. A panel with embroidery: at its weaker spot.");
}

fn savings(document: &mut Document, judged: &Judged<'_>) {
    document.heading("Where grams can be saved");
    let Some(saving) = &judged.saving else {
        return document.text("Nothing is known of any panel that could be kept.");
    };
    document.text(&words::saving(judged, saving));
    let changes = rows::changes(judged, &saving.exact);
    if !changes.is_empty() {
        document.table(grid(&columns::of_changes(), &changes));
    }
}
