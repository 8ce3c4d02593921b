//! The texts that a result rests on, so that a report can say which they were.

use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::shelf::fault::{Faults, Place};
use crate::shelf::file::sizes::{self, Format};
use crate::shelf::file::text::{Form, Text};
use crate::shelf::layup::one_line::{self, is_one_line};
use crate::shelf::materials::Shelf;
use crate::shelf::notation::record::Record;
use crate::shelf::notation::tree;
use crate::shelf::stock::raw::Kind;
use crate::shelf::suit::read::layup_words;

/// A file's text without a byte order mark and with plain line ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputText {
    /// The file, as named; for a built-in one, where it lies in the project.
    pub path: String,
    /// Its text.
    pub body: String,
}

impl InputText {
    /// SHA-256 of the text in hexadecimal digits.
    pub fn sha256(&self) -> String {
        let bytes = Sha256::digest(self.body.as_bytes());
        bytes.iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

/// What a file of a user's is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// A suit.
    Suit,
    /// A layup.
    Layup,
    /// A brief.
    Brief,
    /// Neither.
    Neither,
}

/// What the file holds, told by its keys: `panel` or `body` make a suit, `stack` a layup, two of
/// `outer`, `inner` and `felts` a brief.
///
/// Errors: a file that cannot be read. A file with broken syntax is told by what can be read of it.
pub fn holds(path: &Path) -> Result<Holds, Faults> {
    let root = tree::parse(&Text::load(path, sizes::WRITTEN)?, &mut Vec::new());
    let has = |key: &str| root.cells.iter().any(|cell| cell.key == key);
    Ok(match () {
        () if has("panel") || has("body") => Holds::Suit,
        () if is_brief(&root) => Holds::Brief,
        () if has("stack") || root.cells.is_empty() => Holds::Layup,
        () => Holds::Neither,
    })
}

/// Whether the keys are those of a brief.
pub(crate) fn is_brief(root: &Record) -> bool {
    let lists = ["outer", "inner", "felts"];
    let n = root.cells.iter().filter(|cell| lists.contains(&cell.key.as_str())).count();
    n >= 2 && root.get("stack").is_none()
}

/// The text of a brief.
///
/// Errors: a file that cannot be read.
pub fn of_brief(file: &Path) -> Result<InputText, Faults> {
    of_text(file, sizes::WRITTEN)
}

/// The files of the shelf, and the flux series that its exposures name.
///
/// Errors: a flux series that cannot be read any more.
pub fn of_shelf(shelf: &Shelf) -> Result<Vec<InputText>, Faults> {
    let mut all: Vec<InputText> = shelf
        .raw
        .texts()
        .iter()
        .map(|text| InputText { path: text.path.clone(), body: text.body.clone() })
        .collect();
    for record in shelf.raw.of(Kind::Exposure) {
        all.extend(flux_file(record)?);
    }
    Ok(all)
}

/// An exposure's file and the flux series that it names.
///
/// Errors: a file that cannot be read.
pub fn of_exposure(path: &Path) -> Result<Vec<InputText>, Faults> {
    let text = Text::load(path, sizes::SHELF_TABLES)?;
    let root = tree::parse(&text, &mut Vec::new());
    let mut all = vec![InputText { path: text.path.clone(), body: text.body.clone() }];
    for record in std::iter::once(&root).chain(root.tables("exposure")) {
        all.extend(flux_file(record)?);
    }
    Ok(all)
}

/// The text of a layup: a name on the shelf, a layup in one line, else a file.
///
/// Errors: a file that cannot be read.
pub fn of_layup(word: &str, file: &Path, shelf: &Shelf) -> Result<InputText, Faults> {
    match (shelf.layup_text(word), shelf.layup_path(word)) {
        (Ok(body), Ok(path)) => {
            Ok(InputText { path: path.display().to_string(), body: body.to_owned() })
        }
        _ if is_one_line(word) && !file.exists() => {
            Ok(InputText { path: one_line::PLACE.to_owned(), body: word.to_owned() })
        }
        _ => of_text(file, sizes::WRITTEN),
    }
}

/// The text of a suit, a name on the shelf or a file, and those of the layups that it names.
///
/// Errors: a file that cannot be read.
pub fn of_suit(word: &str, file: &Path, shelf: &Shelf) -> Result<Vec<InputText>, Faults> {
    let suit = match shelf.suit_file(word) {
        Ok((body, path)) => InputText { path: path.display().to_string(), body: body.to_owned() },
        Err(_) => of_text(file, sizes::WRITTEN)?,
    };
    let at = PathBuf::from(&suit.path);
    let folder = at.parent().unwrap_or(Path::new(""));
    let words = layup_words(&suit.body, &at);
    let mut all = vec![suit];
    for word in words {
        all.push(of_layup(&word, &folder.join(&word), shelf)?);
    }
    Ok(all)
}

/// Where a key of a layup stands in its file; none where it has none, or cannot be read any more.
pub fn place_in_layup(word: &str, file: &Path, shelf: &Shelf, key: &str) -> Option<Place> {
    let text = of_layup(word, file, shelf).ok()?;
    let root = tree::parse(&Text::new(text.path, &text.body, Form::Toml), &mut Vec::new());
    root.get(key).map(|cell| cell.place())
}

/// The flux series that an exposure's record names, if it does.
fn flux_file(record: &Record) -> Result<Option<InputText>, Faults> {
    let word = record.word("flux_file");
    if word.is_empty() {
        return Ok(None);
    }
    // where it lies was looked at when its exposure was read
    let folder = Path::new(&record.text.path).parent().unwrap_or(Path::new(""));
    of_text(&folder.join(word), sizes::FLUX_SERIES).map(Some)
}

/// The text of a file of this format.
///
/// Errors: a file that cannot be read.
pub(crate) fn of_text(path: &Path, format: Format) -> Result<InputText, Faults> {
    let text = Text::load(path, format)?;
    Ok(InputText { path: text.path.clone(), body: text.body.clone() })
}
