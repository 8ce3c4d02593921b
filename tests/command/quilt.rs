//! Claim: `stillair quilt` says what stitch lines do, as text, JSON, CSV and charts, and refuses what is none.

use std::fs;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, folder, refused};
use crate::flat::flat;

const BLANK: &str = "three-ply-quilted-blank";
const NOTICE: &str = "Screening model only.";

#[test]
fn the_text_fits_and_says_what_it_rests_on() {
    let text = done(&["quilt", BLANK, "--against", "fia-8856-2018-overall"]);
    fits_80_columns(&text);
    let one_line = flat(&text);
    for part in [
        NOTICE,
        "this rests on geometry and conduction alone",
        "Thread adds 6.0 g/m²",
        "Stitch lines cover 9.75 %",
        "pressed everywhere",
        "What the disc averages away",
        "shared equally between the joints",
        "fia-8856-2018-overall",
    ] {
        assert!(one_line.contains(part), "does not say `{part}`:\n{text}");
    }
    for one in ["disc", "skin"] {
        fits_80_columns(&done(&["quilt", BLANK, "--behind", one]));
    }
    fits_80_columns(&done(&["quilt", BLANK, "--for", "2", "--until", "40"]));
    fits_80_columns(&done(&["quilt", BLANK, "--exposure", "radiant-20", "--until", "300"]));
}

#[test]
fn json_holds_places_in_order_and_shares_of_the_area() {
    let json: Value = serde_json::from_str(&done(&["quilt", BLANK, "--json"])).unwrap();
    assert_eq!(json["schema"], "stillair/quilt");
    assert!(json["notice"].as_str().unwrap().starts_with(NOTICE));
    assert_eq!(json["layup"]["quilting"]["computed"], true);
    assert_eq!(json["quilting"]["stitch_line_area_pct"], 9.75);
    let places = json["skin"]["places"].as_array().unwrap();
    let shares = places.iter().map(|place| place["area_share_pct"].as_f64().unwrap());
    assert!((shares.sum::<f64>() - 100.0).abs() < 1e-6);
    let t = |place: &Value| place["second_degree_s"]["value"].as_f64().unwrap();
    assert!(places.windows(2).all(|pair| t(&pair[0]) < t(&pair[1])));
    let quilted = json["disc"]["quilted"]["HTI24_s"]["value"].as_f64().unwrap();
    let pressed = json["disc"]["pressed_everywhere"]["HTI24_s"]["value"].as_f64().unwrap();
    assert!(pressed < quilted);
}

#[test]
fn options_stand_in_for_the_layups_own() {
    let json = |arguments: &[&str]| -> Value { serde_json::from_str(&done(arguments)).unwrap() };
    let given = [
        "quilt",
        "three-ply-loose",
        "--pattern",
        "channels",
        "--pitch",
        "20",
        "--stitch-width",
        "1",
        "--loft",
        "0.5",
        "--pressed",
        "1.6",
        "--thread",
        "0.2",
        "--json",
        "--behind",
        "disc",
    ];
    let made = json(&given);
    assert_eq!(made["quilting"]["pattern"], "channels");
    assert_eq!(made["quilting"]["stitch_line_area_pct"], 5.0);
    // one line each 20 mm is 50 m/m²
    assert_eq!(made["quilting"]["thread_g_m2"], 10.0);
    let own = json(&["quilt", BLANK, "--pitch", "20", "--json", "--behind", "disc"]);
    assert_eq!(
        (&own["quilting"]["pattern"], &own["quilting"]["pitch_mm"]),
        (&"diamond".into(), &20.0.into())
    );
}

