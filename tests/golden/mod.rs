//! What commands say and write, text, JSON and CSV, kept beside the tests: it proves sameness and
//! nothing else. Pages, Markdown and drawings lie in `reports/`, which `tests/study_suit` makes anew.
//!
//! Words, keys and blanks are held to the letter, numbers to 2 %, which no wrong factor keeps to.
//! With the environment variable `WRITE_EXPECTED` set what differs is written anew, to be read and kept.
//! Nothing here comes through LAPACK, whose last bits vary by machine: neither fits nor own tests.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// Lines that are kept of a table's beginning; of the further ones each [`EVERY`]th.
const WHOLE: usize = 25;
const EVERY: usize = 25;
/// By how much a number may have moved: figures are held by tests of their own.
const MOVED: f64 = 0.02;

/// Runs a command for its text and for its JSON, and holds both and its CSV against what was kept.
///
/// - `csv`: the option that names a file for the numbers, empty where there is none
#[track_caller]
fn same(name: &str, command: &str, csv: &str) {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("golden");
    fs::create_dir_all(&folder).unwrap();
    let file = folder.join(format!("{name}.csv"));
    let numbers = file.to_str().unwrap();
    let options: &[&str] = if csv.is_empty() { &[] } else { &[csv, numbers] };
    kept(&format!("{name}.txt"), &without_last_digits(&said(command, options), usize::MAX));
    kept(&format!("{name}.json"), &without_last_digits(&said(command, &["--json"]), 6));
    if !csv.is_empty() {
        kept(&format!("{name}.csv"), &thinned(&fs::read_to_string(&file).unwrap()));
    }
}

/// What a command prints.
#[track_caller]
fn said(command: &str, options: &[&str]) -> String {
    let mut program = Command::new(env!("CARGO_BIN_EXE_stillair"));
    for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        program.env_remove(variable);
    }
    program.current_dir(env!("CARGO_MANIFEST_DIR"));
    let output = program.args(command.split_whitespace()).args(options).output().unwrap();
    assert!(output.status.success(), "{command}\n{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The text without what is the solver's alone: numbers below 1e-8, steps counted, and digits of JSON
/// beyond the sixth.
fn without_last_digits(text: &str, most: usize) -> String {
    let counted = ["\"steps\"", "\"rejected_steps\"", "\"newton_iterations\""];
    let word = |word: &str| {
        let number = word.trim_end_matches(',');
        let comma = &word[number.len()..];
        match number.parse::<f64>() {
            Ok(value) if value != 0.0 && value.abs() < 1e-8 => format!("tiny{comma}"),
            Ok(value) if number.len() > most => {
                let rounded: f64 = format!("{value:.5e}").parse().unwrap();
                format!("{rounded}{comma}")
            }
            _ => word.to_owned(),
        }
    };
    let line = |line: &str| line.split(' ').map(word).collect::<Vec<_>>().join(" ") + "\n";
    let is_told = |line: &&str| !counted.iter().any(|key| line.trim_start().starts_with(key));
    text.lines().filter(is_told).map(line).collect()
}

/// A table whole, or its beginning and lines here and there.
fn thinned(text: &str) -> String {
    let lines = text.lines().enumerate();
    let few = lines.filter(|(i, _)| *i < WHOLE || i % EVERY == 0).map(|(_, line)| line);
    few.flat_map(|line| [line, "\n"]).collect()
}

/// A stretch of a line: a number, or what stands between numbers.
#[derive(Debug)]
enum Piece<'a> {
    Number(f64),
    Rest(&'a str),
}

impl PartialEq for Piece<'_> {
    fn eq(&self, other: &Piece<'_>) -> bool {
        match (self, other) {
            (Piece::Number(one), Piece::Number(other)) => {
                (one - other).abs() <= MOVED * one.abs().max(other.abs()) + 1e-6
            }
            (Piece::Rest(one), Piece::Rest(other)) => one == other,
            _ => false,
        }
    }
}

fn pieces(line: &str) -> Vec<Piece<'_>> {
    let is_digit = |c: char| c.is_ascii_digit() || c == '.';
    let mut all = Vec::new();
    let mut rest = line;
    while let Some(first) = rest.chars().next() {
        let end = rest.find(|c| is_digit(c) != is_digit(first)).unwrap_or(rest.len());
        let (piece, further) = rest.split_at(end);
        all.push(piece.parse().map_or(Piece::Rest(piece), Piece::Number));
        rest = further;
    }
    all
}

/// Index of the first line that is another; none of texts that say the same.
fn first_difference(found: &str, expected: &str) -> Option<usize> {
    let mut both = (found.lines(), expected.lines());
    for i in 0.. {
        match (both.0.next(), both.1.next()) {
            (None, None) => return None,
            (Some(one), Some(other)) if pieces(one) == pieces(other) => {}
            _ => return Some(i),
        }
    }
    None
}

#[track_caller]
fn kept(file: &str, found: &str) {
    let path = Path::new("tests/golden/expected").join(file);
    let expected = fs::read_to_string(&path).unwrap_or_default();
    let Some(i) = first_difference(found, &expected) else { return };
    if std::env::var_os("WRITE_EXPECTED").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, found).unwrap();
        return;
    }
    let at = |text: &str| text.lines().nth(i).unwrap_or("(no such line)").to_owned();
    panic!("{file}:{} is no longer what was kept\n{}\n{}", i + 1, at(found), at(&expected));
}

