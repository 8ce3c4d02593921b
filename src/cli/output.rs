//! The program's two ways to speak.

use std::io::{self, ErrorKind, Write};
use std::path::Path;

use super::error::CliError;
use crate::chart::svg_to_png;

/// Writes text to standard output; its bold goes when the terminal, a pipe or NO_COLOR says so.
///
/// A reader that has gone away (`| head`) has what it wanted: that is no error.
pub fn print(text: &str) -> Result<(), CliError> {
    settle(write_all(&mut anstream::stdout().lock(), text.as_bytes()))
}

/// Writes bytes to standard output as they are.
pub fn print_raw(bytes: &[u8]) -> Result<(), CliError> {
    settle(write_all(&mut io::stdout().lock(), bytes))
}

/// Says something beside the result, on standard error.
pub fn say(text: &str) {
    // Where nobody can be told, nothing is left to do.
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}

fn write_all(out: &mut dyn Write, bytes: &[u8]) -> io::Result<()> {
    out.write_all(bytes)?;
    out.flush()
}

fn settle(done: io::Result<()>) -> Result<(), CliError> {
    match done {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        other => other.map_err(CliError::Stdout),
    }
}

/// A chart in the form that the file's ending asks for.
pub fn chart_bytes(svg: String, file: &Path) -> Result<Vec<u8>, CliError> {
    let is_png = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png"));
    if is_png { svg_to_png(&svg).map_err(CliError::Chart) } else { Ok(svg.into_bytes()) }
}
