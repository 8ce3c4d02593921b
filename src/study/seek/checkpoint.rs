//! A file to which each chunk is added as it is done; what is in it outlives the program.
//!
//! The file begins with a line that names it and a frame that says of which search it is, with the
//! brief's text; then comes a frame a chunk. Every frame carries its length and a digest, and is
//! on the disk before the next chunk begins. A frame at the end that is not whole counts as never
//! written.

use std::fmt;
use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use fs4::fs_std::FileExt;

use crate::garment::brief::Brief;
use crate::shelf::file::regular::{self, Unread};
use crate::shelf::file::sizes::SEEK_CHECKPOINT_MOST;
use crate::study::bits::Bits;
use crate::study::digest::digest;
use crate::study::seek::frame::{Put, Take, framed, unframed};
use crate::study::seek::part::Part;
use crate::study::seek::space::Space;
use crate::study::seek::summary::{Done, Summary};

/// First line of every file.
const MAGIC: &[u8] = b"stillair seek checkpoint 3\n";

/// Which search a file belongs to.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// Digest of all that the result depends on.
    pub fingerprint: u64,
    /// The share of the search.
    pub part: Part,
    /// Version of the program.
    pub version: String,
    /// Numerical error allowed [–].
    pub error_goal: f64,
    /// The brief's file, as it was named.
    pub path: String,
    /// The brief's text.
    pub brief: String,
}

/// A file that chunks are added to.
#[derive(Debug)]
pub struct Checkpoint {
    path: PathBuf,
    file: File,
}

/// Why a file cannot be used.
#[derive(Debug)]
pub struct CheckpointError {
    /// The file, as the user named it.
    pub path: PathBuf,
    /// What stands against it.
    pub why: Unfit,
}

/// What stands against a file.
#[derive(Debug)]
pub enum Unfit {
    /// It is there already.
    There,
    /// Another program writes to it.
    Held,
    /// It is another kind of file.
    Foreign,
    /// Its first frame is not whole.
    NoHead,
    /// It belongs to another search: what differs.
    Other(&'static str),
    /// A chunk in it belongs to no search of this kind.
    Senseless,
    /// It cannot be read.
    Unread(Unread),
    /// What the system said.
    Io(io::Error),
}

/// What a file held.
#[derive(Debug)]
pub struct Held {
    /// Chunks that are done.
    pub done: Done,
    /// Bytes at the end that are not a whole frame.
    pub n_torn: u64,
}

impl Checkpoint {
    /// Begins a new file.
    ///
    /// Errors: a file that is there already, or what the system says.
    pub fn begin(path: &Path, head: &Head) -> Result<Checkpoint, CheckpointError> {
        let opened = OpenOptions::new().write(true).create_new(true).open(path);
        let file = opened.map_err(|error| match error.kind() {
            io::ErrorKind::AlreadyExists => unfit(path, Unfit::There),
            _ => unfit(path, Unfit::Io(error)),
        })?;
        alone(&file, path)?;
        let mut checkpoint = Checkpoint { path: path.to_path_buf(), file };
        checkpoint.put(&head_bytes(head))?;
        Ok(checkpoint)
    }

    /// Takes up a file where it ends; a torn end is cut off. Begins it where there is none.
    ///
    /// Errors: a file of another search or kind, or what the system says.
    pub fn resume(
        path: &Path,
        head: &Head,
        space: &Space<'_>,
    ) -> Result<(Checkpoint, Held), CheckpointError> {
        let nothing = Held { done: Done::new(), n_torn: 0 };
        let io = |error| unfit(path, Unfit::Io(error));
        match regular::open(path) {
            Err(Unread::Missing) => return Ok((Checkpoint::begin(path, head)?, nothing)),
            opened => drop(opened.map_err(|unread| unfit(path, Unfit::Unread(unread)))?),
        }
        let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(io)?;
        alone(&file, path)?;
        let bytes = regular::read_open(&file, &file.metadata().map_err(io)?, SEEK_CHECKPOINT_MOST)
            .map_err(|unread| unfit(path, Unfit::Unread(unread)))?;
        let whole = head_bytes(head);
        let (held, n_kept) = match take_head(&bytes, path) {
            Ok((found, n_head)) => {
                agree(&found, head).map_err(|why| unfit(path, why))?;
                let (done, n) = take_chunks(&bytes[n_head..], space, found.part, path)?;
                (Held { done, n_torn: (bytes.len() - n_head - n) as u64 }, n_head + n)
            }
            // Stopped while the head was written: nothing of this search is lost.
            Err(_) if torn_from(&bytes, &whole) => {
                (Held { n_torn: bytes.len() as u64, ..nothing }, 0)
            }
            Err(error) => return Err(error),
        };
        file.set_len(n_kept as u64).map_err(io)?;
        file.seek(SeekFrom::End(0)).map_err(io)?;
        let mut checkpoint = Checkpoint { path: path.to_path_buf(), file };
        if n_kept == 0 {
            checkpoint.put(&whole)?;
        }
        Ok((checkpoint, held))
    }

