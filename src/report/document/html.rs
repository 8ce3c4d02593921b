//! A document as one page.

use maud::{Markup, PreEscaped, html};

use crate::NOTICE;
use crate::report::document::{Block, Document, Grid, Set};
use crate::report::page::page;

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
            Block::Chart(drawing) => figure { (PreEscaped(&drawing.svg)) },
            Block::Command(text) => pre { (text) },
        }
    }
}

fn class(set: Set) -> Option<&'static str> {
    (set == Set::Numbers).then_some("n")
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
                    td class=[class(*set)] { (cell) }
                }
            } } }
        } }
    }
}
