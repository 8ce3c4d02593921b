//! The shelf that a command works with, and the layups on it.

use std::path::PathBuf;

use super::error::CliError;
use super::output;
use crate::garment::layup::Layup;
use crate::garment::read::read_layup_text;
use crate::garment::read_suit::read_suit_text;
use crate::garment::shelf::Shelf;
use crate::garment::suit::Suit;

/// The shelf with the user's folders on top; names defined twice are told.
pub fn shelf(dirs: &[PathBuf]) -> Result<Shelf, CliError> {
    let shelf = Shelf::with_dirs(dirs).map_err(CliError::Faults)?;
    for clash in shelf.clashes() {
        output::say(&format!("note: {clash}"));
    }
    Ok(shelf)
}

/// The layup of that name on the shelf.
pub fn shelf_layup(name: &str, shelf: &Shelf) -> Result<Layup, CliError> {
    let text = shelf.layup_text(name).map_err(CliError::Unknown)?;
    let path = shelf.layup_path(name).map_err(CliError::Unknown)?;
    read_layup_text(text, path, shelf).map_err(CliError::Faults)
}

/// The suit of that name on the shelf.
pub fn shelf_suit(name: &str, shelf: &Shelf) -> Result<Suit, CliError> {
    let (text, path) = shelf.suit_file(name).map_err(CliError::Unknown)?;
    read_suit_text(text, path, shelf).map_err(CliError::Faults)
}
