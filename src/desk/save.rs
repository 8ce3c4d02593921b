//! What is saved: a layup's file, and a chart or a report made from it by the program's own commands.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde::{Deserialize, Serialize};

use crate::desk::anchors::Anchors;
use crate::desk::asked::State;
use crate::desk::refused::Refused;
use crate::report::write::Destination;
use crate::shelf::file::claim;
use crate::shelf::materials::Shelf;

/// Longest name of a file, its ending left out.
const NAME_MOST: usize = 80;
/// Names that a system keeps for devices.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// What is to be saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum What {
    /// The layup's file alone.
    Layup,
    /// The temperatures over time as a drawing.
    Chart,
    /// A report to hand round.
    Report,
}

/// A wish to save.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wish {
    /// The state.
    pub state: State,
    /// The file's name without its ending.
    pub name: String,
    /// What of it.
    pub what: What,
    /// Whether files that are there already may be replaced.
    #[serde(default)]
    pub replace: bool,
}

/// Where is saved, and by which program charts and reports are made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Keeper {
    /// The folder; nothing is written elsewhere.
    pub folder: PathBuf,
    /// This program.
    pub program: PathBuf,
    /// Folders of the shelf, as from anywhere.
    pub shelf: Vec<PathBuf>,
}

#[derive(Serialize)]
struct Saved {
    written: Vec<String>,
}

/// Saves what is wished and tells the files' names.
///
/// Errors: a name that is none, a file that is there already, a state that cannot be, what the system says.
pub fn save(
    wish: &Wish,
    (shelf, anchors): (&Shelf, &Anchors),
    keeper: &Keeper,
) -> Result<Vec<u8>, Refused> {
    let name = checked(&wish.name)?;
    let layup = format!("{name}.toml");
    let made = match wish.what {
        What::Layup => None,
        What::Chart => Some(format!("{name}.svg")),
        What::Report => Some(format!("{name}.html")),
    };
    if wish.what == What::Report && (wish.state.flame_s.is_some() || wish.state.until_s.is_some()) {
        return Err(Refused::new(
            422,
            "a report follows the exposure as the shelf has it",
            "no times of your own",
            "take the times away, or save a chart",
        ));
    }
    wish.state.resolved(shelf)?;
    let text = wish.state.text()?;
    for file in std::iter::once(&layup).chain(&made) {
        free(&keeper.folder.join(file), file, wish.replace)?;
    }
    // each wish is a command of its own: what was read before may be replaced
    claim::watch();
    let file = Destination::try_out(&keeper.folder.join(&layup));
    let put = file.and_then(|file| file.put(text.as_bytes()));
    put.map_err(|error| Refused::new(500, first_line(&error.to_string()), "", ""))?;
    if let Some(made) = &made {
        make(wish, (keeper, anchors), &layup, made)?;
    }
    let written = std::iter::once(layup).chain(made).collect();
    serde_json::to_vec(&Saved { written })
        .map_err(|error| Refused::new(500, error.to_string(), "", ""))
}

/// The name, which leads nowhere.
fn checked(name: &str) -> Result<&str, Refused> {
    let plain = |c: char| c.is_ascii_alphanumeric() || " _.-".contains(c);
    let first = |c: char| c.is_ascii_alphanumeric();
    let fits = name.len() <= NAME_MOST
        && name.starts_with(first)
        && name.ends_with(first)
        && name.chars().all(plain)
        && !name.contains("..")
        && !DEVICES.contains(&name.split('.').next().unwrap_or_default().to_lowercase().as_str());
    match fits {
        true => Ok(name),
        false => Err(Refused::new(
            422,
            "the name of the file cannot be used",
            "at most 80 letters a to z, digits, blanks, `_`, `-` and `.`, a letter or digit at both ends",
            "choose another name",
        )),
    }
}

/// Whether the file may be written: nothing is there, or a regular file that may be replaced.
fn free(path: &Path, file: &str, replace: bool) -> Result<(), Refused> {
    let Ok(known) = fs::symlink_metadata(path) else { return Ok(()) };
    if !known.is_file() {
        // a link may lead out of the folder
        let what = format!("`{file}` is there and is no plain file");
        return Err(Refused::new(422, what, "", "choose another name"));
    }
    match replace {
        true => Ok(()),
        false => Err(Refused::new(
            409,
            format!("`{file}` is there already"),
            "a name that is free",
            "choose another name, or replace it",
        )),
    }
}

/// Makes the chart or report as the command does that is told on the page.
fn make(
    wish: &Wish,
    (keeper, anchors): (&Keeper, &Anchors),
    layup: &str,
    made: &str,
) -> Result<(), Refused> {
    let State { exposure, flame_s, until_s, skin, against, flat, .. } = &wish.state;
    let mut command = Command::new(&keeper.program);
    command.current_dir(&keeper.folder);
    for folder in &keeper.shelf {
        command.arg("--shelf").arg(folder);
    }
    let (verb, out) = match wish.what {
        What::Report => ("report", "--out"),
        _ => ("expose", "--chart"),
    };
    // before a name that could be taken for an option
    command.args([verb, &format!("./{layup}"), out, &format!("./{made}"), "--exposure", exposure]);
    let times = [("--for", flame_s), ("--until", until_s)];
    for (option, value) in times.iter().filter_map(|(option, value)| Some((option, (**value)?))) {
        command.arg(format!("{option}={value}"));
    }
    command.args(skin.iter().flat_map(|skin| ["--skin", skin]));
    command.args(against.iter().flat_map(|target| ["--against", target]));
    command.args(flat.then_some("--flat")).args(&anchors.words);
    let run = command.stdin(Stdio::null()).stdout(Stdio::null()).output();
    let said = run.map_err(|error| Refused::new(500, error.to_string(), "", ""))?;
    match said.status.success() {
        true => Ok(()),
        false => Err(Refused::because(first_line(&String::from_utf8_lossy(&said.stderr)))),
    }
}

/// What is wrong, of a message in parts.
pub(super) fn first_line(message: &str) -> String {
    let line = message.lines().next().unwrap_or_default();
    line.strip_prefix("error: ").unwrap_or(line).to_owned()
}

#[cfg(test)]
mod tests {
    use super::checked;

    #[test]
    fn no_name_leads_elsewhere() {
        for good in ["a", "three-ply 2", "A_1.5mm", "0"] {
            assert_eq!(checked(good).ok(), Some(good));
        }
        let long = "a".repeat(81);
        for bad in [
            "", ".", "..", "../a", "a/b", "a\\b", "/a", "a..b", ".a", "-a", "a.", "a ", "a\0",
            "a\n", "ä", "nul", "Con.a", "C:", &long,
        ] {
            assert!(checked(bad).is_err(), "{bad:?}");
        }
    }
}
