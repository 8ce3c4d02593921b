//! By which bands the page's figures are called: the shelf's, or own tests above them.

use crate::garment::band::Bands;
use crate::garment::skin::Skin;

/// The shelf's bands, and those of a bench book where one was named.
#[derive(Debug, Clone)]
pub struct Anchors {
    shelf: Bands,
    /// Own tests above the bands, as predicted before the skin of that name; empty where none were asked.
    pub own: Vec<(String, Bands)>,
    /// The words that ask for the same on a command line.
    pub words: Vec<String>,
}

impl Anchors {
    /// Without own tests.
    pub fn none(shelf: &Bands) -> Anchors {
        Anchors { shelf: shelf.clone(), own: Vec::new(), words: Vec::new() }
    }

    /// The bands that hold before a skin.
    pub fn bands(&self, skin: &Skin) -> &Bands {
        let own = self.own.iter().find(|(name, _)| *name == skin.name);
        own.map_or(&self.shelf, |(_, bands)| bands)
    }
}
