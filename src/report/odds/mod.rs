//! The spread of a figure and the odds of a target: the columns of what it comes from, and its words.

pub mod columns;
pub mod json;
pub mod text;
pub mod words;
