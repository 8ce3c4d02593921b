//! A sweep of air gaps: its columns, its sentences, its text.

pub mod beside;
pub mod columns;
pub mod map;
pub mod text;
pub mod words;
