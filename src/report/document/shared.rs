//! Blocks that every report has: question, exposure, assumptions, how it can be made again.

use crate::garment::exposure::Exposure;
use crate::report::document::{Block, Document, Grid};
use crate::report::exposure;

/// A file that a report rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Input {
    /// The file, as named.
    pub path: String,
    /// SHA-256 of its text with plain line ends, in hexadecimal.
    pub sha256: String,
}

/// What is needed to make a report again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Again {
    /// The command.
    pub command: String,
    /// The files.
    pub inputs: Vec<Input>,
    /// The day, as the user gave it; none by itself.
    pub date: Option<String>,
    /// What the user wants to know; the kind's own question if none.
    pub question: Option<String>,
}

/// A report with its question.
pub fn begin(title: &str, question: &str, again: &Again) -> Document {
    let mut document = Document { title: title.to_owned(), blocks: Vec::new() };
    if let Some(date) = &again.date {
        document.note(date);
    }
    document.heading("Question");
    document.text(again.question.as_deref().unwrap_or(question));
    document
}

/// An exposure: its name, method, words and numbers.
pub fn exposure_block(document: &mut Document, given: &Exposure) {
    document.blocks.push(Block::Lesser(exposure::title(given)));
    document.text(&given.description);
    document.text(&exposure::sentence(given));
    if !given.source.is_empty() {
        document.note(&format!("Source: {}", given.source));
    }
}

/// What the model assumes, whatever it is asked.
pub fn assumptions(document: &mut Document) {
    document.heading("Assumptions");
    document.blocks.push(Block::List(
        [
            "Heat flows in one dimension, through flat plies and gaps; seams, zips, cuffs, folds \
             and edges are not modelled.",
            "Radiation is absorbed in the depth of the outer ply; plies further in are opaque \
             unless their data say otherwise.",
            "Water in the plies evaporates, moves as vapour and condenses; fibres whose kinetics are known char.",
            "Nothing shrinks, ignites, melts or opens: each ply's limit is watched, and figures after it \
             are marked †.",
            "Air in gaps moves by published correlations for horizontal and vertical layers, or \
             stands still; faces that touch keep thin still air, its depth estimated without a source.",
            "± is the numerical error alone; data and model weigh more.",
        ]
        .map(str::to_owned)
        .to_vec(),
    ));
    document.text(
        "Above and below a target are called by how far measured layers of the class lay from the \
         prediction, and on which side; the numerical error counts against either call.",
    );
}

/// What lies outside the model's validity, or is known badly; says so when there is nothing.
pub fn flags(document: &mut Document, flags: Vec<String>) {
    document.heading("Validity flags");
    if flags.is_empty() {
        document.text("None: every figure lies within the model's validity.");
    } else {
        document.blocks.push(Block::List(flags));
    }
}

/// Version, command, inputs.
pub fn again_block(document: &mut Document, again: &Again) {
    document.heading("To make this report again");
    document.text(&format!("stillair {}, with this command:", env!("CARGO_PKG_VERSION")));
    document.blocks.push(Block::Command(again.command.clone()));
    document.text("Inputs, each with the SHA-256 of its text with plain line ends:");
    let mut grid = Grid::new(["input", "SHA-256"]);
    for input in &again.inputs {
        grid.row([input.path.clone(), input.sha256.clone()]);
    }
    document.table(grid);
}
