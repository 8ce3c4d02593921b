//! A layup: plies and air gaps in order, outermost first.

use crate::garment::fabric::Fabric;
use crate::garment::known::Known;

/// One fabric layer of a layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Ply {
    /// The fabric as used here: the shelf's values with the layup's own put in their place.
    pub fabric: Fabric,
    /// Conductance of the joint to the next ply or backing [W/(m²·K)]; none means that the faces share one temperature.
    pub joint: Option<Known>,
}

/// Still or moving air between two plies.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// Thickness [m], above 0.
    pub thickness: Known,
}

/// One entry of the stack.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A fabric layer.
    Ply(Box<Ply>),
    /// An air gap.
    Gap(Gap),
}

/// The ordered stack, outermost first; starts with a ply and never has two gaps in a row.
///
/// A gap in the last place stands between the garment and what is behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Layup {
    /// Name of the layup.
    pub name: String,
    /// What it is, in words; may be empty.
    pub note: String,
    /// Plies and gaps, outermost first.
    pub stack: Vec<Entry>,
}

impl Layup {
    /// The plies, outermost first.
    pub fn plies(&self) -> impl Iterator<Item = &Ply> {
        self.stack.iter().filter_map(|entry| match entry {
            Entry::Ply(ply) => Some(ply.as_ref()),
            Entry::Gap(_) => None,
        })
    }

    /// The gaps, outermost first.
    pub fn gaps(&self) -> impl Iterator<Item = &Gap> {
        self.stack.iter().filter_map(|entry| match entry {
            Entry::Gap(gap) => Some(gap),
            Entry::Ply(_) => None,
        })
    }

    /// Areal density of all plies, moisture included [kg/m²].
    pub fn areal_density(&self) -> f64 {
        self.plies().map(|ply| ply.fabric.areal_density.value).sum()
    }

    /// Thickness of plies and gaps together [m].
    pub fn thickness(&self) -> f64 {
        let plies: f64 = self.plies().map(|ply| ply.fabric.thickness.value).sum();
        plies + self.gaps().map(|gap| gap.thickness.value).sum::<f64>()
    }
}
