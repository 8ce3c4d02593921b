//! Every file that the program reads or writes, by identity: nothing written falls on what is read,
//! and no two outputs fall on one another.
//!
//! The command line turns the watch on; a library that reads and writes files one after another is left
//! alone. A file is known by device and inode, so that links of either kind, `./x` and `x`, are one
//! file; one that is not there yet by its folder and its name.

use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::shelf::file::regular::folder_of;

/// What a file is: the same for every path that leads to it.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Identity {
    /// A file that is there.
    File(Place),
    /// A name in a folder, where nothing is yet.
    Name(Place, String),
}

/// Device and inode, or what stands in for them.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Place {
    #[cfg(unix)]
    at: (u64, u64),
    #[cfg(not(unix))]
    at: PathBuf,
}

/// What a file is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Read.
    Read,
    /// Written in the end.
    Written,
}

#[derive(Debug)]
struct Claim {
    identity: Identity,
    what: Use,
    path: PathBuf,
}

#[derive(Debug, Default)]
struct Claims {
    watching: bool,
    all: Vec<Claim>,
}

static CLAIMS: Mutex<Claims> = Mutex::new(Claims { watching: false, all: Vec::new() });

fn claims() -> MutexGuard<'static, Claims> {
    // a list is whole between any two of its calls, whatever panicked meanwhile
    CLAIMS.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file that is claimed already: for what, and under which path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// What it is for.
    pub what: Use,
    /// The path by which it was named.
    pub path: PathBuf,
}

/// A file to be written; the claim ends with this.
#[derive(Debug)]
pub struct Hold(Option<Identity>);

impl Drop for Hold {
    fn drop(&mut self) {
        if let Some(identity) = self.0.take() {
            claims().all.retain(|claim| claim.what == Use::Read || claim.identity != identity);
        }
    }
}

/// Begins to watch a command, what an earlier one read being forgotten: from now on no file is both
/// read and written, or written twice.
pub fn watch() {
    let mut claims = claims();
    claims.watching = true;
    claims.all.clear();
}

/// Notes a file that is read.
///
/// Errors: it is to be written.
pub fn read(path: &Path) -> Result<(), Taken> {
    claim(path, Use::Read, || identity(path)).map(|_| ())
}

/// The same of a regular file that is open, of which the system has told what it knows.
///
/// Errors: it is to be written.
pub fn read_open(path: &Path, known: &Metadata) -> Result<(), Taken> {
    claim(path, Use::Read, || place(path, known).map(Identity::File)).map(|_| ())
}

/// Notes a file that is to be written, for as long as what is returned is kept.
///
/// Errors: it is read, or to be written by another output.
pub fn write(path: &Path) -> Result<Hold, Taken> {
    claim(path, Use::Written, || identity(path)).map(Hold)
}

/// The identity that was claimed; none where nobody watches, or for what is no regular file.
fn claim(
    path: &Path,
    what: Use,
    identity: impl FnOnce() -> Option<Identity>,
) -> Result<Option<Identity>, Taken> {
    let mut claims = claims();
    if !claims.watching {
        return Ok(None);
    }
    let Some(identity) = identity() else { return Ok(None) };
    let clashes = |claim: &&Claim| {
        claim.identity == identity && (what == Use::Written || claim.what == Use::Written)
    };
    if let Some(known) = claims.all.iter().find(clashes) {
        return Err(Taken { what: known.what, path: known.path.clone() });
    }
    claims.all.push(Claim { identity: identity.clone(), what, path: path.to_path_buf() });
    Ok(Some(identity))
}

/// What a path leads to; none for a folder, a device, a pipe, or where no folder is.
fn identity(path: &Path) -> Option<Identity> {
    if let Ok(known) = fs::metadata(path) {
        return known.is_file().then(|| place(path, &known).map(Identity::File)).flatten();
    }
    // a link that leads nowhere yet is the place that it leads to
    let path = fs::read_link(path).map_or_else(
        |_| path.to_path_buf(),
        |link| path.parent().unwrap_or(Path::new("")).join(link),
    );
    let name = path.file_name()?.to_string_lossy().into_owned();
    let folder = folder_of(&path);
    let place = place(folder, &fs::metadata(folder).ok()?)?;
    let name = if folds_case(folder) { name.to_lowercase() } else { name };
    Some(Identity::Name(place, name))
}

#[cfg(unix)]
fn place(_: &Path, known: &Metadata) -> Option<Place> {
    use std::os::unix::fs::MetadataExt;
    Some(Place { at: (known.dev(), known.ino()) })
}

#[cfg(not(unix))]
fn place(path: &Path, _: &Metadata) -> Option<Place> {
    fs::canonicalize(path).ok().map(|at| Place { at })
}

/// Whether names in a folder are one whatever their case: whether the folder itself is found under
/// its name in the other case.
fn folds_case(folder: &Path) -> bool {
    let Ok(real) = fs::canonicalize(folder) else { return false };
    let Some(name) = real.file_name().map(|name| name.to_string_lossy().into_owned()) else {
        return false;
    };
    let other: String = name
        .chars()
        .map(|c| if c.is_lowercase() { c.to_ascii_uppercase() } else { c.to_ascii_lowercase() })
        .collect();
    let both = (fs::metadata(&real), fs::metadata(real.with_file_name(&other)));
    match both {
        (Ok(one), Ok(two)) if other != name => place(&real, &one) == place(&real, &two),
        _ => false,
    }
}
