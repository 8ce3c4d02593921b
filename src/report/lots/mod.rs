//! Delivered rolls with their figures: their columns, the sentences about them, their text.

pub mod columns;
pub mod text;
pub mod words;
