//! Claim: a layup in one line is taken wherever a layup may stand, and is the layup that a file gives.
//! Source: the same layups as files of the shelf.

use std::fs;

use serde_json::Value;

use crate::command::program::{done, folder, refused, stillair};
use crate::flat::flat;

/// Plies of the shelf's two-ply layup, and of its quilted blank with its quilting.
const TWO: &str = "outer-aramid-200 + inner-jersey-140";
const BLANK: &str = "outer-aramid-200 + felt-needled-100 + inner-jersey-140; diamond, pitch 40 mm, \
                     stitch 2 mm, loft 1.5 mm, pressed 1.4 mm, thread 0.12 g/m";

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap()
}

#[test]
fn figures_are_those_of_the_file() {
    let quick = ["--behind", "disc", "--error", "5"];
    let one = |layup: &str| json(&[&["expose", layup][..], &quick].concat());
    let (line, file) = (one(BLANK), one("three-ply-quilted-blank"));
    assert_eq!(line["disc"]["figures"], file["disc"]["figures"]);
    assert_eq!(line["computed"], "quilted");
    assert_ne!(one(TWO)["disc"]["figures"], line["disc"]["figures"]);
}

#[test]
fn every_command_of_a_layup_takes_one() {
    let folder = folder("one_line");
    let at = |name: &str| folder.join(name).display().to_string();
    let (page, fitted, book) = (at("page.html"), at("fitted.toml"), at("book.csv"));
    let odds = ["odds", TWO, "--against", "iso-11612-b1", "--sets", "16", "--specimens", "1"];
    let all: [&[&str]; 10] = [
        &["gap", TWO, "--gap", "1", "--points", "3", "--error", "5"],
        &["rank", TWO, BLANK, "--error", "5"],
        &[&odds[..], &["--rows", "0", "--error", "5"]].concat(),
        &["lots", BLANK, "examples/rolls.csv", "--error", "5"],
        &["pressed", TWO, "--pressures", "1", "--error", "5"],
        &["patch", TWO, "--ply", "patch-aramid-400", "--share", "10", "--error", "5"],
        &["quilt", BLANK, "--error", "5"],
        &[
            "fit",
            TWO,
            "--free",
            "conductivity:1",
            "--hti12",
            "5.1",
            "--hti24",
            "7.7",
            "--out",
            &fitted,
        ],
        &["report", TWO, "--out", &page],
        &[
            "book",
            "add",
            "--book",
            &book,
            "--figure",
            "HTI24",
            "--values",
            "9",
            "--date",
            "2026-11-26",
            TWO,
        ],
    ];
    for arguments in all {
        done(arguments);
    }
    assert!(flat(&done(&["materials", "check", &fitted])).contains("nothing wrong"));
    assert!(fs::read_to_string(&page).unwrap().contains("the layup in one line"));
    assert!(done(&["book", "how-far", "--book", &book]).contains("outer-aramid-200 +"));
}

#[test]
fn a_suit_takes_one() {
    let folder = folder("one_line_suit");
    let text = fs::read_to_string("materials/suits/refuelling-coverall.toml").unwrap();
    let named = "layup = \"three-ply-quilted-blank\"";
    assert!(text.contains(named));
    let path = folder.join("suit.toml");
    let written = |layup: &str| {
        fs::write(&path, text.replace(named, &format!("layup = \"{layup}\""))).unwrap();
        path.display().to_string()
    };
    let suit = written(BLANK);
    assert!(flat(&done(&["materials", "check", &suit])).contains("nothing wrong"));
    let suit = written(&BLANK.replace("felt-needled-100", "felt-needled-1000"));
    let parts =
        ["no fabric is called `felt-needled-1000`", "the layup in one line:1:20", "suit.toml:"];
    refused(&["suit", &suit], 1, &parts);
}

#[test]
fn what_is_wrong_in_a_line_is_said() {
    refused(&["expose", "outer-aramid-200 + 1 + inner-jersey-140"], 1, &["`1` is no gap", ":1:20"]);
    // a file of that name is meant before a line
    let said = stillair(&["expose", "no + such.toml"]);
    assert!(said.err.contains("cannot read `no + such.toml`"), "{}", said.err);
    let said = stillair(&["expose", "outer-aramid-200"]);
    assert!(said.err.contains("put it into a layup in one line"), "{}", said.err);
}
