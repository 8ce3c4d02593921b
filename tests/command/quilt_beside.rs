//! Claim: `stillair quilt --versus` holds patterns against each other and against none, with the figures that
//! each has alone, and a quilted layup's report shows the same.

use std::fs;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, folder, json, refused};

const BLANK: &str = "three-ply-quilted-blank";
const EVERY: &str = "none,channels,square,diamond";
const NOTICE: &str = "Screening model only.";

fn t(value: &Value) -> f64 {
    value["value"].as_f64().unwrap_or_else(|| panic!("no time: {value}"))
}

#[test]
fn every_way_has_the_figures_that_it_has_alone() {
    let beside = json(&["quilt", BLANK, "--versus", EVERY, "--json"]);
    assert_eq!(beside["schema"], "stillair/quiltings-beside");
    assert!(beside["notice"].as_str().unwrap().starts_with(NOTICE));
    let ways = beside["ways"].as_array().unwrap();
    assert_eq!(ways.len(), 4);
    let flat = json(&["expose", BLANK, "--flat", "--json"]);
    let (disc, skin) = (&flat["disc"]["figures"], &flat["skin"]["figures"]);
    assert_eq!(ways[0]["HTI24_s"], disc["HTI24_s"]);
    assert_eq!(ways[0]["second_degree_at_centre_s"], skin["second_degree_s"]);
    assert!(ways[0].get("second_degree_at_stitch_line_s").is_none());
    for way in &ways[1..] {
        let pattern = way["quilting"].as_str().unwrap();
        let alone = json(&["quilt", BLANK, "--pattern", pattern, "--json"]);
        assert_eq!(t(&way["HTI24_s"]), t(&alone["disc"]["quilted"]["HTI24_s"]), "{pattern}");
        let places = alone["skin"]["places"].as_array().unwrap();
        let (first, last) = (&places[0], &places[places.len() - 1]);
        assert_eq!(way["second_degree_at_stitch_line_s"], first["second_degree_s"]);
        assert_eq!(way["second_degree_at_centre_s"], last["second_degree_s"]);
        assert_eq!(way["area_burnt"], alone["skin"]["area_burnt"]);
        // plies 440 g/m², thread 0.12 g a metre of line, one or two lines each 40 mm
        let lines = if pattern == "channels" { 25.0 } else { 50.0 };
        assert!((way["mass_g_m2"].as_f64().unwrap() - 440.0 - 0.12 * lines).abs() < 1e-9);
    }
    // two sets of lines at one pitch are one to the model, and that is said
    let without_name = |way: &Value| {
        let mut way = way.clone();
        way.as_object_mut().unwrap().remove("quilting");
        way
    };
    assert_eq!(without_name(&ways[2]), without_name(&ways[3]));
    let told = beside["sentences"].as_array().unwrap();
    assert_eq!(told.len(), 3);
    assert!(told[2].as_str().unwrap().starts_with("Square and diamond: the stitch line burns "));
    assert!(told[2].as_str().unwrap().contains("come out equal"));
}

#[test]
fn the_headline_is_the_difference_of_the_times_in_the_table() {
    let beside = json(&["quilt", BLANK, "--versus", "none,channels", "--json"]);
    let channels = &beside["ways"][1];
    let before = t(&channels["stoll_s"]) - t(&channels["second_degree_at_stitch_line_s"]);
    let burnt = channels["area_burnt_at_stoll_pct"].as_f64().unwrap();
    let expected = format!(
        "Channels: the stitch line burns {before:.1} s before the disc notices; by then {burnt:.0} % is burnt."
    );
    assert_eq!(beside["sentences"][1], expected);
}

#[test]
fn text_fits_and_files_hold_the_notice() {
    let folder = folder("quilt-beside");
    let at = |name: &str| folder.join(name).to_str().unwrap().to_string();
    let (csv, chart) = (at("ways.csv"), at("ways.svg"));
    let text = done(&["quilt", BLANK, "--versus", EVERY, "--csv", &csv, "--chart", &chart]);
    fits_80_columns(&text);
    for part in [NOTICE, "unquilted", "burnt then", "What the columns mean", "Stoll's curve"] {
        assert!(text.contains(part), "does not say `{part}`:\n{text}");
    }
    let svg = fs::read_to_string(&chart).unwrap();
    for part in [NOTICE, "the disc notices", "flame", "skin here", "come out equal"] {
        assert!(svg.contains(part), "the chart does not say `{part}`");
    }
    let rows = csv::Reader::from_path(&csv).unwrap().into_records().count();
    assert_eq!(rows, 4);
}

#[test]
fn an_unquilted_layup_is_held_against_what_the_options_make_of_it() {
    let lengths = ["--pitch", "30", "--stitch-width", "2", "--loft", "1", "--pressed", "1.4"];
    let ask = ["quilt", "three-ply-loose", "--versus", "square,none", "--json"];
    let beside = json(&[&ask[..], &lengths].concat());
    let names: Vec<&Value> =
        beside["ways"].as_array().unwrap().iter().map(|way| &way["quilting"]).collect();
    assert_eq!(names, ["square", "unquilted"]);
}