#[test]
fn files_hold_the_notice_and_the_data_stand_beside_the_sweep() {
    let folder = folder("quilt");
    let at = |name: &str| folder.join(name).to_str().unwrap().to_string();
    let (csv, chart, field) = (at("places.csv"), at("cell.svg"), at("field.svg"));
    let ranges = ["--sweep-pitch", "20:60", "--sweep-loft", "0:2"];
    let files = ["quilt", BLANK, "--csv", &csv, "--chart", &chart, "--sweep", &field];
    done(&[files.as_slice(), &ranges].concat());
    for name in ["places.csv", "cell.svg", "field.svg", "field.csv"] {
        let text = fs::read_to_string(folder.join(name)).unwrap();
        assert!(text.contains(NOTICE), "{name}");
    }
    let rows = |name: &str| -> Vec<Vec<f64>> {
        let mut reader = csv::Reader::from_path(folder.join(name)).unwrap();
        let numbers = |row: csv::StringRecord| row.iter().filter_map(|c| c.parse().ok()).collect();
        reader.records().map(|row| numbers(row.unwrap())).collect()
    };
    let sweep = rows("field.csv");
    assert_eq!(sweep.len(), 17 * 13);
    // more loft at one pitch never shortens the bench's time over this range
    let times: Vec<f64> = sweep.iter().filter(|row| row[0] == 40.0).map(|row| row[2]).collect();
    assert_eq!(times.len(), 13);
    assert!(times.windows(2).all(|pair| pair[1] > pair[0]), "{times:?}");
    let burnt: Vec<f64> = rows("places.csv").iter().map(|row| row[7]).collect();
    assert!(burnt.windows(2).all(|pair| pair[0] <= pair[1]), "{burnt:?}");
    assert_eq!(burnt.last(), Some(&100.0));
}

#[test]
fn a_patch_over_part_of_it_is_a_place_of_its_own() {
    let with = ["quilt", BLANK, "--patch", "patch-aramid-400", "--patch-share", "30"];
    let text = done(&[&with[..], &["--against", "fia-8856-2018-overall"]].concat());
    fits_80_columns(&text);
    let one_line = flat(&text);
    for part in ["With the patch", "120 g/m² more on average", "The disc behind both reads HTI24"]
    {
        assert!(one_line.contains(part), "does not say `{part}`:\n{text}");
    }
    let json: Value = serde_json::from_str(&done(&[&with[..], &["--json"]].concat())).unwrap();
    let t = |value: &Value| value["value"].as_f64().unwrap();
    let beside = t(&json["disc"]["quilted"]["HTI24_s"]);
    let both = t(&json["patch"]["disc_behind_both"]["figures"]["HTI24_s"]);
    let under = t(&json["patch"]["disc_under"]["HTI24_s"]);
    assert!(beside < both && both < under, "{beside} {both} {under}");
    // the target is held against the disc behind both
    assert_eq!(json["patch"]["share_pct"], 30.0);
    let folder = folder("quilt_patch");
    let at = |name: &str| folder.join(name).to_str().unwrap().to_string();
    let (csv, chart) = (at("places.csv"), at("cell.svg"));
    done(&[&with[..], &["--csv", &csv, "--chart", &chart]].concat());
    let mut reader = csv::Reader::from_path(folder.join("places.csv")).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.unwrap()).collect();
    let share = |row: &csv::StringRecord| row[3].parse::<f64>().unwrap();
    for (word, expected) in [("beside", 70.0), ("under", 30.0)] {
        let sum: f64 = rows.iter().filter(|row| &row[1] == word).map(share).sum();
        assert!((sum - expected).abs() < 1e-4, "{word}: {sum}");
    }
    assert!(fs::read_to_string(folder.join("cell.svg")).unwrap().contains("under the patch"));
}

/// What leaves no loft is shown where it stands.
#[test]
fn a_pressure_is_refused_with_its_line() {
    let text = fs::read_to_string(format!("materials/layups/{BLANK}.toml")).unwrap();
    let path = folder("pressure").join("pressed.toml");
    let pressed =
        text.replacen("\nnote", "\npressure_kPa = 2\npressure_from = \"stated\"\nnote", 1);
    fs::write(&path, pressed).unwrap();
    let said = ["the layup stands under pressure", "pressed.toml:2:16, key pressure_kPa"];
    refused(&["quilt", path.to_str().unwrap()], 1, &said);
}

#[test]
fn a_patch_that_is_none_is_refused() {
    refused(&["quilt", BLANK, "--patch", "patch-aramid-400"], 2, &["--patch-share"]);
    refused(&["quilt", BLANK, "--patch-share", "20"], 2, &["--patch"]);
    let near = ["quilt", BLANK, "--patch", "patch-aramid-40", "--patch-share", "20"];
    refused(&near, 1, &["error:", "patch-aramid-400"]);
    let with = ["quilt", BLANK, "--patch", "patch-aramid-400", "--patch-share", "20"];
    refused(&[&with[..], &["--patch-thread", "60"]].concat(), 1, &["more thread than cloth"]);
    refused(&[&with[..], &["--sweep", "a.svg"]].concat(), 2, &["--sweep"]);
}

