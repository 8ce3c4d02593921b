//! Claim: every fault of a brief is said with its place, the rule and how to mend it.
//! One small file per fault in `bad/`, its whole message beside it. With the environment variable
//! `WRITE_EXPECTED` set the messages are written anew, to be read and kept.

use std::path::{Path, PathBuf};

use stillair::garment::read_brief::read_brief;

use crate::fixtures::shelf;

fn cases() -> Vec<PathBuf> {
    let entries = std::fs::read_dir("tests/study_seek/bad").expect("it is part of the project");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    cases.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    cases.sort();
    cases
}

#[test]
fn each_bad_brief_has_its_whole_message() {
    let shelf = shelf();
    let cases = cases();
    assert!(cases.len() >= 25, "{} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let found = match read_brief(case, &shelf) {
            Ok(_) => String::new(),
            Err(faults) => format!("{faults}\n"),
        };
        for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
            assert!(found.contains(part), "{}: {found}", case.display());
        }
        let beside = PathBuf::from(format!("{}.expected", case.display()));
        if std::env::var_os("WRITE_EXPECTED").is_some() {
            std::fs::write(&beside, &found).unwrap();
        }
        let expected = std::fs::read_to_string(&beside).unwrap_or_default();
        if found != expected {
            wrong.push(format!("{}:\n{found}\nnot as expected:\n{expected}", case.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn a_brief_that_is_not_there_is_said() {
    let found = read_brief(Path::new("nowhere.toml"), &shelf()).unwrap_err().to_string();
    assert!(
        found.starts_with("error: cannot read `nowhere.toml`: there is no such file"),
        "{found}"
    );
}

#[test]
fn a_brief_without_combinations_is_said() {
    let folder = crate::fixtures::folder("without");
    let toml = folder.join("brief.toml");
    let text = crate::fixtures::SPARSE.replace("[limits]", "[limits]\nplies_least = 6");
    std::fs::write(&toml, text).unwrap();
    crate::fixtures::refused(&["seek", toml.to_str().unwrap()], &["no combinations, or too many"]);
}
