//! Why a chart could not be drawn or written.

use std::fmt;
use std::path::PathBuf;

/// Why a chart could not be drawn or written; the text says what, the rule, and the mend.
#[derive(Debug, Clone, PartialEq)]
pub enum ChartError {
    /// There is nothing to draw in the named part.
    Empty { part: String },
    /// A value of the named part is not a finite number; `index` counts from 0.
    NotFinite { part: String, index: usize },
    /// The named axis has a range whose ends do not increase.
    BadRange { part: String, from: f64, to: f64 },
    /// A value that must be shown whole lies outside the range that was given.
    OutsideRange { part: String, value: f64, from: f64, to: f64 },
    /// Two lists that belong together differ in length.
    Lengths { part: String, expected: usize, found: usize },
    /// The abscissae of the named part do not increase at `index`, counted from 0.
    NotIncreasing { part: String, index: usize },
    /// More entries than can be told apart.
    TooMany { part: String, found: usize, limit: usize },
    /// A number that must be above 0 is not.
    NotPositive { part: String, value: f64 },
    /// The program was built without the feature that is needed.
    FeatureMissing { feature: &'static str },
    /// The file's ending names no format known here.
    UnknownFormat { path: PathBuf },
    /// The drawing could not be turned into a picture.
    Render { reason: String },
}

impl fmt::Display for ChartError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, expected, mend) = self.parts();
        write!(f, "{what}\n  expected: {expected}\n  mend: {mend}")
    }
}

impl std::error::Error for ChartError {}

impl ChartError {
    /// What is wrong, the rule, and the next thing to do.
    fn parts(&self) -> (String, String, String) {
        match self {
            ChartError::FeatureMissing { .. }
            | ChartError::UnknownFormat { .. }
            | ChartError::Render { .. } => self.parts_of_file(),
            _ => self.parts_of_data(),
        }
    }

    fn parts_of_data(&self) -> (String, String, String) {
        let (what, expected, mend) = match self {
            ChartError::Empty { part } => (
                format!("nothing to draw in {part}"),
                "at least one value",
                "leave the chart out, or give it data",
            ),
            ChartError::NotFinite { part, index } => (
                format!("value {} of {part} is not a finite number", index + 1),
                "finite numbers only",
                "look for the step that gave no number; a chart would hide it",
            ),
            ChartError::BadRange { part, from, to } => (
                format!("the range of {part} runs from {from} to {to}"),
                "finite ends, the first below the second",
                "give the ends in increasing order",
            ),
            ChartError::OutsideRange { part, value, from, to } => (
                format!("a value of {part}, {value}, lies outside its range {from} to {to}"),
                "a range that holds every bar",
                "widen the range, or leave it to the chart",
            ),
            ChartError::Lengths { part, expected, found } => (
                format!("{part} has {found} values where {expected} belong"),
                "one value for each place",
                "give lists that match",
            ),
            ChartError::NotIncreasing { part, index } => (
                format!("value {} of {part} is not above the one before", index + 1),
                "values in increasing order",
                "sort the values and take out doubles",
            ),
            ChartError::TooMany { part, found, limit } => (
                format!("{part} has {found} entries; {limit} can be told apart"),
                "no more than can be told apart",
                "spread them over two charts",
            ),
            ChartError::NotPositive { part, value } => {
                (format!("{part} is {value}"), "a finite number above 0", "give it as measured")
            }
            _ => unreachable!("the other variants are worded in parts_of_file"),
        };
        (what, expected.to_owned(), mend.to_owned())
    }

    fn parts_of_file(&self) -> (String, String, String) {
        match self {
            ChartError::FeatureMissing { feature } => (
                format!("this build draws no PNG: the feature `{feature}` is left out"),
                "a file ending in .svg".to_owned(),
                format!("write an .svg file, or build with `--features {feature}`"),
            ),
            ChartError::UnknownFormat { path } => (
                format!("cannot tell the format of `{}` from its ending", path.display()),
                "a file ending in .svg or .png".to_owned(),
                "give the file one of these endings".to_owned(),
            ),
            ChartError::Render { reason } => (
                format!("cannot turn the drawing into a picture: {reason}"),
                "a well-formed SVG drawing".to_owned(),
                "write the chart as .svg and look at it in a browser".to_owned(),
            ),
            _ => unreachable!("the other variants are worded in parts_of_data"),
        }
    }
}

/// An error unless every value is finite.
pub(crate) fn check_finite(
    part: &str,
    values: impl IntoIterator<Item = f64>,
) -> Result<(), ChartError> {
    match values.into_iter().position(|value| !value.is_finite()) {
        Some(index) => Err(ChartError::NotFinite { part: part.to_owned(), index }),
        None => Ok(()),
    }
}
