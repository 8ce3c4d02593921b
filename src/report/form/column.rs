//! Columns of a record, and its rows as terminal table, table of a page, CSV and JSON.

use crate::bench::outcome::{Valued, When};
use crate::physics::units::{BARE, Quantity};
use crate::report::csv::{CurvesError, cell, guarded, written};
use crate::report::document::{Grid, Set};
use crate::report::form::value::{Digits, Held, Object, Value};
use crate::report::number::{looked_at, with_error};
use crate::report::table::{Align, Table};
use crate::report::words::when_in_words;

/// Finds something in a row.
type Of<'a, R, T> = Box<dyn Fn(&R) -> T + 'a>;

/// What a column is called in each form, its unit, and which forms it stands in.
struct Look {
    /// Name without unit, as headers of CSV have it.
    name: String,
    /// The key's name in JSON, where it is another than the header's.
    json_name: Option<String>,
    quantity: Quantity,
    digits: Digits,
    /// Heading in text; a column without one is not in text.
    heading: Option<String>,
    /// Name of its error's column in CSV, where it is another than the name with `_error` behind it.
    error_name: Option<String>,
    /// What stands under the heading instead of the unit.
    under: Option<String>,
    /// Heading on a page, where it is another than the text's or the text has none.
    page: Option<String>,
    /// Unit in text and on a page, where it is another than that of files.
    shown: Option<Quantity>,
    /// Whether it stands behind all others in text and on a page.
    is_late: bool,
    align: Align,
    has_error: bool,
    in_csv: bool,
    in_json: bool,
    /// Whether it is on a page, if it is in text.
    on_page: bool,
    /// Whether nothing is `null` in JSON, instead of left out.
    or_null: bool,
    /// Whether nothing is blank in text, instead of "–".
    or_blank: bool,
}

/// One column of rows of type `R`: how it looks, and where its value is found.
pub struct Column<'a, R> {
    look: Look,
    of: Of<'a, R, Value>,
    /// What text says of it instead of the value.
    written: Option<Of<'a, R, String>>,
    /// A sign beside it in text.
    mark: Option<Of<'a, R, String>>,
}

