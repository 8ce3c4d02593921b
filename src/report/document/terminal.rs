//! A document for a terminal, within its width.

use crate::report::document::{Block, Document, Grid};
use crate::report::table::{Align, Table, hanging, paragraph, width, wrap};
use crate::report::text::{closed, heading, notice};

/// The document; charts are told by their words alone, which is all that a terminal shows.
pub fn document_text(document: &Document) -> String {
    let mut out = format!("{}\n{}", heading(&document.title), notice());
    let mut before: Option<&Block> = None;
    for block in document.blocks.iter().filter(|block| **block != Block::Contents) {
        // a paragraph follows its heading closely; everything else stands apart
        if !matches!(before, Some(Block::Heading(_) | Block::Lesser(_))) {
            out.push('\n');
        }
        out.push_str(&match block {
            Block::Heading(text) | Block::Lesser(text) => heading(text),
            Block::Contents => String::new(),
            Block::Answer(text) | Block::Text(text) | Block::Note(text) => paragraph(text, 2),
            Block::List(items) => items.iter().map(|item| hanging("- ", item, 2)).collect(),
            Block::Table(grid) => table(grid),
            Block::Chart(drawing) => hanging("Chart: ", &drawing.words, 2),
            Block::Command(text) => format!("  {text}\n"),
        });
        before = Some(block);
    }
    closed(out)
}

/// The heads, then the rows, within the width of a terminal; heads take several lines where they make it
/// too wide.
pub fn table(grid: &Grid) -> String {
    let aligns: Vec<Align> = grid.heads.iter().map(|(_, align)| *align).collect();
    let with = |heads: Vec<Vec<String>>| {
        let mut table = Table::new(&aligns);
        heads.into_iter().for_each(|line| table.row(line));
        grid.rows.iter().for_each(|row| table.row(row.iter().map(String::as_str)));
        table
    };
    let plain = with(vec![grid.heads.iter().map(|(head, _)| head.clone()).collect()]);
    if plain.fits() { plain.render() } else { with(wrapped_heads(grid)).render() }
}

/// The heads on several lines, no wider than their column's cells where their words are not; they end on the
/// last one.
fn wrapped_heads(grid: &Grid) -> Vec<Vec<String>> {
    let lines = |(j, (head, _)): (usize, &(String, Align))| {
        let cells = grid.rows.iter().map(|row| width(&row[j]));
        wrap(head, head.split(' ').map(width).chain(cells).max().unwrap_or(0))
    };
    let heads: Vec<Vec<String>> = grid.heads.iter().enumerate().map(lines).collect();
    let n = heads.iter().map(Vec::len).max().unwrap_or(0);
    let line = |k: usize| {
        let part = |head: &Vec<String>| (k + head.len()).checked_sub(n).map(|k| head[k].clone());
        heads.iter().map(|head| part(head).unwrap_or_default()).collect()
    };
    (0..n).map(line).collect()
}
