//! A body by regions, and the air that a garment keeps from it.

use crate::garment::known::Known;
use crate::garment::suit::{Fit, Place};

/// A part of the body's surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Its name.
    pub name: String,
    /// Its share of the body's surface [–]; those of all regions add up to 1.
    pub share: Known,
    /// The places of a suit that may lie on it; none where it stays bare.
    pub places: Vec<Place>,
}

/// The air behind the panels of one place, for a suit of regular fit on the body that it is drawn for.
#[derive(Debug, Clone, PartialEq)]
pub struct AirAt {
    /// The place.
    pub place: Place,
    /// Share of the panel that lies on the body [–].
    pub contact: Known,
    /// Mean of the gaps over the rest [m].
    pub gap: Known,
    /// Their standard deviation [m].
    pub spread: Known,
    /// Girth of the body there [m].
    pub girth: Known,
}

/// What a fit does to the air.
#[derive(Debug, Clone, PartialEq)]
pub struct FitFactors {
    /// The fit.
    pub fit: Fit,
    /// Factor on gap and spread [–].
    pub gap: Known,
    /// Factor on the share in contact [–], which stays at most 1.
    pub contact: Known,
}

/// A body's regions with the air around them.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyMap {
    /// Its name.
    pub name: String,
    /// The regions, from the top; their shares add up to 1.
    pub regions: Vec<Region>,
    /// The air by place; not every place need be there.
    pub airs: Vec<AirAt>,
    /// The three fits.
    pub fits: Vec<FitFactors>,
}

impl BodyMap {
    /// The region that a place lies on; none where no region has it.
    pub fn region(&self, place: Place) -> Option<&Region> {
        self.regions.iter().find(|region| region.places.contains(&place))
    }

    /// The air at a place; none where nothing is said of it.
    pub fn air(&self, place: Place) -> Option<&AirAt> {
        self.airs.iter().find(|air| air.place == place)
    }

    /// What a fit does.
    ///
    /// Panics: never for one that was read, as the reader asks for all three.
    pub fn factors(&self, fit: Fit) -> &FitFactors {
        let found = self.fits.iter().find(|factors| factors.fit == fit);
        found.expect("the reader asks for all three fits")
    }

    /// The regions that stay bare.
    pub fn bare(&self) -> impl Iterator<Item = &Region> {
        self.regions.iter().filter(|region| region.places.is_empty())
    }
}
