//! Claim: files stay short, and every public function of `physics` names its source.

use crate::source::{Source, holds};

/// Longest file, in lines.
const HARD_LIMIT: usize = 600;
/// Beyond this a second concern is looked for, and the file is listed.
const SOFT_LIMIT: usize = 400;

fn too_long(sources: &[Source]) -> Vec<String> {
    let mut all = Vec::new();
    for source in sources {
        let n = source.raw.lines().count();
        if n > HARD_LIMIT {
            all.push(format!("{}: {n} lines, at most {HARD_LIMIT}", source.path));
        } else if n > SOFT_LIMIT {
            println!("{}: {n} lines, look for a second concern", source.path);
        }
    }
    all
}

/// Public functions of `physics` whose documentation lacks a `Source:` line.
fn unsourced(sources: &[Source]) -> Vec<String> {
    let mut all = Vec::new();
    for source in sources.iter().filter(|source| source.floor() == "physics") {
        let mut docs = String::new();
        for line in source.raw.lines().map(str::trim) {
            if let Some(doc) = line.strip_prefix("///") {
                docs.push_str(doc);
            } else if line.starts_with("pub fn") || line.starts_with("pub const fn") {
                if !docs.contains("Source:") {
                    all.push(format!("{}: {line}", source.path));
                }
                docs.clear();
            } else if !line.starts_with("#[") {
                docs.clear();
            }
        }
    }
    all
}

#[test]
fn files_are_short() {
    holds(too_long);
    assert_eq!(too_long(&[Source::new("src/a.rs", &"\n".repeat(601))]).len(), 1);
    assert!(too_long(&[Source::new("src/a.rs", &"\n".repeat(600))]).is_empty());
}

#[test]
fn physics_names_its_sources() {
    holds(unsourced);
    let bad = |text: &str| unsourced(&[Source::new("src/physics/air.rs", text)]).len();
    assert_eq!(bad("/// k.\npub fn k() {}"), 1);
    assert_eq!(bad("/// Source: a book.\nstruct A;\n/// k.\npub const fn k() {}"), 1);
    assert_eq!(bad("/// k.\n///\n/// Source: a book.\n#[inline]\npub fn k() {}\nfn g() {}"), 0);
}
