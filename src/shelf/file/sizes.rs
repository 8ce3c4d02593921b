//! How large each format may be: far beyond any that a workshop keeps, and read within a second or two.
//!
//! Common practice, no source: what is larger is another file than was meant.

/// Which notation a file is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// Rows and columns.
    Csv,
    /// Keys and values.
    Toml,
    /// A layup in one line, in no file.
    Line,
}

/// What a file is, with its notation and bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Format {
    /// What it is, with its article.
    pub noun: &'static str,
    /// Rows and columns, or keys and values.
    pub(crate) form: Form,
    /// Bytes.
    pub bytes_most: u64,
    /// Rows below the header, or tables of one name.
    pub rows_most: usize,
}

const fn toml(noun: &'static str, bytes_most: u64, rows_most: usize) -> Format {
    Format { noun, form: Form::Toml, bytes_most, rows_most }
}

const fn csv(noun: &'static str, bytes_most: u64, rows_most: usize) -> Format {
    Format { noun, form: Form::Csv, bytes_most, rows_most }
}

/// A layup, suit, brief or single exposure: what a person writes.
pub const WRITTEN: Format = toml("a TOML file", 1_000_000, 1_000);
/// Exposures or skins of a shelf.
pub const SHELF_TABLES: Format = toml("a TOML file", 4_000_000, 2_000);
/// Fabrics of a shelf.
pub const SHELF_FABRICS: Format = csv("a CSV file", 8_000_000, 20_000);
/// Fibres, targets, sources or bands of a shelf.
pub const SHELF_ROWS: Format = csv("a CSV file", 4_000_000, 2_000);
/// A series of fluxes: an hour at twenty a second.
pub const FLUX_SERIES: Format = csv("a CSV file", 4_000_000, 72_000);
/// A curve of the bench: an hour at fifty a second.
pub const CURVE: Format = csv("a CSV file", 16_000_000, 180_000);
/// Delivered rolls.
pub const ROLLS: Format = csv("a CSV file", 4_000_000, 10_000);
/// A bench book.
pub const BOOK: Format = csv("a CSV file", 16_000_000, 50_000);

/// A table whose kind is not known yet: as the largest.
pub const ANY_ROWS: Format = csv("a CSV file", 16_000_000, 180_000);

/// Bytes of a line, whatever the format.
pub const LINE_MOST: usize = 100_000;

/// Bytes of the checkpoint of odds: as many draws as there may be, and then some.
pub const ODDS_CHECKPOINT_MOST: u64 = 500_000_000;
/// Bytes of the checkpoint of a search.
pub const SEEK_CHECKPOINT_MOST: u64 = 2_000_000_000;
