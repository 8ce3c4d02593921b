//! The shelf that a command works with, and the layups on it.

use std::path::{Path, PathBuf};

use super::error::{BadOption, CliError};
use super::output;
use crate::garment::layup::Layup;
use crate::garment::suit::Suit;
use crate::shelf::brief::read::{BriefFile, read_brief};
use crate::shelf::key::unusual;
use crate::shelf::layup::one_line::{PLACE, is_one_line};
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;
use crate::shelf::suit::read::read_suit_text;

/// The shelf with the user's folders on top; names defined twice are told.
pub fn shelf(dirs: &[PathBuf]) -> Result<Shelf, CliError> {
    let shelf = Shelf::with_dirs(dirs).map_err(CliError::Faults)?;
    for clash in shelf.clashes() {
        output::say(&format!("note: {clash}"));
    }
    Ok(shelf)
}

/// What else on the shelf has that name, and what to do with it.
fn other_kind(name: &str, shelf: &Shelf) -> Option<(&'static str, String)> {
    if shelf.fabric(name).is_ok() {
        let mend = format!(
            "put it into a layup in one line, such as `{name} + inner-jersey-140`, or into a file \
             with [[stack]] and ply = \"{name}\""
        );
        return Some(("a fabric", mend));
    }
    let command = |command: &str| format!("give it to `stillair {command}`");
    match () {
        () if shelf.suit_file(name).is_ok() => Some(("a suit", command("suit"))),
        () if shelf.exposure(name).is_ok() => {
            Some(("an exposure", format!("give it as --exposure {name}, behind a layup")))
        }
        () if shelf.target(name).is_ok() => {
            Some(("a target", format!("give it as --against {name}, behind a layup")))
        }
        () => None,
    }
}

/// The layup of that name on the shelf, or in one line.
pub fn shelf_layup(name: &str, shelf: &Shelf) -> Result<Layup, CliError> {
    if shelf.layup_text(name).is_err() && is_one_line(name) {
        return read_layup_text(name, Path::new(PLACE), shelf).map_err(CliError::Faults);
    }
    let text = shelf.layup_text(name).map_err(|unknown| match other_kind(name, shelf) {
        Some((kind, mend)) => CliError::Option(BadOption {
            what: format!("`{name}` is {kind}, not a layup"),
            given: name.to_owned(),
            expected: "a layup on the shelf, or the file of one".to_owned(),
            mend,
        }),
        None => CliError::Unknown(unknown),
    })?;
    let path = shelf.layup_path(name).map_err(CliError::Unknown)?;
    read_layup_text(text, path, shelf).map_err(CliError::Faults)
}

/// Tells what is possible but unusual.
pub fn note(said: &[String]) {
    said.iter().for_each(|said| output::say(&format!("note: {said}")));
}

/// The brief of a file; what is unusual about it is told.
pub fn brief(path: &Path, shelf: &Shelf) -> Result<BriefFile, CliError> {
    let file = read_brief(path, shelf).map_err(CliError::Faults)?;
    note(&unusual::of_brief(&file.brief));
    Ok(file)
}

/// The suit of that name on the shelf.
pub fn shelf_suit(name: &str, shelf: &Shelf) -> Result<Suit, CliError> {
    let (text, path) = shelf.suit_file(name).map_err(CliError::Unknown)?;
    read_suit_text(text, path, shelf).map_err(CliError::Faults)
}
