//! A document as one page.

use maud::{Markup, PreEscaped, html};

use crate::NOTICE;
use crate::report::document::{Block, Document, Grid, Set};
use crate::report::page::page;

/// Height over width above which a drawing is tall.
const TALL: f64 = 0.9;
/// Longest name that stays on one line.
const NAME_MOST: usize = 28;

/// The whole page.
pub fn document_html(document: &Document) -> String {
    let body = html! {
        main {
            h1 { (document.title) }
            p.notice { (NOTICE) }
            @for part in &document.blocks { (block(part)) }
            p.notice { (NOTICE) }
        }
    };
    page(&format!("stillair: {}", document.title), &body)
}

fn block(block: &Block) -> Markup {
    html! {
        @match block {
            Block::Heading(text) => h2 { (text) },
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

fn class(set: Set) -> Option<&'static str> {
    (set == Set::Numbers).then_some("n")
}

/// A name is not broken at its hyphens.
fn name_class(cell: &str) -> Option<&'static str> {
    let is_name = cell.contains('-') && !cell.contains(' ') && cell.len() <= NAME_MOST;
    is_name.then_some("name")
}

fn table(grid: &Grid) -> Markup {
    let is_hash = grid.heads.last().is_some_and(|(head, _)| head == "SHA-256");
    html! {
        div class=(if is_hash { "wide hash" } else { "wide" }) { table {
            thead { tr { @for (head, set) in &grid.heads {
                th scope="col" class=[class(*set)] { (head) }
            } } }
            tbody { @for row in &grid.rows { tr {
                @for (cell, (_, set)) in row.iter().zip(&grid.heads) {
                    td class=[class(*set).or(name_class(cell))] { (cell) }
                }
            } } }
        } }
    }
}
