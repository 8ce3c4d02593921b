//! Every command that writes, each as small as it may be; and folders for them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

pub use crate::program::folder;

/// A command's words; `@` stands for the folder that it writes to, `%` for what it reads.
pub struct Writes {
    pub words: &'static str,
    /// What it writes, `@/` left out.
    pub files: &'static [&'static str],
}

const fn writes(words: &'static str, files: &'static [&'static str]) -> Writes {
    Writes { words, files }
}

/// All of them; that none is missing is a test of its own.
pub const ALL: &[Writes] = &[
    writes(
        "expose single-outer-195 --behind disc --error 5 --curves @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "gap three-ply-loose --gap 1 --points 3 --error 5 --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "rank single-outer-195 two-ply-outer-knit --error 5 --csv @/a.csv --chart @/a.svg \
         --curves @/b.csv",
        &["a.csv", "a.svg", "b.csv"],
    ),
    writes(
        "odds single-outer-195 --against iso-11612-b1 --sets 16 --rows 16 --specimens 1 --error 5 \
         --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "lots three-ply-loose examples/rolls.csv --error 5 --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "pressed two-ply-outer-knit --pressures 1 --error 5 --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "patch single-outer-195 --ply outer-aramid-150 --share 10 --error 5 --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "quilt three-ply-quilted-blank --behind skin --error 5 --csv @/a.csv --chart @/a.svg",
        &["a.csv", "a.svg"],
    ),
    writes(
        "fit single-outer-195 --free conductivity:1 --hti12 3 --hti24 5 --csv @/a.csv --chart @/a.svg \
         --out @/a.toml --exposure-out @/b.toml",
        &["a.csv", "a.svg", "a.toml", "b.toml"],
    ),
    writes("suit refuelling-coverall --error 5 --csv @/a.csv --chart @/a.svg", &["a.csv", "a.svg"]),
    writes("body refuelling-coverall --for 3 --csv @/a.csv --chart @/a.svg", &["a.csv", "a.svg"]),
    writes(
        "report single-outer-195 --error 5 --out @/a.html --markdown @/a.md",
        &["a.html", "a.md", "a-1.svg"],
    ),
    writes(
        "seek tests/harden/brief.toml --error 5 --csv @/a.csv --chart @/a.svg --write @/layups",
        &["a.csv", "a.svg"],
    ),
    writes("merge %/part --csv @/a.csv --chart @/a.svg --write @/layups", &["a.csv", "a.svg"]),
    writes("verify --only standards --report @/a.html", &["a.html"]),
    // what is there already is left alone
    writes("new @/mine", &[]),
    // a book is added to: what stands in its place must be one
    writes(
        "book add --book @/book.csv --figure HTI24 --values 14.1 --date 2026-11-26 three-ply-loose",
        &[],
    ),
];

/// A folder in which something stands already in each place that the command writes.
pub fn with_old(name: &str, command: &Writes) -> PathBuf {
    let place = folder(name);
    for file in command.files {
        fs::write(place.join(file), "old").unwrap();
    }
    place
}

/// Every file below a folder with its bytes.
pub fn all(place: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(place).unwrap().map(|entry| entry.unwrap().path()) {
        match entry.is_dir() {
            true => found.extend(all(&entry)),
            false => drop(found.insert(entry.clone(), fs::read(&entry).unwrap())),
        }
    }
    found
}

/// The words of a command that writes to a folder.
pub fn words(line: &str, place: &Path) -> Vec<String> {
    let (at, ready) = (place.display().to_string(), ready().display().to_string());
    line.split_whitespace().map(|word| word.replace('@', &at).replace('%', &ready)).collect()
}

/// A folder with a part of a search, for whoever reads one.
fn ready() -> &'static Path {
    static READY: OnceLock<PathBuf> = OnceLock::new();
    READY.get_or_init(|| {
        let place = folder("ready");
        let line = "seek tests/harden/brief.toml --error 5 --part 1/1 --checkpoint";
        let mut words: Vec<String> = line.split(' ').map(str::to_owned).collect();
        words.push(place.join("part").display().to_string());
        assert!(program(&words).status().unwrap().success());
        place
    })
}

/// The program in the project's folder with those words, neither run nor heard.
pub fn program(words: &[String]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_stillair"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(words);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped());
    command
}

/// A test's own name of a command.
pub fn name_of(command: &Writes) -> &str {
    command.words.split(' ').next().unwrap_or_default()
}
