//! A name that stands in two places: on two shelves, or twice in one file.

use std::fmt;

use crate::shelf::fault::{Fault, Place};

/// A name that is defined on two shelves; the later one is used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// What is defined twice, such as "fabric".
    pub kind: &'static str,
    /// The name.
    pub name: String,
    /// The place that is used.
    pub kept: Place,
    /// The place that is not used.
    pub dropped: Place,
}

impl fmt::Display for Clash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} `{}` is defined twice: {} is used, {} is not",
            self.kind,
            self.name,
            self.kept.short(),
            self.dropped.short()
        )
    }
}

/// Both places of a name that one file defines twice.
pub(crate) fn twice(kind: &str, name: &str, first: Place, second: Place) -> Fault {
    let what = format!("{kind} `{name}` is there twice");
    let mend = "rename one of the two, or remove it";
    Fault::new(what, first, "each name once", mend).and_at(second)
}
