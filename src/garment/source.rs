//! A source that values are cited from.

/// One entry of the shelf's list of sources.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Unique key, by which values cite it.
    pub key: String,
    /// Author, title, edition or year; or what stands in place of a source.
    pub citation: String,
    /// How values from it are known, in words ("published", "memory", …).
    pub provenance: String,
    /// Anything a reader should know; may be empty.
    pub note: String,
}

/// The keys that the source of a value may name: " + " joins those of a blend, a semicolon parts what
/// is said beside, a colon stands before the source of a rise. A text of its own is among them.
pub fn keys(source: &str) -> impl Iterator<Item = &str> {
    source.split([';', '+', ':']).map(str::trim).filter(|key| !key.is_empty())
}
