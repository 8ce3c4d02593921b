//! Claim: the tables built into the program are the reference files, and every table that a
//! program computed is among them and names that program's version in its head.
//! Source: the files themselves.
//! Tolerance: none.

use std::fs;

use crate::reference::path;
use stillair::evidence::verify::table::TABLES;

#[test]
fn the_built_in_tables_are_the_files() {
    for (name, text) in TABLES {
        let file = fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(text, file, "{name}");
    }
}

#[test]
fn computed_tables_name_a_version_and_are_built_in() {
    let mut n = 0;
    for entry in fs::read_dir(path("")).expect("folder") {
        let name = entry.expect("entry").file_name().into_string().expect("name");
        if !name.ends_with(".csv") {
            continue;
        }
        let text = fs::read_to_string(path(&name)).expect("text");
        let Some(head) = text.lines().next().filter(|line| line.starts_with('#')) else {
            assert!(
                text.lines().next().unwrap().contains("provenance"),
                "{name}: gathered or computed?"
            );
            continue;
        };
        let words: Vec<&str> = head.split_whitespace().collect();
        let version = words.get(4).map(|word| word.trim_end_matches('.')).unwrap_or_default();
        assert_eq!(words[1..3], ["Computed", "with"], "{name}: {head}");
        assert!(
            version.contains('.') && version.starts_with(|c: char| c.is_ascii_digit()),
            "{name}: {head}"
        );
        assert!(TABLES.iter().any(|(known, _)| *known == name), "{name} is not built in");
        n += 1;
    }
    assert_eq!(n, 9);
}
