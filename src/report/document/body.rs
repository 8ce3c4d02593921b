//! A suit on a body in a report.

use crate::report::body::columns::{fire_rows, fires, panel_rows, panels};
use crate::report::body::words::{self, EVIDENCE};
use crate::report::document::{Block, Document, Drawing};
use crate::report::form::rows::grid;
use crate::study::body::record::BodyStudy;

/// What share of the wearer burns: terms, shares, panels, what burns first, how exact it is, evidence.
pub fn body_block(document: &mut Document, study: &BodyStudy, drawing: Drawing) {
    document.heading("On a body");
    document.text(&format!("{} {}", words::terms(study), words::cover(study)));
    document.note(EVIDENCE);
    document.blocks.push(Block::Chart(drawing));
    document.table(grid(&fires(), &fire_rows(study)));
    document.note(words::DEGREES);
    document.text(&words::first(study));
    document.table(grid(&panels(study), &panel_rows(study)));
    document.note(&format!(
        "Panels: share with a second degree after each flame. {} {}",
        words::air(&study.map),
        words::exactness(study)
    ));
}
