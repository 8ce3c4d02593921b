//! The program's two ways to speak.

use std::io::{self, ErrorKind, Write};

use super::error::CliError;

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
