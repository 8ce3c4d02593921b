//! The checked reading of a record: numbers, words and where a value comes from.

use crate::garment::known::{Known, Provenance};
use crate::shelf::fault::{Fault, Place};
use crate::shelf::file::text::Form;
use crate::shelf::key::field::Field;
use crate::shelf::lab::day::parse_date;
use crate::shelf::notation::record::{Cell, Record, Value};
use crate::shelf::notation::tree::{decimal_comma, leading_number};
use crate::shelf::wording::{near, or_list, suggested};

/// Reads one record, noting every fault.
pub(crate) struct Reader<'a> {
    /// The record.
    pub record: &'a Record,
    /// Whose it is, such as "fabric `felt-100`".
    pub owner: String,
    /// What was found wrong so far.
    pub faults: &'a mut Vec<Fault>,
}

impl<'a> Reader<'a> {
    /// A reader of `record`, a `kind` that is called by its `name` key.
    pub fn new(record: &'a Record, kind: &str, faults: &'a mut Vec<Fault>) -> Reader<'a> {
        let name = record.word("name");
        let owner = if name.is_empty() { format!("a {kind}") } else { format!("{kind} `{name}`") };
        Reader { record, owner, faults }
    }

    /// Notes a fault.
    pub fn fault(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// The number of `field` in the file's unit; none when blank or wrong.
    pub fn number(&mut self, field: &Field) -> Option<f64> {
        let cell = self.record.get(field.key)?;
        let value = match number_of(cell, field, &self.owner) {
            Ok(value) => value,
            Err(fault) => {
                self.faults.push(*fault);
                return None;
            }
        };
        match field.range.slip(value) {
            None => Some(value),
            Some(slip) => {
                let what = format!("{} of {} is {slip}", field.noun(), self.owner);
                self.faults.push(range_fault(what, cell.place(), field));
                None
            }
        }
    }

    /// The number of `field` in SI; none when blank or wrong.
    pub fn si(&mut self, field: &Field) -> Option<f64> {
        self.number(field).map(|value| field.quantity.inside(value))
    }

    /// The number of `field` whatever its range, for a rule that has its own reason; notes no fault.
    pub fn peek(&self, field: &Field) -> Option<f64> {
        number_of(self.record.get(field.key)?, field, &self.owner).ok()
    }

    /// The number of `field`; a fault when there is none.
    pub fn need_number(&mut self, field: &Field) -> Option<f64> {
        if self.record.get(field.key).is_none() {
            let expected = field.range.words(field.unit);
            let mend = format!("give `{}`, for example {}", field.key, field.example);
            self.missing(field.key, &field.noun(), &expected, &mend);
        }
        self.number(field)
    }

    /// The whole number of `field`; none when blank, wrong or not whole.
    pub fn whole(&mut self, field: &Field) -> Option<u32> {
        let value = self.number(field)?;
        if value.fract() == 0.0 {
            return Some(value as u32);
        }
        let what = format!("{} of {}, {value}, is not whole", field.noun(), self.owner);
        let expected = format!("a whole number, {}", field.range.words(field.unit));
        let mend = format!("give `{}`, for example {}", field.key, field.example);
        self.faults.push(Fault::new(what, self.record.place_of(field.key), expected, mend));
        None
    }

    /// The text of `key`; none when blank or no text.
    pub fn word(&mut self, key: &str) -> Option<String> {
        let cell = self.record.get(key)?;
        match &cell.value {
            Value::Word(word) => Some(word.clone()),
            other => {
                let what = format!("{key} of {} is {}", self.owner, in_words(other));
                self.faults.push(Fault::new(what, cell.place(), "text", "put it between quotes"));
                None
            }
        }
    }

    /// The text of `key`; a fault when there is none.
    pub fn need_word(&mut self, key: &str) -> Option<String> {
        if self.record.get(key).is_none_or(|cell| cell.value == Value::Word(String::new())) {
            self.missing(key, key, "text", &format!("give `{key}`"));
            return None;
        }
        self.word(key)
    }

    /// The meaning of `key`'s word; a fault when there is none or it is no choice.
    pub fn need_choice<T: Copy>(&mut self, key: &str, choices: &[(&str, T)]) -> Option<T> {
        let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
        if self.record.get(key).is_none() {
            self.missing(key, key, &or_list(&words), &format!("give `{key}`"));
            return None;
        }
        let word = self.word(key)?;
        if let Some((_, choice)) = choices.iter().find(|(known, _)| *known == word) {
            return Some(*choice);
        }
        let mend = suggested(&near(&word, &words), "take one of these words");
        let what = format!("{key} of {} is `{word}`", self.owner);
        self.faults.push(Fault::new(what, self.record.place_of(key), or_list(&words), mend));
        None
    }

    fn missing(&mut self, key: &str, noun: &str, expected: &str, mend: &str) {
        let what = format!("{noun} of {} is missing", self.owner);
        let place = self.record.place_of(key);
        self.faults.push(Fault::new(what, place, expected, mend).absent());
    }

    /// Where the value of `base` comes from; its companion `…_from` counts first, then `from`.
    pub fn origin(&mut self, base: &str) -> Origin {
        let key = format!("{base}_from");
        let Some(cell) = self.record.get(&key).or_else(|| self.record.get("from")) else {
            return Origin::Silent;
        };
        let what = match &cell.value {
            Value::Word(word) => match parse_origin(word) {
                Some((provenance, source)) => return Origin::Said(provenance, source),
                None => format!("{} of {} is `{word}`", cell.key, self.owner),
            },
            other => format!("{} of {} is {}", cell.key, self.owner, in_words(other)),
        };
        let mend = "write where the value comes from, for example `data sheet: mill-2024`";
        let fault = Fault::new(what, cell.place(), origin_rule(), mend);
        if !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
        Origin::Wrong
    }

    /// A value that must be there, with where it comes from, in SI.
    pub fn need_known(&mut self, field: &Field) -> Option<Known> {
        let value = self.need_number(field)?;
        self.with_origin(field, value)
    }

    /// A value that may be blank, with where it comes from, in SI.
    pub fn known(&mut self, field: &Field) -> Option<Known> {
        let value = self.number(field)?;
        self.with_origin(field, value)
    }

    /// - `value`: in the unit of the file
    fn with_origin(&mut self, field: &Field, value: f64) -> Option<Known> {
        let (provenance, source) = self.need_origin(field)?;
        Some(Known::new(field.quantity.inside(value), provenance, source))
    }

    /// Where a value that is there comes from; a fault when the record does not say.
    pub fn need_origin(&mut self, field: &Field) -> Option<(Provenance, String)> {
        match self.origin(field.base) {
            Origin::Said(provenance, source) => return Some((provenance, source)),
            Origin::Wrong => {}
            Origin::Silent => {
                let what =
                    format!("{} of {} does not say where it comes from", field.key, self.owner);
                let expected = format!("`{}_from`, or `from` for the whole entry", field.base);
                let mend = "write for example `measured` or `data sheet: mill-2024`";
                let place = self.record.place_of(field.key);
                self.fault(Fault::new(what, place, expected, mend).absent());
            }
        }
        None
    }

    /// A value of the layup itself, in SI: stated, unless the file says how it is known.
    pub fn own_value(&mut self, field: &Field) -> Option<Known> {
        let value = self.si(field)?;
        match self.origin(field.base) {
            Origin::Said(provenance, source) => Some(Known::new(value, provenance, source)),
            Origin::Silent => Some(Known::new(value, Provenance::Stated, "")),
            Origin::Wrong => None,
        }
    }
}