    /// Adds a chunk; it is on the disk when this returns.
    ///
    /// Errors: what the system says.
    pub fn append(&mut self, chunk: u64, summary: &Summary) -> Result<(), CheckpointError> {
        let mut put = Put::default();
        put.number(chunk);
        put.summary(summary);
        self.put(&framed(&put.0))
    }

    fn put(&mut self, bytes: &[u8]) -> Result<(), CheckpointError> {
        let done = self.file.write_all(bytes).and_then(|()| self.file.sync_data());
        done.map_err(|error| unfit(&self.path, Unfit::Io(error)))
    }
}

impl Drop for Checkpoint {
    /// Frees the lock at once: a program that is being started just then has the file open, too, until it is.
    fn drop(&mut self) {
        let _ = FileExt::unlock(&self.file);
    }
}

/// Whether a file begins as a checkpoint does; not where it cannot be read.
pub fn is_checkpoint(path: &Path) -> bool {
    let mut first = vec![0; MAGIC.len()];
    let read = regular::open(path).map(|(mut file, _)| file.read_exact(&mut first));
    read.is_ok_and(|read| read.is_ok()) && first == MAGIC
}

/// The head of a file.
///
/// Errors: a file of another kind, one whose head is torn, or what the system says.
pub fn read_head(path: &Path) -> Result<Head, CheckpointError> {
    Ok(take_head(&read(path)?, path)?.0)
}

/// The chunks of a file whose head is known.
///
/// Errors: a chunk that makes no sense for this search, or what the system says.
pub fn read_chunks(path: &Path, space: &Space<'_>) -> Result<Held, CheckpointError> {
    let bytes = read(path)?;
    let (head, n_head) = take_head(&bytes, path)?;
    let (done, n) = take_chunks(&bytes[n_head..], space, head.part, path)?;
    Ok(Held { done, n_torn: (bytes.len() - n_head - n) as u64 })
}

/// Whether `bytes` are `whole` up to some place and nothing, or only zeros, from there on.
fn torn_from(bytes: &[u8], whole: &[u8]) -> bool {
    let n = bytes.iter().zip(whole).take_while(|(one, other)| one == other).count();
    bytes[n..].iter().all(|byte| *byte == 0)
}

fn read(path: &Path) -> Result<Vec<u8>, CheckpointError> {
    let read = regular::read(path, SEEK_CHECKPOINT_MOST);
    read.map_err(|unread| unfit(path, Unfit::Unread(unread)))
}

/// Locks the file for as long as it is open; the system frees it when a process dies.
fn alone(file: &File, path: &Path) -> Result<(), CheckpointError> {
    match file.try_lock_exclusive() {
        Ok(true) => Ok(()),
        Ok(false) => Err(unfit(path, Unfit::Held)),
        Err(error) => Err(unfit(path, Unfit::Io(error))),
    }
}

fn unfit(path: &Path, why: Unfit) -> CheckpointError {
    CheckpointError { path: path.to_path_buf(), why }
}

fn head_bytes(head: &Head) -> Vec<u8> {
    let mut put = Put::default();
    put.number(head.fingerprint);
    put.number(u64::from(head.part.k));
    put.number(u64::from(head.part.n));
    put.number(head.error_goal.to_bits());
    for text in [&head.version, &head.path, &head.brief] {
        put.text(text);
    }
    [MAGIC, &framed(&put.0)].concat()
}

/// The head at the beginning of a file, and where it ends.
fn take_head(bytes: &[u8], path: &Path) -> Result<(Head, usize), CheckpointError> {
    let Some(rest) = bytes.strip_prefix(MAGIC) else {
        let why = if MAGIC.starts_with(bytes) { Unfit::NoHead } else { Unfit::Foreign };
        return Err(unfit(path, why));
    };
    let (payload, n) = unframed(rest).ok_or_else(|| unfit(path, Unfit::NoHead))?;
    let head = parse_head(&mut Take(payload)).ok_or_else(|| unfit(path, Unfit::Senseless))?;
    Ok((head, MAGIC.len() + n))
}

fn parse_head(take: &mut Take<'_>) -> Option<Head> {
    let fingerprint = take.number()?;
    let (k, n) = (u32::try_from(take.number()?).ok()?, u32::try_from(take.number()?).ok()?);
    Some(Head {
        fingerprint,
        part: Part::new(k, n)?,
        error_goal: f64::from_bits(take.number()?),
        version: take.text()?,
        path: take.text()?,
        brief: take.text()?,
    })
}

/// The chunks up to the first frame that is not whole, and where they end.
fn take_chunks(
    bytes: &[u8],
    space: &Space<'_>,
    part: Part,
    path: &Path,
) -> Result<(Done, usize), CheckpointError> {
    let (mut done, mut at) = (Done::new(), 0);
    while let Some((payload, n)) = unframed(&bytes[at..]) {
        let mut take = Take(payload);
        let chunk = take.number().filter(|chunk| part.holds(*chunk));
        let summary = take.summary(space);
        let (Some(chunk), Some(summary), true) = (chunk, summary, take.0.is_empty()) else {
            return Err(unfit(path, Unfit::Senseless));
        };
        done.insert(chunk, summary);
        at += n;
    }
    Ok((done, at))
}

/// Whether a file's head is that of this search.
pub fn agree(found: &Head, head: &Head) -> Result<(), Unfit> {
    match () {
        () if found.version != head.version => Err(Unfit::Other("another version of the program")),
        () if found.error_goal != head.error_goal => {
            Err(Unfit::Other("another numerical error allowed"))
        }
        () if found.fingerprint != head.fingerprint => {
            Err(Unfit::Other("another brief, or fabrics, targets or exposures of other values"))
        }
        () if found.part != head.part => Err(Unfit::Other("another part of the search")),
        () => Ok(()),
    }
}

impl fmt::Display for CheckpointError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, mend) = match &self.why {
            Unfit::There => {
                let mend = "go on from it with --resume, or name another file";
                ("it is there already".to_owned(), mend)
            }
            Unfit::Held => {
                let mend = "wait for it, or name another file";
                ("another program is writing to it".to_owned(), mend)
            }
            Unfit::Foreign => ("it is no checkpoint of a search".to_owned(), "name another file"),
            Unfit::NoHead => ("its beginning is torn".to_owned(), "remove it and search again"),
            Unfit::Senseless => {
                ("a record in it makes no sense".to_owned(), "remove it and search again")
            }
            Unfit::Other(what) => {
                let mend = "use the brief, shelf, version and options it was begun with";
                (format!("it belongs to another search: {what}"), mend)
            }
            Unfit::Unread(unread) => (unread.to_string(), unread.mend()),
            Unfit::Io(error) => (error.to_string().to_lowercase(), "check the name and the folder"),
        };
        writeln!(f, "error: `{}` cannot be used: {what}", self.path.display())?;
        writeln!(f, "  expected: a checkpoint of this search, in a folder that may be written to")?;
        write!(f, "  mend: {mend}")
    }
}

impl std::error::Error for CheckpointError {}

/// Digest of all that a search's result depends on: program version, brief with its fabrics,
/// targets and exposures, and the numerical error allowed.
pub fn fingerprint(brief: &Brief, error_goal: f64) -> u64 {
    let mut bits = Vec::new();
    env!("CARGO_PKG_VERSION").put(&mut bits);
    error_goal.put(&mut bits);
    brief.put(&mut bits);
    digest(&bits)
}
