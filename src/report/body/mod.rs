//! A suit on a body: its columns, its sentences, its text.

pub mod columns;
pub mod odds;
pub mod text;
pub mod words;
