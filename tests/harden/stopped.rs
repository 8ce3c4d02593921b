//! Claim: whenever a command is stopped, each output is new and whole or as it was, and told to stop it
//! leaves nothing half-written; a file that one program goes on writing is no other's meanwhile.
//! Source: POSIX.1-2017, Signal Concepts: SIGINT and SIGTERM can be caught, SIGKILL cannot.

#![cfg(unix)]

use std::path::Path;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};

use crate::harden::commands::{ALL, Writes, all, folder, name_of, program, with_old, words};
use crate::harden::places::no_part;

/// Sends a signal; a child that has ended but was not waited for still takes it.
fn send(child: &Child, signal: Signal) {
    kill_process(Pid::from_child(child), signal).unwrap();
}

/// Each output is either all new or as it was, none between.
fn old_or_new(command: &Writes, place: &Path, whole: &Path) -> bool {
    let (found, new) = (all(place), all(whole));
    let states = command.files.iter().map(|file| {
        let bytes = &found[&place.join(file)];
        let is_new = *bytes == new[&whole.join(file)];
        assert!(is_new || bytes == b"old", "{}: {file} is torn", name_of(command));
        is_new
    });
    let states: Vec<bool> = states.collect();
    states.iter().all(|new| *new)
}

/// Waits until a part lies in the folder: the outputs are tried, the work goes on.
fn has_begun(child: &mut Child, place: &Path) -> bool {
    let begun = Instant::now();
    while begun.elapsed() < Duration::from_secs(60) {
        if !no_part(place) {
            return true;
        }
        if child.try_wait().unwrap().is_some() {
            return false;
        }
        std::thread::sleep(Duration::from_micros(200));
    }
    false
}

#[test]
fn told_to_stop_nothing_half_written_is_left() {
    use std::os::unix::process::ExitStatusExt;
    let mut n_stopped = 0;
    for command in ALL.iter().filter(|command| !command.files.is_empty()) {
        let name = name_of(command);
        let whole = folder(&format!("stop_whole_{name}"));
        // pages name where they lie
        let is_page = ["report", "fit"].contains(&name);
        assert!(program(&words(command.words, &whole)).status().unwrap().success());
        for signal in [Signal::INT, Signal::TERM] {
            let place = with_old(&format!("stop_{name}"), command);
            let mut child =
                program(&words(command.words, &place)).stderr(Stdio::null()).spawn().unwrap();
            if has_begun(&mut child, &place) {
                send(&child, signal);
            }
            let status = child.wait().unwrap();
            n_stopped += usize::from(status.signal() == Some(signal.as_raw()));
            assert!(no_part(&place), "{name} after {signal:?}: {:?}", all(&place).keys());
            assert!(is_page || !old_or_new(command, &place, &whole) || status.code().is_some());
        }
    }
    assert!(n_stopped > 10, "{n_stopped} were stopped at work: nothing is tested");
}

#[test]
fn killed_outright_what_stands_is_old_or_new() {
    let command = &ALL[0];
    let whole = folder("kill_whole");
    assert!(program(&words(command.words, &whole)).status().unwrap().success());
    let (mut n_old, mut wait) = (0, Duration::ZERO);
    for _ in 0..60 {
        let place = with_old("kill", command);
        let mut child =
            program(&words(command.words, &place)).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(wait);
        send(&child, Signal::KILL);
        let ended = child.wait().unwrap();
        let new = old_or_new(command, &place, &whole);
        n_old += usize::from(!new);
        // sweep the moments from the start to the end, over and over
        wait = if ended.success() { Duration::ZERO } else { wait + Duration::from_millis(2) };
        // what an earlier program left hinders nobody
        if !new && n_old % 16 == 1 {
            assert!(program(&words(command.words, &place)).status().unwrap().success());
            assert!(old_or_new(command, &place, &whole));
        }
    }
    assert!(n_old > 10, "{n_old} were killed in time");
}

/// A search that is told to stop says how to go on, and does.
#[test]
fn a_search_says_how_to_go_on() {
    let place = folder("go_on");
    let line = "seek examples/day/brief.toml --shelf examples/day --error 5 --checkpoint @/kept";
    let child = program(&words(line, &place)).spawn().unwrap();
    let begun = Instant::now();
    while !place.join("kept").exists() && begun.elapsed() < Duration::from_secs(60) {
        std::thread::sleep(Duration::from_millis(1));
    }
    std::thread::sleep(Duration::from_millis(30));
    // nobody else writes to it meanwhile
    let other = program(&words(&format!("{line} --resume"), &place)).output().unwrap();
    let said = String::from_utf8(other.stderr).unwrap();
    assert!(said.contains("another program is writing to it"), "{said}");
    send(&child, Signal::TERM);
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("stopped after ") && said.contains("--resume"), "{said}");
    assert_eq!(output.status.code(), None, "{said}");
}

/// Odds that are being drawn have their checkpoint to themselves.
#[test]
fn a_checkpoint_of_odds_is_one_programs() {
    let place = folder("odds_lock");
    let begin =
        "odds single-outer-195 --against iso-11612-b1 --sets 4096 --rows 256 --checkpoint @/kept";
    let child = program(&words(begin, &place)).spawn().unwrap();
    let begun = Instant::now();
    while !place.join("kept").exists() && begun.elapsed() < Duration::from_secs(60) {
        std::thread::sleep(Duration::from_millis(1));
    }
    let other = program(&words(&format!("{begin} --resume"), &place)).output().unwrap();
    let said = String::from_utf8(other.stderr).unwrap();
    assert!(said.contains("another program is writing to"), "{said}");
    send(&child, Signal::TERM);
    let said = String::from_utf8(child.wait_with_output().unwrap().stderr).unwrap();
    assert!(said.contains("--resume"), "{said}");
    assert!(no_part(&place) && all(&place).len() == 1, "{:?}", all(&place).keys());
}
