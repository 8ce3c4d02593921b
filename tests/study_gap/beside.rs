//! Claim: the same gap opened in several layups gives each the times it has alone, and two change places where
//! lines through those times cross.
//! Source: the sweep of one layup, and the crossing of two straight lines by hand from the CSV.
//! Tolerance: none but for the digits of the files.

use serde_json::Value;

use crate::run::{done, folder, stillair};

const FELT: &str = "outer-aramid-150 + felt-needled-100 + inner-jersey-140";
const KNIT: &str = "outer-aramid-200 + inner-jersey-140 + inner-jersey-140";
const TERMS: [&str; 8] = ["--gap", "1", "--from", "0.25", "--to", "6", "--points", "6"];

fn json(layups: &[&str]) -> Value {
    let arguments = [&["gap"], layups, &TERMS, &["--json"]].concat();
    serde_json::from_str(&done(&arguments)).unwrap()
}

/// Gap [mm] and HTI24 [s] of each point of a sweep.
fn times(sweep: &Value) -> Vec<(f64, f64)> {
    let points = sweep["points"].as_array().unwrap();
    let of = |point: &Value| {
        (point["gap_mm"].as_f64().unwrap(), point["rise_24_K_s"]["value"].as_f64().unwrap())
    };
    points.iter().map(of).collect()
}

#[test]
fn each_layup_has_the_times_it_has_alone() {
    let both = json(&[FELT, KNIT]);
    for (place, layup) in [FELT, KNIT].into_iter().enumerate() {
        let alone = json(&[layup]);
        let found = &both["layups"][place];
        assert_eq!(found["points"], alone["points"]);
        assert_eq!(found["sentence"], alone["sentence"]);
        assert_eq!(found["layup"], layup);
    }
    assert_eq!(both["layups"][0]["areal_density_g_m2"], 390.0);
    assert_eq!(both["layups"][1]["areal_density_g_m2"], 480.0);
}

#[test]
fn two_change_places_where_their_lines_cross() {
    let both = json(&[FELT, KNIT]);
    let (felt, knit) = (times(&both["layups"][0]), times(&both["layups"][1]));
    let change = (0..felt.len() - 1)
        .find(|i| felt[*i].1 > knit[*i].1 && felt[i + 1].1 < knit[i + 1].1)
        .expect("the felt is longer in narrow gaps alone");
    let (x0, x1) = (felt[change].0, felt[change + 1].0);
    let (d0, d1) = (felt[change].1 - knit[change].1, felt[change + 1].1 - knit[change + 1].1);
    let expected = x0 + (x1 - x0) * d0 / (d0 - d1);
    let crossings = both["crossings"].as_array().unwrap();
    assert_eq!(crossings.len(), 1, "{crossings:?}");
    let found = &crossings[0];
    assert!((found["gap_mm"].as_f64().unwrap() - expected).abs() < 1e-3, "{found}, not {expected}");
    assert_eq!((&found["longer_below"], &found["longer_above"]), (&FELT.into(), &KNIT.into()));
    let sentence = both["sentences"][0].as_str().unwrap();
    assert!(sentence.contains("90 g/m² heavier"), "{sentence}");
    let same = json(&[FELT, FELT]);
    assert_eq!(same["crossings"].as_array().unwrap().len(), 0, "a layup has no order with itself");
}

#[test]
fn files_and_text_tell_all_layups() {
    let folder = folder("beside");
    let (csv, svg) = (folder.join("g.csv"), folder.join("g.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let text = done(&[&["gap", FELT, KNIT], &TERMS[..], &files].concat());
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.replace('\n', " ").contains(stillair::NOTICE));
    let csv = std::fs::read_to_string(csv).unwrap();
    let rows = |name: &str| csv.lines().filter(|line| line.starts_with(name)).count();
    assert_eq!((rows(FELT), rows(KNIT)), (6, 6), "{csv}");
    let svg = std::fs::read_to_string(svg).unwrap();
    assert!(svg.contains(stillair::NOTICE) && svg.contains("480 g/m²"));
    let many = [&["gap"], &[FELT; 8][..], &TERMS].concat();
    let (out, err, code) = stillair(&many, "2");
    assert_eq!((code, out.as_str()), (1, ""));
    assert!(err.contains("8 layups") && err.contains("mend:"), "{err}");
}
