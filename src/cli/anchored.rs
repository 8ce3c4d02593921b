//! Whether predictions are anchored to own tests, as every command takes it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::error::{BadOption, CliError};
use super::output;
use crate::garment::band::Bands;
use crate::garment::skin::Skin;
use crate::report::anchored::{fitted_to, left_out};
use crate::shelf::lab::book::{FILE, read_book};
use crate::shelf::lab::cases::tested;
use crate::shelf::materials::Shelf;
use crate::study::book::own::Own;

/// Whether predictions are anchored.
#[derive(Debug, Clone, clap::Args)]
pub struct AnchoredArg {
    /// Anchor predictions to the tests of your own laboratory in the bench book:
    /// each is multiplied by the ratio that tests of layups like it showed, and
    /// targets are called by the band that those leave
    #[arg(long)]
    anchored: bool,
    /// The bench book [default: bench-book.csv in the last folder given by --shelf]
    #[arg(long, value_name = "FILE.csv|.xlsx", requires = "anchored")]
    book: Option<PathBuf>,
}

impl AnchoredArg {
    /// The table by which targets are called: the shelf's, own tests above it where they are asked.
    ///
    /// - `skin`, `error_goal`: how the tests are predicted, which is how the command predicts
    pub fn bands(
        &self,
        (shelf, dirs): (&Shelf, &[PathBuf]),
        skin: &Skin,
        error_goal: f64,
    ) -> Result<Bands, CliError> {
        match self.place(dirs)? {
            None => Ok(shelf.bands().clone()),
            Some(path) => anchored_bands(&path, shelf, skin, error_goal),
        }
    }

    /// The book that is asked; none where none is.
    pub fn place(&self, dirs: &[PathBuf]) -> Result<Option<PathBuf>, CliError> {
        self.anchored.then(|| place_of_book(self.book.as_deref(), dirs)).transpose()
    }

    /// The words that ask for it on a command line.
    pub fn words(&self) -> Vec<String> {
        let mut words = Vec::new();
        if self.anchored {
            words.push("--anchored".to_owned());
        }
        if let Some(book) = &self.book {
            words.extend(["--book".to_owned(), book.display().to_string()]);
        }
        words
    }
}

/// The shelf's table with the tests of a book above it; tests that are left out are told.
pub fn anchored_bands(
    path: &Path,
    shelf: &Shelf,
    skin: &Skin,
    error_goal: f64,
) -> Result<Bands, CliError> {
    let (bands, notes) = bands_of_book(path, shelf, skin, error_goal)?;
    notes.iter().for_each(|said| output::say(&format!("note: {said}")));
    Ok(bands)
}

/// The same, with what is to be told of the book.
pub fn bands_of_book(
    path: &Path,
    shelf: &Shelf,
    skin: &Skin,
    error_goal: f64,
) -> Result<(Bands, Vec<String>), CliError> {
    needs_lapack("--anchored")?;
    let book = read_book(path).map_err(CliError::Faults)?;
    let all = tested(&book, shelf).map_err(CliError::Faults)?;
    let own = Own::of(&all, shelf.bands(), skin, error_goal)?;
    let mut notes: Vec<String> =
        [left_out(&own.changed), fitted_to(&own.fitted_to)].into_iter().flatten().collect();
    if book.tests.is_empty() {
        let path = path.display();
        notes.push(format!("{path} has no test; the shelf's bands hold"));
    }
    Ok((shelf.bands().anchored_to(Arc::new(own)), notes))
}

/// Refuses what needs linear algebra that was not built in.
pub fn needs_lapack(given: &str) -> Result<(), CliError> {
    if cfg!(feature = "lapack") {
        return Ok(());
    }
    Err(CliError::Option(BadOption {
        what: "this program was built without the feature `lapack`, which anchoring needs".into(),
        given: given.into(),
        expected: "a program built with its default features".into(),
        mend: "build it again without --no-default-features, or with --features lapack".into(),
    }))
}

/// Where the book lies.
pub fn place_of_book(given: Option<&Path>, dirs: &[PathBuf]) -> Result<PathBuf, CliError> {
    let on_shelf = || dirs.last().map(|dir| dir.join(FILE));
    given.map(Path::to_path_buf).or_else(on_shelf).ok_or_else(|| {
        CliError::Option(BadOption {
            what: "no bench book was named".into(),
            given: "neither --book nor --shelf".into(),
            expected: format!("--book FILE.csv, or --shelf DIR with {FILE} in it"),
            mend: format!("name the book, for example --book {FILE}"),
        })
    })
}
