//! Small bad files with the whole message that each gets beside it.

use std::fs;
use std::path::{Path, PathBuf};

/// Checks that each file of a folder has the message of the file beside it, named like it and
/// `.expected`. With the environment variable `WRITE_EXPECTED` set the messages are written anew,
/// to be read and kept.
///
/// - `least`: cases that there must be at least; files named `part-…` belong to others and are none
/// - `message`: what is said of a file, empty when nothing is
pub fn check(folder: &str, least: usize, message: impl Fn(&Path) -> String) {
    let cases = cases(folder);
    assert!(cases.len() >= least, "{} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let found = message(case);
        for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
            assert!(found.contains(part), "{}: {found}", case.display());
        }
        let beside = PathBuf::from(format!("{}.expected", case.display()));
        if std::env::var_os("WRITE_EXPECTED").is_some() {
            fs::write(&beside, &found).unwrap();
        }
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        if found != expected {
            wrong.push(format!("{}:\n{found}\nnot as expected:\n{expected}", case.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// The cases of a folder, in order.
pub fn cases(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the cases are part of the project");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    cases.retain(|path| {
        let name = path.file_name().unwrap().to_string_lossy();
        !name.ends_with(".expected") && !name.starts_with("part-")
    });
    cases.sort();
    cases
}
