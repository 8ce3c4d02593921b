//! A report to hand round: one document, as a page, as Markdown or for a terminal.
//!
//! A document is a list of blocks that knows no notation. Charts come in as SVG, drawn elsewhere.

pub mod body;
pub mod gap;
pub mod html;
pub mod layup;
pub mod markdown;
pub mod materials;
pub mod rank;
pub mod seek;
pub mod shared;
pub mod suit;
pub mod terminal;

use crate::bench::lies::Stack;
use crate::report::lies;
use crate::report::table::Align;

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Heads of the columns, with their units.
    pub heads: Vec<(String, Align)>,
    /// The rows, as long as the heads.
    pub rows: Vec<Vec<String>>,
}

impl Grid {
    /// A table without rows; a head that ends in a unit in brackets, or starts with ">", is one of numbers.
    pub fn new<S: Into<String>>(heads: impl IntoIterator<Item = S>) -> Grid {
        let head = |head: String| {
            let marked = head.strip_prefix('>');
            let is_number = marked.is_some() || head.ends_with(']');
            let align = if is_number { Align::Right } else { Align::Left };
            (marked.unwrap_or(&head).to_owned(), align)
        };
        Grid { heads: heads.into_iter().map(|own| head(own.into())).collect(), rows: Vec::new() }
    }

    /// Adds a row; missing cells are blank.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        let mut row: Vec<String> = cells.into_iter().map(Into::into).collect();
        row.resize(self.heads.len(), String::new());
        self.rows.push(row);
    }
}

/// A chart with the words for those who do not see it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The drawing as SVG, made by the program itself.
    pub svg: String,
    /// What it shows.
    pub words: String,
}

/// One block.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The answer, in a louder voice.
    Answer(String),
    /// What stands before it is the first page; the list of headings follows.
    Contents,
    /// A heading.
    Heading(String),
    /// A heading below one.
    Lesser(String),
    /// A paragraph.
    Text(String),
    /// A paragraph in a smaller voice.
    Note(String),
    /// Points.
    List(Vec<String>),
    /// A table.
    Table(Grid),
    /// A chart.
    Chart(Drawing),
    /// A command line.
    Command(String),
}

/// A report.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Its title.
    pub title: String,
    /// Its blocks, in order; the notice stands before and after them.
    pub blocks: Vec<Block>,
}

impl Document {
    /// Puts the answer first, with the chart that shows it and what has to be known to read it; the list of
    /// headings follows.
    pub fn front(&mut self, answer: String, drawing: Drawing, notes: &[String]) {
        let notes = notes.iter().cloned().map(Block::Note);
        let front = [Block::Answer(answer)].into_iter().chain(notes);
        let front = front.chain([Block::Chart(drawing), Block::Contents]);
        self.blocks.splice(0..0, front);
    }

    /// Adds a heading.
    pub fn heading(&mut self, text: &str) {
        self.blocks.push(Block::Heading(text.to_owned()));
    }

    /// Adds a paragraph; nothing for an empty one.
    pub fn text(&mut self, text: &str) {
        if !text.is_empty() {
            self.blocks.push(Block::Text(text.to_owned()));
        }
    }

    /// Says first what was left out as asked, of layups that lay so; nothing where nothing was.
    pub fn first_line<'a>(&mut self, stacks: impl IntoIterator<Item = Stack<'a>>) {
        let line = lies::first_line(stacks);
        if !line.is_empty() {
            self.blocks.insert(0, Block::Text(line.trim_end().to_owned()));
        }
    }

    /// Adds a paragraph in a smaller voice; nothing for an empty one.
    pub fn note(&mut self, text: &str) {
        if !text.is_empty() {
            self.blocks.push(Block::Note(text.to_owned()));
        }
    }

    /// Adds a table.
    pub fn table(&mut self, grid: Grid) {
        self.blocks.push(Block::Table(grid));
    }

    /// The charts, in order.
    pub fn charts(&self) -> impl Iterator<Item = &Drawing> {
        self.blocks.iter().filter_map(|block| match block {
            Block::Chart(drawing) => Some(drawing),
            _ => None,
        })
    }
}
