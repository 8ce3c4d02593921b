//! Layups that another file names.

use std::path::{Path, PathBuf};

use crate::garment::layup::Layup;
use crate::shelf::fault::Faults;
use crate::shelf::layup::one_line::{PLACE, is_one_line};
use crate::shelf::layup::read::{read_layup, read_layup_text};
use crate::shelf::materials::Shelf;

/// The layup of a name on the shelf, in one line, or of a file named from the folder of `suit`.
pub(crate) fn layup_named(word: &str, suit: &Path, shelf: &Shelf) -> Result<Layup, Faults> {
    match (shelf.layup_text(word), shelf.layup_path(word)) {
        (Ok(text), Ok(path)) => read_layup_text(text, path, shelf),
        _ if is_one_line(word) => read_layup_text(word, Path::new(PLACE), shelf),
        _ => read_layup(&beside(suit, word), shelf),
    }
}

/// A path named in the file `suit`, as seen from where the program runs.
pub(crate) fn beside(suit: &Path, word: &str) -> PathBuf {
    suit.parent().map_or_else(|| PathBuf::from(word), |folder| folder.join(word))
}
