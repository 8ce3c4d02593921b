//! A document as Markdown; its charts are files beside it.

use crate::NOTICE;
use crate::report::document::{Block, Document, Grid};
use crate::report::table::Align;

/// The document; the n-th chart, from 1, is looked for under `STEM-n.svg`.
pub fn document_markdown(document: &Document, stem: &str) -> String {
    let mut out = format!("# {}\n\n> {NOTICE}\n", plain(&document.title));
    let mut n_charts = 0;
    for block in document.blocks.iter().filter(|block| **block != Block::Contents) {
        out.push('\n');
        match block {
            Block::Heading(text) => out.push_str(&format!("## {}\n", plain(text))),
            Block::Lesser(text) => out.push_str(&format!("### {}\n", plain(text))),
            Block::Answer(text) => out.push_str(&format!("**{}**\n", plain(text))),
            Block::Contents => {}
            Block::Text(text) => out.push_str(&format!("{}\n", plain(text))),
            Block::Note(text) => out.push_str(&format!("_{}_\n", plain(text))),
            Block::List(items) => {
                items.iter().for_each(|item| out.push_str(&format!("- {}\n", plain(item))));
            }
            Block::Table(grid) => out.push_str(&table(grid)),
            Block::Chart(drawing) => {
                n_charts += 1;
                let words = plain(&drawing.words);
                out.push_str(&format!("![{words}]({}.svg)\n", chart_name(stem, n_charts)));
            }
            Block::Command(text) => out.push_str(&format!("```console\n{text}\n```\n")),
        }
    }
    out.push_str(&format!("\n> {NOTICE}\n"));
    out
}

/// Name of the n-th chart's file without its ending.
pub fn chart_name(stem: &str, n: usize) -> String {
    format!("{stem}-{n}")
}

/// The text with marks of the notation made harmless.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if "\\`*_[]<>|#".contains(letter) {
            out.push('\\');
        }
        out.push(letter);
    }
    out
}

fn table(grid: &Grid) -> String {
    let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let mut out = line(grid.heads.iter().map(|(head, _)| plain(head)).collect());
    let rule = |align: &Align| if *align == Align::Right { "---:" } else { "---" }.to_owned();
    out.push_str(&line(grid.heads.iter().map(|(_, set)| rule(set)).collect()));
    for row in &grid.rows {
        out.push_str(&line(row.iter().map(|cell| plain(cell)).collect()));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn marks_of_the_notation_are_made_harmless() {
        assert_eq!(plain("a|b_c*"), "a\\|b\\_c\\*");
        assert_eq!(plain("HTI24 ≥ 12 s"), "HTI24 ≥ 12 s");
    }
}
