//! What is wrong with a file or a name, said so that it can be mended.

use std::fmt;

use crate::shelf::wording::{near, plural, suggested};

/// How many faults are printed before the rest are only counted.
const SHOWN_AT_MOST: usize = 20;
/// How many faults are looked for; the rest of a file has more of the same.
const ENOUGH: usize = 100;
/// Widest piece of a line that is shown; longer lines are cut around the mark.
const WIDTH_SHOWN: usize = 66;

/// Whether so many faults are known that a reader need not look for more.
pub(crate) fn enough(faults: &[Fault]) -> bool {
    faults.len() >= ENOUGH
}

/// A place in a file, with the line itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file, as the user named it.
    pub path: String,
    /// Line, from 1; 0 for the file as a whole.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What stands there, such as "column thickness_mm"; may be empty.
    pub label: String,
    /// The text of the line.
    pub shown: String,
    /// How many characters are marked; 0 where the line is not shown.
    pub width: usize,
}

impl Place {
    /// The file as a whole.
    pub fn file(path: impl Into<String>) -> Place {
        let (label, shown) = (String::new(), String::new());
        Place { path: path.into(), line: 0, column: 0, label, shown, width: 0 }
    }

    /// `path:line`, or the path alone for a whole file.
    pub fn short(&self) -> String {
        if self.line == 0 { self.path.clone() } else { format!("{}:{}", self.path, self.line) }
    }

    /// The line cut to [`WIDTH_SHOWN`] around the mark, and the mark's offset and width in it.
    fn window(&self) -> (String, usize, usize) {
        let chars: Vec<char> =
            self.shown.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let at = self.column.saturating_sub(1).min(chars.len());
        let width = self.width.clamp(1, WIDTH_SHOWN / 2);
        if chars.len() <= WIDTH_SHOWN {
            return (chars.iter().collect(), at, width);
        }
        let start = at.saturating_sub(WIDTH_SHOWN / 3).min(chars.len() - WIDTH_SHOWN);
        let end = start + WIDTH_SHOWN;
        let mut piece: String = chars[start..end].iter().collect();
        let mut offset = at - start;
        if start > 0 {
            piece.insert(0, '…');
            offset += 1;
        }
        if end < chars.len() {
            piece.push('…');
        }
        (piece, offset, width)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 {
            return write!(f, "  at {}", self.path);
        }
        write!(f, "  at {}:{}:{}", self.path, self.line, self.column)?;
        if !self.label.is_empty() {
            write!(f, ", {}", self.label)?;
        }
        if self.width == 0 {
            return Ok(());
        }
        let number = self.line.to_string();
        let (piece, offset, width) = self.window();
        write!(f, "\n  {number} | {}", piece.trim_end())?;
        write!(f, "\n  {:pad$} | {:offset$}{}", "", "", "^".repeat(width), pad = number.len())
    }
}

/// One thing that is wrong: what, where, the rule and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// What is wrong, with the value as the user wrote it.
    pub what: String,
    /// Where; both places for a clash.
    pub places: Vec<Place>,
    /// The rule, with its unit.
    pub expected: String,
    /// The next thing to do.
    pub mend: String,
    /// Whether it speaks of something that is not there.
    pub(crate) absence: bool,
    /// The key that was meant, where a key is misspelt.
    pub(crate) meant: Option<String>,
    /// Whether it leaves the rest of its file in doubt.
    pub(crate) breaks: bool,
}

impl Fault {
    /// A fault at one place.
    pub fn new(
        what: impl Into<String>,
        place: Place,
        expected: impl Into<String>,
        mend: impl Into<String>,
    ) -> Fault {
        Fault {
            what: what.into(),
            places: vec![place],
            expected: expected.into(),
            mend: mend.into(),
            absence: false,
            meant: None,
            breaks: false,
        }
    }

    /// The same fault with a second place.
    pub fn and_at(mut self, place: Place) -> Fault {
        self.places.push(place);
        self
    }

    /// The same fault, with the key that was meant.
    pub(crate) fn meaning(mut self, key: &str) -> Fault {
        self.meant = Some(key.to_owned());
        self
    }

    /// The same fault, marked as speaking of something that is not there.
    pub(crate) fn absent(mut self) -> Fault {
        self.absence = true;
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error: {}", self.what)?;
        for place in &self.places {
            write!(f, "\n{place}")?;
        }
        write!(f, "\n  expected: {}\n  mend: {}", self.expected, self.mend)
    }
}

/// Everything that is wrong with what was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults(pub Vec<Fault>);

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Faults {
        Faults(vec![fault])
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, fault) in self.0.iter().take(SHOWN_AT_MOST).enumerate() {
            let gap = if i == 0 { "" } else { "\n\n" };
            write!(f, "{gap}{fault}")?;
        }
        if self.0.len() > SHOWN_AT_MOST {
            // Where so many were found the rest of the file was not looked at.
            let least = if enough(&self.0) { "at least " } else { "" };
            write!(f, "\n\nand {least}{} more", self.0.len() - SHOWN_AT_MOST)?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

/// What the shelf holds, as the program lists it; sources stand in `sources.csv` alone.
const LISTED: [(&str, &str); 7] = [
    ("fabric", "fabrics"),
    ("fibre", "fibres"),
    ("exposure", "exposures"),
    ("target", "targets"),
    ("skin", "skins"),
    ("layup", "layups"),
    ("suit", "suits"),
];

/// A name that the shelf does not hold, with the nearest that it does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unknown {
    /// What was asked for, such as "fabric".
    pub kind: &'static str,
    /// The name as the user wrote it.
    pub name: String,
    /// Nearest names, best first; may be empty.
    pub nearest: Vec<String>,
    /// How many names of this kind there are.
    pub n_known: usize,
}

impl Unknown {
    /// An unknown `name` of a `kind`, with the nearest of `known`.
    pub fn new<'a>(
        kind: &'static str,
        name: &str,
        known: impl Iterator<Item = &'a str>,
    ) -> Unknown {
        let known: Vec<&str> = known.collect();
        let nearest = near(name, &known).into_iter().map(str::to_owned).collect();
        Unknown { kind, name: name.to_owned(), nearest, n_known: known.len() }
    }

    /// What is wrong.
    pub fn what(&self) -> String {
        format!("no {} is called `{}`", self.kind, self.name)
    }

    /// The rule.
    pub fn expected(&self) -> String {
        match self.n_known {
            1 => format!("the one {} on the shelf", self.kind),
            n => format!("one of the {} on the shelf", plural(n, self.kind)),
        }
    }

    /// The next thing to do.
    pub fn mend(&self) -> String {
        let otherwise = match LISTED.iter().find(|(kind, _)| *kind == self.kind) {
            Some((_, kinds)) => format!("see `stillair materials list --kind {kinds}`"),
            None => format!("look up the {} where the shelf lists it", self.kind),
        };
        suggested(&self.nearest, &otherwise)
    }

    /// The fault of a file that uses the name at `place`.
    pub fn at(&self, place: Place) -> Fault {
        Fault::new(self.what(), place, self.expected(), self.mend())
    }
}

impl fmt::Display for Unknown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error: {}", self.what())?;
        write!(f, "\n  expected: {}\n  mend: {}", self.expected(), self.mend())
    }
}

impl std::error::Error for Unknown {}
