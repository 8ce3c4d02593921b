//! Claim: the commands print, write and draw what the studies find, the same on any number of threads.

use std::fs;

use serde_json::Value;
use stillair::NOTICE;

use crate::flat::flat;
use crate::run::{done, folder, stillair};

const COMMANDS: [(&str, &[&str]); 9] = [
    ("pressed", &["pressed", "three-ply-loose"]),
    (
        "pressed",
        &["pressed", "published-assembly-1", "--pressures", "1,20", "--exposure", "radiant-40"],
    ),
    ("gap", &["gap", "three-ply-loose", "--points", "20"]),
    ("gap", &["gap", "single-outer-195", "--gap", "behind", "--points", "7"]),
    (
        "gap",
        &["gap", "two-ply-outer-knit", "--gap", "1", "--exposure", "radiant-40", "--points", "3"],
    ),
    ("gap-map", &["gap", "three-ply-loose", "two-ply-outer-knit", "--gap", "1", "--map"]),
    (
        "rank",
        &[
            "rank",
            "three-ply-loose",
            "single-outer-195",
            "two-ply-outer-knit",
            "--against",
            "en-469-xf1",
        ],
    ),
    (
        "rank",
        &["rank", "three-ply-loose", "published-assembly-1", "--by", "tpp", "--versus", "best"],
    ),
    (
        "patch",
        &[
            "patch",
            "three-ply-loose",
            "--ply",
            "patch-aramid-400",
            "--share",
            "30",
            "--thread",
            "2",
        ],
    ),
];

#[test]
fn text_fits_80_columns_and_bears_the_notice() {
    for (_, arguments) in COMMANDS {
        let text = done(arguments);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        let all = flat(&text);
        assert!(all.contains(NOTICE), "{text}");
        for word in ["safe", "certified", "passes", "fails"] {
            assert!(!all.replace(NOTICE, "").contains(word), "{word}:\n{text}");
        }
    }
}

#[test]
fn json_parses_and_names_its_schema() {
    for (study, arguments) in COMMANDS {
        let json: Value = serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap();
        assert_eq!(json["schema"], format!("stillair/{study}"));
        assert_eq!((&json["schema_version"], &json["notice"]), (&1.into(), &NOTICE.into()));
    }
    let json = done(&["gap", "three-ply-loose", "--points", "20", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    let points = json["points"].as_array().unwrap();
    assert_eq!(points.len(), 20);
    for point in points {
        let share = |key: &str| point[key].as_f64().unwrap();
        let ways = ["conduction_pct", "convection_pct", "radiation_pct", "vapour_pct"];
        let sum: f64 = ways.into_iter().map(share).sum();
        assert!((sum - 100.0).abs() < 1e-4, "{sum}");
        assert_eq!(point["rise_24_K_s"]["state"], "reached");
    }
}

#[test]
fn charts_come_with_their_data() {
    for (i, (study, arguments)) in COMMANDS.iter().enumerate() {
        let folder = folder(&format!("chart_{i}_{study}"));
        let (csv, svg) = (folder.join("out.csv"), folder.join("out.svg"));
        let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
        done(&[arguments, &files[..]].concat());
        let svg = fs::read_to_string(svg).unwrap();
        assert!(svg.starts_with("<svg") && svg.contains("Screening model only."));
        let mut reader = csv::Reader::from_path(csv).unwrap();
        let head = reader.headers().unwrap().clone();
        assert!(head[head.len() - 1].ends_with(NOTICE));
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert!(rows.len() >= 2, "{study}");
        assert!(rows.iter().all(|row| row.len() == head.len()));
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 2, "nothing else is left");
    }
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    for (_, arguments) in COMMANDS {
        let json = [arguments, &["--json"]].concat();
        assert_eq!(stillair(arguments, "1"), stillair(arguments, "2"), "{arguments:?}");
        assert_eq!(stillair(&json, "1"), stillair(&json, "2"), "{arguments:?}");
    }
}

#[test]
fn a_name_and_its_file_are_ranked_alike() {
    let file = "materials/layups/single-outer-195.toml";
    let by_name = done(&["rank", "three-ply-loose", "single-outer-195"]);
    assert_eq!(done(&["rank", "three-ply-loose", file]), by_name);
}

/// The curves drawn are those written: each begins at rest and goes past 24 K at the time ranked by.
#[test]
fn the_curves_of_a_ranking_go_through_its_times() {
    let folder = folder("curves");
    let path = folder.join("rises.csv");
    let named = ["rank", "single-outer-195", "two-ply-outer-knit", "--json"];
    let json = done(&[&named[..], &["--curves", path.to_str().unwrap()]].concat());
    let json: Value = serde_json::from_str(&json).unwrap();
    let mut reader = csv::Reader::from_path(path).unwrap();
    assert!(reader.headers().unwrap().iter().next_back().unwrap().ends_with(NOTICE));
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let placed = json["rankings"][0]["layups"].as_array().unwrap();
    assert_eq!(placed.len(), 2);
    for place in placed {
        let name = place["layup"].as_str().unwrap();
        let number = |row: &csv::StringRecord, i: usize| row[i].parse::<f64>().unwrap();
        let of: Vec<(f64, f64)> = rows
            .iter()
            .filter(|row| &row[1] == name)
            .map(|row| (number(row, 2), number(row, 3)))
            .collect();
        assert_eq!(of[0], (0.0, 0.0), "{name}");
        let t = place["value_s"]["value"].as_f64().unwrap();
        let after = of.iter().position(|(_, rise)| *rise >= 24.0).unwrap();
        assert!(of[after - 1].0 <= t * 1.01 && t * 0.99 <= of[after].0, "{name}: {t}");
    }
}
