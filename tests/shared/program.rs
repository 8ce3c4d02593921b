//! The program as the tests run it, and folders for what it writes.

use std::fs;
use std::panic::Location;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// The program in the project's folder, without colour variables of the environment, not yet run.
pub fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_stillair"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(variable);
    }
    command.args(arguments);
    command
}

/// What it printed, what it said beside, and its status; on so many threads.
pub fn stillair(arguments: &[&str], n_threads: &str) -> (String, String, i32) {
    let output = command(arguments).env("RAYON_NUM_THREADS", n_threads).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (text(output.stdout), text(output.stderr), output.status.code().expect("it ends by itself"))
}

/// What it printed; it said nothing beside and ended well.
#[allow(dead_code, reason = "not every target's commands are silent")]
#[track_caller]
pub fn done(arguments: &[&str]) -> String {
    let (out, err, code) = stillair(arguments, "2");
    assert_eq!((code, err.as_str()), (0, ""), "{arguments:?}\n{out}");
    out
}

/// An empty folder of the test's own, named after the folder that the test stands in too.
#[track_caller]
pub fn folder(name: &str) -> PathBuf {
    let test = Path::new(Location::caller().file());
    let claim = test.parent().and_then(Path::file_name).expect("tests stand in folders");
    let name = format!("{}_{name}", claim.to_string_lossy());
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}
