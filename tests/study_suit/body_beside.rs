//! Claim: what lies between two suits on a body is the one's answer less the other's, and nothing for two alike.
//! Source: the program's own answers for each suit alone; sums that need none.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;
use stillair::NOTICE;
use stillair::report::body::words::EVIDENCE;

use crate::flat::flat;
use crate::run::{done, folder, stillair};

const SUIT: &str = "refuelling-coverall";

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn json(words: &[&str]) -> Value {
    serde_json::from_str(&done(&[words, &["--json"]].concat())).unwrap()
}

/// The demo's suit with a lighter layup on the thighs, without its shins, and with a patch of its own; invented.
fn other(folder: &std::path::Path) -> PathBuf {
    let text = fs::read_to_string("materials/suits/refuelling-coverall.toml").unwrap();
    let (before, thigh) = text.split_once("name = \"thigh\"").unwrap();
    let thigh = thigh.replacen("three-ply-quilted-blank", "two-ply-outer-knit", 1);
    let thigh =
        thigh.replacen("\"three-ply-light\", \"two-ply-outer-knit\"", "\"three-ply-light\"", 1);
    let text =
        format!("{before}name = \"thigh\"{thigh}").replace("name = \"shin\"", "name = \"calf\"");
    let text = text.replacen("hill-climb refuelling coverall", "lighter coverall", 1);
    let file = folder.join("lighter.toml");
    fs::write(&file, text).unwrap();
    file
}

/// Every number that is a difference, with its error.
fn differences(value: &Value, all: &mut Vec<f64>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                match value {
                    Value::Number(_) if key.starts_with("more_") => all.push(number(value)),
                    Value::Object(valued) if key.starts_with("more_") => {
                        all.extend(["value", "error"].map(|part| number(&valued[part])));
                    }
                    _ => differences(value, all),
                }
            }
        }
        Value::Array(list) => list.iter().for_each(|value| differences(value, all)),
        _ => {}
    }
}

#[test]
fn a_suit_beside_itself_differs_by_nothing() {
    let found = json(&["body", SUIT, SUIT, "--for", "4,8"]);
    let mut all = Vec::new();
    differences(&found, &mut all);
    assert!(all.len() > 100 && all.iter().all(|more| *more == 0.0), "{all:?}");
    let out = done(&["body", SUIT, SUIT, "--for", "4,8"]);
    let all = flat(&out);
    let words = "B weighs as much as A; second degree: after 4 s both burn alike and after 8 s both burn alike.";
    assert!(all.contains(words), "{out}");
}

#[test]
fn what_lies_between_is_the_one_less_the_other() {
    let folder = folder("body_beside");
    let file = other(&folder);
    let file = file.to_str().unwrap();
    let alone = [SUIT, file].map(|suit| json(&["body", suit, "--for", "4,8"]));
    let (csv, svg) = (folder.join("two.csv"), folder.join("two.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let words = [&["body", SUIT, file, "--for", "4,8"][..], &files].concat();
    let (found, turned) = (json(&words), json(&["body", file, SUIT, "--for", "4,8"]));
    assert_eq!(found["schema"], "stillair/body-beside");
    assert_eq!((&found["notice"], &found["evidence"]), (&NOTICE.into(), &EVIDENCE.into()));
    for k in 0..2 {
        let of_body =
            alone.each_ref().map(|one| number(&one["fires"][k]["second_degree_of_body_pct"]));
        let more = &found["fires"][k]["more_second_degree_of_body_pct"];
        assert!((number(&more["value"]) - (of_body[1] - of_body[0])).abs() < 1e-4, "{more}");
        let back = &turned["fires"][k]["more_second_degree_of_body_pct"];
        assert!((number(&more["value"]) + number(&back["value"])).abs() < 1e-9);
        // the panels' own differences are the whole one
        let panels = found["panels"].as_array().unwrap().iter();
        let sum: f64 = panels
            .map(|panel| number(&panel["fires"][k]["more_second_degree_of_body_pct"]["value"]))
            .sum();
        assert!((sum - number(&more["value"])).abs() < 1e-4);
    }
    // two plies without a stitch line burn otherwise than three with one, and weigh otherwise
    assert!(number(&found["fires"][1]["more_second_degree_of_body_pct"]["value"]).abs() > 0.1);
    let masses = [0, 1].map(|suit: usize| number(&found["suits"][suit]["mass_g"]));
    assert!((number(&found["more_mass_g"]) - (masses[1] - masses[0])).abs() < 1e-3);
    assert!(number(&found["more_mass_g"]).abs() > 1.0);
    let names: Vec<&str> = found["panels"]
        .as_array()
        .unwrap()
        .iter()
        .map(|panel| panel["panel"].as_str().unwrap())
        .collect();
    assert!(names.contains(&"shin") && names.last() == Some(&"calf"), "{names:?}");
    let (csv, svg) = (fs::read_to_string(&csv).unwrap(), fs::read_to_string(&svg).unwrap());
    assert!(
        csv.contains(NOTICE) && csv.contains(EVIDENCE) && csv.contains("the whole body"),
        "{csv}"
    );
    for words in ["hill-climb refuelling coverall", "lighter coverall", "B less A"] {
        assert!(svg.contains(words), "{words}");
    }
    let out = done(&words);
    assert!(out.lines().all(|line| line.chars().count() <= 80), "{out}");
}

#[test]
fn what_is_asked_of_one_suit_is_not_asked_of_two() {
    for option in [&["--keep", "5"][..], &["--against", "5"], &["--grams"]] {
        let (_, said, code) = stillair(&[&["body", SUIT, SUIT], option].concat(), "2");
        assert!(code != 0 && said.contains("cannot be used with"), "{code}: {said}");
    }
    let (_, said, code) = stillair(&["body", SUIT, "nowhere.toml"], "2");
    assert!(code == 1 && said.contains("nowhere.toml"), "{said}");
}
