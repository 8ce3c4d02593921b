//! A file as read, and places in it.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use crate::shelf::fault::{Fault, Faults, Place};
use crate::shelf::file::claim;
use crate::shelf::file::ours::is_ours;
use crate::shelf::file::plain;
use crate::shelf::file::regular::{self, Unread};
use crate::shelf::file::sizes::{Format, LINE_MOST};
use crate::shelf::notation::workbook;

pub(crate) use crate::shelf::file::sizes::Form;

/// A file's text with its name.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Text {
    /// The file, as the user named it.
    pub path: String,
    /// Its text, without a byte order mark and with plain line ends.
    pub body: String,
    /// Its notation.
    pub form: Form,
    /// Rows below the header, or tables of one name, that it may have.
    pub rows_most: usize,
    /// Whether it looks like one of our formats; of any other file no line is shown.
    pub ours: bool,
    /// Where each line begins.
    starts: Vec<usize>,
}

impl Text {
    /// A text in memory; a byte order mark and carriage returns at line ends are dropped.
    pub fn new(path: impl Into<String>, body: &str, form: Form) -> Arc<Text> {
        Arc::new(Text::of(path.into(), body.to_owned(), form, usize::MAX))
    }

    fn of(path: String, mut body: String, form: Form, rows_most: usize) -> Text {
        if body.starts_with('\u{feff}') {
            body.drain(..'\u{feff}'.len_utf8());
        }
        if body.contains('\r') {
            body = body.replace("\r\n", "\n");
        }
        let ends = body.match_indices('\n').map(|(at, _)| at + 1);
        let starts = std::iter::once(0).chain(ends).collect();
        let ours = is_ours(&body, form);
        Text { path, body, form, rows_most, ours, starts }
    }

    /// The text of a file.
    ///
    /// Errors: what is no regular file, or larger than its format may be; what is no text.
    pub fn load(path: &Path, format: Format) -> Result<Arc<Text>, Faults> {
        let shown = path.display().to_string();
        let Format { noun, form, .. } = format;
        let opened = regular::open(path);
        let claimed = match &opened {
            Ok((_, known)) => claim::read_open(path, known),
            Err(_) => claim::read(path),
        };
        if let Err(taken) = claimed {
            let what = format!("`{shown}` is to be written, as `{}`", taken.path.display());
            let expected = "another file for what is written than those that are read";
            let mend = "choose another name for the output; nothing was written";
            return Err(Fault::new(what, Place::file(shown), expected, mend).into());
        }
        let read =
            opened.and_then(|(file, known)| regular::read_open(&file, &known, format.bytes_most));
        let bytes = read.map_err(|unread| {
            let what = match unread {
                Unread::Folder => format!("`{shown}` is a directory"),
                _ => format!("cannot read `{shown}`: {unread}"),
            };
            let expected = match unread {
                Unread::TooLarge(most) => format!("{noun} of at most {}", regular::in_words(most)),
                _ => noun.to_owned(),
            };
            Fault::new(what, Place::file(shown.as_str()), expected, unread.mend())
        })?;
        // whatever it is called
        if form == Form::Csv && workbook::is_workbook(&bytes) {
            let body = workbook::table(&shown, bytes, format)?;
            return Arc::new(Text::of(shown, body, form, format.rows_most)).checked();
        }
        match String::from_utf8(bytes) {
            Ok(body) => Arc::new(Text::of(shown, body, form, format.rows_most)).checked(),
            Err(err) => Err(not_utf8(&shown, form, &err).into()),
        }
    }

