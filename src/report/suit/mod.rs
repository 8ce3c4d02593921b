//! A suit: what each panel weighs and how it stands against its target, in text, CSV and JSON.

pub mod columns;
pub mod json;
pub mod rows;
pub mod text;
pub mod words;
