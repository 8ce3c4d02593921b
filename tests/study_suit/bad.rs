//! Claim: every fault of a suit's file is said with its place, the rule and how to mend it.
//! Small files in `bad/`, the whole message beside each.

use std::path::Path;

use stillair::shelf::fault::Faults;
use stillair::shelf::materials::Shelf;
use stillair::shelf::suit::read::read_suit;

/// What is said of a file, each fault with all its parts; empty where nothing is.
pub fn told<T>(case: &Path, read: Result<T, Faults>) -> String {
    let Err(faults) = read else { return String::new() };
    for fault in &faults.0 {
        let text = fault.to_string();
        for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
            assert!(text.contains(part), "{}: {text}", case.display());
        }
    }
    format!("{faults}\n")
}

#[test]
fn each_bad_suit_has_its_whole_message() {
    let shelf = Shelf::built_in().unwrap();
    let message = |case: &Path| told(case, read_suit(case, &shelf));
    crate::messages::check("tests/study_suit/bad", 17, message);
}

#[test]
fn the_suit_on_the_shelf_is_checked_as_a_suit() {
    let shelf = Shelf::built_in().unwrap();
    let checked = shelf.check(Path::new("materials/suits/refuelling-coverall.toml")).unwrap();
    assert_eq!(checked.kind, "suit");
}
