//! Claim: a workshop's own tests are kept whole whatever happens, and every fault of the book is
//! said with its place, the rule and how to mend it.
//! One small file per fault in `bad_book/`, its whole message beside it.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::command::program::{done, fits_80_columns, folder, refused, stillair};
use crate::flat::flat;

const NOTICE: &str = stillair::NOTICE;

fn add<'a>(book: &'a str, values: &'a str) -> Vec<&'a str> {
    let of = ["book", "add", "three-ply-loose", "--figure", "HTI24", "--date", "2026-11-20"];
    [&of[..], &["--values", values, "--book", book]].concat()
}

fn rows(book: &str) -> usize {
    fs::read_to_string(book).unwrap().lines().filter(|line| line.starts_with("20")).count()
}

#[test]
fn each_bad_book_has_its_whole_message() {
    crate::messages::check("tests/command/bad_book", 17, |case| {
        let said = stillair(&["book", "check", "--book", case.to_str().unwrap()]);
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{}", case.display());
        said.err
    });
}

#[test]
fn tests_are_added_listed_and_checked() {
    let place = folder("book_add").join("bench-book.csv");
    let book = place.to_str().unwrap();
    done(&add(book, "14.1,13.7,14.6"));
    let first = fs::read_to_string(&place).unwrap();
    done(&add(book, "15.2"));
    let both = fs::read_to_string(&place).unwrap();
    assert!(both.starts_with(&first), "rows that stood there stay");
    let listed = done(&["book", "--book", book]);
    assert!(listed.contains("14.1, 13.7, 14.6 s") && listed.contains("15.2 s"), "{listed}");
    assert!(flat(&listed).contains(NOTICE));
    fits_80_columns(&listed);
    assert!(flat(&done(&["book", "check", "--book", book])).contains("nothing wrong; 2 tests"));
}

/// Times are read from a curve as from our own runs: the curve written by `expose` gives its HTI12.
#[test]
fn a_curve_of_our_own_gives_our_own_times() {
    let folder = folder("book_curve");
    let curves = folder.join("own.csv");
    let own = ["expose", "three-ply-loose", "--behind", "disc", "--json", "--curves"];
    let said = done(&[&own[..], &[curves.to_str().unwrap()]].concat());
    let said: serde_json::Value = serde_json::from_str(&said).unwrap();
    let hti12 = said["disc"]["figures"]["HTI12_s"]["value"].as_f64().unwrap();
    let lines = fs::read_to_string(&curves).unwrap();
    let mut table = lines.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = table.next().unwrap().split(',').collect();
    let column = |name: &str| header.iter().position(|cell| *cell == name).unwrap();
    let (t, rise) = (column("time_s"), column("disc_rise_C"));
    let mut curve = String::from("time_s,temperature_rise_C\n");
    for line in table {
        let cells: Vec<&str> = line.split(',').collect();
        curve.push_str(&format!("{},{}\n", cells[t], cells[rise]));
    }
    let file = folder.join("specimen.csv");
    fs::write(&file, curve).unwrap();
    let book = folder.join("bench-book.csv");
    let of = ["book", "add", "three-ply-loose", "--date", "2026-11-20", "--curve"];
    // late readings lie far apart, which is said
    let said =
        stillair(&[&of[..], &[file.to_str().unwrap(), "--book", book.to_str().unwrap()]].concat());
    assert_eq!(said.code, 0, "{}", said.err);
    let text = fs::read_to_string(&book).unwrap();
    let row = text.lines().find(|line| line.contains(",HTI12,")).unwrap();
    let value: f64 = row.split(',').nth(6).unwrap().parse().unwrap();
    // rounded to 0.01 s; the curve's rows are straight in between
    assert!((value - hti12).abs() < 0.02, "{value} read, {hti12} computed");
}

#[test]
fn what_cannot_be_added_is_refused() {
    let place = folder("book_refused").join("bench-book.csv");
    let book = place.to_str().unwrap();
    refused(&add(book, "-1"), 1, &["`-1` is not above 0", "expected: each specimen's value"]);
    refused(&add(book, "nan"), 1, &["`nan` is not finite"]);
    refused(&["book"], 1, &["no bench book was named", "--book"]);
    refused(&["book", "add", "three-ply-loose", "--date", "2026-11-20", "--book", book], 2, &[]);
    let of =
        ["book", "add", "three-ply-loose", "--figure", "HTI24", "--values", "14", "--book", book];
    refused(&[&of[..], &["--date", "20.11.2026"]].concat(), 1, &["is not a day"]);
    assert!(!place.exists(), "nothing was written");
}

/// Two processes that add at once lose no row.
#[test]
fn two_processes_lose_no_row() {
    let place = folder("book_two").join("bench-book.csv");
    let book = place.to_str().unwrap();
    let spawn = |values: &str| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillair"));
        command.args(add(book, values)).stdout(Stdio::null()).spawn().unwrap()
    };
    for i in 0..6 {
        let mut both = [spawn(&format!("{}.1", 10 + i)), spawn(&format!("{}.2", 10 + i))];
        assert!(both.iter_mut().all(|child| child.wait().unwrap().success()));
    }
    assert_eq!(rows(book), 12);
    done(&["book", "check", "--book", book]);
}

/// Killed without warning at fifty moments, the book stays whole.
#[test]
fn a_killed_addition_leaves_the_book_whole() {
    let place = folder("book_killed").join("bench-book.csv");
    let book = place.to_str().unwrap();
    done(&add(book, "14.1"));
    for i in 0..50u64 {
        let before = rows(book);
        let mut child = Command::new(env!("CARGO_BIN_EXE_stillair"))
            .args(add(book, "15.5"))
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_micros(400 * i));
        // SIGKILL on Unix; one that has ended already is no matter
        let _ = child.kill();
        child.wait().unwrap();
        let after = rows(book);
        assert!(after == before || after == before + 1, "{before} rows, then {after}");
        assert!(whole(&place), "{}", fs::read_to_string(&place).unwrap());
    }
    done(&add(book, "16.0"));
    done(&["book", "check", "--book", book]);
}

fn whole(place: &Path) -> bool {
    let text = fs::read_to_string(place).unwrap();
    text.ends_with('\n')
        && text.lines().filter(|l| l.starts_with("20")).all(|l| l.contains("HTI24"))
}
