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
    /// Given by the layup, which does not say how it is known.
    Stated,
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
    pub const ALL: [Provenance; 9] = [
        Provenance::Measured,
        Provenance::DataSheet,
        Provenance::Published,
        Provenance::Memory,
        Provenance::Stated,
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
            Provenance::Stated => "stated",
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

/// How the rise of a value with temperature is known, where that is another matter than the value.
#[derive(Debug, Clone, PartialEq)]
pub struct Rise {
    /// How it is known.
    pub provenance: Provenance,
    /// Key of its source, or a short text; may be empty.
    pub source: Arc<str>,
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
    /// How its rise with temperature is known; none: as the value itself.
    pub rise: Option<Rise>,
}

impl<T> Known<T> {
    /// A value with its provenance and source, and no tolerance of its own.
    pub fn new(value: T, provenance: Provenance, source: impl Into<Arc<str>>) -> Known<T> {
        Known { value, provenance, source: source.into(), tolerance: None, rise: None }
    }

    /// The same provenance, source and tolerance for a value derived from this one.
    pub fn map<U>(&self, f: impl FnOnce(&T) -> U) -> Known<U> {
        Known {
            value: f(&self.value),
            provenance: self.provenance,
            source: self.source.clone(),
            tolerance: self.tolerance,
            rise: self.rise.clone(),
        }
    }

    /// The same with a rise that is known in its own way; as the value's own where both are known alike.
    pub fn with_rise(self, provenance: Provenance, source: impl Into<Arc<str>>) -> Known<T> {
        let rise = Rise { provenance, source: source.into() };
        let alike = rise.provenance == self.provenance && rise.source == self.source;
        Known { rise: (!alike).then_some(rise), ..self }
    }

    /// Marks it as fitted, with where that comes from; what was said of how far it may be off does not hold.
    pub fn mark_fitted(&mut self, source: &str) {
        self.provenance = Provenance::Fitted;
        self.source = source.into();
        self.tolerance = None;
    }

    /// How the rise with temperature is known.
    pub fn rise_provenance(&self) -> Provenance {
        self.rise.as_ref().map_or(self.provenance, |rise| rise.provenance)
    }

    /// The source, with what is said of the rise where that is known otherwise.
    pub fn told_source(&self) -> String {
        let Some(rise) = &self.rise else { return self.source.to_string() };
        let of = if self.source.is_empty() { self.provenance.word() } else { &self.source };
        let from = if rise.source.is_empty() { "" } else { ": " };
        format!("{of}; rise with temperature {}{from}{}", rise.provenance, rise.source)
    }
}
