//! Claim: a cell of a map of layups against gaps has the figure that the layup with that gap has when it is
//! exposed alone; chart, CSV, JSON and text tell one table.
//! Source: `expose` of each cell's layup, written out in one line with its gap.
//! Tolerance: the printed digits, a tenth of a second.

use serde_json::Value;

use crate::run::{done, folder, stillair};

const FELT: [&str; 2] = ["outer-aramid-150", "felt-needled-100 + inner-jersey-140"];
const KNIT: [&str; 2] = ["outer-aramid-200", "inner-jersey-140 + inner-jersey-140"];
const GAPS: [&str; 3] = ["0", "0.5", "3"];

fn touching([outer, rest]: [&str; 2]) -> String {
    format!("{outer} + {rest}")
}

fn with_gap([outer, rest]: [&str; 2], gap: &str) -> String {
    if gap == "0" { touching([outer, rest]) } else { format!("{outer} + {gap} mm + {rest}") }
}

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap()
}

fn map(by: &str) -> Value {
    let (felt, knit) = (touching(FELT), touching(KNIT));
    json(&["gap", &felt, &knit, "--gap", "1", "--gaps", &GAPS.join(","), "--map", "--by", by])
}

/// Times [s] and whether they lie beyond a ply's limit, layup by layup.
fn cells(map: &Value) -> Vec<(f64, bool)> {
    let cells = map["cells"].as_array().unwrap();
    let of = |cell: &Value| {
        (cell["value_s"]["value"].as_f64().unwrap(), cell["beyond_limit"].as_bool().unwrap())
    };
    cells.iter().map(of).collect()
}

#[test]
fn cells_are_what_expose_says_of_their_layups() {
    for (by, run, key) in [
        ("hti24", "disc", "HTI24_s"),
        ("stoll", "disc", "stoll_s"),
        ("second-degree", "skin", "second_degree_s"),
    ] {
        let found = cells(&map(by));
        let layups = [FELT, KNIT].into_iter().flat_map(|of| GAPS.map(|gap| with_gap(of, gap)));
        for (layup, (t, beyond)) in layups.zip(found) {
            let alone = json(&["expose", &layup]);
            let figure = &alone[run]["figures"][key];
            let expected = figure["value"].as_f64().unwrap();
            assert_eq!(format!("{t:.1}"), format!("{expected:.1}"), "{by} of {layup}");
            let limit = alone[run]["valid_until_s"].as_f64();
            assert_eq!(beyond, limit.is_some_and(|limit| expected > limit), "{by} of {layup}");
        }
    }
}

#[test]
fn a_quilted_layup_stays_quilted() {
    let name = "three-ply-quilted-blank";
    let map =
        json(&["gap", name, "--gap", "behind", "--gaps", "0", "--map", "--by", "second-degree"]);
    let alone = json(&["expose", name]);
    let expected = alone["skin"]["figures"]["second_degree_s"]["value"].as_f64().unwrap();
    assert_eq!(format!("{:.1}", cells(&map)[0].0), format!("{expected:.1}"));
    assert_eq!(map["cells"][0]["computed"], "quilted");
}

#[test]
fn every_view_tells_one_table() {
    let folder = folder("map");
    let (csv, svg) = (folder.join("m.csv"), folder.join("m.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let (felt, knit) = (touching(FELT), touching(KNIT));
    let of = ["gap", &felt, &knit, "--gap", "1", "--gaps", &GAPS.join(","), "--map"];
    let text = done(&[&of[..], &files].concat());
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.replace('\n', " ").contains(stillair::NOTICE));
    let svg = std::fs::read_to_string(svg).unwrap();
    let mut reader = csv::Reader::from_path(csv).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let found = cells(&map("hti24"));
    assert_eq!((rows.len(), found.len()), (6, 6));
    for (row, (t, beyond)) in rows.iter().zip(&found) {
        assert!((row[5].parse::<f64>().unwrap() - t).abs() < 1e-4, "{row:?}");
        let mark = if *beyond { "†" } else { "" };
        let shown = format!("{t:.1}{mark}");
        assert!(text.contains(&shown), "no {shown} in\n{text}");
        assert!(svg.contains(&format!("\n{shown}\n")), "no {shown} in the chart");
    }
    for grams in ["390", "480"] {
        assert!(text.contains(grams) && svg.contains(&format!("\n{grams}\n")), "{grams} g/m²");
    }
}

#[test]
fn more_than_there_is_room_for_is_told() {
    let felt = touching(FELT);
    for (more, what) in [
        (&["--points", "13"][..], "13 gaps"),
        (&["--gaps", "0,2,1"], "…2,1…"),
        (&["--gaps", "1,1"], "…1,1…"),
    ] {
        let (out, err, code) =
            stillair(&[&["gap", &felt, "--gap", "1", "--map"], more].concat(), "2");
        assert_eq!((code, out.as_str()), (1, ""), "{more:?}");
        assert!(err.contains(what) && err.contains("mend:"), "{err}");
    }
    let many = [&["gap", "--gap", "1", "--map"], &[felt.as_str(); 21][..]].concat();
    let (_, err, code) = stillair(&many, "2");
    assert!(code == 1 && err.contains("21 layups"), "{err}");
}
