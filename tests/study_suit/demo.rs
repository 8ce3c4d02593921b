//! Claim: what lies in `reports/` is what its commands make today, byte by byte.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

use crate::run::folder;

/// Neither made by the demo's commands.
const NOT_MADE: [&str; 3] = ["README.md", "parity.svg", "work-precision.svg"];

/// A folder beside copies of what the commands read.
fn laid_out() -> PathBuf {
    let root = folder("demo");
    for from in ["examples", "materials/curves", "materials/briefs"] {
        fs::create_dir_all(root.join(from)).unwrap();
        let entries = fs::read_dir(from).unwrap().map(|entry| entry.unwrap().path());
        for entry in entries.filter(|entry| entry.is_file()) {
            fs::copy(&entry, root.join(&entry)).unwrap();
        }
    }
    let made = root.join("reports");
    fs::create_dir_all(&made).unwrap();
    made
}

#[test]
fn the_reports_are_up_to_date() {
    let list = fs::read_to_string("reports/README.md").unwrap();
    let block = list.split("```sh\n").nth(1).expect("the page lists the commands");
    let made = laid_out();
    for line in block.lines().take_while(|line| *line != "```") {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillair"));
        // what stands between quotes is one word
        let words = line.split('"').enumerate().flat_map(|(i, piece)| match i % 2 {
            0 => piece.split_whitespace().collect(),
            _ => vec![piece],
        });
        command.args(words.skip(1)).current_dir(&made).assert().success();
    }
    let names = |folder: &Path| -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let mut names: Vec<String> =
            entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.retain(|name| !NOT_MADE.contains(&name.as_str()));
        names.sort();
        names
    };
    let all = names(&made);
    assert_eq!(all, names(Path::new("reports")), "the same files");
    let same = |name: &&String| {
        fs::read(made.join(name)).unwrap() == fs::read(Path::new("reports").join(name)).unwrap()
    };
    let stale: Vec<&String> = all.iter().filter(|name| !same(name)).collect();
    assert!(stale.is_empty(), "out of date: {stale:?}; run cargo run --example demo -- reports");
}
