//! Claim: every fault of a brief is said with its place, the rule and how to mend it.
//! One small file per fault in `bad/`, its whole message beside it.

use std::path::Path;

use stillair::shelf::brief::read::read_brief;

use crate::study_seek::fixtures::shelf;

#[test]
fn each_bad_brief_has_its_whole_message() {
    let shelf = shelf();
    crate::messages::check("tests/study_seek/bad", 25, |case| match read_brief(case, &shelf) {
        Ok(_) => String::new(),
        Err(faults) => format!("{faults}\n"),
    });
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
    let folder = crate::study_seek::fixtures::folder("without");
    let toml = folder.join("brief.toml");
    let text = crate::study_seek::fixtures::SPARSE.replace("[limits]", "[limits]\nplies_least = 6");
    std::fs::write(&toml, text).unwrap();
    crate::study_seek::fixtures::refused(
        &["seek", toml.to_str().unwrap()],
        &["no combinations, or too many"],
    );
}
