//! Claim: on a disk that is really full nothing of a command's outputs is written, and with the pages that
//! were missing all of it is.
//! Source: tmpfs(5): a file takes whole pages of its size, and what goes beyond is refused with ENOSPC.
//! Where no tmpfs may be mounted, a word says so; `places.rs` limits the size of files in its stead.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::harden::commands::{ALL, Writes, all, folder, name_of, program, with_old, words};

/// A page of memory, of which tmpfs gives files whole ones [KiB].
const PAGE_KIB: u64 = 4;
/// Pages beyond those that the files take: locks, folders and what a rename needs.
const SPARE: u64 = 64;
/// A file that is there before.
const TAKEN: &str = "taken";
/// Status of the script where the disk could not be made.
const NO_DISK: i32 = 97;

/// A disk of so many KiB in place of a folder, for one command alone: what lies in the folder is put on
/// it first, and what is there at the end into a folder beside.
const SCRIPT: &str = "mount -t tmpfs -o size=$1k none \"$2\" || exit 97
    cp -R \"$3/.\" \"$2\" || exit 97
    shift 3; after=$1; shift; place=$1; shift
    \"$@\"; code=$?
    cp -R \"$place/.\" \"$after\"; exit $code";

/// Pages that the files of a folder take.
fn pages(place: &Path) -> u64 {
    all(place).values().map(|bytes| (bytes.len() as u64).div_ceil(1024 * PAGE_KIB)).sum()
}

/// Runs a command on a disk of so many pages; status, what was said, and the folder with what is left.
fn on_disk(command: &Writes, n_pages: u64) -> (Option<i32>, String, std::path::PathBuf) {
    let name = name_of(command);
    let before = with_old(&format!("tmpfs_before_{name}"), command);
    // a page that is taken anyway: a disk of no pages has no bound
    fs::write(before.join(TAKEN), "old").unwrap();
    let (place, after) = (folder(&format!("tmpfs_{name}")), folder(&format!("tmpfs_after_{name}")));
    let mut run = Command::new("unshare");
    run.current_dir(env!("CARGO_MANIFEST_DIR")).args(["--mount", "--map-root-user", "sh", "-c"]);
    run.args([SCRIPT, "sh", &(PAGE_KIB * n_pages).to_string()]);
    run.args([&place, &before, &after, &place]).arg(env!("CARGO_BIN_EXE_stillair"));
    run.args(words(command.words, &place)).stdin(Stdio::null()).stdout(Stdio::null());
    match run.output() {
        // unshare answers 1 where a mount of one's own is not permitted, as in a chroot or a container
        Ok(done) if done.stderr.starts_with(b"unshare: ") => {
            (Some(NO_DISK), String::from_utf8_lossy(&done.stderr).into_owned(), after)
        }
        Ok(done) => (done.status.code(), String::from_utf8(done.stderr).unwrap(), after),
        Err(error) => (Some(NO_DISK), error.to_string(), after),
    }
}

#[cfg(target_os = "linux")]
#[test]
fn on_a_full_tmpfs_nothing_is_written() {
    for command in ALL {
        let name = name_of(command);
        let whole = folder(&format!("tmpfs_whole_{name}"));
        assert!(program(&words(command.words, &whole)).status().unwrap().success(), "{name}");
        let old = command.files.len() as u64 + 1;
        let needed = old + pages(&whole);
        let (code, said, after) = on_disk(command, needed - 1);
        if code == Some(NO_DISK) {
            println!("no disk of one's own may be made here: {}", said.trim());
            return;
        }
        assert_eq!(code, Some(1), "{name}: {said}");
        assert!(said.contains("nothing was written"), "{name}: {said}");
        assert!(said.contains("space"), "{name}: {said}");
        for (path, bytes) in all(&after) {
            let is_lock = path.to_string_lossy().ends_with(".lock");
            assert!(is_lock || bytes == b"old", "{name}: {} is not as before", path.display());
        }
        let (code, said, after) = on_disk(command, needed + SPARE);
        assert_eq!(code, Some(0), "{name}: {said}");
        for file in command.files {
            assert_ne!(fs::read(after.join(file)).unwrap(), b"old", "{name}: {file}");
        }
    }
}

/// A device that is always full, in place of the first output; the others are as before.
#[cfg(target_os = "linux")]
#[test]
fn what_goes_to_a_full_device_takes_nothing_with_it() {
    let mut n = 0;
    for command in ALL.iter().filter(|command| command.words.contains("@/a.csv")) {
        let name = name_of(command);
        let place = with_old(&format!("dev_full_{name}"), command);
        let before = all(&place);
        let line = command.words.replacen("@/a.csv", "/dev/full", 1);
        let output = program(&words(&line, &place)).output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{name}: {said}");
        assert!(
            said.contains("/dev/full") && said.contains("nothing was written"),
            "{name}: {said}"
        );
        assert!(all(&place) == before, "{name}: {said}");
        n += 1;
    }
    assert!(n > 8, "{n} commands");
}
