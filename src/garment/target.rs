//! Thresholds of standards that a figure is held against.

use crate::garment::exposure::Exposure;

/// The figure a target speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Figure {
    /// Time to a 12 K rise of the disc [s].
    Rise12,
    /// Time to a 24 K rise of the disc [s].
    Rise24,
    /// Time between the two rises [s].
    Rise24Less12,
    /// Heat to the Stoll crossing, TPP [J/m²].
    Tpp,
    /// Time to the Stoll crossing [s].
    Stoll,
    /// Time to a second-degree burn [s].
    SecondDegree,
}

/// How the specimens of a set are judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Judged {
    /// Every one must reach the target.
    Lowest,
    /// Their mean must.
    Mean,
}

impl Judged {
    /// How a target's sets are judged: on the lowest where its standard does not say.
    pub fn of(target: &Target) -> Judged {
        target.judged_on.unwrap_or(Judged::Lowest)
    }

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Judged::Lowest => "lowest",
            Judged::Mean => "mean",
        }
    }
}

/// A threshold on one figure; a result is only ever above it, below it, or too close to call.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// Unique name on the shelf.
    pub name: String,
    /// What it is, in words.
    pub description: String,
    /// Standard and edition.
    pub standard: String,
    /// The figure it speaks of.
    pub figure: Figure,
    /// The least value that the standard asks for [s or J/m²].
    pub at_least: f64,
    /// Name of the exposure that the standard prescribes.
    pub exposure: String,
    /// How the specimens of a set are judged; none when the standard does not state it.
    pub judged_on: Option<Judged>,
    /// Key of the source in the shelf's list.
    pub source: String,
}

impl Target {
    /// Whether the target is meant for this exposure.
    pub fn suits(&self, exposure: &Exposure) -> bool {
        self.exposure == exposure.name
    }
}
