//! Why a file could not be written, and what stands all the same.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::shelf::file::claim::{Taken, Use};

/// A file that cannot be written.
#[derive(Debug)]
pub struct WriteError {
    /// As the user gave it.
    pub path: PathBuf,
    /// What stands against it.
    pub why: Why,
    /// What the command has written all the same.
    pub stands: Stands,
}

/// What a command that could not write a file has written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stands {
    /// Nothing.
    Nothing,
    /// The same file, as it was when it was last written.
    AsBefore,
    /// These files, new and whole.
    These(Vec<PathBuf>),
}

impl WriteError {
    /// The error of a file before anything was written.
    pub fn before(path: &Path, why: Why) -> WriteError {
        WriteError { path: path.to_path_buf(), why, stands: Stands::Nothing }
    }
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
        match &self.stands {
            Stands::Nothing => write!(f, "  mend: {mend}; nothing was written"),
            Stands::AsBefore => write!(f, "  mend: {mend}; the file is as it was last written"),
            Stands::These(paths) => {
                let paths: Vec<String> = paths.iter().map(|p| p.display().to_string()).collect();
                writeln!(f, "  mend: {mend}; run the command again")?;
                write!(f, "  already written: {}", paths.join(", "))
            }
        }
    }
}

impl std::error::Error for WriteError {}
