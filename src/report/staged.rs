//! Files that are being written beside their places, so that none is left when the program is stopped.

use std::ffi::OsStr;
use std::fs::{self, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use std::process;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// How many names are tried where an earlier program has left its parts.
const NAMES_MOST: usize = 100;

static ALL: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// Keeps [`sweep`] waiting for as long as what is returned lives: files are put in their places all
/// together, or not at all, whenever the program is told to stop.
pub fn hold() -> MutexGuard<'static, Vec<PathBuf>> {
    // a list is whole between any two of its calls, whatever panicked meanwhile
    ALL.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Removes all parts. What is returned keeps any further one from being put in its place: the program
/// is to end with it in hand.
pub fn sweep() -> MutexGuard<'static, Vec<PathBuf>> {
    let mut all = hold();
    for path in all.drain(..) {
        // Gone already after a rename.
        let _ = fs::remove_file(path);
    }
    all
}

/// Notes a further file that goes when the program is stopped, until [`forget`].
pub fn note(path: &Path) {
    hold().push(path.to_path_buf());
}

/// The file is no longer to go.
pub fn forget(path: &Path) {
    hold().retain(|known| known != path);
}

/// A part: a file beside the place of another, gone when this is dropped.
#[derive(Debug)]
pub struct Staged(PathBuf);

impl Staged {
    /// Makes an empty file beside `name`; a file or link that stands there already is left alone.
    ///
    /// Errors: what the system says.
    pub fn beside(folder: &Path, name: &OsStr) -> io::Result<Staged> {
        let (name, id) = (name.to_string_lossy(), process::id());
        let mut all = hold();
        for i in 0..NAMES_MOST {
            let more = if i == 0 { String::new() } else { format!("-{i}") };
            let path = folder.join(format!(".{name}.{id}{more}.part"));
            match OpenOptions::new().write(true).create_new(true).open(&path) {
                Ok(_) => {
                    all.push(path.clone());
                    return Ok(Staged(path));
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(error),
            }
        }
        Err(io::Error::new(io::ErrorKind::AlreadyExists, "too many parts of earlier programs"))
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Makes it once more after it was renamed; whether it was.
    pub fn again(&self) -> io::Result<bool> {
        let _guard = hold();
        let made = OpenOptions::new().write(true).create_new(true).open(&self.0);
        match made {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
            other => other.map(|_| true),
        }
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        let mut all = hold();
        all.retain(|path| *path != self.0);
        // Gone already after a rename; otherwise nothing half-written stays behind.
        let _ = fs::remove_file(&self.0);
    }
}