#[test]
fn another_word_blank_or_factor_is_a_difference() {
    let kept = "  HTI24  12.81 ± 0.06 s\n  mass_g: 1.5e3";
    assert_eq!(first_difference(&kept.replace("12.81", "12.83"), kept), None);
    for (from, to) in [("± ", ""), ("  12", " 12"), ("12.81", "13.4"), ("e3", "e2"), ("mass_", "")]
    {
        assert!(first_difference(&kept.replace(from, to), kept).is_some(), "{from}");
    }
    assert_eq!(first_difference("a\nb", "a"), Some(1));
}

#[test]
fn snapshot_of_expose() {
    let more = "--against en-469-xf1 --against iso-11612-b1 --without moisture --sensitivity";
    let command = format!("expose two-ply-outer-knit {more} --error 2");
    same("expose", &command, "--curves");
    kept("expose-full.txt", &without_last_digits(&said(&command, &["--full"]), usize::MAX));
}

#[test]
fn snapshot_of_expose_quilted() {
    let command = "expose three-ply-quilted-blank --error 2";
    same("expose-quilted", command, "--curves");
    let full = said(command, &["--full"]);
    kept("expose-quilted-full.txt", &without_last_digits(&full, usize::MAX));
}

#[test]
fn snapshot_of_gap() {
    same("gap", "gap three-ply-loose --points 4 --error 2", "--csv");
}

#[test]
fn snapshot_of_gap_map() {
    let layups = "three-ply-loose two-ply-outer-knit";
    same("gap-map", &format!("gap {layups} --gap 1 --gaps 0,1,4 --map --error 2"), "--csv");
}

#[test]
fn snapshot_of_gap_of_one_point() {
    same("gap-still", "gap two-ply-outer-knit --gap 1 --points 1 --until 6", "--csv");
}

#[test]
fn snapshot_of_gap_quilted() {
    same("gap-quilted", "gap three-ply-quilted-blank --points 3 --error 2", "--csv");
}

#[test]
fn snapshot_of_pressed() {
    same("pressed", "pressed three-ply-quilted-blank --error 2", "--csv");
}

#[test]
fn snapshot_of_pressed_not_reached() {
    same("pressed-short", "pressed two-ply-outer-knit --pressures 2 --until 8", "--csv");
}

#[test]
fn snapshot_of_patch() {
    let of = "--ply outer-aramid-150 --share 20 --thread 1 --error 2";
    same("patch", &format!("patch two-ply-outer-knit {of}"), "--csv");
    same("patch-quilted", &format!("patch three-ply-quilted-blank {of}"), "--csv");
}

#[test]
fn snapshot_of_rank() {
    let layups = "two-ply-outer-knit single-outer-195 three-ply-quilted-blank";
    same("rank", &format!("rank {layups} --against en-469-xf1 --error 2"), "--csv");
    same("rank-heat", &format!("rank {layups} --by tpp --error 2"), "--csv");
}

#[test]
fn snapshot_of_lots() {
    let rolls = "lots three-ply-quilted-blank examples/rolls.csv --error 2";
    same("lots", &format!("{rolls} --against fia-8856-2018-overall"), "--csv");
    same("lots-flat", &format!("{rolls} --flat --exposure radiant-40"), "--csv");
}

#[test]
fn snapshot_of_odds() {
    let small = "--sets 16 --rows 4 --specimens 4 --error 2";
    same("odds", &format!("odds two-ply-outer-knit --against en-469-xf1 {small}"), "--csv");
}

#[test]
fn snapshot_of_quilt() {
    let command = "quilt three-ply-quilted-blank --against fia-8856-2018-overall --error 2";
    same("quilt", command, "--csv");
    let patch = "--patch outer-aramid-150 --patch-share 20 --error 2";
    same("quilt-patch", &format!("quilt three-ply-quilted-blank {patch}"), "--csv");
}

#[test]
fn snapshot_of_seek() {
    same("seek", "seek tests/study_suit/brief.toml --error 2", "--csv");
}

#[test]
fn snapshot_of_suit() {
    same("suit", "suit refuelling-coverall --flat --error 2", "--csv");
}

#[test]
fn snapshot_of_body() {
    same("body", "body refuelling-coverall --for 4,8", "--csv");
}

#[test]
fn snapshot_of_body_with_odds_and_search() {
    let asked = "--for 8 --against 20 --sets 16 --keep 25";
    same("body-odds", &format!("body refuelling-coverall {asked}"), "--csv");
}

#[test]
fn snapshot_of_two_suits_on_a_body() {
    same("body-beside", "body refuelling-coverall refuelling-coverall --for 8", "--csv");
}

#[test]
fn snapshot_of_materials() {
    for (name, words) in [
        ("materials-fabrics", "list --kind fabrics"),
        ("materials-fabric", "show outer-aramid-200"),
        ("materials-exposure", "show flame-80"),
        ("materials-layup", "show three-ply-quilted-blank"),
    ] {
        kept(&format!("{name}.txt"), &said(&format!("materials {words}"), &[]));
    }
}
