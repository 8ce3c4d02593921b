//! Lessons on the page: the terminal's own, told by the program itself.

use std::process::{Command, Stdio};

use crate::desk::refused::Refused;
use crate::desk::save::{Keeper, first_line};
use crate::report::lesson::{find, json};

/// Names and titles of all lessons.
///
/// Errors: none that a text can cause.
pub fn all() -> Result<Vec<u8>, Refused> {
    json::lessons_json()
        .map(String::into_bytes)
        .map_err(|error| Refused::new(500, error.to_string(), "", ""))
}

/// The lesson of a name with its numbers, as `stillair lesson NAME --json` tells it.
///
/// Errors: no such lesson; what the program says.
pub fn told(name: &str, keeper: &Keeper) -> Result<Vec<u8>, Refused> {
    let lesson = find(name).map_err(|_| {
        Refused::new(404, "no such lesson is given", "a name of `lessons.json`", "choose another")
    })?;
    let mut command = Command::new(&keeper.program);
    for folder in &keeper.shelf {
        command.arg("--shelf").arg(folder);
    }
    command.args(["lesson", &lesson.name, "--json"]);
    let run = command.stdin(Stdio::null()).output();
    let said = run.map_err(|error| Refused::new(500, error.to_string(), "", ""))?;
    match said.status.success() {
        true => Ok(said.stdout),
        false => Err(Refused::because(first_line(&String::from_utf8_lossy(&said.stderr)))),
    }
}
