//! A suit: what each panel weighs and how it stands against its target, in text, CSV and JSON.

pub mod csv;
pub mod json;
pub mod text;
pub mod words;
