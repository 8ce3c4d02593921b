//! Readers of the tables in `tests/reference`.

use std::collections::HashMap;
use std::path::PathBuf;

/// One row of a table, by column name.
pub struct Row {
    cells: HashMap<String, String>,
}

impl Row {
    /// The text of a cell.
    #[track_caller]
    pub fn text(&self, column: &str) -> &str {
        self.cells.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The number in a cell; fails on anything else.
    #[track_caller]
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("`{text}` in column {column} is no number"))
    }

    /// Both ends of a cell such as `0.30 to 0.38`; a single number is both.
    #[track_caller]
    pub fn ends(&self, column: &str) -> (f64, f64) {
        let text = self.text(column);
        let (from, to) = text.split_once(" to ").unwrap_or((text, text));
        let read = |part: &str| part.parse().unwrap_or_else(|_| panic!("`{text}` in {column}"));
        (read(from), read(to))
    }
}

/// Where a reference file lies.
pub fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name)
}

/// All rows of a table.
pub fn rows(name: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path(name))
        .unwrap_or_else(|error| panic!("{name}: {error}"));
    let columns = reader.headers().expect("headers").clone();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| record.unwrap_or_else(|error| panic!("{name}: {error}")))
        .map(|record| Row {
            cells: columns.iter().map(String::from).zip(record.iter().map(String::from)).collect(),
        })
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// One row of `worked_examples.csv`.
pub struct Example {
    /// Its id.
    pub id: String,
    /// Expected values in the order of the quantity column.
    pub expected: Vec<f64>,
    /// Tolerance, absolute unless the row's note says relative.
    pub tolerance: f64,
    inputs: String,
}

impl Example {
    /// An input such as `T1=900` or `Ti=20 C`, in the unit it is printed in.
    #[track_caller]
    pub fn input(&self, name: &str) -> f64 {
        let mut all = self.inputs.split(';').filter_map(|part| part.trim().split_once('='));
        let (_, value) = all.find(|(key, _)| *key == name).expect(name);
        let number = value.split(' ').next().unwrap_or(value);
        number.parse().unwrap_or_else(|_| panic!("`{value}` of {} is no number", self.id))
    }
}

/// The worked examples whose id begins with `start`; there must be some.
#[track_caller]
pub fn examples(start: &str) -> Vec<Example> {
    let found: Vec<Example> = rows("worked_examples.csv")
        .iter()
        .filter(|row| row.text("id").starts_with(start))
        .map(|row| Example {
            id: row.text("id").into(),
            expected: row.text("expected").split(';').map(|v| v.parse().expect("number")).collect(),
            tolerance: row.number("abs_tolerance"),
            inputs: row.text("inputs").into(),
        })
        .collect();
    assert!(!found.is_empty(), "no worked example begins with {start}");
    found
}

/// The one worked example of an id.
#[track_caller]
pub fn example(id: &str) -> Example {
    examples(id).into_iter().find(|example| example.id == id).expect(id)
}
