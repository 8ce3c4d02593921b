//! Layups against gaps in a report.

use crate::report::document::{Block, Document, Drawing};
use crate::report::form::rows::grid;
use crate::report::gap::beside::{self, of_layups, orders};
use crate::report::gap::map;
use crate::study::gap_beside::Beside;
use crate::study::gap_map::GapMap;

/// The same gap in several layups: which lasts longer where, each one's best gap, their times over it.
pub fn beside_block(document: &mut Document, both: &Beside, drawing: Drawing) {
    let sweeps = &both.sweeps;
    document.heading("The same gap in each");
    document.blocks.push(Block::List(orders(both)));
    document.table(grid(&of_layups(sweeps), &(0..sweeps.len()).collect::<Vec<usize>>()));
    document.blocks.push(Block::Chart(drawing));
    beside::opened(sweeps).iter().for_each(|line| document.note(line));
    document.note(&beside::remarks(sweeps, false));
}

/// Plies against gaps.
pub fn map_block(document: &mut Document, found: &GapMap, drawing: Drawing) {
    document.heading("Plies against gaps");
    document.blocks.push(Block::List([map::of_brief(found), map::sentences(found)].concat()));
    document.blocks.push(Block::Chart(drawing));
    let said = map::opened(found).into_iter().chain(map::left(found));
    said.for_each(|line| document.note(&line));
    document.note(&map::remarks(found));
}