#[test]
fn what_is_no_quilting_is_refused_in_four_parts() {
    let four = ["error:", "expected:", "mend:"];
    let says = |part: &'static str| [four.as_slice(), &[part]].concat();
    refused(&["quilt", "three-ply-loose"], 1, &says("--pattern, --pitch, --stitch-width"));
    refused(&["quilt", BLANK, "--stitch-width", "40"], 1, &says("40 mm wide stand 40 mm apart"));
    refused(&["quilt", BLANK, "--pressed", "3"], 1, &says("thicker than loose"));
    refused(&["quilt", BLANK, "--pressed", "0.2"], 1, &says("nothing but fibre"));
    refused(&["quilt", BLANK, "--chart", "a.svg", "--behind", "disc"], 1, &says("--behind"));
    let single = [
        "quilt",
        "single-outer-195",
        "--pattern",
        "square",
        "--pitch",
        "30",
        "--stitch-width",
        "1",
        "--loft",
        "1",
        "--pressed",
        "0.3",
    ];
    refused(&single, 1, &says("a layup of 1 ply cannot be quilted"));
    let folder = folder("quilt_refused");
    let field = folder.join("field.svg");
    let short = ["quilt", BLANK, "--until", "5", "--sweep", field.to_str().unwrap()];
    refused(&short, 1, &says("HTI24 is not reached within 5 s"));
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 0, "nothing was written");
}

#[test]
fn wrong_usage_ends_with_status_2() {
    for bad in ["0", "-1", "nan", "inf", "5 mm", "1,5", ""] {
        refused(&["quilt", BLANK, &format!("--pitch={bad}")], 2, &["--pitch", "expected"]);
    }
    for bad in ["-1", "nan", "2000"] {
        refused(&["quilt", BLANK, &format!("--loft={bad}")], 2, &["--loft", "expected"]);
    }
    refused(&["quilt", BLANK, "--pattern", "hexagon"], 2, &["hexagon", "diamond"]);
    refused(&["quilt", BLANK, "--sweep-pitch", "20:60"], 2, &["--sweep"]);
    let swapped = ["quilt", BLANK, "--sweep", "a.svg", "--sweep-loft", "4:1"];
    refused(&swapped, 2, &["the smaller length first"]);
}

/// Both ways of solving stand beside each other: the stitch line's neighbours take heat from it.
#[test]
fn heat_sideways_stands_beside_each_place_alone() {
    let asked = |more: &[&str]| -> Value {
        let arguments = [&["quilt", BLANK, "--sideways", "--error", "2", "--json"], more].concat();
        serde_json::from_str(&done(&arguments)).unwrap()
    };
    let (once, thrice) = (asked(&[]), asked(&["--along", "3"]));
    let t = |json: &Value, key: &str, way: &str| {
        json["sideways"][key][format!("{way}_s")]["value"].as_f64().unwrap()
    };
    let stitch = "stitch_line_second_degree";
    let places = once["skin"]["places"].as_array().unwrap();
    let own = places[0]["second_degree_s"]["value"].as_f64().unwrap();
    assert_eq!(t(&once, stitch, "each_place_alone"), own);
    assert!(t(&once, stitch, "heat_sideways") > 1.02 * own, "{}", once["sideways"]);
    assert!(t(&thrice, stitch, "heat_sideways") > t(&once, stitch, "heat_sideways"));
    // copper evens out either way
    let disc = |way: &str| t(&once, "rise_24_K", way);
    assert!((disc("heat_sideways") / disc("each_place_alone") - 1.0).abs() < 0.01);
    let text = done(&["quilt", BLANK, "--sideways", "--error", "2"]);
    fits_80_columns(&text);
    for part in ["With heat sideways", "each place alone", "heat sideways"] {
        assert!(text.contains(part), "does not say `{part}`:\n{text}");
    }
}
