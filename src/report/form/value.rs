//! What a column may hold, in SI, and a record of such values.

use crate::bench::outcome::{Valued, When};
use crate::garment::known::Known;
use crate::physics::units::{BARE, Quantity};
use crate::report::number::{fixed, short, significant, with_error};
use crate::report::words::when_with_error;

/// One value of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Not known, not reached or not asked for.
    Nothing,
    /// A number, SI.
    Number(f64),
    /// A number with its numerical error, SI.
    Valued(Valued),
    /// A number with its provenance and source, SI.
    Known(Known),
    /// A time, or why there is none.
    When(When),
    /// How many.
    Count(usize),
    /// A word.
    Word(String),
    /// Whether it is so.
    Flag(bool),
    /// A record in it.
    Record(Object),
    /// Several values or records in it.
    List(Vec<Value>),
}

/// A record: key and value, one after another.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Object {
    /// Key with its unit, the unit, the value; in the order in which they were put.
    pub entries: Vec<(String, Quantity, Value)>,
}

impl Object {
    /// An empty one.
    pub fn new() -> Object {
        Object::default()
    }

    /// The further entries of another, behind its own.
    pub fn and(mut self, other: Option<Object>) -> Object {
        self.entries.extend(other.into_iter().flat_map(|other| other.entries));
        self
    }

    /// Adds what has no unit; nothing is left out.
    pub fn with(self, key: &str, held: impl Held) -> Object {
        self.with_unit(key, BARE, held)
    }

    /// Adds what has a unit, under the name with the unit's suffix; nothing is left out.
    pub fn with_unit(mut self, name: &str, quantity: Quantity, held: impl Held) -> Object {
        self.put(name, quantity, held.value());
        self
    }

    /// Adds what has a unit that is named elsewhere in the record; nothing is left out.
    pub fn with_key(mut self, key: &str, quantity: Quantity, held: impl Held) -> Object {
        let value = held.value();
        if value != Value::Nothing {
            self.entries.push((key.to_string(), quantity, value));
        }
        self
    }

    /// Adds what has a unit; nothing is `null`.
    pub fn or_null(mut self, name: &str, quantity: Quantity, held: impl Held) -> Object {
        self.entries.push((quantity.key(name), quantity, held.value()));
        self
    }

    /// The same of a value; nothing is left out.
    pub fn put(&mut self, name: &str, quantity: Quantity, value: Value) {
        if value != Value::Nothing {
            self.entries.push((quantity.key(name), quantity, value));
        }
    }
}

/// How a number is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Digits {
    /// So many decimals.
    Fixed(usize),
    /// At most so many decimals, zeros at the end dropped.
    Short(usize),
    /// So many significant digits.
    Significant(i32),
}

impl Digits {
    /// The number so.
    pub fn of(self, value: f64) -> String {
        match self {
            Digits::Fixed(n) => fixed(value, n),
            Digits::Short(n) => short(value, n),
            Digits::Significant(n) => significant(value, n),
        }
    }
}

impl Value {
    /// The value as people read it, without its unit; "–" for nothing.
    pub fn text(&self, quantity: &Quantity, digits: Digits) -> String {
        match self {
            Value::Nothing => "–".to_string(),
            Value::Number(si) => digits.of(quantity.outside(*si)),
            Value::Known(known) => digits.of(quantity.outside(known.value)),
            Value::Valued(Valued { value, error }) => {
                let (value, error) = with_error(quantity.outside(*value), quantity.apart(*error));
                format!("{value} ± {error}")
            }
            Value::When(when) => when_with_error(when),
            Value::Count(n) => n.to_string(),
            Value::Word(word) => word.clone(),
            Value::Flag(is) => if *is { "yes" } else { "no" }.to_string(),
            Value::Record(_) => String::new(),
            Value::List(all) => {
                let all: Vec<String> = all.iter().map(|one| one.text(quantity, digits)).collect();
                all.join(" ")
            }
        }
    }
}

/// What a record's field is, as a value.
pub trait Held {
    /// Whether a numerical error belongs to it, which has a column of its own in CSV.
    const HAS_ERROR: bool = false;
    /// Whether it is set to the right, as numbers are.
    const IS_NUMBER: bool = true;

    /// The value.
    fn value(self) -> Value;
}

impl Held for Value {
    fn value(self) -> Value {
        self
    }
}

impl Held for f64 {
    fn value(self) -> Value {
        Value::Number(self)
    }
}

impl Held for usize {
    fn value(self) -> Value {
        Value::Count(self)
    }
}

impl Held for u64 {
    fn value(self) -> Value {
        Value::Count(self as usize)
    }
}

impl Held for u32 {
    fn value(self) -> Value {
        Value::Count(self as usize)
    }
}

impl Held for Valued {
    const HAS_ERROR: bool = true;

    fn value(self) -> Value {
        Value::Valued(self)
    }
}

impl Held for When {
    const HAS_ERROR: bool = true;

    fn value(self) -> Value {
        Value::When(self)
    }
}

impl Held for &Known {
    fn value(self) -> Value {
        Value::Known(self.clone())
    }
}

impl Held for bool {
    const IS_NUMBER: bool = false;

    fn value(self) -> Value {
        Value::Flag(self)
    }
}

impl Held for String {
    const IS_NUMBER: bool = false;

    fn value(self) -> Value {
        Value::Word(self)
    }
}

impl Held for &[String] {
    const IS_NUMBER: bool = false;

    fn value(self) -> Value {
        Value::List(self.iter().cloned().map(Value::Word).collect())
    }
}

impl Held for &str {
    const IS_NUMBER: bool = false;

    fn value(self) -> Value {
        Value::Word(self.to_string())
    }
}

impl Held for Object {
    fn value(self) -> Value {
        Value::Record(self)
    }
}

impl<T: Held> Held for Vec<T> {
    fn value(self) -> Value {
        Value::List(self.into_iter().map(Held::value).collect())
    }
}

impl<T: Held> Held for Option<T> {
    const HAS_ERROR: bool = T::HAS_ERROR;
    const IS_NUMBER: bool = T::IS_NUMBER;

    fn value(self) -> Value {
        self.map_or(Value::Nothing, Held::value)
    }
}
