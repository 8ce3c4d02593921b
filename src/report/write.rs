//! Files are whole or not there: tried first, written beside their place, then renamed all together.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::report::staged::{self, Staged};
use crate::shelf::file::claim::{self, Hold};
use crate::shelf::file::regular::folder_of;
use crate::shelf::notation::workbook_write::workbook;

pub use crate::report::write_error::{Stands, Why, WriteError};

/// A file that can be written; nothing stands in its place until [`put_all`].
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
    Rename(Staged),
    /// A device or pipe, written as it is.
    Direct,
}

impl Destination {
    /// Tries whether `path` can be written, leaving what stands there untouched.
    ///
    /// Errors: a folder, a read-only file, a missing or unwritable parent folder.
    pub fn try_out(path: &Path) -> Result<Destination, WriteError> {
        let refused = |why: Why| WriteError::before(path, why);
        if path.as_os_str().is_empty() {
            return Err(refused(Why::NoName));
        }
        let hold = claim::write(path).map_err(|taken| refused(Why::Taken(taken)))?;
        // A link is followed, so that what it points to is replaced and the link stays.
        let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
        let mut old = None;
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
            old = Some(known.permissions());
        }
        let Some(name) = real.file_name() else { return Err(refused(Why::NoName)) };
        let folder = folder_of(&real);
        if !folder.is_dir() {
            return Err(refused(Why::NoFolder(folder.to_path_buf())));
        }
        let staged = Staged::beside(folder, name).map_err(|error| refused(Why::Io(error)))?;
        // Who may read a file that is replaced may read what replaces it, and nobody else.
        let kept = old.map_or(Ok(()), |mode: Permissions| fs::set_permissions(staged.path(), mode));
        kept.map_err(|error| refused(Why::Io(error)))?;
        Ok(Destination { path: real, way: Way::Rename(staged), _hold: hold })
    }

    /// The folder-resolved path of the file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether it is a pipe or a device, and nothing that is kept.
    pub fn is_stream(&self) -> bool {
        matches!(self.way, Way::Direct)
    }

    /// Writes all of `bytes` and puts the file in its place.
    ///
    /// Errors: what the system says; what stood in the place before then stays.
    pub fn put(self, bytes: &[u8]) -> Result<(), WriteError> {
        put_all(vec![(self, bytes.to_vec())])
    }

    /// As [`Destination::put`], for a file that is written again and again.
    pub fn put_once_more(&self, bytes: &[u8]) -> Result<(), WriteError> {
        let place = || match &self.way {
            Way::Direct => self.direct(bytes),
            Way::Rename(staged) => {
                self.stage(staged, bytes)?;
                let _guard = staged::hold();
                fs::rename(staged.path(), &self.path)
            }
        };
        place().map_err(|error| WriteError {
            path: self.path.clone(),
            why: Why::Io(error),
            stands: Stands::AsBefore,
        })
    }

    /// Writes all of `bytes` beside the place; the part may be gone since it was last renamed.
    fn stage(&self, staged: &Staged, bytes: &[u8]) -> io::Result<()> {
        if staged.again()? {
            if let Ok(old) = fs::metadata(&self.path) {
                fs::set_permissions(staged.path(), old.permissions())?;
            }
        }
        write_whole(staged.path(), bytes)
    }

    fn direct(&self, bytes: &[u8]) -> io::Result<()> {
        let mut file = File::options().write(true).open(&self.path)?;
        file.write_all(bytes)?;
        file.flush()
    }
}

