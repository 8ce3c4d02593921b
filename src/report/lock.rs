//! A lock on a file that several programs may write: a second one waits, or is told.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

use fs4::fs_std::FileExt;

use crate::report::staged;

/// A lock that lasts as long as this; the system frees it when a process dies.
///
/// It lies beside the file that it guards, since that file is replaced whenever it is written.
#[derive(Debug)]
pub struct Lock {
    file: File,
    path: PathBuf,
    /// Whether nobody waits for it, so that it is taken away in the end.
    passing: bool,
}

impl Lock {
    /// The lock of `path`, after whoever has it.
    ///
    /// Errors: what the system says.
    pub fn wait(path: &Path) -> io::Result<Lock> {
        let beside = beside(path);
        let file = open(&beside)?;
        file.lock_exclusive()?;
        Ok(Lock { file, path: beside, passing: false })
    }

    /// The lock of `path`; none while another program has it.
    ///
    /// Errors: what the system says.
    pub fn at_once(path: &Path) -> io::Result<Option<Lock>> {
        let beside = beside(path);
        loop {
            let file = open(&beside)?;
            if !file.try_lock_exclusive()? {
                return Ok(None);
            }
            // Whoever had it may have taken its file away between the two calls.
            if is_still(&file, &beside) {
                staged::note(&beside);
                return Ok(Some(Lock { file, path: beside, passing: true }));
            }
        }
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        if self.passing && cfg!(unix) {
            let _ = fs::remove_file(&self.path);
            staged::forget(&self.path);
        }
        // a program that is being started just then has the file open, too, until it is
        let _ = FileExt::unlock(&self.file);
    }
}

fn beside(path: &Path) -> PathBuf {
    let name = path.file_name().map_or_else(|| "file".into(), |name| name.to_string_lossy());
    path.with_file_name(format!(".{name}.lock"))
}

fn open(path: &Path) -> io::Result<File> {
    OpenOptions::new().create(true).truncate(false).write(true).open(path)
}

#[cfg(unix)]
fn is_still(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(path)) {
        (Ok(one), Ok(two)) => (one.dev(), one.ino()) == (two.dev(), two.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
fn is_still(_: &File, _: &Path) -> bool {
    true
}

#[cfg(test)]
mod tests {
    use super::Lock;

    #[test]
    fn one_has_it_and_nothing_is_left() {
        let folder = std::env::temp_dir().join(format!("stillair-lock-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let file = folder.join("kept");
        for _ in 0..3 {
            let lock = Lock::at_once(&file).unwrap().expect("nobody has it");
            assert!(Lock::at_once(&file).unwrap().is_none());
            drop(lock);
            assert!(!cfg!(unix) || std::fs::read_dir(&folder).unwrap().next().is_none());
        }
        std::fs::remove_dir_all(folder).unwrap();
    }

    /// A program being started holds every open file until it is: so does a second handle here.
    #[test]
    fn it_is_free_as_soon_as_it_is_dropped() {
        let folder = std::env::temp_dir().join(format!("stillair-free-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let file = folder.join("kept");
        let lock = Lock::wait(&file).unwrap();
        let twin = lock.file.try_clone().unwrap();
        assert!(Lock::at_once(&file).unwrap().is_none());
        drop(lock);
        assert!(Lock::at_once(&file).unwrap().is_some());
        drop(twin);
        std::fs::remove_dir_all(folder).unwrap();
    }
}
