//! What the JSON of every study holds: schema, program, notice; times and values with their errors.

use serde::Serialize;

use crate::NOTICE;
use crate::bench::figure::filed;
use crate::bench::outcome::{Valued, When};
use crate::garment::target::Figure;
use crate::report::json::finite::{Finite, rounded};

#[derive(Serialize)]
struct Envelope<'a, T: Serialize> {
    schema: &'static str,
    schema_version: u32,
    program: &'static str,
    program_version: &'static str,
    notice: &'static str,
    #[serde(flatten)]
    body: &'a T,
}

/// The record of a study as indented JSON, ended by a line feed.
///
/// Errors: a value that is not a finite number.
pub fn envelope<T: Serialize>(schema: &'static str, body: &T) -> Result<String, serde_json::Error> {
    let (program, program_version) = (env!("CARGO_PKG_NAME"), env!("CARGO_PKG_VERSION"));
    let record =
        Envelope { schema, schema_version: 1, program, program_version, notice: NOTICE, body };
    let mut text = serde_json::to_string_pretty(&record)?;
    text.push('\n');
    Ok(text)
}

/// A time of an event [s].
#[derive(Serialize)]
#[serde(tag = "state", rename_all = "snake_case")]
pub enum Time {
    /// It happened.
    Reached {
        /// When.
        value: Finite,
        /// Its numerical error.
        error: Finite,
    },
    /// It did not.
    NotReached {
        /// The time looked at.
        within: Finite,
    },
    /// The meshes disagree.
    TooCloseToCall {
        /// When it may have happened.
        near: Finite,
    },
}

impl Time {
    /// The JSON form of a time.
    pub fn new(when: When) -> Time {
        match when {
            When::At { t, error } => Time::Reached { value: rounded(t), error: rounded(error) },
            When::NotWithin { t_end } => Time::NotReached { within: rounded(t_end) },
            When::Unsettled { t } => Time::TooCloseToCall { near: rounded(t) },
        }
    }
}

/// A value with its numerical error.
#[derive(Serialize)]
pub struct Number {
    value: Finite,
    error: Finite,
}

impl Number {
    /// The JSON form of a value, scaled.
    pub fn new(valued: Valued, scale: f64) -> Number {
        Number { value: rounded(scale * valued.value), error: rounded(scale * valued.error) }
    }
}

/// What stands under the key of the figure's unit: `[…_s, …_kJ_m2]`, the value scaled to it.
pub fn by_unit<T, U>(
    figure: Figure,
    value: Option<T>,
    scaled: impl Fn(T, f64) -> U,
) -> [Option<U>; 2] {
    let unit = filed(figure);
    let value = value.map(|value| scaled(value, unit.per_si));
    if unit.key == "s" { [value, None] } else { [None, value] }
}
