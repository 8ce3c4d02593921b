//! Claim: every fault of a file is said with its place, the rule and how to mend it.
//! One small file per fault in `bad/`, its whole message beside it. With the
//! environment variable `WRITE_EXPECTED` set the messages are written anew, to be read and kept.

use std::path::{Path, PathBuf};

use stillair::garment::shelf::Shelf;

const FOLDER: &str = "tests/garment/bad";

fn cases() -> Vec<PathBuf> {
    let entries = std::fs::read_dir(FOLDER).expect("the folder of cases is part of the project");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    cases.retain(|path| {
        let name = path.file_name().unwrap().to_string_lossy();
        !name.ends_with(".expected") && !name.starts_with("part-")
    });
    cases.sort();
    cases
}

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
    let cases = cases();
    assert!(cases.len() >= 45, "{} cases", cases.len());
    let mut wrong = Vec::new();
    for case in &cases {
        let found = message(&shelf, case);
        let beside = PathBuf::from(format!("{}.expected", case.display()));
        if std::env::var_os("WRITE_EXPECTED").is_some() {
            std::fs::write(&beside, &found).unwrap();
        }
        let expected = std::fs::read_to_string(&beside).unwrap_or_default();
        if found.is_empty() || found != expected {
            wrong.push(format!("{}:\n{found}\nnot as expected:\n{expected}", case.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn each_message_has_its_four_parts() {
    let shelf = Shelf::built_in().unwrap();
    for case in cases() {
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
