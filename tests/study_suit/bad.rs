//! Claim: every fault of a suit's file is said with its place, the rule and how to mend it.
//! Small files in `bad/`, the whole message beside each. With the environment variable
//! `WRITE_EXPECTED` set the messages are written anew, to be read and kept.

use std::path::{Path, PathBuf};

use stillair::garment::read_suit::read_suit;
use stillair::garment::shelf::Shelf;

fn cases() -> Vec<PathBuf> {
    let entries = std::fs::read_dir("tests/study_suit/bad").expect("the cases are in the project");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    cases.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    cases.retain(|path| !path.file_name().unwrap().to_string_lossy().starts_with("part-"));
    cases.sort();
    cases
}

#[test]
fn each_bad_suit_has_its_whole_message() {
    let shelf = Shelf::built_in().unwrap();
    let cases = cases();
    assert!(cases.len() >= 17, "{} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let faults = read_suit(case, &shelf).expect_err(&case.display().to_string());
        for fault in &faults.0 {
            let text = fault.to_string();
            for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
                assert!(text.contains(part), "{}: {text}", case.display());
            }
        }
        let found = format!("{faults}\n");
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
fn the_suit_on_the_shelf_is_checked_as_a_suit() {
    let shelf = Shelf::built_in().unwrap();
    let checked = shelf.check(Path::new("materials/suits/refuelling-coverall.toml")).unwrap();
    assert_eq!(checked.kind, "suit");
}
