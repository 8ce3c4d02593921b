//! Layups side by side: the columns of their places, and what is said of them.

pub mod columns;
pub mod text;
pub mod words;
