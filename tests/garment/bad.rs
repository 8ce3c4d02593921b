//! Claim: every fault of a file is said with its place, the rule and how to mend it.
//! One small file per fault in `bad/`, its whole message beside it.

use std::path::Path;

use stillair::shelf::materials::Shelf;

use crate::messages::{cases, check};

const FOLDER: &str = "tests/garment/bad";

/// The message for a file; empty when it is read without complaint.
fn message(shelf: &Shelf, path: &Path) -> String {
    match shelf.check(path) {
        Ok(_) => String::new(),
        Err(faults) => format!("{faults}\n"),
    }
}

#[test]
fn each_bad_file_has_its_whole_message() {
    let shelf = Shelf::built_in().unwrap();
    check(FOLDER, 56, |case| message(&shelf, case));
}

#[test]
fn each_message_has_its_four_parts() {
    let shelf = Shelf::built_in().unwrap();
    for case in cases(FOLDER) {
        for fault in &shelf.check(&case).expect_err(&case.display().to_string()).0 {
            let text = fault.to_string();
            for part in ["error: ", "\n  at ", "\n  expected: ", "\n  mend: "] {
                assert!(text.contains(part), "{}: {text}", case.display());
            }
        }
    }
}

#[test]
fn a_file_that_is_not_there_is_said() {
    let shelf = Shelf::built_in().unwrap();
    let found = message(&shelf, Path::new("tests/garment/bad/nowhere.toml"));
    assert_eq!(
        found,
        "error: cannot read `tests/garment/bad/nowhere.toml`: there is no such file\n  \
         at tests/garment/bad/nowhere.toml\n  expected: a TOML file\n  \
         mend: check the name and the folder\n"
    );
}

#[test]
fn more_than_twenty_faults_are_counted() {
    let shelf = Shelf::built_in().unwrap();
    let head = "name,role,fibre,areal_density_g_m2,thickness_mm,from\n";
    let rows: String = (0..30).map(|n| format!("cloth-{n},outer,wool,-5,0.5,measured\n")).collect();
    let path = std::env::temp_dir().join(format!("stillair-many-{}.csv", std::process::id()));
    std::fs::write(&path, format!("{head}{rows}")).unwrap();
    let found = message(&shelf, &path);
    std::fs::remove_file(&path).unwrap();
    assert_eq!(found.matches("error:").count(), 20);
    assert!(found.ends_with("\n\nand 10 more\n"), "{found}");
}
