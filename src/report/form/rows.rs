//! Rows by their columns as terminal table, lines, table of a page, CSV and JSON.

use crate::bench::outcome::{Valued, When};
use crate::report::csv::{CurvesError, cell, guarded, written};
use crate::report::document::Grid;
use crate::report::form::column::{Column, Look};
use crate::report::form::value::{Digits, Object, Value};
use crate::report::number::{looked_at, with_error};
use crate::report::table::{Align, Table};
use crate::report::words::when_in_words;

/// The columns of some form with their headings there, in the order in which people read them.
fn headed<'c, 'a, R>(
    columns: &'c [Column<'a, R>],
    heading: impl Fn(&'c Look) -> Option<&'c str>,
) -> Vec<(&'c Column<'a, R>, &'c str)> {
    let headed = columns.iter().filter_map(|column| Some((column, heading(&column.look)?)));
    let mut headed: Vec<(&Column<R>, &str)> = headed.collect();
    headed.sort_by_key(|(column, _)| column.look.is_late);
    headed
}

/// The headed columns as a terminal's table: a line of headings, a line of units where there are any, the rows.
pub fn table<'r, R: 'r>(
    columns: &[Column<'_, R>],
    rows: impl IntoIterator<Item = &'r R>,
) -> String {
    let shown = headed(columns, |look| look.heading.as_deref());
    let with_sign = |column: &Column<R>, of: [String; 2]| {
        let [value, sign] = of;
        [Some(value), column.mark.is_some().then_some(sign)].into_iter().flatten()
    };
    let aligns = shown.iter().flat_map(|(column, _)| {
        [Some(column.look.align), column.mark.is_some().then_some(Align::Left)]
            .into_iter()
            .flatten()
    });
    let mut table = Table::new(&aligns.collect::<Vec<Align>>());
    let line = |of: &dyn Fn(&Column<R>, &str) -> [String; 2]| -> Vec<String> {
        shown.iter().flat_map(|(column, name)| with_sign(column, of(column, name))).collect()
    };
    table.row(line(&|_, heading| [heading.to_string(), String::new()]));
    if shown.iter().any(|(column, _)| !column.below().is_empty()) {
        table.row(line(&|column, _| [column.below().to_string(), String::new()]));
    }
    for row in rows {
        table.row(line(&|column, _| [column.words(row), column.sign(row)]));
    }
    table.render()
}

/// The headed columns of one row, each a line: heading, what stands under it, value, ± error with its unit, sign;
/// nothing of what there is not.
pub fn lines<R>(columns: &[Column<'_, R>], row: &R) -> Vec<[String; 5]> {
    let line = |(column, heading): (&Column<R>, &str)| {
        let (unit, word) = (column.seen(), str::to_string);
        let value = (column.of)(row);
        let with_sign = |value: String, error: String| [value, error, column.sign(row)];
        let [value, error, sign] = match (&column.written, &value) {
            (_, Value::Nothing) => return None,
            (Some(written), _) => with_sign(written(row), String::new()),
            (None, Value::When(When::At { t: value, error }))
            | (None, Value::Valued(Valued { value, error })) => {
                let (value, error) = with_error(unit.outside(*value), unit.apart(*error));
                with_sign(value, format!("± {error} {}", unit.unit))
            }
            (None, Value::When(When::NotWithin { t_end })) => {
                with_sign(word("not reached"), format!("within {} s", looked_at(*t_end)))
            }
            (None, Value::When(when)) => [word("?"), String::new(), when_in_words(when)],
            (None, value) => with_sign(value.text(unit, column.look.digits), word(unit.unit)),
        };
        Some([word(heading), word(column.below()), value, error, sign])
    };
    headed(columns, |look| look.heading.as_deref()).into_iter().filter_map(line).collect()
}

/// The headed columns as a table of a page, units behind the headings, signs behind their values.
pub fn grid<'r, R: 'r>(columns: &[Column<'_, R>], rows: impl IntoIterator<Item = &'r R>) -> Grid {
    let shown = headed(columns, |look| {
        look.page.as_deref().or(look.heading.as_deref()).filter(|_| look.on_page)
    });
    let head = |(column, heading): &(&Column<R>, &str)| {
        let align = column.look.align;
        match column.seen().unit {
            "" => (heading.to_string(), align),
            unit => (format!("{heading} [{unit}]"), align),
        }
    };
    let mut grid = Grid { heads: shown.iter().map(head).collect(), rows: Vec::new() };
    for row in rows {
        grid.row(shown.iter().map(|(column, _)| column.words(row) + &column.sign(row)));
    }
    grid
}

/// All rows as CSV; a column with errors is followed by theirs.
///
/// Errors: a value that is not a finite number.
pub fn csv<'r, R: 'r>(
    columns: &[Column<'_, R>],
    rows: impl IntoIterator<Item = &'r R>,
) -> Result<String, CurvesError> {
    let columns: Vec<&Column<R>> = columns.iter().filter(|column| column.look.in_csv).collect();
    let headers = columns.iter().flat_map(|column| {
        let Look { name, error_name, quantity, has_error, .. } = &column.look;
        let error = || error_name.clone().unwrap_or_else(|| format!("{name}_error"));
        let error = has_error.then(|| quantity.key(&error()));
        [Some(quantity.key(name)), error].into_iter().flatten()
    });
    let headers: Vec<String> = headers.collect();
    let mut all = Vec::new();
    for (i, row) in rows.into_iter().enumerate() {
        let mut line: Vec<String> = Vec::with_capacity(headers.len());
        for column in &columns {
            let quantity = &column.look.quantity;
            let number = |value: f64, at: usize| cell(value, i, &headers[at]);
            let at = line.len();
            let (value, error) = match (column.of)(row) {
                Value::Nothing => (String::new(), None),
                Value::Number(si) => (number(quantity.outside(si), at)?, None),
                Value::Known(known) => (number(quantity.outside(known.value), at)?, None),
                Value::Valued(Valued { value, error })
                | Value::When(When::At { t: value, error }) => {
                    let error = number(quantity.apart(error), at + 1)?;
                    (number(quantity.outside(value), at)?, Some(error))
                }
                Value::When(_) => (String::new(), None),
                value => (guarded(value.text(quantity, Digits::Significant(7))), None),
            };
            line.push(value);
            line.extend(column.look.has_error.then(|| error.unwrap_or_default()));
        }
        all.push(line);
    }
    written(&headers, all)
}

/// Each row as a record of JSON.
pub fn objects<'r, R: 'r>(
    columns: &[Column<'_, R>],
    rows: impl IntoIterator<Item = &'r R>,
) -> Vec<Object> {
    rows.into_iter().map(|row| object(columns, row)).collect()
}

/// A row as a record of JSON.
pub fn object<R>(columns: &[Column<'_, R>], row: &R) -> Object {
    columns.iter().filter(|column| column.look.in_json).fold(Object::new(), |object, column| {
        let name = column.look.json_name.as_deref().unwrap_or(&column.look.name);
        let value = (column.of)(row);
        match column.look.or_null {
            true => object.or_null(name, column.look.quantity, value),
            false => object.with_unit(name, column.look.quantity, value),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::{Column, csv, objects, table};
    use crate::bench::outcome::When;
    use crate::physics::units::{BARE, KILOPASCALS, SECONDS};
    use crate::report::form::value::Digits;

    /// Pressure [Pa] and a time.
    struct Row(Option<f64>, When);

    fn columns() -> Vec<Column<'static, Row>> {
        vec![
            Column::new("pressure", KILOPASCALS, |row: &Row| row.0)
                .headed("pressed")
                .digits(Digits::Short(2)),
            Column::text("", BARE, |row: &Row| if row.0.is_some() { "*" } else { "" }.to_string()),
            Column::new("HTI24", SECONDS, |row: &Row| row.1).named_in_json("rise").headed("HTI24"),
        ]
    }

    fn rows() -> [Row; 2] {
        [
            Row(Some(2500.0), When::At { t: 10.0, error: 0.1 }),
            Row(None, When::NotWithin { t_end: 60.0 }),
        ]
    }

    #[test]
    fn one_description_gives_every_form_its_units_and_errors() {
        let (columns, rows) = (columns(), rows());
        let text = table(&columns, &rows);
        let lines: Vec<Vec<&str>> =
            text.lines().map(|line| line.split_whitespace().collect()).collect();
        assert_eq!(lines[0], ["pressed", "HTI24"]);
        assert_eq!(lines[1], ["kPa", "s"]);
        assert_eq!(lines[2], ["2.5", "*", "10.00", "±", "0.10"]);
        assert_eq!(lines[3], ["–", "over", "60"]);
        let csv = csv(&columns, &rows).unwrap();
        let lines: Vec<&str> = csv.lines().collect();
        assert!(lines[0].starts_with("pressure_kPa,HTI24_s,HTI24_error_s,"), "{csv}");
        assert_eq!(lines[1..], ["2.5,10,0.1,", ",,,"]);
        let json = serde_json::to_string(&objects(&columns, &rows)).unwrap();
        let expected = r#"[{"pressure_kPa":2.5,"rise_s":{"state":"reached","value":10.0,"error":0.1}},{"rise_s":{"state":"not_reached","within":60.0}}]"#;
        assert_eq!(json, expected);
    }

    #[test]
    fn what_is_no_number_is_refused_in_every_file() {
        let bad = [Row(Some(f64::NAN), When::Unsettled { t: 3.0 })];
        assert!(csv(&columns(), &bad).is_err());
        assert!(serde_json::to_string(&objects(&columns(), &bad)).is_err());
    }

    #[test]
    fn a_part_of_a_row_has_the_same_columns() {
        let whole = [(1, Row(Some(1e3), When::Unsettled { t: 3.0 }))];
        let of_part = |column: Column<'static, Row>| column.of_part(|pair: &(i32, Row)| &pair.1);
        let all: Vec<Column<(i32, Row)>> =
            columns().into_iter().map(|column| column.not_in_json()).map(of_part).collect();
        assert_eq!(csv(&all, &whole).unwrap().lines().nth(1), Some("1,,,"));
        assert_eq!(serde_json::to_string(&objects(&all, &whole)).unwrap(), "[{}]");
    }
}
