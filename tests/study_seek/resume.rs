//! Claim: a search that was stopped anywhere goes on to the same result and the same file.

use std::fs;
use std::process::{Command, Stdio};
use std::time::Duration;

use stillair::study::seek::checkpoint::fingerprint;
use stillair::study::seek::checkpoint::{Checkpoint, Head};
use stillair::study::seek::part::Part;
use stillair::study::seek::search::total;
use stillair::study::seek::space::Space;
use stillair::study::seek::summary::Done;

use crate::study_seek::fixtures::{
    COARSE, ERROR_GOAL, Numbers, SPARSE, brief, done, folder, refused, search, searched,
};

#[test]
fn cut_at_fifty_places_the_rest_is_searched_again() {
    let brief = brief(SPARSE);
    let space = Space::of(&brief).unwrap();
    let search = search(&space);
    let head = Head {
        fingerprint: fingerprint(&brief, ERROR_GOAL),
        part: Part::WHOLE,
        version: env!("CARGO_PKG_VERSION").to_owned(),
        error_goal: ERROR_GOAL,
        path: "brief.toml".to_owned(),
        brief: SPARSE.to_owned(),
    };
    let folder = folder("cut");
    let (whole, cut) = (folder.join("whole"), folder.join("cut"));
    let mut chunks = Done::new();
    let mut checkpoint = Checkpoint::begin(&whole, &head).unwrap();
    search.run(&mut chunks, Some(&mut checkpoint), &mut |_| ()).unwrap();
    let bytes = fs::read(&whole).unwrap();
    let result = total(&chunks, &space);
    assert_eq!(result, searched(&space), "with a checkpoint or without");
    assert!(chunks.len() > 100 && result.frontier.len() > 3 && result.counts.n_keeping > 3);
    let mut numbers = Numbers(7);
    let (mut n_torn, mut n_redone) = (0, 0);
    for turn in 0..50 {
        // the first places lie within the head, the rest anywhere
        let most = if turn < 5 { 600 } else { bytes.len() as u64 + 1 };
        let mut left = bytes[..numbers.below(most) as usize].to_vec();
        if turn % 5 == 4 {
            // a page that never reached the disk reads as zeros
            left.extend([0; 37]);
        }
        fs::write(&cut, &left).unwrap();
        let (mut checkpoint, held) = Checkpoint::resume(&cut, &head, &space).unwrap();
        n_torn += u64::from(held.n_torn > 0);
        let mut chunks = held.done;
        let n_held = chunks.len();
        search.run(&mut chunks, Some(&mut checkpoint), &mut |_| n_redone += 1).unwrap();
        assert!(n_held <= chunks.len());
        assert_eq!(total(&chunks, &space), result, "turn {turn}, {} bytes left", left.len());
        assert!(fs::read(&cut).unwrap() == bytes, "turn {turn}: another file");
    }
    assert!(n_torn > 30 && n_redone > 1000, "{n_torn} torn, {n_redone} chunks searched again");
}

#[test]
fn a_changed_byte_ends_what_is_believed() {
    let brief = brief(SPARSE);
    let space = Space::of(&brief).unwrap();
    let folder = folder("byte");
    let (file, toml) = (folder.join("whole"), folder.join("brief.toml"));
    fs::write(&toml, SPARSE).unwrap();
    let (file, toml) = (file.to_str().unwrap(), toml.to_str().unwrap());
    let json = done(&["seek", toml, "--checkpoint", file, "--json"]);
    let mut bytes = fs::read(file).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(file, &bytes).unwrap();
    let held = stillair::study::seek::checkpoint::read_chunks(file.as_ref(), &space).unwrap();
    assert!(held.n_torn > 0 && held.done.len() < search(&space).chunks().count());
    let (out, err, code) = crate::study_seek::fixtures::stillair(
        &["seek", toml, "--checkpoint", file, "--resume", "--json"],
        "1",
    );
    assert_eq!((code, out), (0, json));
    assert!(err.contains("were torn and are ignored"), "{err}");
}

#[test]
fn killed_outright_fifty_times_it_goes_on() {
    let folder = folder("killed");
    let (file, toml) = (folder.join("killed"), folder.join("brief.toml"));
    // wider limits and odds, so that there is time to kill
    let text = SPARSE
        .replace("thickness_mm = 3", "thickness_mm = 4")
        .replace("margin_pct = 10", "margin_pct = 10\nodds_pct = 80")
        .replace("felts_least = 0", "felts_least = 0\nodds_sets = 32");
    fs::write(&toml, text).unwrap();
    let (file, toml) = (file.to_str().unwrap(), toml.to_str().unwrap());
    let whole = done(&["seek", toml, "--json", "--error", COARSE]);
    let arguments = ["seek", toml, "--checkpoint", file, "--resume", "--json", "--error", COARSE];
    let mut numbers = Numbers(11);
    let (mut n_killed, mut longest, mut size) = (0, 150_000, 0);
    while n_killed < 50 {
        let mut child = Command::new(env!("CARGO_BIN_EXE_stillair"))
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_micros(numbers.below(longest)));
        let _ = child.kill();
        let ended = child.wait_with_output().unwrap();
        if ended.status.code().is_none() {
            n_killed += 1;
            let grown = fs::metadata(file).map_or(0, |known| known.len());
            // at most a torn frame is cut off when it goes on
            assert!(size <= grown + 4096, "{size} bytes, then {grown}");
            size = grown;
        } else {
            assert!(String::from_utf8(ended.stdout).unwrap() == whole, "after {n_killed} kills");
            fs::remove_file(file).unwrap();
            size = 0;
            // a faster machine is killed sooner
            longest = 1 + longest * 4 / 5;
        }
    }
    assert_eq!(done(&arguments), whole);
    assert_eq!(done(&arguments), whole, "and once more, with nothing left to do");
}

#[test]
fn a_file_of_something_else_is_left_alone() {
    let folder = folder("foreign");
    let (file, toml) = (folder.join("notes.txt"), folder.join("brief.toml"));
    fs::write(&toml, SPARSE).unwrap();
    fs::write(&file, "notes of the last race").unwrap();
    let (path, toml) = (file.to_str().unwrap(), toml.to_str().unwrap());
    refused(&["seek", toml, "--checkpoint", path], &["it is there already", "--resume"]);
    refused(&["seek", toml, "--checkpoint", path, "--resume"], &["it is no checkpoint"]);
    refused(&["seek", toml, "--checkpoint", "no/such/folder/file"], &["no such file"]);
    assert_eq!(fs::read_to_string(&file).unwrap(), "notes of the last race");
}

#[test]
fn another_search_is_not_gone_on_with() {
    let folder = folder("other");
    let (file, toml) = (folder.join("file"), folder.join("brief.toml"));
    let (path, toml_path) = (file.to_str().unwrap(), toml.to_str().unwrap());
    fs::write(&toml, SPARSE).unwrap();
    done(&["seek", toml_path, "--checkpoint", path]);
    let begun = fs::read(&file).unwrap();
    let again = ["seek", toml_path, "--checkpoint", path, "--resume"];
    refused(&[&again[..], &["--error", "1"]].concat(), &["another numerical error"]);
    refused(&[&again[..], &["--part", "1/2"]].concat(), &["another part"]);
    fs::write(&toml, SPARSE.replace("margin_pct = 10", "margin_pct = 11")).unwrap();
    refused(&again, &["another brief"]);
    assert_eq!(fs::read(&file).unwrap(), begun);
    // a comment changes nothing
    fs::write(&toml, format!("# a comment\n{SPARSE}")).unwrap();
    done(&again);
}
