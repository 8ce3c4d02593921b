//! The program's two ways to speak.

use std::cell::RefCell;
use std::io::{self, ErrorKind, Write};

use super::error::CliError;
use crate::report::table::{WIDTH, hanging, width};

thread_local! {
    /// What a command says while another listens to it.
    static HEARD: RefCell<Option<Vec<u8>>> = const { RefCell::new(None) };
}

/// What a command writes to standard output, which stays silent.
///
/// Errors: the command's own.
pub fn heard(command: impl FnOnce() -> Result<(), CliError>) -> Result<String, CliError> {
    let before = HEARD.replace(Some(Vec::new()));
    let done = command();
    let heard = HEARD.replace(before).unwrap_or_default();
    done.map(|()| String::from_utf8_lossy(&heard).into_owned())
}

/// Whether someone listens: the bytes are theirs then.
fn overheard(bytes: &[u8]) -> bool {
    HEARD.with_borrow_mut(|heard| match heard {
        Some(heard) => {
            heard.extend_from_slice(bytes);
            true
        }
        None => false,
    })
}

/// Writes text to standard output; its bold goes when the terminal, a pipe or NO_COLOR says so.
///
/// A reader that has gone away (`| head`) has what it wanted: that is no error.
pub fn print(text: &str) -> Result<(), CliError> {
    match overheard(text.as_bytes()) {
        true => Ok(()),
        false => settle(write_all(&mut anstream::stdout().lock(), text.as_bytes())),
    }
}

/// Writes bytes to standard output as they are.
pub fn print_raw(bytes: &[u8]) -> Result<(), CliError> {
    match overheard(bytes) {
        true => Ok(()),
        false => settle(write_all(&mut io::stdout().lock(), bytes)),
    }
}

/// Says something beside the result, on standard error.
pub fn say(text: &str) {
    // Where nobody can be told, nothing is left to do.
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}

/// An error's rule and remedy within the width of a terminal; what is wrong may name a path, which like
/// places and excerpts of files stays in one piece.
pub fn within_width(error: &str) -> String {
    let wrapped = |line: &str| {
        let found = ["expected: ", "mend: "].into_iter().find_map(|label| {
            let text = line.strip_prefix("  ")?.strip_prefix(label)?;
            (width(line) > WIDTH).then(|| hanging(label, text, 2))
        });
        found.map_or(line.to_string(), |found| found.trim_end().to_string())
    };
    error.lines().map(wrapped).collect::<Vec<String>>().join("\n")
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

#[cfg(test)]
mod tests {
    use super::{heard, print, print_raw, within_width};

    #[test]
    fn who_listens_hears_all_that_is_said_and_only_then() {
        let inner = || heard(|| print("inner"));
        let outer = heard(|| {
            print_raw(b"outer, ")?;
            assert_eq!(inner()?, "inner");
            print("again")
        });
        assert_eq!(outer.unwrap(), "outer, again");
    }

    #[test]
    fn long_lines_hang_behind_their_label_and_excerpts_stay() {
        let excerpt = format!("  3 | {}", "x ".repeat(60));
        let long = format!("error: short\n{excerpt}\n  mend: {}", "word ".repeat(20));
        let said = within_width(&long);
        let lines: Vec<&str> = said.lines().collect();
        assert_eq!(lines[..2], ["error: short", &excerpt]);
        assert_eq!(lines.len(), 4, "{said}");
        assert!(lines[2].starts_with("  mend: word") && lines[2].len() <= 80);
        assert!(lines[3].starts_with("        word"));
    }
}
