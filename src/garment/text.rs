//! A file as read, and places in it.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use crate::garment::claim;
use crate::garment::fault::{Fault, Faults, Place};
use crate::garment::plain;

/// Which notation a file is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// Rows and columns.
    Csv,
    /// Keys and values.
    Toml,
}

/// A file's text with its name.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Text {
    /// The file, as the user named it.
    pub path: String,
    /// Its text, without a byte order mark and with plain line ends.
    pub body: String,
    /// Its notation.
    pub form: Form,
}

impl Text {
    /// A text in memory; a byte order mark and carriage returns at line ends are dropped.
    pub fn new(path: impl Into<String>, body: &str, form: Form) -> Arc<Text> {
        let body = body.strip_prefix('\u{feff}').unwrap_or(body).replace("\r\n", "\n");
        Arc::new(Text { path: path.into(), body, form })
    }

    /// The text of a file.
    pub fn load(path: &Path, form: Form) -> Result<Arc<Text>, Faults> {
        let shown = path.display().to_string();
        let kind = if form == Form::Csv { "a CSV file" } else { "a TOML file" };
        if path.is_dir() {
            let what = format!("`{shown}` is a directory");
            let mend = "name a file inside it";
            return Err(Fault::new(what, Place::file(shown), kind, mend).into());
        }
        if let Err(taken) = claim::read(path) {
            let what = format!("`{shown}` is to be written, as `{}`", taken.path.display());
            let expected = "another file for what is written than those that are read";
            let mend = "choose another name for the output; nothing was written";
            return Err(Fault::new(what, Place::file(shown), expected, mend).into());
        }
        let bytes = std::fs::read(path).map_err(|err| {
            let missing = err.kind() == std::io::ErrorKind::NotFound;
            let reason = if missing { "there is no such file".into() } else { err.to_string() };
            let mend = if missing { "check the name and the folder" } else { "make it readable" };
            let what = format!("cannot read `{shown}`: {}", reason.to_lowercase());
            Fault::new(what, Place::file(shown.as_str()), kind, mend)
        })?;
        match String::from_utf8(bytes) {
            Ok(body) => Text::new(shown, &body, form).checked(),
            Err(err) => Err(not_utf8(&shown, &err).into()),
        }
    }

    /// The text itself.
    ///
    /// Errors: a character that is refused, whatever stands around it; nothing of the file is used then.
    fn checked(self: Arc<Text>) -> Result<Arc<Text>, Faults> {
        let Some((at, c)) = plain::refused_in(&self.body) else { return Ok(self) };
        let what = format!("the file holds {}", plain::named(c));
        let place = self.place(at..at + c.len_utf8(), "");
        Err(Fault::new(what, place, plain::EXPECTED, plain::MEND).into())
    }

    /// The place of the bytes `span`.
    pub fn place(&self, span: Range<usize>, label: impl Into<String>) -> Place {
        let start = self.floor(span.start);
        let line_start = self.body[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = self.body[start..].find('\n').map_or(self.body.len(), |at| start + at);
        let end = self.floor(span.end.clamp(start, line_end));
        Place {
            path: self.path.clone(),
            line: self.body[..line_start].matches('\n').count() + 1,
            column: self.body[line_start..start].chars().count() + 1,
            label: label.into(),
            shown: plain::shown(&self.body[line_start..line_end]),
            width: self.body[start..end].chars().count().max(1),
        }
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
fn not_utf8(shown: &str, err: &std::string::FromUtf8Error) -> Fault {
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
    let what = format!("byte {:#04x} is not UTF-8 text", bytes[at]);
    Fault::new(what, place, "text in UTF-8", "save the file again with the encoding UTF-8")
}
