//! What is written: keys with their values in the order in which a person reads them, as TOML or as rows.

use serde::{Serialize, Serializer};

use crate::garment::known::Known;
use crate::physics::units::{PERCENT, Quantity};

/// What stands behind a key.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub(crate) enum Entry {
    Whole(i64),
    Number(f64),
    Word(String),
    List(Vec<Entry>),
    Table(Table),
    Tables(Vec<Table>),
}

/// Keys and what stands behind them, in their order.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Table(Vec<(String, Entry)>);

impl Serialize for Table {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(key, entry)| (key, entry)))
    }
}

impl Table {
    /// Puts an entry behind those that are there.
    pub fn put(&mut self, key: impl Into<String>, entry: Entry) {
        self.0.push((key.into(), entry));
    }

    /// A text.
    pub fn word(&mut self, key: &str, word: impl Into<String>) {
        self.put(key, Entry::Word(word.into()));
    }

    /// A value in SI under the name with its unit, to seven digits.
    pub fn number(&mut self, name: &str, quantity: Quantity, si: f64) {
        self.put(quantity.key(name), number(quantity.outside(si)));
    }

    /// A value with where it comes from.
    pub fn known(&mut self, name: &str, quantity: Quantity, known: &Known) {
        self.number(name, quantity, known.value);
        self.word(&format!("{name}_from"), from(known));
        self.tolerance(name, known.tolerance);
    }

    /// What is said of how far a value may be off.
    pub fn tolerance(&mut self, name: &str, tolerance: Option<f64>) {
        if let Some(share) = tolerance {
            self.number(&format!("{name}_tolerance"), PERCENT, share);
        }
    }

    /// The same with other words for where its values come from.
    pub fn with_origins(mut self, cited: impl Fn(&str) -> String) -> Table {
        for (_, entry) in self.0.iter_mut().filter(|(key, _)| key.ends_with("_from")) {
            if let Entry::Word(origin) = entry {
                *origin = cited(origin);
            }
        }
        self
    }

    /// The text of a TOML file.
    pub fn toml(&self) -> String {
        toml::to_string(self).expect("words, numbers, lists and tables of them are TOML")
    }
}

/// Tables of like keys as rows below one header, each key of any of them a column.
pub(crate) fn rows(tables: &[Table]) -> String {
    let mut header: Vec<&str> = Vec::new();
    for (key, _) in tables.iter().flat_map(|table| &table.0) {
        if !header.contains(&key.as_str()) {
            header.push(key);
        }
    }
    let of = |table: &Table, key: &str| {
        let entry = table.0.iter().find(|(known, _)| known == key).map(|(_, entry)| entry);
        entry.map_or(String::new(), cell)
    };
    let of_table = |table| header.iter().map(|key| of(table, key)).collect();
    let all: Vec<Vec<String>> = tables.iter().map(of_table).collect();
    csv_text(&header, &all)
}

/// A header and rows of as many cells as CSV text.
pub(crate) fn csv_text(header: &[&str], rows: &[Vec<String>]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = writer.write_record(header);
    let written = written.and_then(|()| rows.iter().try_for_each(|row| writer.write_record(row)));
    written.expect("memory takes what is written, and rows are as long as their header");
    let bytes = writer.into_inner().expect("memory takes what is written");
    String::from_utf8(bytes).expect("cells are text")
}

fn cell(entry: &Entry) -> String {
    match entry {
        Entry::Whole(value) => value.to_string(),
        Entry::Number(value) => value.to_string(),
        Entry::Word(word) => word.clone(),
        // no row holds a list or a table
        Entry::List(_) | Entry::Table(_) | Entry::Tables(_) => String::new(),
    }
}

/// Provenance and source as files have them.
pub(crate) fn from<T>(known: &Known<T>) -> String {
    match &*known.source {
        "" => known.provenance.word().to_string(),
        source => format!("{}: {source}", known.provenance.word()),
    }
}

/// A number to seven digits; a whole one without a point.
pub(crate) fn number(value: f64) -> Entry {
    let value = rounded(value);
    match value.fract() == 0.0 && value.abs() < 1e15 {
        true => Entry::Whole(value as i64),
        false => Entry::Number(value),
    }
}

/// A number to seven digits.
pub(crate) fn rounded(value: f64) -> f64 {
    format!("{value:.6e}").parse().unwrap_or(value)
}
