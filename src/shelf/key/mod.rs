//! Keys: their unit, what is possible and what is usual, and how a record's are read.

pub(crate) mod field;
pub(crate) mod kinds;
pub(crate) mod kinds_body;
pub(crate) mod kinds_suit;
pub(crate) mod other_words;
pub mod possible;
pub(crate) mod reader;
pub(crate) mod unusual;
