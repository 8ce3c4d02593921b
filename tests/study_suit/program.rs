//! Claim: the commands print, write and draw what the studies find, the same on any number of threads.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;
use stillair::NOTICE;

use crate::run::{done, folder, stillair};

#[test]
fn text_keeps_to_80_columns_and_bears_the_notice() {
    let out = done(&["suit", "refuelling-coverall"]);
    for line in out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
        assert_eq!(line, line.trim_end());
    }
    assert!(out.replace('\n', " ").contains(NOTICE));
}

#[test]
fn json_csv_and_chart_tell_the_same_suit() {
    let folder = folder("views");
    let (csv, svg) = (folder.join("suit.csv"), folder.join("suit.svg"));
    let (csv_word, svg_word) = (csv.display().to_string(), svg.display().to_string());
    let arguments =
        ["suit", "refuelling-coverall", "--json", "--csv", &csv_word, "--chart", &svg_word];
    let json: Value = serde_json::from_str(&done(&arguments)).unwrap();
    assert_eq!(json["schema"], "stillair/suit");
    assert_eq!(json["schema_version"], 1);
    assert_eq!(json["notice"], NOTICE);
    let panels = json["panels"].as_array().unwrap();
    let total: f64 = panels.iter().map(|p| p["own"]["mass_g"].as_f64().unwrap()).sum();
    assert!((total - json["mass_g"].as_f64().unwrap()).abs() < 1e-5);
    let saved = |way: &str| json["saving"][way]["saved_g"].as_f64().unwrap();
    assert!(saved("exact") >= saved("greedy"));
    // the least over what its own class needs, which is not the least margin over the target
    let spare = |p: &Value| {
        let (figure, rule) = (&p["own"]["figure_s"], &p["own"]["rule"]);
        let lowest = figure["value"].as_f64().unwrap() - figure["error"].as_f64().unwrap();
        lowest / rule["above_from_s"].as_f64().unwrap() - 1.0
    };
    let least = panels.iter().min_by(|a, b| spare(a).total_cmp(&spare(b))).unwrap();
    assert_eq!(json["weakest"], least["panel"]);
    for panel in panels {
        let told = panel["own"]["spare_pct"].as_f64().unwrap();
        assert!((told - 100.0 * spare(panel)).abs() < 1e-3, "{panel}");
    }
    let floor = json["saving"]["floor_spare_pct"].as_f64().unwrap();
    assert!((floor - 100.0 * spare(least)).abs() < 1e-3, "{floor}");
    for change in json["saving"]["exact"]["changes"].as_array().unwrap() {
        let panel = panels.iter().find(|panel| panel["panel"] == change["panel"]).unwrap();
        let all = panel["alternatives"].as_array().unwrap();
        let taken = all.iter().find(|one| one["layup"] == change["layup"]).unwrap();
        assert!(taken["spare_pct"].as_f64().unwrap() >= floor, "{change}");
    }

    let csv = fs::read_to_string(csv).unwrap();
    let n_alternatives: usize =
        panels.iter().map(|p| p["alternatives"].as_array().unwrap().len()).sum();
    assert_eq!(csv.lines().count(), 1 + panels.len() + n_alternatives);
    assert!(csv.lines().next().unwrap().contains(NOTICE));

    let svg = fs::read_to_string(svg).unwrap();
    assert!(svg.replace(['\n', '\''], " ").contains("Screening model only."));
    for panel in panels {
        assert!(svg.contains(panel["panel"].as_str().unwrap()), "{panel}");
    }
}

#[test]
fn any_number_of_threads_says_the_same() {
    let one = stillair(&["suit", "refuelling-coverall", "--json"], "1");
    assert_eq!(one, stillair(&["suit", "refuelling-coverall", "--json"], "3"));
}

#[test]
fn a_wearer_of_the_patterns_measures_changes_nothing() {
    let as_drawn = done(&["suit", "refuelling-coverall", "--json"]);
    assert_eq!(as_drawn, done(&["suit", "refuelling-coverall", "--json", "--wearer", "78,178"]));
    let size = |word| -> Value {
        let out = done(&["suit", "refuelling-coverall", "--json", "--size", word]);
        serde_json::from_str(&out).unwrap()
    };
    let grams = |json: &Value| json["mass_g"].as_f64().unwrap();
    assert!((grams(&size("1.5")) / grams(&size("1")) - 1.5).abs() < 1e-8);
}

#[track_caller]
fn refused(arguments: &[&str], code: i32, said: &str) {
    let (out, err, found) = stillair(arguments, "2");
    assert_eq!((found, out.as_str()), (code, ""), "{arguments:?}\n{err}");
    assert!(err.contains(said), "{err}");
}

#[test]
fn what_does_not_fit_is_refused() {
    let page = folder("refused").join("x.html").display().to_string();
    let with = |words: &[&str], said: &str| {
        let all: Vec<&str> = words.iter().copied().chain(["--out", &page]).collect();
        refused(&all, 1, said);
    };
    with(&["report", "refuelling-coverall", "three-ply-loose"], "a report of its own");
    with(&["report", "refuelling-coverall", "--against", "en-469-xf1"], "panels name what");
    with(&["report", "materials/skins.toml"], "neither a layup nor a suit");
    with(&["report", "refueling-coveral"], "no layup is called");
    with(&["report", "tests/study_suit/bad/empty.toml"], "the file is empty");
    refused(&["suit", "refueling-coverall"], 1, "did you mean `refuelling-coverall`?");
    refused(&["suit", "tests/study_suit/bad/no-panels.toml"], 1, "the suit has no panels");
    refused(&["suit", "refuelling-coverall", "--size", "9"], 2, "0.5 to 2");
    refused(
        &["suit", "refuelling-coverall", "--wearer", "9,178"],
        2,
        "at least 20 and at most 300 kg",
    );
    assert!(!PathBuf::from(&page).exists(), "nothing was written");
}
