//! Claim: some words stand only where they belong.

use crate::source::{Source, holds, words};
use crate::verdicts::VERDICTS;

/// Macros and calls that print or end the process.
const PRINTS: [&str; 5] = ["println!", "eprintln!", "print!", "eprint!", "process::exit"];
/// Marks of work not done.
const UNDONE: [&str; 3] = ["todo!", "unimplemented!", "dbg!"];
/// Words of clothing, which the solver does not know.
const CLOTHING: [&str; 8] =
    ["ply", "plies", "fabric", "fabrics", "garment", "cloth", "clothing", "layup"];

/// Prints and exits outside the command line; inside it only its own way of speaking is used.
fn prints(sources: &[Source]) -> Vec<String> {
    let mut all = uses(sources, &PRINTS);
    let own = |s: &&Source| !matches!(s.floor(), "cli" | "main");
    for source in sources.iter().filter(own) {
        for call in ["stdout()", "stderr()"] {
            if source.code.contains(call) {
                all.push(format!("{}: {call}", source.path));
            }
        }
    }
    all
}

fn uses(sources: &[Source], marks: &[&str]) -> Vec<String> {
    let mut all = Vec::new();
    for source in sources {
        for mark in marks {
            let found = source.code.match_indices(mark).any(|(i, _)| {
                let before = source.code[..i].chars().next_back().unwrap_or(' ');
                !before.is_alphanumeric() && before != '_'
            });
            if found {
                all.push(format!("{}: {mark}", source.path));
            }
        }
    }
    all
}

fn clothing_in_solver(sources: &[Source]) -> Vec<String> {
    let solver = sources.iter().filter(|source| source.floor() == "solver");
    let named = |source: &Source| words(&source.raw).find(|w| CLOTHING.contains(&w.as_str()));
    solver.filter_map(|s| named(s).map(|word| format!("{}: {word}", s.path))).collect()
}

fn ice_point(sources: &[Source]) -> Vec<String> {
    let elsewhere = sources.iter().filter(|source| source.path != "src/physics/units.rs");
    elsewhere.filter(|s| s.code.contains("273.15")).map(|s| s.path.clone()).collect()
}

/// Text that a user reads: string literals, and the help in the command line's documentation.
fn verdict_words(sources: &[Source]) -> Vec<String> {
    let mut all = Vec::new();
    for source in
        sources.iter().filter(|s| matches!(s.floor(), "report" | "cli" | "chart" | "desk"))
    {
        let docs = if source.floor() == "cli" { source.docs.as_slice() } else { &[] };
        for text in source.strings.iter().chain(docs) {
            for word in words(text).filter(|word| VERDICTS.contains(&word.as_str())) {
                all.push(format!("{}: `{word}` in \"{text}\"", source.path));
            }
        }
    }
    all
}

#[track_caller]
fn complains(rule: fn(&[Source]) -> Vec<String>, path: &str, text: &str) {
    assert!(!rule(&[Source::new(path, text)]).is_empty(), "{path}: {text}");
}

