//! Runs the program and keeps what it said.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, Mutex, OnceLock};

use assert_cmd::Command;

pub use crate::program::{command, folder};

/// What one run left behind.
#[derive(Clone)]
pub struct Said {
    pub out: String,
    pub err: String,
    pub code: i32,
}

/// Runs the program.
pub fn stillair(arguments: &[&str]) -> Said {
    run(&mut command(arguments))
}

/// Runs a command to its end.
pub fn run(command: &mut Command) -> Said {
    let output = command.output().unwrap();
    Said {
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
        code: output.status.code().expect("the program ends by itself"),
    }
}

/// Runs the program and expects it to do what it was asked, in silence on standard error.
#[track_caller]
pub fn done(arguments: &[&str]) -> String {
    let said = stillair(arguments);
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{arguments:?}\n{}", said.out);
    said.out
}

/// What is said once, to whoever asks first.
type Kept = Arc<OnceLock<Said>>;

/// What it said to commands that several tests ask for.
static SAID: LazyLock<Mutex<HashMap<Vec<String>, Kept>>> = LazyLock::new(Mutex::default);

/// As [`stillair`], run once for all tests: for commands that take long and write nothing.
pub fn stillair_once(arguments: &[&str]) -> Said {
    let words: Vec<String> = arguments.iter().map(|word| (*word).to_owned()).collect();
    let said = SAID.lock().unwrap().entry(words).or_default().clone();
    said.get_or_init(|| stillair(arguments)).clone()
}

/// As [`done`], run once for all tests: for commands that take long and write nothing.
#[track_caller]
pub fn done_once(arguments: &[&str]) -> String {
    let said = stillair_once(arguments);
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{arguments:?}\n{}", said.out);
    said.out
}

/// What the program says as JSON.
#[track_caller]
pub fn json(arguments: &[&str]) -> serde_json::Value {
    serde_json::from_str(&done(arguments)).unwrap()
}

/// The program must end with `code`, print nothing as a result, and say each of `parts`.
#[track_caller]
pub fn refused(arguments: &[&str], code: i32, parts: &[&str]) {
    let said = stillair(arguments);
    assert_eq!(said.code, code, "{arguments:?}\n{}{}", said.out, said.err);
    assert_eq!(said.out, "", "{arguments:?} printed a result");
    for part in parts {
        assert!(said.err.contains(part), "{arguments:?} does not say `{part}`:\n{}", said.err);
    }
    assert!(!said.err.contains("panicked"), "{}", said.err);
}

/// The text must fit a terminal of 80 columns, however long the path of the tests' own folders is.
#[track_caller]
pub fn fits_80_columns(text: &str) {
    for line in text.replace(env!("CARGO_TARGET_TMPDIR"), "").lines() {
        let n = line.chars().count();
        assert!(n <= 80, "{n} columns: {line}");
    }
}
