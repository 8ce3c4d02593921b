//! What a word of the user's stands for.

use std::path::Path;

use super::error::CliError;
use super::expose::means_file;
use crate::shelf::inputs::{self, Holds};
use crate::shelf::materials::Shelf;
use crate::study::seek::checkpoint::is_checkpoint;

/// What a path stands for: names on the shelf come first.
pub fn holds(path: &Path, shelf: &Shelf) -> Result<Holds, CliError> {
    let name = path.to_string_lossy();
    if shelf.layup_text(&name).is_ok() {
        return Ok(Holds::Layup);
    }
    if shelf.suit_file(&name).is_ok() {
        return Ok(Holds::Suit);
    }
    if is_checkpoint(path) {
        return Ok(Holds::Brief);
    }
    // a name on no shelf is told of by the reader of layups
    if means_file(path) { inputs::holds(path).map_err(CliError::Faults) } else { Ok(Holds::Layup) }
}
