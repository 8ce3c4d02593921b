//! Files that another file names: only those in its own folder, unless the user wants more.
//!
//! An exposure comes from somebody else; what it names is to lie with it, and not to be any file that the
//! user may read.

use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

use crate::shelf::file::regular::folder_of;

static ALLOWED: AtomicBool = AtomicBool::new(false);

/// Whether files outside may be named from now on; not, at first.
pub fn allow(yes: bool) {
    ALLOWED.store(yes, Ordering::SeqCst);
}

/// The file that `named` stands for in a file at `path`; none where it leads out of the folder, be it by
/// a link, and that is not allowed.
pub(crate) fn named_in(path: &Path, named: &str) -> Option<PathBuf> {
    let folder = folder_of(path);
    let file = path.parent().unwrap_or(Path::new("")).join(named);
    let inside = match (fs::canonicalize(folder), fs::canonicalize(&file)) {
        (Ok(folder), Ok(file)) => file.starts_with(folder),
        // nothing is there: what it says then must not depend on what lies elsewhere
        _ => Path::new(named)
            .components()
            .all(|part| matches!(part, Component::Normal(_) | Component::CurDir)),
    };
    (inside || ALLOWED.load(Ordering::SeqCst)).then_some(file)
}