#[track_caller]
fn is_content(rule: fn(&[Source]) -> Vec<String>, path: &str, text: &str) {
    let found = rule(&[Source::new(path, text)]);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn only_the_command_line_prints() {
    holds(prints);
    complains(prints, "src/bench/disc.rs", "fn f() { println!(\"a\"); }");
    complains(prints, "src/cli/mod.rs", "fn f() { eprintln!(\"a\"); }");
    complains(prints, "src/study/odds.rs", "fn f() { std::process::exit(1); }");
    complains(prints, "src/report/text.rs", "fn f() { std::io::stdout().lock(); }");
    is_content(prints, "src/bench/disc.rs", "// println!\nfn f() { \"println!\"; }");
}

/// Calls that read a file whatever it is and however large: only the reader of regular files has them.
const READS: [&str; 4] = ["fs::read", "fs::read_to_string", "File::open", "read_to_string"];

fn reads(sources: &[Source]) -> Vec<String> {
    // a folder is opened there to be put on the disk
    let elsewhere = ["src/shelf/file/regular.rs", "src/report/write.rs"];
    let mut all = Vec::new();
    for source in sources.iter().filter(|s| !elsewhere.contains(&s.path.as_str())) {
        let code = &source.code;
        all.extend(
            READS
                .iter()
                .filter(|call| code.contains(&format!("{call}(")))
                .map(|call| format!("{}: {call}", source.path)),
        );
    }
    all
}

#[test]
fn files_are_read_in_one_place_that_bounds_them() {
    holds(reads);
    complains(reads, "src/cli/odds.rs", "fn f() { std::fs::read(path); }");
    complains(reads, "src/shelf/lab/curve.rs", "fn f() { File::open(path).unwrap(); }");
    is_content(reads, "src/shelf/file/regular.rs", "fn f() { File::open(path); }");
}

/// What reading and writing a file takes, which is the concern of `shelf`.
const NOTATIONS: [&str; 7] = ["toml", "csv", "calamine", "serde", "json", "fs", "path"];

fn notations_in_garment(sources: &[Source]) -> Vec<String> {
    let garment = sources.iter().filter(|source| source.floor() == "garment");
    let named = |s: &Source| words(&s.code).find(|word| NOTATIONS.contains(&word.as_str()));
    garment.filter_map(|s| named(s).map(|word| format!("{}: {word}", s.path))).collect()
}

#[test]
fn a_garment_knows_no_file() {
    holds(notations_in_garment);
    complains(notations_in_garment, "src/garment/layup.rs", "fn f() { toml::from_str(text) }");
    complains(notations_in_garment, "src/garment/suit.rs", "use std::path::Path;");
    is_content(notations_in_garment, "src/garment/band.rs", "// `bands.csv`\nfn f() {}");
    is_content(notations_in_garment, "src/shelf/layup/read.rs", "fn f() { toml::from_str(text) }");
}

#[test]
fn nothing_is_left_undone() {
    let undone = |sources: &[Source]| uses(sources, &UNDONE);
    holds(undone);
    complains(undone, "src/bench/disc.rs", "fn f() { todo!() }");
    complains(undone, "src/bench/disc.rs", "fn f() { dbg!(1); }");
}

#[test]
fn the_solver_knows_nothing_of_clothing() {
    holds(clothing_in_solver);
    complains(clothing_in_solver, "src/solver/grid.rs", "/// Nodes of a ply.");
    complains(clothing_in_solver, "src/solver/grid.rs", "let n_plies = 3;");
    is_content(clothing_in_solver, "src/solver/grid.rs", "// applies to any layer");
}

/// A symmetric band of the model, which no measured case supports: targets are called with the factors
/// of `bands.csv`.
fn symmetric_band(text: &str) -> bool {
    ["±15 %", "± 15 %", "MODEL_BAND", "model band of"].iter().any(|mark| text.contains(mark))
}

#[test]
fn no_output_and_no_page_speaks_of_a_symmetric_band() {
    let in_source = |sources: &[Source]| -> Vec<String> {
        sources.iter().filter(|s| symmetric_band(&s.raw)).map(|s| s.path.clone()).collect()
    };
    holds(in_source);
    complains(in_source, "src/report/verdict.rs", "const BAND: &str = \"±15 %\";");
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut pages = vec![root.join("README.md"), root.join("DEVELOPERS.md")];
    for folder in ["reports", "materials", "guide"] {
        let entries = std::fs::read_dir(root.join(folder)).unwrap();
        pages.extend(entries.map(|entry| entry.unwrap().path()).filter(|path| path.is_file()));
    }
    assert!(pages.len() > 20, "{pages:?}");
    for page in pages {
        let text = std::fs::read_to_string(&page).unwrap();
        assert!(!symmetric_band(&text), "{}", page.display());
    }
}

#[test]
fn the_ice_point_stands_in_one_place() {
    holds(ice_point);
    complains(ice_point, "src/report/text.rs", "let c = k - 273.15;");
    is_content(ice_point, "src/physics/units.rs", "const ICE_POINT: f64 = 273.15;");
}

#[test]
fn no_output_sounds_like_a_certificate() {
    holds(verdict_words);
    complains(verdict_words, "src/report/verdict.rs", "fn f() { \"Pass\" }");
    complains(verdict_words, "src/chart/lines.rs", "fn f() { format!(\"layup is safe: {t}\") }");
    complains(verdict_words, "src/cli/expose.rs", "/// Tells whether a layup fails\nstruct A;");
    is_content(verdict_words, "src/report/verdict.rs", "fn safe() { \"passed on to the disc\" }");
}