/// What a record says of where a value comes from.
pub(crate) enum Origin {
    /// How it is known, and the source.
    Said(Provenance, String),
    /// Nothing.
    Silent,
    /// Something that cannot be understood; the fault is noted.
    Wrong,
}

/// The fault of a value out of its range.
pub(crate) fn range_fault(what: String, place: Place, field: &Field) -> Fault {
    let unit = if field.unit.is_empty() { String::new() } else { format!(" in {}", field.unit) };
    let mend = format!("give `{}`{unit}, for example {}", field.key, field.example);
    Fault::new(what, place, field.rule(), mend)
}

fn origin_rule() -> String {
    let words: Vec<&str> = Provenance::ALL.iter().map(|p| short_word(*p)).collect();
    format!("{}, then a colon and the source", or_list(&words))
}

/// The provenance's word in files.
fn short_word(provenance: Provenance) -> &'static str {
    if provenance == Provenance::Invented { "invented" } else { provenance.word() }
}

/// "published: key" as provenance and source.
pub(crate) fn parse_origin(text: &str) -> Option<(Provenance, String)> {
    let (word, source) = text.split_once(':').unwrap_or((text, ""));
    let word = word.trim();
    let provenance =
        Provenance::ALL.into_iter().find(|p| word == p.word() || word == short_word(*p))?;
    Some((provenance, source.trim().to_owned()))
}

fn in_words(value: &Value) -> &'static str {
    match value {
        Value::Blank => "blank",
        Value::Word(_) => "text",
        Value::Number(_) => "a number",
        Value::Tables(_) => "a list of tables",
        Value::Table(_) => "a table",
        Value::List(_) => "a list",
        Value::Other(words) => words,
    }
}

/// The finite number that the cell holds.
fn number_of(cell: &Cell, field: &Field, owner: &str) -> Result<f64, Box<Fault>> {
    let (raw, bare) = match &cell.value {
        Value::Number(raw) => (raw.as_str(), true),
        Value::Word(raw) => (raw.as_str(), cell.text.form == Form::Csv),
        other => {
            let what = format!("{} of {owner} is {}, not a number", field.noun(), in_words(other));
            return Err(Box::new(range_fault(what, cell.place(), field)));
        }
    };
    let fault = |slip: &str, mend: String| {
        let what = format!("{} of {owner}, `{raw}`, {slip}", field.noun());
        Box::new(Fault::new(what, cell.place(), field.range.words(field.unit), mend))
    };
    match raw.parse::<f64>() {
        Ok(value) if value.is_finite() && bare => Ok(value),
        Ok(value) if value.is_finite() => {
            Err(fault("is text, not a number", format!("write {raw} without quotes")))
        }
        Ok(_) => {
            let mend = format!("give a number, for example {}, or leave it out", field.example);
            Err(fault("is not a finite number", mend))
        }
        Err(_) if parse_date(raw).is_some() => {
            let mend = "a spreadsheet took the number for a date: format the cell as a number, and \
                        type it again";
            Err(fault("is a date", mend.to_owned()))
        }
        Err(_) => Err(match (decimal_comma(raw), leading_number(raw)) {
            (Some(number), _) => fault("has a decimal comma", format!("write {number}")),
            (None, Some(number)) => {
                let mend = format!("write {number}; the unit is in the key");
                fault("has a unit behind the number", mend)
            }
            (None, None) => {
                fault("is not a number", format!("give a number, for example {}", field.example))
            }
        }),
    }
}
