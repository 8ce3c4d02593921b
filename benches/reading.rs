//! What guarding costs a layup file that is read: regular files only, bounded, no characters that steer, no
//! output over an input. How to run and read: `benches/README.md`.

use std::fs;
use std::path::PathBuf;

use stillair::shelf::file::plain::refused_in;
use stillair::shelf::layup::read::{read_layup, read_layup_text};
use stillair::shelf::materials::Shelf;

fn main() {
    divan::main();
}

/// The layup files of the shelf.
fn layups() -> Vec<PathBuf> {
    let entries = fs::read_dir("materials/layups").expect("the shelf lies in the project");
    let mut all: Vec<PathBuf> =
        entries.map(|entry| entry.expect("an entry of the folder").path()).collect();
    all.sort();
    all
}

/// As the program reads them.
#[divan::bench]
fn guarded(bencher: divan::Bencher) {
    let (shelf, all) = (Shelf::built_in().expect("the built-in shelf reads"), layups());
    bencher.bench(|| all.iter().filter(|path| read_layup(path, &shelf).is_ok()).count());
}

/// Opened by the standard library, then parsed; the characters are looked at here as well.
#[divan::bench]
fn opened_plainly(bencher: divan::Bencher) {
    let (shelf, all) = (Shelf::built_in().expect("the built-in shelf reads"), layups());
    let read = |path: &PathBuf| {
        let text = fs::read_to_string(path).expect("a text");
        read_layup_text(&text, path, &shelf).is_ok()
    };
    bencher.bench(|| all.iter().filter(|path| read(path)).count());
}

/// The look at the characters alone.
#[divan::bench]
fn characters(bencher: divan::Bencher) {
    let all: Vec<String> =
        layups().iter().map(|path| fs::read_to_string(path).expect("a text")).collect();
    bencher.bench(|| all.iter().filter(|text| refused_in(text).is_none()).count());
}