impl<'a, R> Column<'a, R> {
    /// A column of CSV and JSON.
    ///
    /// - `name`: without unit, which is added to header and key
    pub fn new<H: Held>(
        name: impl Into<String>,
        quantity: Quantity,
        of: impl Fn(&R) -> H + 'a,
    ) -> Column<'a, R> {
        let look = Look {
            name: name.into(),
            json_name: None,
            quantity,
            digits: Digits::Significant(3),
            heading: None,
            error_name: None,
            under: None,
            page: None,
            shown: None,
            is_late: false,
            align: if H::IS_NUMBER { Align::Right } else { Align::Left },
            has_error: H::HAS_ERROR,
            in_csv: true,
            in_json: true,
            on_page: true,
            or_null: false,
            or_blank: false,
        };
        Column { look, of: Box::new(move |row| of(row).value()), written: None, mark: None }
    }

    /// A column of text alone: a mark, or what is worked out for people to read.
    ///
    /// - `quantity`: whose unit stands under the heading
    pub fn text(
        heading: &str,
        quantity: Quantity,
        of: impl Fn(&R) -> String + 'a,
    ) -> Column<'a, R> {
        let align = if quantity == BARE { Align::Left } else { Align::Right };
        let column = Column::new("", quantity, of).headed(heading);
        Column { look: Look { in_csv: false, in_json: false, align, ..column.look }, ..column }
    }

    /// The same column in text, too, under this heading and the quantity's unit.
    pub fn headed(mut self, heading: impl Into<String>) -> Column<'a, R> {
        self.look.heading = Some(heading.into());
        self
    }

    /// Text has this under the heading instead of the unit.
    pub fn under(mut self, under: impl Into<String>) -> Column<'a, R> {
        self.look.under = Some(under.into());
        self
    }

    /// How its numbers are printed in text; three significant digits otherwise.
    pub fn digits(mut self, digits: Digits) -> Column<'a, R> {
        self.look.digits = digits;
        self
    }

    /// Under another name in JSON.
    pub fn named_in_json(mut self, name: &str) -> Column<'a, R> {
        self.look.json_name = Some(name.to_string());
        self
    }

    /// With its error under another name in CSV.
    pub fn with_error_named(mut self, name: impl Into<String>) -> Column<'a, R> {
        self.look.error_name = Some(name.into());
        self
    }

    /// In CSV, and text if it is headed, but not in JSON.
    pub fn not_in_json(mut self) -> Column<'a, R> {
        self.look.in_json = false;
        self
    }

    /// In JSON, and text if it is headed, but not in CSV.
    pub fn not_in_csv(mut self) -> Column<'a, R> {
        self.look.in_csv = false;
        self
    }

    /// `null` in JSON where there is nothing.
    pub fn or_null(mut self) -> Column<'a, R> {
        self.look.or_null = true;
        self
    }

    /// Set to the right.
    pub fn right(mut self) -> Column<'a, R> {
        self.look.align = Align::Right;
        self
    }

    /// Under another heading on a page, which has more room.
    pub fn on_page(mut self, heading: impl Into<String>) -> Column<'a, R> {
        self.look.page = Some(heading.into());
        self
    }

    /// In another unit in text and on a page than in files.
    pub fn shown_in(mut self, quantity: Quantity) -> Column<'a, R> {
        self.look.shown = Some(quantity);
        self
    }

    /// Behind all others in text and on a page, wherever it stands in files.
    pub fn late(mut self) -> Column<'a, R> {
        self.look.is_late = true;
        self
    }

    /// With a sign beside the value in text and on a page, empty for none.
    pub fn marked<S: Into<String>>(self, mark: impl Fn(&R) -> S + 'a) -> Column<'a, R> {
        Column { mark: Some(Box::new(move |row| mark(row).into())), ..self }
    }

    /// Text says this instead of the value.
    pub fn written(self, written: impl Fn(&R) -> String + 'a) -> Column<'a, R> {
        Column { written: Some(Box::new(written)), ..self }
    }

    /// Blank in text where there is nothing.
    pub fn or_blank(mut self) -> Column<'a, R> {
        self.look.or_blank = true;
        self
    }

    /// In a terminal's table, but not on a page.
    pub fn not_on_page(mut self) -> Column<'a, R> {
        self.look.on_page = false;
        self
    }

    /// The same column of rows of which `R` is a part.
    pub fn of_part<S>(self, part: impl Fn(&S) -> &R + Clone + 'a) -> Column<'a, S>
    where
        R: 'a,
    {
        self.of_maybe(move |row| Some(part(row)))
    }

    /// The same column of rows of which some have a part `R`; nothing in others.
    pub fn of_maybe<S>(self, part: impl Fn(&S) -> Option<&R> + Clone + 'a) -> Column<'a, S>
    where
        R: 'a,
    {
        fn of<'a, R: 'a, S, T: 'a>(
            of: Of<'a, R, T>,
            part: impl Fn(&S) -> Option<&R> + 'a,
            nothing: fn() -> T,
        ) -> Of<'a, S, T> {
            Box::new(move |row| part(row).map_or_else(nothing, &of))
        }
        let (written, mark) = (self.written, self.mark);
        Column {
            look: self.look,
            of: of(self.of, part.clone(), || Value::Nothing),
            written: written.map(|written| of(written, part.clone(), String::new)),
            mark: mark.map(|mark| of(mark, part, String::new)),
        }
    }

    /// The unit in text.
    fn seen(&self) -> &Quantity {
        self.look.shown.as_ref().unwrap_or(&self.look.quantity)
    }

    /// What stands under the heading.
    fn below(&self) -> &str {
        self.look.under.as_deref().unwrap_or(self.seen().unit)
    }

    fn words(&self, row: &R) -> String {
        match (&self.written, (self.of)(row)) {
            (None, Value::Nothing) if self.look.or_blank => String::new(),
            (Some(written), _) => written(row),
            (None, value) => value.text(self.seen(), self.look.digits),
        }
    }

    fn sign(&self, row: &R) -> String {
        self.mark.as_ref().map_or(String::new(), |mark| mark(row))
    }
}

/// The columns in the order of these names, further ones behind.
pub fn in_order<'a, R>(mut columns: Vec<Column<'a, R>>, names: &str) -> Vec<Column<'a, R>> {
    let place = |name: &str| names.split_whitespace().position(|other| other == name);
    columns.sort_by_key(|column| place(&column.look.name).unwrap_or(usize::MAX));
    columns
}

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
        let set = if column.look.align == Align::Right { Set::Numbers } else { Set::Words };
        match column.seen().unit {
            "" => (heading.to_string(), set),
            unit => (format!("{heading} [{unit}]"), set),
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
