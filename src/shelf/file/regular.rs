//! The bytes of a file: of regular files only, and no more of them than a bound.
//!
//! A pipe may wait for ever and a device give bytes for ever; nothing of either is one of our formats.

use std::fmt;
use std::fs::{self, File, Metadata};
use std::io::{self, Read};
use std::path::Path;

/// Why a file was not read.
#[derive(Debug)]
pub enum Unread {
    /// Nothing is there.
    Missing,
    /// A folder is there.
    Folder,
    /// What is there is no file: what it is, in words.
    NoFile(&'static str),
    /// It holds more bytes than this.
    TooLarge(u64),
    /// What the system said.
    Io(io::Error),
}

impl Unread {
    /// The next thing to do.
    pub fn mend(&self) -> &'static str {
        match self {
            Unread::Missing => "check the name and the folder",
            Unread::Folder => "name a file inside it",
            Unread::NoFile(_) => "write what it gives to a file, and name that",
            Unread::TooLarge(_) => "look whether it is the file that was meant, or split it",
            Unread::Io(_) => "make it readable",
        }
    }
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unread::Missing => f.write_str("there is no such file"),
            Unread::Folder => f.write_str("it is a folder"),
            Unread::NoFile(what) => write!(f, "it is {what}, not a file"),
            Unread::TooLarge(most) => write!(f, "it is larger than {}", in_words(*most)),
            Unread::Io(error) => f.write_str(&error.to_string().to_lowercase()),
        }
    }
}

/// A number of bytes in words, such as "4 MB".
pub fn in_words(n_bytes: u64) -> String {
    match n_bytes {
        n if n >= 1_000_000 => format!("{} MB", n / 1_000_000),
        n => format!("{} kB", n / 1000),
    }
}

/// The folder that a path lies in.
pub fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// A regular file open for reading, without waiting for anything, and what the system knows of it.
///
/// Errors: see [`Unread`].
pub fn open(path: &Path) -> Result<(File, Metadata), Unread> {
    let failed = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => Unread::Missing,
        _ => Unread::Io(error),
    };
    let file = match at_once(path) {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Err(Unread::Missing),
        Err(_) => {
            // a socket, say, cannot be opened; and another program may keep a file to itself for a moment
            regular(&fs::metadata(path).map_err(failed)?)?;
            File::open(path).map_err(failed)?
        }
    };
    let known = file.metadata().map_err(failed)?;
    regular(&known)?;
    Ok((file, known))
}

/// Opens without waiting for whoever writes to a pipe, and without taking a terminal for one's own.
#[cfg(unix)]
fn at_once(path: &Path) -> io::Result<File> {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    let flags = OFlags::NONBLOCK | OFlags::NOCTTY;
    fs::OpenOptions::new().read(true).custom_flags(flags.bits() as i32).open(path)
}

#[cfg(not(unix))]
fn at_once(path: &Path) -> io::Result<File> {
    regular(&fs::metadata(path)?).map_err(|_| io::ErrorKind::Other)?;
    File::open(path)
}

/// All bytes of a regular file.
///
/// - `most`: bytes that it may hold; more are not read, whatever the system says of its size
///
/// Errors: see [`Unread`].
pub fn read(path: &Path, most: u64) -> Result<Vec<u8>, Unread> {
    let (file, known) = open(path)?;
    read_open(&file, &known, most)
}

/// The same of a file that is open at its beginning.
pub fn read_open(file: &File, known: &Metadata, most: u64) -> Result<Vec<u8>, Unread> {
    if known.len() > most {
        return Err(Unread::TooLarge(most));
    }
    // a byte more than there should be, so that one reading sees the end; it may grow meanwhile, and some
    // say that they hold nothing
    let mut bytes = Vec::with_capacity(known.len() as usize + 1);
    file.take(most + 1).read_to_end(&mut bytes).map_err(Unread::Io)?;
    if bytes.len() as u64 > most { Err(Unread::TooLarge(most)) } else { Ok(bytes) }
}

#[cfg(unix)]
fn regular(known: &Metadata) -> Result<(), Unread> {
    use std::os::unix::fs::FileTypeExt;
    let kind = known.file_type();
    match () {
        () if kind.is_file() => Ok(()),
        () if kind.is_dir() => Err(Unread::Folder),
        () if kind.is_fifo() => Err(Unread::NoFile("a pipe")),
        () if kind.is_socket() => Err(Unread::NoFile("a socket")),
        () => Err(Unread::NoFile("a device")),
    }
}

#[cfg(not(unix))]
fn regular(known: &Metadata) -> Result<(), Unread> {
    match () {
        () if known.is_file() => Ok(()),
        () if known.is_dir() => Err(Unread::Folder),
        () => Err(Unread::NoFile("a device")),
    }
}
