//! Numeric keys with their unit and range, and which keys a record takes.

use crate::physics::units::Quantity;
use crate::shelf::fault::{Fault, enough};
use crate::shelf::key::other_words;
use crate::shelf::notation::record::{Cell, Record};
use crate::shelf::wording::{near, suggested};

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

    /// The least and the most.
    pub const fn ends(&self) -> (f64, f64) {
        (self.lo, self.hi)
    }

    /// What is wrong with the value; none when it is admissible.
    pub fn slip(&self, value: f64) -> Option<&'static str> {
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

    /// The rule in words.
    pub fn words(&self, unit: &str) -> String {
        let lo = if self.lo_included { "at least" } else { "more than" };
        let hi = if self.hi_included { "at most" } else { "less than" };
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        format!("{lo} {} and {hi} {}{unit}", self.lo, self.hi)
    }
}

/// Words joined by `_` while the program is built.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joined {
    letters: [u8; 48],
    n: usize,
}

impl Joined {
    /// The words in their order; an empty one is left out.
    pub const fn of(words: &[&str]) -> Joined {
        let mut all = Joined { letters: [b'_'; 48], n: 0 };
        let mut i = 0;
        while i < words.len() {
            let word = words[i].as_bytes();
            all.n += (all.n > 0 && !word.is_empty()) as usize;
            let mut j = 0;
            while j < word.len() {
                all.letters[all.n] = word[j];
                all.n += 1;
                j += 1;
            }
            i += 1;
        }
        all
    }

    /// The text.
    pub const fn text(&self) -> &str {
        match std::str::from_utf8(self.letters.split_at(self.n).0) {
            Ok(text) => text,
            Err(_) => panic!("whole words are joined"),
        }
    }
}

/// A numeric key from its name and unit, or that of a fabric's property, its range and a typical value; or the
/// tolerance of one, in percent of its value.
macro_rules! field {
    (tolerance of $name:expr) => {{
        use $crate::shelf::key::field::Joined;
        const BASE: Joined = Joined::of(&[$name, "tolerance"]);
        field!(BASE.text(), PERCENT, Range::from(0.0, 100.0), "5")
    }};
    ($property:expr, $range:expr, $example:literal $(,)?) => {
        field!($property.name(), $property.quantity(), $range, $example)
    };
    ($name:expr, $quantity:expr, $range:expr, $example:literal $(,)?) => {{
        use $crate::shelf::key::field::Joined;
        const KEY: Joined = Joined::of(&[$name, $quantity.suffix]);
        Field::new(KEY.text(), $name, $quantity, $range, $example)
    }};
}
pub(crate) use field;

/// Lists of keys as one.
pub(crate) const fn joined<const N: usize>(lists: &[&[Field]]) -> [Field; N] {
    let mut all = [lists[0][0]; N];
    let (mut n, mut i) = (0, 0);
    while i < lists.len() {
        let mut j = 0;
        while j < lists[i].len() {
            all[n] = lists[i][j];
            n += 1;
            j += 1;
        }
        i += 1;
    }
    all
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
    /// What turns a value of the file into SI.
    pub quantity: Quantity,
    /// Values that are possible; any other is refused.
    pub range: Range,
    /// Values that are usual; any other is spoken of.
    pub usual: Range,
    /// Why these are the bounds; may be empty.
    pub why: &'static str,
    /// A typical value.
    pub example: &'static str,
}

impl Field {
    /// A numeric key; [`field!`] puts `key` together where it is `base` followed by the unit.
    pub const fn new(
        key: &'static str,
        base: &'static str,
        quantity: Quantity,
        range: Range,
        example: &'static str,
    ) -> Field {
        Field { key, base, unit: quantity.unit, quantity, range, usual: range, why: "", example }
    }

    /// The same key with a reason for its bounds.
    pub const fn because(self, why: &'static str) -> Field {
        Field { why, ..self }
    }

    /// The same key with values that are usual.
    pub const fn usually(self, lo: f64, hi: f64) -> Field {
        Field { usual: Range::from(lo, hi), ..self }
    }

    /// The rule in words, with its reason.
    pub fn rule(&self) -> String {
        let words = self.range.words(self.unit);
        if self.why.is_empty() { words } else { format!("{words}: {}", self.why) }
    }

    /// What is said of a possible value that is not usual; nothing of a usual one.
    ///
    /// - `value`: in the key's unit; `whose`: such as "ply `felt-100`"
    pub fn unusual(&self, value: f64, whose: &str) -> Option<String> {
        let slip = self.usual.slip(value)?;
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        let why = if self.why.is_empty() { String::new() } else { format!(" ({})", self.why) };
        let slip = if slip == "too large" { "large" } else { "small" };
        // beyond a millionth of a unit no digit matters in words
        let value = (1e6 * value).round() / 1e6;
        Some(format!(
            "{} of {whose}, {value}{unit}, is unusually {slip}; usual is {}{why}",
            self.noun(),
            self.usual.words(self.unit)
        ))
    }

    /// Whether it only says under which condition, or how closely, another value holds.
    fn is_condition(&self) -> bool {
        ["_temp", "_from", "_to", "_pressure", "_tolerance"]
            .iter()
            .any(|ending| self.base.ends_with(ending))
    }

    /// The key in words.
    pub fn noun(&self) -> String {
        self.base.replace('_', " ")
    }
}

/// Endings that people put where another unit belongs.
pub(crate) const UNIT_ENDINGS: [&str; 46] = [
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
            if enough(faults) {
                return;
            }
            faults.push(self.unknown(cell, &known));
        }
    }

    fn unknown(&self, cell: &Cell, known: &[&str]) -> Fault {
        let place = cell.key_place();
        if cell.key.is_empty() {
            let mend = "name the column or remove it";
            return Fault::new("a column has no name", place, "a name for each column", mend);
        }
        let meant = other_words::meant(&cell.key, &UNIT_ENDINGS);
        let by_word = || self.fields.iter().find(|field| Some(field.base) == meant);
        if let Some(field) = misspelt_unit(&cell.key, self.fields).or_else(by_word) {
            let (noun, unit) =
                (field.noun(), if field.unit.is_empty() { "no unit" } else { field.unit });
            let what = format!("`{}` is not how {noun} is given: its unit is {unit}", cell.key);
            let mend = format!(
                "rename it to `{}` and give {unit}, for example {}",
                field.key, field.example
            );
            return Fault::new(what, place, format!("`{}`", field.key), mend).meaning(field.key);
        }
        if let Some(word) = meant.filter(|word| self.words.contains(word)) {
            let what = format!("`{}` is not how the {word} is given", cell.key);
            let mend = format!("rename it to `{word}`");
            return Fault::new(what, place, format!("`{word}`"), mend).meaning(word);
        }
        let article = if self.kind.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
        let what = format!("`{}` is not a key of {article} {}", cell.key, self.kind);
        let nearest = near(&cell.key, known);
        let mend =
            suggested(&nearest, "remove it, or look the keys up in the guide to the formats");
        let fault =
            Fault::new(what, place, format!("one of the keys of {article} {}", self.kind), mend);
        if nearest.is_empty() { fault } else { fault.meaning(nearest[0]) }
    }
}