/// Writes all files beside their places, each on the disk, and only then puts them in their places.
///
/// Errors: what the system says. Until the last of them is on the disk nothing is put in its place; if
/// one cannot be put there then, the error names those that already stand.
pub fn put_all(files: Vec<(Destination, Vec<u8>)>) -> Result<(), WriteError> {
    let files = files.into_iter().map(|(file, bytes)| {
        let bytes = as_named(&file.path, bytes)?;
        Ok((file, bytes))
    });
    let files: Vec<(Destination, Vec<u8>)> = files.collect::<Result<_, WriteError>>()?;
    for (file, bytes) in &files {
        if let Way::Rename(staged) = &file.way {
            let failed = |error| WriteError::before(&file.path, Why::Io(error));
            file.stage(staged, bytes).map_err(failed)?;
        }
    }
    // What goes down a pipe cannot be taken back, but nothing else is replaced if it fails.
    for (file, bytes) in files.iter().filter(|(file, _)| matches!(file.way, Way::Direct)) {
        file.direct(bytes).map_err(|error| WriteError::before(&file.path, Why::Io(error)))?;
    }
    let guard = staged::hold();
    let mut done: Vec<PathBuf> = Vec::new();
    for (file, _) in &files {
        let Way::Rename(staged) = &file.way else { continue };
        if let Err(error) = fs::rename(staged.path(), &file.path) {
            let stands = if done.is_empty() { Stands::Nothing } else { Stands::These(done) };
            return Err(WriteError { path: file.path.clone(), why: Why::Io(error), stands });
        }
        done.push(file.path.clone());
    }
    drop(guard);
    on_disk(&done);
    Ok(())
}

/// What goes into a file of that name: a workbook where it ends so, made from the table that is given.
fn as_named(path: &Path, bytes: Vec<u8>) -> Result<Vec<u8>, WriteError> {
    let ends = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx"));
    if !ends {
        return Ok(bytes);
    }
    let made = workbook(&String::from_utf8_lossy(&bytes));
    made.map_err(|error| WriteError::before(path, Why::Io(io::Error::other(error))))
}

/// The bytes on the disk, in a file that is there.
fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).truncate(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// The new names on the disk, where folders can be opened; the files are whole without it.
fn on_disk(files: &[PathBuf]) {
    let mut folders: Vec<&Path> = files.iter().map(|path| folder_of(path)).collect();
    folders.dedup();
    for folder in folders {
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
}

#[cfg(test)]
mod tests {
    use super::{Destination, Stands, put_all};
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
    #[test]
    fn all_or_none_until_the_last_is_on_the_disk() {
        let folder = folder("all");
        let (one, two) = (folder.join("one"), folder.join("two"));
        fs::write(&one, "old").unwrap();
        let files = [&one, &two].map(|path| (Destination::try_out(path).unwrap(), b"new".to_vec()));
        // a folder that comes into the second one's place meanwhile is replaced by nothing
        fs::create_dir_all(two.join("within")).unwrap();
        let error = put_all(files.into()).unwrap_err();
        let Stands::These(these) = &error.stands else { panic!("{error}") };
        assert_eq!(these.len(), 1);
        let said = error.to_string();
        assert!(said.contains("already written: ") && said.contains("one"), "{said}");
        assert!(!said.contains("nothing was written"), "{said}");
        assert_eq!(fs::read_to_string(&one).unwrap(), "new");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 2, "no part is left");
        fs::remove_dir_all(folder).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn who_may_read_a_file_may_read_what_replaces_it() {
        use std::os::unix::fs::PermissionsExt;
        let folder = folder("mode");
        let path = folder.join("out.csv");
        fs::write(&path, "old").unwrap();
        for mode in [0o600, 0o640, 0o664] {
            fs::set_permissions(&path, fs::Permissions::from_mode(mode)).unwrap();
            let place = Destination::try_out(&path).unwrap();
            place.put_once_more(b"new").unwrap();
            place.put_once_more(b"newer").unwrap();
            place.put(b"newest").unwrap();
            assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, mode);
            assert_eq!(fs::read_to_string(&path).unwrap(), "newest");
        }
        fs::remove_dir_all(folder).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn a_link_in_the_place_of_a_part_is_not_followed() {
        let folder = folder("planted");
        let (path, other) = (folder.join("out.csv"), folder.join("other"));
        fs::write(&other, "other").unwrap();
        let part = folder.join(format!(".out.csv.{}.part", std::process::id()));
        std::os::unix::fs::symlink(&other, &part).unwrap();
        Destination::try_out(&path).unwrap().put(b"new").unwrap();
        assert_eq!(fs::read_to_string(&other).unwrap(), "other");
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        fs::remove_dir_all(folder).unwrap();
    }
}
