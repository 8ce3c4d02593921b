//! What the JSON of every command holds: schema, program, notice, and the record.

use serde::Serialize;

use crate::NOTICE;

#[derive(Serialize)]
struct Envelope<'a, T: Serialize> {
    schema: &'static str,
    schema_version: u32,
    program: &'static str,
    program_version: &'static str,
    notice: &'static str,
    #[serde(flatten)]
    body: &'a T,
}

/// The record of a study as indented JSON, ended by a line feed.
///
/// Errors: a value that is not a finite number.
pub fn envelope<T: Serialize>(schema: &'static str, body: &T) -> Result<String, serde_json::Error> {
    envelope_of((schema, 1), body)
}

/// The same under a schema of that version.
///
/// Errors: a value that is not a finite number.
pub fn envelope_of<T: Serialize>(
    (schema, schema_version): (&'static str, u32),
    body: &T,
) -> Result<String, serde_json::Error> {
    let (program, program_version) = (env!("CARGO_PKG_NAME"), env!("CARGO_PKG_VERSION"));
    let record =
        Envelope { schema, schema_version, program, program_version, notice: NOTICE, body };
    let mut text = serde_json::to_string_pretty(&record)?;
    text.push('\n');
    Ok(text)
}
