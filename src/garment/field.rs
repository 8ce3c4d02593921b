//! Numeric keys with their unit and range, and the checked reading of a record.

use crate::garment::fault::{Fault, Place};
use crate::garment::known::Provenance;
use crate::garment::record::{Cell, Record, Value};
use crate::garment::tree::{decimal_comma, leading_number};
use crate::garment::wording::{near, or_list};

/// Which values a key takes, in its own unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    lo: f64,
    lo_included: bool,
    hi: f64,
    hi_included: bool,
}

impl Range {
    /// More than `lo` and at most `hi`.
    pub const fn above(lo: f64, hi: f64) -> Range {
        Range { lo, lo_included: false, hi, hi_included: true }
    }

    /// At least `lo` and at most `hi`.
    pub const fn from(lo: f64, hi: f64) -> Range {
        Range { lo, lo_included: true, hi, hi_included: true }
    }

    /// At least `lo` and less than `hi`.
    pub const fn below(lo: f64, hi: f64) -> Range {
        Range { lo, lo_included: true, hi, hi_included: false }
    }

    fn slip(&self, value: f64) -> Option<&'static str> {
        let too_low = value < self.lo || (value == self.lo && !self.lo_included);
        let too_high = value > self.hi || (value == self.hi && !self.hi_included);
        match () {
            () if too_low && self.lo >= 0.0 && value < 0.0 => Some("negative"),
            () if too_low && value == 0.0 => Some("zero"),
            () if too_low => Some("too small"),
            () if too_high => Some("too large"),
            () => None,
        }
    }

    fn words(&self, unit: &str) -> String {
        let lo = if self.lo_included { "at least" } else { "more than" };
        let hi = if self.hi_included { "at most" } else { "less than" };
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        format!("{lo} {} and {hi} {}{unit}", self.lo, self.hi)
    }
}

/// A numeric key.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field {
    /// The key with its unit, as in files.
    pub key: &'static str,
    /// The key without its unit.
    pub base: &'static str,
    /// The unit as printed; empty for none.
    pub unit: &'static str,
    /// Admissible values.
    pub range: Range,
    /// A typical value.
    pub example: &'static str,
}

impl Field {
    /// A numeric key; `key` is `base` followed by the unit.
    pub const fn new(
        key: &'static str,
        base: &'static str,
        unit: &'static str,
        range: Range,
        example: &'static str,
    ) -> Field {
        Field { key, base, unit, range, example }
    }

    /// Whether it only says under which condition another value holds.
    fn is_condition(&self) -> bool {
        ["_temp", "_to", "_pressure"].iter().any(|ending| self.base.ends_with(ending))
    }

    fn noun(&self) -> String {
        self.base.replace('_', " ")
    }
}

/// Endings that people put where another unit belongs.
const UNIT_ENDINGS: [&str; 46] = [
    "um", "cm", "m", "mm", "in", "inch", "mil", "nm", "g_m2", "kg_m2", "gsm", "oz_yd2", "g_m3",
    "kg_m3", "g_cm3", "w_mk", "mw_mk", "w_mc", "w_mk2", "w_cmk", "clo", "j_kgk", "kj_kgk", "j_gk",
    "cal_gk", "j_kgk2", "kj_kgk2", "k", "c", "f", "pa", "kpa", "mbar", "psi", "pct", "percent",
    "share", "kg_kg", "kw_m2", "w_m2", "cal_cm2s", "w_cm2", "s", "min", "ms", "w_m2k",
];

/// The field that `key` means with another unit, or with none.
fn misspelt_unit<'f>(key: &str, fields: &'f [Field]) -> Option<&'f Field> {
    let key = key.to_lowercase();
    let mut candidates: Vec<&Field> = fields
        .iter()
        .filter(|field| match key.strip_prefix(field.base) {
            Some("") => true,
            Some(rest) => {
                let ending = rest.trim_start_matches(['_', '-', ' ', '[', '(']);
                UNIT_ENDINGS.contains(&ending.trim_end_matches([']', ')']))
            }
            None => false,
        })
        .collect();
    candidates.sort_by_key(|field| field.base.len());
    candidates.pop()
}

/// The keys that a kind of record takes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Keys<'k> {
    /// What the record describes, such as "fabric".
    pub kind: &'static str,
    /// Numeric keys.
    pub fields: &'k [Field],
    /// Keys that take text, a list or a table.
    pub words: &'k [&'k str],
    /// Whether each numeric key has a companion `…_from`.
    pub provenance: Companions,
}

/// Whether numeric keys have companions that say where the value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Companions {
    /// `thickness_from` beside `thickness_mm`.
    Each,
    /// None.
    Without,
}