    /// The text itself.
    ///
    /// Errors: a character that is refused, whatever stands around it; nothing of the file is used then.
    pub fn checked(self: Arc<Text>) -> Result<Arc<Text>, Faults> {
        let ends = self.starts.iter().skip(1).map(|start| start - 1).chain([self.body.len()]);
        let long = self.starts.iter().zip(ends).position(|(start, end)| end - start > LINE_MOST);
        if let Some(i) = long {
            let place = Place { line: i + 1, column: 1, ..Place::file(self.path.as_str()) };
            let what = format!("line {} is longer than {} kB", i + 1, LINE_MOST / 1000);
            let expected = format!("lines of at most {} kB", LINE_MOST / 1000);
            let mend = "look whether it is the file that was meant, or break the line";
            return Err(Fault::new(what, place, expected, mend).into());
        }
        let Some((at, c)) = plain::refused_in(&self.body) else { return Ok(self) };
        let what = format!("the file holds {}", plain::named(c));
        let place = self.place(at..at + c.len_utf8(), "");
        Err(Fault::new(what, place, plain::EXPECTED, plain::MEND).into())
    }

    /// The fault of a file that is none of ours.
    pub fn foreign(&self) -> Fault {
        let (noun, expected) = match self.form {
            Form::Csv => (
                "table",
                "a header row with the columns of fabrics, targets, rolls, a curve, a flux series or a \
                 bench book",
            ),
            Form::Toml | Form::Line => (
                "file",
                "a layup with `stack`, a suit with `panel`, a brief with `outer` and `inner`, an exposure \
                 with `flux_kW_m2`, or a skin",
            ),
        };
        let what =
            format!("`{}` is no {noun} of a kind known here; none of it is shown", self.path);
        let mend = "check the name, and the keys against the guide to the formats";
        let fault = Fault::new(what, Place::file(self.path.as_str()), expected, mend);
        Fault { breaks: true, ..fault }
    }

    /// The fault of a file without content.
    pub fn empty(&self, expected: &str) -> Fault {
        let mend = "write it, or name another file";
        Fault::new("the file is empty", self.place(0..0, ""), expected, mend)
    }

    /// The place of the bytes `span`.
    pub fn place(&self, span: Range<usize>, label: impl Into<String>) -> Place {
        let start = self.floor(span.start);
        let line = self.starts.partition_point(|at| *at <= start);
        let line_start = self.starts[line - 1];
        let line_end = self.starts.get(line).map_or(self.body.len(), |next| next - 1);
        let end = self.floor(span.end.clamp(start, line_end));
        let (shown, width) = match self.ours {
            true => {
                let width = self.body[start..end].chars().count().max(1);
                (plain::shown(&self.body[line_start..line_end]), width)
            }
            false => (String::new(), 0),
        };
        let column = self.body[line_start..start].chars().count() + 1;
        Place { path: self.path.clone(), line, column, label: label.into(), shown, width }
    }

    /// The last boundary between characters at or before byte `at`.
    fn floor(&self, at: usize) -> usize {
        let mut at = at.min(self.body.len());
        while !self.body.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
}

/// The fault of a file whose bytes are not UTF-8, at the first bad byte.
fn not_utf8(shown: &str, form: Form, err: &std::string::FromUtf8Error) -> Fault {
    let at = err.utf8_error().valid_up_to();
    let bytes = err.as_bytes();
    let line_start = bytes[..at].iter().rposition(|b| *b == b'\n').map_or(0, |n| n + 1);
    let line_end = bytes[at..].iter().position(|b| *b == b'\n').map_or(bytes.len(), |n| at + n);
    let place = Place {
        path: shown.to_owned(),
        line: bytes[..at].iter().filter(|b| **b == b'\n').count() + 1,
        column: String::from_utf8_lossy(&bytes[line_start..at]).chars().count() + 1,
        label: String::new(),
        shown: plain::shown(&String::from_utf8_lossy(&bytes[line_start..line_end])),
        width: 1,
    };
    let ours = is_ours(&String::from_utf8_lossy(bytes), form) && place.shown.len() <= LINE_MOST;
    let place = if ours { place } else { Place { shown: String::new(), width: 0, ..place } };
    let what = format!("byte {:#04x} is not UTF-8 text", bytes[at]);
    Fault::new(what, place, "text in UTF-8", "save the file again with the encoding UTF-8")
}
