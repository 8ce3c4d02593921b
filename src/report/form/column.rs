//! A column of a record: what it is called in each form, its unit, and where in a row its value is found.

use crate::physics::units::{BARE, Quantity};
use crate::report::form::value::{Digits, Held, Value};
use crate::report::table::Align;

/// Finds something in a row.
pub(super) type Of<'a, R, T> = Box<dyn Fn(&R) -> T + 'a>;

/// What a column is called in each form, its unit, and which forms it stands in.
pub(super) struct Look {
    /// Name without unit, as headers of CSV have it.
    pub(super) name: String,
    /// The key's name in JSON, where it is another than the header's.
    pub(super) json_name: Option<String>,
    pub(super) quantity: Quantity,
    pub(super) digits: Digits,
    /// Heading in text; a column without one is not in text.
    pub(super) heading: Option<String>,
    /// Name of its error's column in CSV, where it is another than the name with `_error` behind it.
    pub(super) error_name: Option<String>,
    /// What stands under the heading instead of the unit.
    pub(super) under: Option<String>,
    /// Heading on a page, where it is another than the text's or the text has none.
    pub(super) page: Option<String>,
    /// Unit in text and on a page, where it is another than that of files.
    pub(super) shown: Option<Quantity>,
    /// Whether it stands behind all others in text and on a page.
    pub(super) is_late: bool,
    pub(super) align: Align,
    pub(super) has_error: bool,
    pub(super) in_csv: bool,
    pub(super) in_json: bool,
    /// Whether it is on a page, if it is in text.
    pub(super) on_page: bool,
    /// Whether nothing is `null` in JSON, instead of left out.
    pub(super) or_null: bool,
    /// Whether nothing is blank in text, instead of "–".
    pub(super) or_blank: bool,
}

/// One column of rows of type `R`: how it looks, and where its value is found.
pub struct Column<'a, R> {
    pub(super) look: Look,
    pub(super) of: Of<'a, R, Value>,
    /// What text says of it instead of the value.
    pub(super) written: Option<Of<'a, R, String>>,
    /// A sign beside it in text.
    pub(super) mark: Option<Of<'a, R, String>>,
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
    pub(super) fn seen(&self) -> &Quantity {
        self.look.shown.as_ref().unwrap_or(&self.look.quantity)
    }

    /// What stands under the heading.
    pub(super) fn below(&self) -> &str {
        self.look.under.as_deref().unwrap_or(self.seen().unit)
    }

    pub(super) fn words(&self, row: &R) -> String {
        match (&self.written, (self.of)(row)) {
            (None, Value::Nothing) if self.look.or_blank => String::new(),
            (Some(written), _) => written(row),
            (None, value) => value.text(self.seen(), self.look.digits),
        }
    }

    pub(super) fn sign(&self, row: &R) -> String {
        self.mark.as_ref().map_or(String::new(), |mark| mark(row))
    }
}

/// The columns in the order of these names, further ones behind.
pub fn in_order<'a, R>(mut columns: Vec<Column<'a, R>>, names: &str) -> Vec<Column<'a, R>> {
    let place = |name: &str| names.split_whitespace().position(|other| other == name);
    columns.sort_by_key(|column| place(&column.look.name).unwrap_or(usize::MAX));
    columns
}
