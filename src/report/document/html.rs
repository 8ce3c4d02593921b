//! A document as one page.

use maud::{Markup, PreEscaped, html};

use crate::NOTICE;
use crate::report::document::{Block, Document, Grid};
use crate::report::page::page;
use crate::report::table::Align;

/// Height over width above which a drawing is tall.
const TALL: f64 = 0.9;
/// Longest name that stays on one line.
const NAME_MOST: usize = 28;

/// The whole page.
pub fn document_html(document: &Document) -> String {
    let blocks = &document.blocks;
    let front = blocks.iter().position(|block| *block == Block::Contents).unwrap_or(0);
    let (first_page, rest) = blocks.split_at(front);
    let mut n_headings = 0;
    let body = html! {
        main {
            section class=[(front > 0).then_some("front")] {
                h1 { (document.title) }
                p.notice { (NOTICE) }
                @for part in first_page { (block(part, &mut n_headings)) }
            }
            @if front > 0 { (contents(rest)) }
            @for part in rest { (block(part, &mut n_headings)) }
            p.notice { (NOTICE) }
        }
    };
    page(&format!("stillair: {}", document.title), &body)
}

/// The headings, each a link to its place.
fn contents(blocks: &[Block]) -> Markup {
    let headings = blocks.iter().filter_map(|block| match block {
        Block::Heading(text) => Some(text),
        _ => None,
    });
    html! {
        nav aria-label="Contents" { ol {
            @for (i, text) in headings.enumerate() { li { a href=(format!("#part-{}", i + 1)) { (text) } } }
        } }
    }
}

fn block(block: &Block, n_headings: &mut usize) -> Markup {
    if matches!(block, Block::Heading(_)) {
        *n_headings += 1;
    }
    html! {
        @match block {
            Block::Answer(text) => p.answer { (text) },
            Block::Contents => {},
            Block::Heading(text) => h2 id=(format!("part-{n_headings}")) { (text) },
            Block::Lesser(text) => h3 { (text) },
            Block::Text(text) => p { (text) },
            Block::Note(text) => p.note { (text) },
            Block::List(items) => ul { @for item in items { li { (item) } } },
            Block::Table(grid) => (table(grid)),
            Block::Chart(drawing) => figure class=[is_tall(&drawing.svg).then_some("tall")] {
                (PreEscaped(&drawing.svg))
            },
            Block::Command(text) => pre { (text) },
        }
    }
}

/// Whether a drawing is about as high as wide or higher, and may have a page of its own.
fn is_tall(svg: &str) -> bool {
    let number = |key: &str| {
        let rest = svg.split_once(&format!(" {key}=\""))?.1;
        rest.split('"').next()?.parse::<f64>().ok()
    };
    let ratio = number("height").zip(number("width")).map(|(height, width)| height / width);
    ratio.is_some_and(|ratio| ratio > TALL)
}

fn class(align: Align) -> Option<&'static str> {
    (align == Align::Right).then_some("n")
}

/// A name is not broken at its hyphens.
fn name_class(cell: &str) -> Option<&'static str> {
    let is_name = cell.contains('-') && !cell.contains(' ') && cell.len() <= NAME_MOST;
    is_name.then_some("name")
}

/// A table, which scrolls where it is wider than the page.
pub fn table(grid: &Grid) -> Markup {
    let is_hash = grid.heads.last().is_some_and(|(head, _)| head == "SHA-256");
    html! {
        div class=(if is_hash { "wide hash" } else { "wide" }) { table {
            thead { tr { @for (head, align) in &grid.heads {
                th scope="col" class=[class(*align)] { (head) }
            } } }
            tbody { @for row in &grid.rows { tr {
                @for (cell, (_, align)) in row.iter().zip(&grid.heads) {
                    td class=[class(*align).or(name_class(cell))] { (cell) }
                }
            } } }
        } }
    }
}
