//! The reference tables, built into the program from `tests/reference`.

/// Every table that a case reads: its file name and its text.
pub const TABLES: [(&str, &str); 16] = [
    ("air_coolprop.csv", include_str!("../../../tests/reference/air_coolprop.csv")),
    ("burnt_propane.csv", include_str!("../../../tests/reference/burnt_propane.csv")),
    ("chamber_75C.csv", include_str!("../../../tests/reference/chamber_75C.csv")),
    ("gap_ht.csv", include_str!("../../../tests/reference/gap_ht.csv")),
    ("henriques.csv", include_str!("../../../tests/reference/henriques.csv")),
    ("measured.csv", include_str!("../../../tests/reference/measured.csv")),
    ("measured_bench.csv", include_str!("../../../tests/reference/measured_bench.csv")),
    ("moving_vapour.csv", include_str!("../../../tests/reference/moving_vapour.csv")),
    (
        "semi_infinite_convection.csv",
        include_str!("../../../tests/reference/semi_infinite_convection.csv"),
    ),
    ("skin_validation.csv", include_str!("../../../tests/reference/skin_validation.csv")),
    ("slab_and_disc.csv", include_str!("../../../tests/reference/slab_and_disc.csv")),
    ("stoll.csv", include_str!("../../../tests/reference/stoll.csv")),
    ("two_layer_wall.csv", include_str!("../../../tests/reference/two_layer_wall.csv")),
    ("vapour_coolprop.csv", include_str!("../../../tests/reference/vapour_coolprop.csv")),
    ("water_coolprop.csv", include_str!("../../../tests/reference/water_coolprop.csv")),
    ("worked_examples.csv", include_str!("../../../tests/reference/worked_examples.csv")),
];

/// One row of a table, by column name.
#[derive(Debug, Clone, PartialEq)]
pub struct Row(Vec<(String, String)>);

impl Row {
    /// The text of a cell; empty where there is no such column.
    pub fn text(&self, column: &str) -> &str {
        self.0.iter().find(|(name, _)| name == column).map_or("", |(_, cell)| cell)
    }

    /// The number in a cell; NaN, which no bound keeps, where there is none.
    pub fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or(f64::NAN)
    }

    /// The numbers of a cell that holds a list with `;`, as in `expected` of the worked examples.
    pub fn numbers(&self, column: &str) -> Vec<f64> {
        self.text(column).split(';').map(|part| part.parse().unwrap_or(f64::NAN)).collect()
    }

    /// An input such as `T1=900` or `Ti=20 C` of a worked example, in the unit it is printed in; NaN if it is not there.
    pub fn input(&self, name: &str) -> f64 {
        let all = self.text("inputs").split(';').filter_map(|part| part.trim().split_once('='));
        let value = all.into_iter().find(|(key, _)| *key == name).map_or("", |(_, value)| value);
        value.split(' ').next().unwrap_or("").parse().unwrap_or(f64::NAN)
    }
}

/// All rows of a table; none if there is no such table.
pub fn rows(name: &str) -> Vec<Row> {
    let text = TABLES.iter().find(|(known, _)| *known == name).map_or("", |(_, text)| text);
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let columns: Vec<String> =
        reader.headers().map(|head| head.iter().map(String::from).collect()).unwrap_or_default();
    let cells = |record: csv::StringRecord| {
        Row(columns.iter().cloned().zip(record.iter().map(String::from)).collect())
    };
    reader.records().filter_map(Result::ok).map(cells).collect()
}

/// The worked examples whose id begins with `start`.
pub fn examples(start: &str) -> Vec<Row> {
    let all = rows("worked_examples.csv").into_iter();
    all.filter(|row| row.text("id").starts_with(start)).collect()
}

#[cfg(test)]
mod tests {
    use super::{TABLES, examples, rows};

    #[test]
    fn every_table_has_rows_of_the_header_s_length() {
        for (name, text) in TABLES {
            let lines = text.lines().filter(|line| !line.starts_with('#')).count();
            assert_eq!(rows(name).len(), lines - 1, "{name}");
        }
    }

    #[test]
    fn what_is_not_there_is_no_number() {
        let row = &examples("iso9151_slope")[0];
        assert_eq!(row.input("cp"), 385.0);
        assert_eq!(row.numbers("expected"), [14.507]);
        assert!(row.input("nothing").is_nan() && row.number("nothing").is_nan());
        assert!(row.number("source").is_nan());
        assert!(rows("nothing.csv").is_empty());
    }
}