impl Keys<'_> {
    /// Every key, written out.
    pub fn all(&self) -> Vec<String> {
        let numbers = self.fields.iter().map(|field| field.key.to_owned());
        let mut all: Vec<String> =
            self.words.iter().map(|word| (*word).to_owned()).chain(numbers).collect();
        if self.provenance == Companions::Each {
            let values = self.fields.iter().filter(|field| !field.is_condition());
            all.extend(values.map(|field| format!("{}_from", field.base)));
        }
        all
    }

    /// Says which keys of the record are unknown.
    pub fn check(&self, record: &Record, faults: &mut Vec<Fault>) {
        let all = self.all();
        let known: Vec<&str> = all.iter().map(String::as_str).collect();
        for cell in record.cells.iter().filter(|cell| !known.contains(&cell.key.as_str())) {
            faults.push(self.unknown(cell, &known));
        }
    }

    fn unknown(&self, cell: &Cell, known: &[&str]) -> Fault {
        let place = cell.key_place();
        if cell.key.is_empty() {
            let mend = "name the column or remove it";
            return Fault::new("a column has no name", place, "a name for each column", mend);
        }
        if let Some(field) = misspelt_unit(&cell.key, self.fields) {
            let (noun, unit) =
                (field.noun(), if field.unit.is_empty() { "no unit" } else { field.unit });
            let what = format!("`{}` is not how {noun} is given: its unit is {unit}", cell.key);
            let mend = format!(
                "rename it to `{}` and give {unit}, for example {}",
                field.key, field.example
            );
            return Fault::new(what, place, format!("`{}`", field.key), mend);
        }
        let what = format!("`{}` is not a key of a {}", cell.key, self.kind);
        let nearest = near(&cell.key, known);
        let mend = if nearest.is_empty() {
            "remove it, or look the keys up in the guide to the formats".to_owned()
        } else {
            format!("did you mean {}?", or_list(&nearest))
        };
        Fault::new(what, place, format!("one of the keys of a {}", self.kind), mend)
    }
}

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
                self.faults.push(fault);
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

    /// The number of `field`; a fault when there is none.
    pub fn need_number(&mut self, field: &Field) -> Option<f64> {
        if self.record.get(field.key).is_none() {
            let expected = field.range.words(field.unit);
            let mend = format!("give `{}`, for example {}", field.key, field.example);
            self.missing(field.key, &field.noun(), &expected, &mend);
        }
        self.number(field)
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
        let nearest = near(&word, &words);
        let mend = if nearest.is_empty() {
            "take one of these words".to_owned()
        } else {
            format!("did you mean {}?", or_list(&nearest))
        };
        let what = format!("{key} of {} is `{word}`", self.owner);
        self.faults.push(Fault::new(what, self.record.place_of(key), or_list(&words), mend));
        None
    }

    fn missing(&mut self, key: &str, noun: &str, expected: &str, mend: &str) {
        let what = format!("{noun} of {} is missing", self.owner);
        let place = self.record.place_of(key);
        self.faults.push(Fault::new(what, place, expected, mend).absent());
    }

    /// Where the value of `base` comes from, and the place that says so.
    ///
    /// The companion `…_from` counts first, then the record's own `from`; none when neither is there.
    pub fn origin(&mut self, base: &str) -> Option<(Provenance, String, Place)> {
        let key = format!("{base}_from");
        let cell = self.record.get(&key).or_else(|| self.record.get("from"))?;
        let Value::Word(word) = &cell.value else {
            let what = format!("{} of {} is {}", cell.key, self.owner, in_words(&cell.value));
            self.faults.push(Fault::new(what, cell.place(), origin_rule(), origin_mend()));
            return None;
        };
        match parse_origin(word) {
            Some((provenance, source)) => Some((provenance, source, cell.place())),
            None => {
                let what = format!("{} of {} is `{word}`", cell.key, self.owner);
                let fault = Fault::new(what, cell.place(), origin_rule(), origin_mend());
                if !self.faults.contains(&fault) {
                    self.faults.push(fault);
                }
                None
            }
        }
    }
}

/// The fault of a value out of its range.
pub(crate) fn range_fault(what: String, place: Place, field: &Field) -> Fault {
    let unit = if field.unit.is_empty() { String::new() } else { format!(" in {}", field.unit) };
    let mend = format!("give `{}`{unit}, for example {}", field.key, field.example);
    Fault::new(what, place, field.range.words(field.unit), mend)
}

fn origin_rule() -> String {
    let words: Vec<&str> = Provenance::ALL.iter().map(|p| short_word(*p)).collect();
    format!("{}, then a colon and the source", or_list(&words))
}

fn origin_mend() -> &'static str {
    "write where the value comes from, for example `data sheet: mill-2024`"
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
fn number_of(cell: &Cell, field: &Field, owner: &str) -> Result<f64, Fault> {
    let (raw, bare) = match &cell.value {
        Value::Number(raw) => (raw.as_str(), true),
        Value::Word(raw) => (raw.as_str(), cell.text.form == crate::garment::text::Form::Csv),
        other => {
            let what = format!("{} of {owner} is {}, not a number", field.noun(), in_words(other));
            return Err(range_fault(what, cell.place(), field));
        }
    };
    let fault = |slip: &str, mend: String| {
        let what = format!("{} of {owner}, `{raw}`, {slip}", field.noun());
        Fault::new(what, cell.place(), field.range.words(field.unit), mend)
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
