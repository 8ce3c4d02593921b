//! Claim: a quilted panel is judged by the one disc behind its cells, with the stitch line's own time
//! beside it; a pressed panel and one whose quilting is left out are flat.
//! Source: `study::quilt` alone on the same layup, with twice as many points over a cell.
//! Tolerance: the printed numerical error.

use serde_json::Value;

use crate::flat::flat;
use crate::run::{done, stillair};

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(arguments)).unwrap()
}

fn panel<'v>(suit: &'v Value, name: &str) -> &'v Value {
    let panels = suit["panels"].as_array().unwrap();
    panels.iter().find(|panel| panel["panel"] == name).unwrap()
}

fn value(figure: &Value) -> (f64, f64) {
    (figure["value"].as_f64().unwrap(), figure["error"].as_f64().unwrap())
}

#[test]
fn a_quilted_panel_reads_what_the_study_of_its_layup_reads() {
    let suit = json(&["suit", "refuelling-coverall", "--json"]);
    let alone = json(&["quilt", "three-ply-quilted-blank", "--json"]);
    let own = &panel(&suit, "thigh")["own"];
    assert_eq!(own["computed"], "quilted");
    let (found, _) = value(&own["figure_s"]);
    let (expected, error) = value(&alone["disc"]["quilted"]["HTI24_s"]);
    assert!((found - expected).abs() < 0.1 * error, "{found} {expected}");
    let places = alone["skin"]["places"].as_array().unwrap();
    for (key, place) in [
        ("stitch_line_second_degree_s", places.first()),
        ("cell_centre_second_degree_s", places.last()),
    ] {
        let (expected, error) = value(&place.unwrap()["second_degree_s"]);
        assert!((own[key].as_f64().unwrap() - expected).abs() < error, "{key} {expected}");
    }
    let stitch = own["stitch_line_second_degree_s"].as_f64().unwrap();
    assert!(stitch < own["cell_centre_second_degree_s"].as_f64().unwrap());
}

#[test]
fn flat_and_pressed_panels_say_so() {
    let computed = ["suit", "refuelling-coverall", "--json"];
    let suit = json(&computed);
    let left_out = json(&[&computed[..], &["--flat"]].concat());
    for pressed in ["seat", "knee", "shoulders"] {
        let (one, other) = (panel(&suit, pressed), panel(&left_out, pressed));
        assert_eq!(one["own"]["computed"], "flat", "{pressed}");
        assert_eq!(one["own"]["figure_s"], other["own"]["figure_s"], "{pressed}");
    }
    // the same flat stack by itself
    let own = &panel(&left_out, "thigh")["own"];
    let alone =
        json(&["expose", "three-ply-quilted-blank", "--flat", "--behind", "disc", "--json"]);
    assert_eq!(own["figure_s"]["value"], alone["disc"]["figures"]["HTI24_s"]["value"]);
    let text = flat(&stillair(&["suit", "refuelling-coverall"], "2").0);
    assert!(text.contains("one disc behind a whole cell"), "{text}");
    assert!(text.contains("under pressure are exposed flat"), "{text}");
    let text = flat(&stillair(&["suit", "refuelling-coverall", "--flat"], "2").0);
    assert!(text.contains("by its thread alone, as asked"), "{text}");
}
