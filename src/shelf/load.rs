//! The shelf filled: with what comes built in, and what the user lays on top.

use std::path::{Path, PathBuf};

use crate::shelf::check::check;
use crate::shelf::fault::Faults;
use crate::shelf::materials::{Checked, Shelf};
use crate::shelf::stock::raw::Raw;
use crate::shelf::stock::resolve::resolve;

impl Shelf {
    /// The shelf that comes with the program.
    pub fn built_in() -> Result<Shelf, Faults> {
        Shelf::with_dirs(&[])
    }

    /// The built-in shelf with each directory laid on top in order; later ones win.
    pub fn with_dirs(dirs: &[PathBuf]) -> Result<Shelf, Faults> {
        let mut faults = Vec::new();
        let mut raw = Raw::built_in(&mut faults);
        for dir in dirs {
            raw.add_dir(dir, &mut faults);
        }
        let shelf = resolve(raw, &mut faults);
        if faults.is_empty() { Ok(shelf) } else { Err(Faults(faults)) }
    }

    /// Reads one file as if it were laid on top of this shelf, and says what it holds.
    pub fn check(&self, path: &Path) -> Result<Checked, Faults> {
        check(self, path)
    }
}
