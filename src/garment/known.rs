//! A value together with where it comes from.

use std::fmt;
use std::sync::Arc;

/// How a value came to be known, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Provenance {
    /// Measured by the user on the material itself.
    Measured,
    /// Printed on a data sheet.
    DataSheet,
    /// Seen in a publication.
    Published,
    /// Recalled from a publication that was not at hand.
    Memory,
    /// A fact of the trade without a source.
    CommonPractice,
    /// Computed from other properties by a stated rule.
    Estimated,
    /// Fitted to a measured curve.
    Fitted,
    /// Made up for the demonstration.
    Invented,
}

impl Provenance {
    /// All of them, best first.
    pub const ALL: [Provenance; 8] = [
        Provenance::Measured,
        Provenance::DataSheet,
        Provenance::Published,
        Provenance::Memory,
        Provenance::CommonPractice,
        Provenance::Estimated,
        Provenance::Fitted,
        Provenance::Invented,
    ];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Provenance::Measured => "measured",
            Provenance::DataSheet => "data sheet",
            Provenance::Published => "published",
            Provenance::Memory => "memory",
            Provenance::CommonPractice => "common practice",
            Provenance::Estimated => "estimated",
            Provenance::Fitted => "fitted",
            Provenance::Invented => "invented for the demo",
        }
    }
}

impl fmt::Display for Provenance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// A value with its provenance and the key of its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Known<T = f64> {
    /// The value, in SI.
    pub value: T,
    /// How it is known.
    pub provenance: Provenance,
    /// Key in the shelf's list of sources, or a short text; may be empty for measured values.
    pub source: Arc<str>,
    /// Half width of the central 95 % of its values, as a share of it [–]; none: by its provenance.
    pub tolerance: Option<f64>,
}

impl<T> Known<T> {
    /// A value with its provenance and source, and no tolerance of its own.
    pub fn new(value: T, provenance: Provenance, source: impl Into<Arc<str>>) -> Known<T> {
        Known { value, provenance, source: source.into(), tolerance: None }
    }

    /// The same provenance, source and tolerance for a value derived from this one.
    pub fn map<U>(&self, f: impl FnOnce(&T) -> U) -> Known<U> {
        Known {
            value: f(&self.value),
            provenance: self.provenance,
            source: self.source.clone(),
            tolerance: self.tolerance,
        }
    }
}
