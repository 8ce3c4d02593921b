//! Notations as records: TOML, tables as text and tables as workbooks, each value with its place.

pub(crate) mod manner;
pub(crate) mod record;
pub(crate) mod sheet;
pub(crate) mod table;
pub(crate) mod tree;
pub(crate) mod workbook;
pub mod workbook_write;
