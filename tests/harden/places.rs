//! Claim: whatever stands against writing one of a command's outputs, all of them are as they were, and
//! what is said of it is true.
//! Source: common practice, no source; each way of failing is one that the system documents (EFBIG for
//! ENOSPC, as a limit needs no disk of its own; ENOENT in /proc; EPIPE).

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::harden::commands::{ALL, Writes, all, folder, name_of, program, with_old, words};

/// Every command whose help names an output stands in the list.
#[test]
fn no_command_that_writes_is_left_out() {
    let listed: Vec<&str> = ALL.iter().map(name_of).collect();
    let help = |words: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_stillair")).args(words).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let whole = help(&["--help"]);
    let commands = whole.lines().skip_while(|line| *line != "Commands:").skip(1);
    let commands = commands.take_while(|line| !line.is_empty()).filter_map(|line| {
        let indented = line.strip_prefix("  ")?;
        indented.chars().next().filter(|c| *c != ' ')?;
        indented.split(' ').next()
    });
    let mut n = 0;
    // the desk writes when its page asks it to: `tests/desk/saved.rs`
    for command in commands.filter(|command| !["help", "desk"].contains(command)) {
        let text = help(&[command, "--help"]);
        let writes =
            ["--csv", "--curves", "--chart", "--out", "--write"].iter().any(|o| text.contains(o));
        assert!(!writes || listed.contains(&command), "`{command}` writes and is not tested");
        n += usize::from(writes);
    }
    assert!(n > 12, "{n} commands that write");
}

/// Runs with no more than `blocks` half-kilobytes a file, as on a disk that is full.
#[cfg(unix)]
fn limited(words: &[String], blocks: u64) -> (Option<i32>, String) {
    let mut command = Command::new("sh");
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command.args(["-c", "trap '' XFSZ; ulimit -f \"$0\"; exec \"$@\"", &blocks.to_string()]);
    command.arg(env!("CARGO_BIN_EXE_stillair")).args(words);
    let output = command.stdout(Stdio::null()).output().unwrap();
    (output.status.code(), String::from_utf8(output.stderr).unwrap())
}

/// The disk is full when the largest output is written: those that would fit are not there either.
#[cfg(unix)]
#[test]
fn on_a_full_disk_nothing_is_written() {
    for command in ALL {
        let name = name_of(command);
        let whole = folder(&format!("whole_{name}"));
        let status = program(&words(command.words, &whole)).status().unwrap();
        assert!(status.success(), "{name}");
        let written = all(&whole);
        for file in command.files {
            assert!(written.contains_key(&whole.join(file)), "{name}: no {file}");
        }
        let largest = written.values().map(Vec::len).max().unwrap() as u64;
        let place = with_old(&format!("full_{name}"), command);
        let before = all(&place);
        let (code, said) = limited(&words(command.words, &place), (largest - 1) / 512);
        assert_eq!(code, Some(1), "{name}: {said}");
        assert!(said.contains("nothing was written"), "{name}: {said}");
        let after = all(&place);
        let after = after.iter().filter(|(path, _)| !path.ends_with(".book.csv.lock"));
        assert!(after.eq(before.iter()), "{name}: {:?}", all(&place).keys());
    }
}

/// One output lies in a folder where nothing can be made, not even by the system's keeper.
#[cfg(target_os = "linux")]
#[test]
fn where_one_output_cannot_be_made_none_is() {
    for command in ALL.iter().filter(|command| command.files.len() > 1) {
        let name = name_of(command);
        let place = with_old(&format!("nowhere_{name}"), command);
        let before = all(&place);
        let last = format!("@/{}", command.files[1]);
        // the page's charts lie beside it
        let line = command.words.replacen(&last, &format!("/proc/{}", command.files[1]), 1);
        let output = program(&words(&line, &place)).output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{name}: {said}");
        assert!(said.contains("/proc/") && said.contains("nothing was written"), "{name}: {said}");
        assert!(all(&place) == before, "{name}: {said}");
    }
}

/// A folder that may not be written to; the system's keeper may write everywhere.
#[cfg(unix)]
#[test]
fn in_a_read_only_folder_nothing_is_written() {
    use std::os::unix::fs::PermissionsExt;
    if rustix::process::geteuid().is_root() {
        return;
    }
    for command in ALL {
        let name = name_of(command);
        let place = with_old(&format!("read_only_{name}"), command);
        let before = all(&place);
        fs::set_permissions(&place, fs::Permissions::from_mode(0o555)).unwrap();
        let output = program(&words(command.words, &place)).output().unwrap();
        fs::set_permissions(&place, fs::Permissions::from_mode(0o755)).unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{name}: {said}");
        assert!(said.contains("nothing was written"), "{name}: {said}");
        assert!(all(&place) == before, "{name}");
    }
}

/// Nobody reads what is printed: the files are whole all the same, and nothing is complained of.
#[test]
fn with_nobody_who_reads_the_files_are_whole() {
    for command in ALL {
        let name = name_of(command);
        let place = with_old(&format!("closed_{name}"), command);
        let mut child =
            program(&words(command.words, &place)).stdout(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(0), "{name}: {said}");
        whole(command, &place);
    }
}

/// Each output is new, and nothing half-written lies beside it.
pub fn whole(command: &Writes, place: &Path) {
    let name = name_of(command);
    let found = all(place);
    for file in command.files {
        assert_ne!(found[&place.join(file)], b"old", "{name}: {file}");
    }
    assert!(no_part(place), "{name}: {:?}", found.keys());
}

/// Whether no half-written file lies in a folder.
pub fn no_part(place: &Path) -> bool {
    all(place).keys().all(|path| !path.to_string_lossy().ends_with(".part"))
}
