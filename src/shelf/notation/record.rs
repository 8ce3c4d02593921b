//! Keys and values of a file, whatever its notation, each with its place.

use std::ops::Range;
use std::sync::Arc;

use crate::shelf::fault::Place;
use crate::shelf::file::text::{Form, Text};

/// A value as written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    /// Nothing between two commas.
    Blank,
    /// Text; every filled cell of a CSV file.
    Word(String),
    /// A number of a TOML file, as written.
    Number(String),
    /// A list of tables.
    Tables(Vec<Record>),
    /// One table.
    Table(Record),
    /// A list of plain values.
    List(Vec<Cell>),
    /// Something that no key takes, in words ("a date").
    Other(&'static str),
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Cell {
    pub key: String,
    pub value: Value,
    pub text: Arc<Text>,
    pub key_span: Range<usize>,
    pub span: Range<usize>,
}

impl Cell {
    /// The place of the value.
    pub fn place(&self) -> Place {
        self.text.place(self.span.clone(), self.label())
    }

    /// The place of the key.
    pub fn key_place(&self) -> Place {
        self.text.place(self.key_span.clone(), "")
    }

    fn label(&self) -> String {
        match self.text.form {
            Form::Csv => format!("column {}", self.key),
            Form::Toml => format!("key {}", self.key),
            Form::Line => String::new(),
        }
    }
}

/// A row of a CSV file or a table of a TOML file.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Record {
    pub cells: Vec<Cell>,
    pub text: Arc<Text>,
    /// Where the record begins.
    pub span: Range<usize>,
}

impl Record {
    /// The cell of `key`, unless it is not there or blank.
    pub fn get(&self, key: &str) -> Option<&Cell> {
        self.cells.iter().find(|cell| cell.key == key && cell.value != Value::Blank)
    }

    /// The text of `key`; empty when there is none.
    pub fn word(&self, key: &str) -> &str {
        match self.get(key).map(|cell| &cell.value) {
            Some(Value::Word(word)) => word,
            _ => "",
        }
    }

    /// The tables under `key`; none when there are none.
    pub fn tables(&self, key: &str) -> &[Record] {
        match self.get(key).map(|cell| &cell.value) {
            Some(Value::Tables(tables)) => tables,
            _ => &[],
        }
    }

    /// Where the record begins.
    pub fn place(&self) -> Place {
        self.text.place(self.span.clone(), "")
    }

    /// The place of `key`'s value, or of the record where the key is not there.
    pub fn place_of(&self, key: &str) -> Place {
        self.cells.iter().find(|cell| cell.key == key).map_or_else(|| self.place(), Cell::place)
    }
}