#[test]
fn ways_without_a_quilting_or_twice_are_refused() {
    for (ways, code, part) in [
        ("none", 1, "no way of quilting to hold against none"),
        ("none,square,square", 1, "a way of quilting stands twice"),
        ("none,rows", 2, "invalid value 'rows'"),
    ] {
        refused(&["quilt", BLANK, "--versus", ways], code, &[part]);
    }
    let missing = ["--pitch, --stitch-width, --loft, --pressed"];
    refused(&["quilt", "three-ply-loose", "--versus", "none,square"], 1, &missing);
    let both = ["quilt", BLANK, "--versus", EVERY, "--pattern", "square"];
    refused(&both, 2, &["cannot be used with"]);
}

#[test]
fn the_report_of_a_quilted_layup_shows_every_way() {
    let folder = folder("quilt-report");
    let page = folder.join("blank.html");
    done(&["report", BLANK, "--out", page.to_str().unwrap()]);
    let html = fs::read_to_string(&page).unwrap();
    for part in ["Quilting against quilting", "Square and diamond", "skin here", "unquilted"] {
        assert!(html.contains(part), "the report does not say `{part}`");
    }
    let flat = folder.join("flat.html");
    done(&["report", BLANK, "--flat", "--out", flat.to_str().unwrap()]);
    assert!(!fs::read_to_string(&flat).unwrap().contains("Quilting against quilting"));
}

/// Each way is held against a target as it is alone.
#[test]
fn every_way_is_called_as_it_is_alone() {
    let target = ["--against", "fia-8856-2018-overall"];
    let asked = [&["quilt", BLANK, "--versus", "none,channels", "--json"][..], &target].concat();
    let ways = json(&asked)["ways"].clone();
    let flat = json(&[&["expose", BLANK, "--flat", "--json"][..], &target].concat());
    assert_eq!(ways[0]["against"], flat["against"]);
    let channels =
        json(&[&["quilt", BLANK, "--pattern", "channels", "--json"][..], &target].concat());
    assert_eq!(ways[1]["against"], channels["against"]);
    let text = done(&[&["quilt", BLANK, "--versus", EVERY][..], &target].concat());
    fits_80_columns(&text);
    assert!(text.contains("Against the targets"), "{text}");
    let none = json(&["quilt", BLANK, "--versus", "none,channels", "--json"]);
    assert!(none["ways"][0].get("against").is_none());
}

/// Heat sideways is told of each way as it is told of that way alone, in every view, and in a report.
#[test]
fn heat_sideways_is_told_beside_every_way() {
    let folder = folder("quilt-beside-sideways");
    let at = |name: &str| folder.join(name).to_str().unwrap().to_string();
    let (chart, page) = (at("ways.svg"), at("page.md"));
    let ask = ["quilt", BLANK, "--versus", "none,channels", "--sideways", "--along", "3"];
    let ways = json(&[&ask[..], &["--json", "--chart", &chart]].concat());
    let alone =
        json(&["quilt", BLANK, "--pattern", "channels", "--sideways", "--along", "3", "--json"]);
    let way = &ways["ways"][1];
    for (key, place) in [
        ("second_degree_at_stitch_line_sideways_s", "stitch_line_second_degree"),
        ("second_degree_at_centre_sideways_s", "cell_centre_second_degree"),
    ] {
        assert_eq!(way[key], alone["sideways"][place]["heat_sideways_s"], "{key}");
        assert!(ways["ways"][0].get(key).is_none(), "no stitch line, nothing sideways");
    }
    let (together, apart) = (
        t(&way["second_degree_at_stitch_line_sideways_s"]),
        t(&way["second_degree_at_stitch_line_s"]),
    );
    assert!(together > apart, "the stitch line gives heat to its sides: {together}, {apart}");
    let sentence = ways["sentences"][1].as_str().unwrap();
    assert!(
        sentence.contains(&format!("burns at {together:.2} s (alone at {apart:.2} s)")),
        "{sentence}"
    );
    let svg = fs::read_to_string(&chart).unwrap();
    assert!(svg.contains(&format!("\nheat sideways {together:.1} s\n")), "no caption");
    done(&["report", BLANK, "--sideways", "--error", "2", "--markdown", &page]);
    let text = fs::read_to_string(&page).unwrap();
    for part in ["With heat sideways it burns at", "each cell in two dimensions", "--sideways"] {
        assert!(text.contains(part), "the report does not say `{part}`");
    }
    for subject in ["three-ply-loose", "refuelling-coverall"] {
        refused(&["report", subject, "--sideways", "--out", "never.html"], 1, &["quilted layup"]);
    }
}
