//! Claim: the command prints, writes and draws what was found, the same on any number of threads,
//! and `expose` takes the layups that it writes.

use std::fs;

use serde_json::Value;
use stillair::NOTICE;

use crate::flat::flat;
use crate::study_seek::fixtures::{COARSE, SPARSE, done, folder, stillair};

fn brief(folder: &std::path::Path) -> String {
    let toml = folder.join("brief.toml");
    fs::write(&toml, SPARSE).unwrap();
    toml.to_str().unwrap().to_owned()
}

#[test]
fn text_fits_80_columns_and_bears_the_notice() {
    let text = done(&["seek", &brief(&folder("text"))]);
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    let all = flat(&text);
    assert!(all.contains(NOTICE), "{text}");
    assert!(all.contains("none left out for its mass"), "it says how it searched");
    for word in ["safe", "certified", "passes", "fails"] {
        assert!(!all.replace(NOTICE, "").contains(word), "{word}:\n{text}");
    }
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let toml = brief(&folder("threads"));
    for more in
        [&["seek", &toml, "--error", COARSE][..], &["seek", &toml, "--error", COARSE, "--json"]]
    {
        assert_eq!(stillair(more, "1"), stillair(more, "2"));
    }
    assert_eq!(stillair(&["seek", &toml], "2").1, "", "no bar where there is no terminal");
}

#[test]
fn json_csv_and_chart_hold_the_same_layups() {
    let folder = folder("views");
    let toml = brief(&folder);
    let (csv, svg) = (folder.join("out.csv"), folder.join("out.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let json = done(&[&["seek", &toml, "--json"], &files[..]].concat());
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!((&json["schema"], &json["schema_version"]), (&"stillair/seek".into(), &1.into()));
    assert_eq!(json["notice"], NOTICE);
    let list = |name: &str| json[name].as_array().unwrap().clone();
    let (frontier, shortlist) = (list("frontier"), list("shortlist"));
    assert!(frontier.len() > 3 && shortlist.len() > 1);
    let mut reader = csv::Reader::from_path(csv).unwrap();
    let head = reader.headers().unwrap().clone();
    assert!(head[head.len() - 1].ends_with(NOTICE));
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), frontier.len() + shortlist.len());
    for (row, layup) in rows.iter().zip(frontier.iter().chain(&shortlist)) {
        let mass = layup["areal_density_g_m2"].as_f64().unwrap();
        assert!((row[4].parse::<f64>().unwrap() - mass).abs() < 1e-3);
        let names: Vec<&str> =
            layup["plies"].as_array().unwrap().iter().map(|n| n.as_str().unwrap()).collect();
        assert_eq!(row[2], names.join(" + "));
    }
    let svg = fs::read_to_string(svg).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("Screening model only."));
    for mark in ["S1", "S2", "1", "2"] {
        assert!(svg.lines().any(|line| line == mark), "{mark} is labelled");
    }
}

#[test]
fn expose_takes_every_layup_that_is_written() {
    let folder = folder("written");
    let toml = brief(&folder);
    let layups = folder.join("layups");
    let json = done(&["seek", &toml, "--json", "--write", layups.to_str().unwrap()]);
    let json: Value = serde_json::from_str(&json).unwrap();
    let shortlist = json["shortlist"].as_array().unwrap();
    let mut files: Vec<_> = fs::read_dir(&layups).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    assert_eq!(files.len(), shortlist.len());
    for (file, choice) in files.iter().zip(shortlist) {
        let closed = if choice["closed"].is_null() { choice } else { &choice["closed"] };
        for figure in closed["figures"].as_array().unwrap() {
            let name = figure["target"].as_str().unwrap();
            let (exposure, key) = match name {
                "iso-11612-b2" => ("flame-80", "HTI24_s"),
                "en-469-xr1" => ("radiant-40", "RHTI24_s"),
                other => panic!("{other}"),
            };
            let path = file.to_str().unwrap();
            let arguments = ["expose", path, "--json", "--behind", "disc", "--exposure", exposure];
            let exposed: Value = serde_json::from_str(&done(&arguments)).unwrap();
            let mass = exposed["layup"]["areal_density_g_m2"].as_f64();
            if let Some(mass) = mass {
                assert!((mass - closed["areal_density_g_m2"].as_f64().unwrap()).abs() < 1e-6);
            }
            let (one, other) = (&exposed["disc"]["figures"][key], &figure["value_s"]);
            let number = |value: &Value, key: &str| value[key].as_f64().unwrap();
            let apart = (number(one, "value") - number(other, "value")).abs();
            assert!(apart <= number(one, "error") + number(other, "error"), "{one} {other}");
        }
        let text = fs::read_to_string(file).unwrap().replace("\n# ", " ");
        assert!(text.contains(NOTICE), "{text}");
    }
}

#[test]
fn nothing_that_keeps_the_margin_is_an_answer() {
    let folder = folder("none");
    let toml = folder.join("brief.toml");
    fs::write(&toml, SPARSE.replace("margin_pct = 10", "margin_pct = 900")).unwrap();
    let layups = folder.join("layups");
    let arguments = ["seek", toml.to_str().unwrap(), "--write", layups.to_str().unwrap()];
    let text = done(&arguments);
    assert!(text.contains("No combination is above every margin"), "{text}");
    assert_eq!(fs::read_dir(&layups).map_or(0, Iterator::count), 0);
    fs::write(&toml, SPARSE.replace("thickness_mm = 3", "thickness_mm = 0.2")).unwrap();
    assert!(done(&arguments).contains("No combination keeps to the limits"));
}

#[test]
fn the_brief_of_the_demo_is_read() {
    let text = fs::read_to_string("materials/briefs/hill-climb-refuelling-coverall.toml").unwrap();
    let brief = crate::study_seek::fixtures::brief(&text);
    assert!(brief.note.contains("invented for the demo"));
    let space = stillair::study::seek::space::Space::of(&brief).unwrap();
    assert!(space.n_total() > 10_000);
}
