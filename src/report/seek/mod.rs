//! The result of a search: the columns of its layups, and what is said of it.

pub mod columns;
pub mod json;
pub mod layup;
pub mod text;
pub mod words;
