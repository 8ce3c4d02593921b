//! Claim: no file of any format may hold characters that steer a terminal or turn the direction of
//! writing; each is refused with its place, and no message repeats it.
//! Source: the shelf's own files, one of each format.

use std::fs;
use std::path::Path;

use stillair::shelf::materials::Shelf;

/// One of each format that is read.
const FILES: [&str; 13] = [
    "materials/fabrics.csv",
    "materials/fibres.csv",
    "materials/sources.csv",
    "materials/targets.csv",
    "materials/exposures.toml",
    "materials/skins.toml",
    "materials/layups/three-ply-loose.toml",
    "materials/layups/three-ply-quilted-blank.toml",
    "materials/suits/refuelling-coverall.toml",
    "materials/body.toml",
    "materials/briefs/quilted-front-panel.toml",
    "materials/curves/demo-specimen-1.csv",
    "examples/rolls.csv",
];

/// Escape, bell, an operating system command, delete, a control of the upper
/// half, overrides, isolates and marks of direction.
const REFUSED: [char; 10] = [
    '\u{1b}', '\u{7}', '\u{0}', '\u{7f}', '\u{9d}', '\u{202e}', '\u{2066}', '\u{200f}', '\u{2028}',
    '\u{feff}',
];

/// What is said of a text under the name of a file.
fn said(shelf: &Shelf, name: &str, text: &str) -> Option<String> {
    let folder = std::env::temp_dir().join(format!("stillair-plain-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(Path::new(name).file_name().unwrap());
    fs::write(&path, text).unwrap();
    let found = shelf.check(&path).err().map(|faults| faults.to_string());
    fs::remove_file(&path).unwrap();
    found
}

#[test]
fn every_format_refuses_them_wherever_they_stand() {
    let shelf = Shelf::built_in().unwrap();
    let mut n = 0;
    for name in FILES {
        let text = fs::read_to_string(name).unwrap_or_else(|error| panic!("{name}: {error}"));
        for (i, c) in REFUSED.into_iter().enumerate() {
            // in the first line, in the middle and in the last, whatever stands there
            let chars: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            for at in [1 + i, chars.len() / 2 + i, chars.len() - 1 - i] {
                let at = chars[at];
                let bad = format!("{}{c}{}", &text[..at], &text[at..]);
                let found = said(&shelf, name, &bad)
                    .unwrap_or_else(|| panic!("{name}: {c:?} at byte {at} is taken"));
                let line = bad[..at].matches('\n').count() + 1;
                assert!(found.contains(&format!("U+{:04X}", u32::from(c))), "{name}: {found}");
                assert!(found.contains(&format!(":{line}:")), "{name}: {found}");
                assert!(!found.contains(c), "{name}: the message holds it");
                for part in ["error: ", "\n  expected: ", "\n  mend: "] {
                    assert!(found.contains(part), "{name}: {found}");
                }
                n += 1;
            }
        }
    }
    assert_eq!(n, FILES.len() * REFUSED.len() * 3);
}

#[test]
fn an_escape_in_toml_is_refused_as_what_it_writes() {
    let shelf = Shelf::built_in().unwrap();
    let ply = "[[stack]]\nply = \"outer-aramid-200\"\n";
    for (text, at) in [
        (format!("name = \"a\\u001b[31m\"\n{ply}"), ":1:8"),
        (format!("name = \"a\"\nnote = \"x\\u202Ey\"\n{ply}"), ":2:8"),
        ("name = \"a\"\n[[stack]]\nply = \"b\\u0007\"\n".to_string(), ":3:7"),
        (format!("name = \"a\"\n\"no\\u0007te\" = \"x\"\n{ply}"), ":2:1"),
    ] {
        let found = said(&shelf, "layup.toml", &text).unwrap_or_else(|| panic!("taken: {text}"));
        assert!(found.contains("the text holds the ") && found.contains(at), "{found}");
        assert!(!found.contains(['\u{1b}', '\u{7}', '\u{202e}']), "{found:?}");
    }
}

#[test]
fn letters_of_any_language_and_units_are_taken() {
    let shelf = Shelf::built_in().unwrap();
    let text = "name = \"Größe 52, 日本, עברית, e\u{301}\"\nnote = \"\tµm · Ω ± 1 %\"\n\
                [[stack]]\nply = \"outer-aramid-200\"\n";
    assert_eq!(said(&shelf, "layup.toml", text), None);
}
