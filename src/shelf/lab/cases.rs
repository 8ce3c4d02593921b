//! The tests of a bench book with the layups and exposures that they name.

use std::path::Path;

use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::shelf::fault::{Fault, Faults};
use crate::shelf::file::sizes;
use crate::shelf::inputs::{self, InputText};
use crate::shelf::lab::book::{Book, Test, read_book, word_of};
use crate::shelf::layup::one_line::is_one_line;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;
use crate::shelf::stock::exposure_file::read_exposure;

/// Digits of a digest that a row keeps.
pub const DIGEST_DIGITS: usize = 16;

/// A test with what it was a test of.
#[derive(Debug, Clone, PartialEq)]
pub struct Tested<'a> {
    /// Its row.
    pub test: &'a Test,
    /// The layup as its file stands now.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// Digest of the layup's file as it stands now.
    pub digest: String,
}

impl Tested<'_> {
    /// Whether the layup's file has changed since it was tested; not where no digest was noted.
    pub fn has_changed(&self) -> bool {
        !self.test.layup_digest.is_empty() && self.test.layup_digest != self.digest
    }
}

/// The digest that a row keeps of a layup's text.
pub fn digest(text: &InputText) -> String {
    text.sha256()[..DIGEST_DIGITS].to_owned()
}

/// All tests of a book with their layups and exposures, in the book's order.
///
/// Errors: every layup and exposure that cannot be read, and every figure that its exposure does not have.
pub fn tested<'a>(book: &'a Book, shelf: &Shelf) -> Result<Vec<Tested<'a>>, Faults> {
    let mut faults = Vec::new();
    let mut all = Vec::new();
    for test in &book.tests {
        let layup = layup_of(book, test, shelf).map_err(|found| faults.extend(found.0)).ok();
        let exposure = exposure_of(book, test, shelf).map_err(|found| faults.extend(found.0)).ok();
        let Some(exposure) = exposure else { continue };
        if let Some(fault) = figure_fault(test, &exposure) {
            faults.push(fault);
        }
        let Some((layup, digest)) = layup else { continue };
        all.push(Tested { test, layup, exposure, digest });
    }
    if faults.is_empty() { Ok(all) } else { Err(Faults(faults)) }
}

fn layup_of(book: &Book, test: &Test, shelf: &Shelf) -> Result<(Layup, String), Faults> {
    let file = book.beside(&test.layup);
    let on_shelf = shelf.layup_text(&test.layup);
    if let (Err(unknown), false) = (on_shelf, file.exists() || is_one_line(&test.layup)) {
        let place = test.place_of_layup.clone();
        let expected = "a layup on the shelf, or a file seen from the book's folder";
        return Err(Fault::new(unknown.what(), place, expected, unknown.mend()).into());
    }
    let text = inputs::of_layup(&test.layup, &file, shelf)?;
    let layup = read_layup_text(&text.body, text.path.as_ref(), shelf)?;
    Ok((layup, digest(&text)))
}

/// The texts of a book and of the layups and exposures that its tests name, each once.
///
/// Errors: a file that cannot be read.
pub fn texts(path: &Path, shelf: &Shelf) -> Result<Vec<InputText>, Faults> {
    let book = read_book(path)?;
    let mut all = vec![inputs::of_text(path, sizes::BOOK)?];
    for test in &book.tests {
        all.push(inputs::of_layup(&test.layup, &book.beside(&test.layup), shelf)?);
        if shelf.exposure(&test.exposure).is_err() {
            all.extend(inputs::of_exposure(&book.beside(&test.exposure))?);
        }
    }
    Ok(all)
}

fn exposure_of(book: &Book, test: &Test, shelf: &Shelf) -> Result<Exposure, Faults> {
    let unknown = match shelf.exposure(&test.exposure) {
        Ok(exposure) => return Ok(exposure.clone()),
        Err(unknown) => unknown,
    };
    let file = book.beside(&test.exposure);
    if !file.exists() {
        let place = test.place_of_exposure.clone();
        let expected = "an exposure on the shelf, or a file seen from the book's folder";
        return Err(Fault::new(unknown.what(), place, expected, unknown.mend()).into());
    }
    read_exposure(&file)
}

/// RHTI is a figure of radiant heat alone, HTI one of a flame.
fn figure_fault(test: &Test, exposure: &Exposure) -> Option<Fault> {
    let right = word_of(test.figure, exposure.is_radiant());
    (right != test.figure_name).then(|| {
        let what = format!("{} is no figure under {}", test.figure_name, exposure.name);
        let mend = format!("write `{right}`, or name the exposure that it was read under");
        Fault::new(what, test.place_of_figure.clone(), format!("`{right}` there"), mend)
    })
}
