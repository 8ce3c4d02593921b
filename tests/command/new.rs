//! Claim: what `new` writes is read without a fault, runs, and takes nothing away.
//! Source: common practice, no source; the program's own readers.

use std::fs;

use crate::command::program::{done, folder, refused};
use crate::flat::flat;

/// Each file of a new shelf, the kind that it is read as.
const FILES: [(&str, &str); 6] = [
    ("fabrics.csv", "2 of kind fabric: my-outer, my-felt"),
    ("sources.csv", "1 of kind source: my-mill-sheet"),
    ("layups/my-layup.toml", "1 of kind layup: my layup"),
    ("suits/my-suit.toml", "1 of kind suit: my suit"),
    ("briefs/my-brief.toml", "1 of kind brief: my brief"),
    ("bench-book.csv", "of kind bench book: 0 rows"),
];

#[test]
fn a_new_shelf_is_whole_and_runs() {
    let place = folder("new_shelf").join("mine");
    let dir = place.display().to_string();
    let said = done(&["new", &dir]);
    for (file, kind) in FILES {
        let path = format!("{dir}/{file}");
        assert!(said.contains(&path), "{said}");
        let checked = done(&["--shelf", &dir, "materials", "check", &path]);
        let checked = flat(&checked);
        assert!(checked.contains("nothing wrong") && checked.contains(kind), "{checked}");
        let text = fs::read_to_string(&path).unwrap();
        assert!(!text.contains(['{', '}']), "{path}: a word is missing\n{text}");
    }
    let on = |arguments: &[&str]| done(&[&["--shelf", &dir][..], arguments].concat());
    assert!(on(&["expose", "my-layup", "--error", "5"]).contains("my-felt"));
    assert!(on(&["expose", "my-outer + my-felt", "--error", "5"]).contains("my-outer + my-felt"));
    assert!(on(&["suit", "my-suit", "--error", "5"]).contains("my suit"));
    let brief = format!("{dir}/briefs/my-brief.toml");
    assert!(on(&["seek", &brief, "--error", "5"]).contains("my-outer"));
    let book = [
        "book",
        "add",
        "--figure",
        "HTI24",
        "--values",
        "14.1",
        "--date",
        "2026-11-26",
        "my-layup",
    ];
    on(&book);
    assert!(on(&["book", "how-far"]).contains("my-layup"));

    // a second one takes nothing away, nor does one whose place is taken in part
    let felt = fs::read(format!("{dir}/fabrics.csv")).unwrap();
    refused(&["new", &dir], 1, &["is there already", "nothing was written"]);
    fs::remove_file(format!("{dir}/fabrics.csv")).unwrap();
    refused(&["new", &dir], 1, &["sources.csv", "is there already"]);
    assert!(!place.join("fabrics.csv").exists() && !felt.is_empty());
}

#[test]
fn one_file_of_each_kind_is_whole_and_runs() {
    let place = folder("new_files");
    let made = |kind: &str, file: &str| {
        let name = place.join(file).display().to_string();
        let ending = if kind == "fabric" { "csv" } else { "toml" };
        let path = format!("{name}.{ending}");
        assert!(done(&["new", kind, &name]).contains(&path));
        assert!(flat(&done(&["materials", "check", &path])).contains("nothing wrong"), "{path}");
        refused(&["new", kind, &name], 1, &["is there already"]);
        path
    };
    assert!(done(&["expose", &made("layup", "knee"), "--error", "5"]).starts_with("knee under"));
    assert!(done(&["suit", &made("suit", "crew"), "--error", "5"]).contains("Suit: crew"));
    assert!(done(&["seek", &made("brief", "front"), "--error", "5"]).contains("front"));
    let felt = made("fabric", "shelf/felt-mine");
    fs::rename(&felt, place.join("shelf/fabrics.csv")).unwrap();
    let (shelf, line) = (place.join("shelf").display().to_string(), "outer-aramid-200 + felt-mine");
    assert!(done(&["--shelf", &shelf, "expose", line, "--error", "5"]).contains("felt-mine"));
    assert!(
        done(&["--shelf", &shelf, "materials", "show", "felt-mine"]).contains("example values")
    );
}

#[test]
fn names_that_no_shelf_takes_are_refused() {
    for name in ["My-Felt", "felt mine", "felt\"", "felt_1", "../"] {
        refused(&["new", "fabric", name], 1, &["is no name", "lower-case letters"]);
    }
    refused(&["new"], 2, &["DIR"]);
}
