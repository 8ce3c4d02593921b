//! Files are whole or not there: tried first, written beside their place, then renamed.

use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process;

use crate::garment::claim::{self, Hold, Taken, Use};

/// A file that can be written; nothing stands in its place until [`Destination::put`].
#[derive(Debug)]
pub struct Destination {
    path: PathBuf,
    way: Way,
    /// That no other output and no input is this file.
    _hold: Hold,
}

#[derive(Debug)]
enum Way {
    /// A regular file, by way of a temporary one in the same folder.
    Rename(PathBuf),
    /// A device or pipe, written as it is.
    Direct,
}

impl Destination {
    /// Tries whether `path` can be written, leaving what stands there untouched.
    ///
    /// Errors: a folder, a read-only file, a missing or unwritable parent folder.
    pub fn try_out(path: &Path) -> Result<Destination, WriteError> {
        let refused = |why: Why| WriteError { path: path.to_path_buf(), why };
        if path.as_os_str().is_empty() {
            return Err(refused(Why::NoName));
        }
        let hold = claim::write(path).map_err(|taken| refused(Why::Taken(taken)))?;
        // A link is followed, so that what it points to is replaced and the link stays.
        let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
        if let Ok(known) = fs::metadata(&real) {
            if known.is_dir() {
                return Err(refused(Why::IsFolder));
            }
            if known.permissions().readonly() {
                return Err(refused(Why::ReadOnly));
            }
            if !known.is_file() {
                return Ok(Destination { path: real, way: Way::Direct, _hold: hold });
            }
        }
        let Some(name) = real.file_name() else { return Err(refused(Why::NoName)) };
        let folder = match real.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
            _ => PathBuf::from("."),
        };
        if !folder.is_dir() {
            return Err(refused(Why::NoFolder(folder)));
        }
        let temporary = folder.join(format!(".{}.{}.part", name.to_string_lossy(), process::id()));
        let opened = OpenOptions::new().write(true).create(true).truncate(true).open(&temporary);
        opened.map_err(|error| refused(Why::Io(error)))?;
        Ok(Destination { path: real, way: Way::Rename(temporary), _hold: hold })
    }

    /// The folder-resolved path of the file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes all of `bytes` and puts the file in its place.
    ///
    /// Errors: what the system says; what stood in the place before then stays.
    pub fn put(self, bytes: &[u8]) -> Result<(), WriteError> {
        self.put_once_more(bytes)
    }

    /// As [`Destination::put`], for a file that is written again and again.
    pub fn put_once_more(&self, bytes: &[u8]) -> Result<(), WriteError> {
        let done = match &self.way {
            Way::Direct => File::options().write(true).open(&self.path).and_then(|mut file| {
                file.write_all(bytes)?;
                file.flush()
            }),
            Way::Rename(temporary) => File::create(temporary)
                .and_then(|mut file| {
                    file.write_all(bytes)?;
                    file.sync_all()
                })
                .and_then(|()| fs::rename(temporary, &self.path)),
        };
        done.map_err(|error| WriteError { path: self.path.clone(), why: Why::Io(error) })
    }
}

impl Drop for Destination {
    fn drop(&mut self) {
        if let Way::Rename(temporary) = &self.way {
            // Gone already after a rename; otherwise nothing half-written stays behind.
            let _ = fs::remove_file(temporary);
        }
    }
}

/// A file that cannot be written.
#[derive(Debug)]
pub struct WriteError {
    /// As the user gave it.
    pub path: PathBuf,
    /// What stands against it.
    pub why: Why,
}

/// What stands against writing a file.
#[derive(Debug)]
pub enum Why {
    /// The path names no file.
    NoName,
    /// A folder stands there.
    IsFolder,
    /// A read-only file stands there.
    ReadOnly,
    /// The same command reads it, or writes it by another option.
    Taken(Taken),
    /// This folder does not exist.
    NoFolder(PathBuf),
    /// What the system said.
    Io(io::Error),
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        let (what, mend) = match &self.why {
            Why::NoName => ("the path names no file".to_string(), "give a file name"),
            Why::IsFolder => ("it is a folder".to_string(), "name a file inside that folder"),
            Why::ReadOnly => {
                ("it is read-only".to_string(), "make it writable or choose another name")
            }
            Why::NoFolder(folder) => (
                format!("there is no folder `{}`", folder.display()),
                "make the folder first or correct the path",
            ),
            Why::Taken(taken) => {
                let other = taken.path.display();
                let what = match taken.what {
                    Use::Read => format!("it is read, as `{other}`"),
                    Use::Written => format!("another output goes there, as `{other}`"),
                };
                (what, "choose another name for the output")
            }
            Why::Io(error) => (error.to_string(), "choose a place that can be written"),
        };
        writeln!(f, "error: `{path}` cannot be written: {what}")?;
        let expected = match &self.why {
            Why::Taken(_) => "a file of its own for each output, none that is read",
            _ => "a file in a folder that exists and may be written to",
        };
        writeln!(f, "  expected: {expected}")?;
        write!(f, "  mend: {mend}; nothing was written")
    }
}

impl std::error::Error for WriteError {}

#[cfg(test)]
mod tests {
    use super::Destination;
    use std::fs;
    use std::path::PathBuf;

    fn folder(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("stillair-write-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    #[test]
    fn trying_leaves_the_old_file_and_no_rest() {
        let folder = folder("try");
        let path = folder.join("out.csv");
        fs::write(&path, "old").unwrap();
        drop(Destination::try_out(&path).unwrap());
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
        Destination::try_out(&path).unwrap().put(b"new").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn refuses_folders_and_missing_folders() {
        let folder = folder("refuse");
        let said = Destination::try_out(&folder).unwrap_err().to_string();
        assert!(said.contains("it is a folder"), "{said}");
        let said = Destination::try_out(&folder.join("no/out.csv")).unwrap_err().to_string();
        assert!(said.contains("there is no folder"), "{said}");
        fs::remove_dir_all(folder).unwrap();
    }
}
