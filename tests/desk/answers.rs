//! Claim: what the page is answered is what `stillair expose` prints, to the last digit, for the layup as
//! saved.

use serde_json::{Value, json};

use crate::desk::client::{Desk, two_plies};
use crate::program::stillair;

/// What `expose` prints of the saved state with these further words.
fn printed(desk: &Desk, name: &str, words: &[&str]) -> String {
    let file = desk.out.join(format!("{name}.toml"));
    let mut all = vec!["expose", file.to_str().unwrap(), "--full"];
    all.extend(words);
    let (out, said, code) = stillair(&all, "2");
    assert_eq!(code, 0, "{said}");
    out
}

#[track_caller]
fn check(desk: &Desk, name: &str, state: &Value, words: &[&str]) -> Value {
    let saved = desk.post("save", &json!({"state": state, "name": name, "what": "layup"}));
    assert_eq!(saved.status, 200, "{}", saved.faults());
    let answer = desk.post("answer", state);
    assert_eq!(answer.status, 200, "{}", answer.faults());
    let answer = answer.json();
    assert_eq!(answer["printed"].as_str().unwrap(), printed(desk, name, words), "{name}");
    answer
}

#[test]
fn the_page_prints_the_digits_of_the_command() {
    let desk = Desk::open("digits", &[]);
    let dry = check(&desk, "first", &two_plies(1.0), &[]);
    let wide = check(&desk, "wide", &two_plies(2.35), &[]);
    assert_ne!(dry["printed"], wide["printed"]);
    let state = |more: Value| {
        let mut state = two_plies(0.7);
        state.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        state
    };
    let more = json!({"exposure": "radiant-20", "until_s": 40, "against": ["iso-11612-c1"]});
    let words = ["--exposure", "radiant-20", "--until", "40", "--against", "iso-11612-c1"];
    let answer = check(&desk, "radiant", &state(more), &words);
    assert_eq!(answer["calls"].as_array().unwrap().len(), 1);
    check(
        &desk,
        "short",
        &state(json!({"flame_s": 4, "until_s": 30})),
        &["--for", "4", "--until", "30"],
    );
    let mut soaked = two_plies(0.5);
    soaked["layup"]["stack"][2]["regain_pct"] = json!(60);
    soaked["layup"]["stack"][0]["thickness_mm"] = json!(0.5);
    check(&desk, "soaked", &soaked, &[]);
    let mut pressed = two_plies(0.5);
    pressed["layup"]["stack"].as_array_mut().unwrap().remove(1);
    pressed["layup"]["pressure_kPa"] = json!(2.5);
    check(&desk, "pressed", &pressed, &[]);
}

#[test]
fn a_quilted_layup_is_answered_as_it_lies() {
    let desk = Desk::open("quilted", &["three-ply-quilted-blank", "--against", "iso-11612-b1"]);
    let start = desk.start();
    let answer = check(&desk, "blank", &start, &["--against", "iso-11612-b1"]);
    assert_eq!(answer["layup"]["is_quilted"], true);
    let views = answer["views"].as_array().unwrap();
    let places: Vec<&str> =
        views.iter().filter_map(|view| view["cell"]["place"].as_str()).collect();
    assert_eq!(places.len(), views.len());
    assert_eq!((places[0], places[places.len() - 1]), ("stitch line", "cell centre"));
    let mut flat = start;
    flat["flat"] = json!(true);
    let answer = check(&desk, "flat", &flat, &["--against", "iso-11612-b1", "--flat"]);
    assert_eq!(answer["views"].as_array().unwrap().len(), 2);
}

/// With a bench book the page tells what the command tells, before each skin.
#[cfg(feature = "lapack")]
#[test]
fn own_tests_are_told_as_the_command_tells_them() {
    let book = crate::program::folder("anchored_book").join("book.csv");
    let book = book.to_str().unwrap();
    let add = ["book", "add", "--book", book, "--figure", "HTI24", "--values", "14.1", "--date"];
    let (_, said, code) = stillair(&[&add[..], &["2026-11-26", "three-ply-loose"]].concat(), "2");
    assert_eq!(code, 0, "{said}");
    let desk = Desk::open("anchored", &["--anchored", "--book", book]);
    let words = ["--anchored", "--book", book];
    let answer = check(&desk, "own", &desk.start(), &words);
    assert!(!answer["own_tests"].as_array().unwrap().is_empty());
    let band = answer["headlines"][0]["band"].as_str().unwrap();
    assert!(band.starts_with("by your own tests "), "{band}");
    let skins = desk.get("shelf.json").json()["skins"].clone();
    let other = skins.as_array().unwrap().last().unwrap().as_str().unwrap().to_owned();
    let mut state = desk.start();
    state["skin"] = json!(other);
    check(&desk, "other", &state, &[&words[..], &["--skin", &other]].concat());
    let wish = json!({"state": state, "name": "told", "what": "report"});
    let saved = desk.post("save", &wish);
    assert_eq!(saved.status, 200, "{}", saved.faults());
    let page = std::fs::read_to_string(desk.out.join("told.html")).unwrap();
    assert!(page.contains("your tests"), "the report holds them, too");
}

/// Every figure of the page stands in what is printed, digit by digit.
#[test]
fn figures_and_headlines_are_those_printed() {
    let desk = Desk::open("figures", &[]);
    let answer = desk.post("answer", &desk.start()).json();
    let lines: Vec<Vec<&str>> = answer["printed"]
        .as_str()
        .unwrap()
        .lines()
        .map(|line| line.split_whitespace().collect())
        .collect();
    let mut n_rows = 0;
    for row in
        answer["runs"].as_array().unwrap().iter().flat_map(|run| run["figures"].as_array().unwrap())
    {
        let cells: Vec<&str> =
            row.as_array().unwrap().iter().map(|cell| cell.as_str().unwrap()).collect();
        let words: Vec<&str> = cells.iter().flat_map(|cell| cell.split_whitespace()).collect();
        assert!(lines.contains(&words), "{words:?}");
        n_rows += 1;
    }
    assert!(n_rows > 8, "{n_rows}");
    let hti24 = &answer["headlines"][0];
    assert_eq!(hti24["name"], "HTI24");
    let row = answer["runs"][0]["figures"][1].as_array().unwrap();
    let text = format!("{} {}", row[2].as_str().unwrap(), row[3].as_str().unwrap());
    assert_eq!(hti24["text"].as_str().unwrap(), text);
}

/// The field is that of the run: it starts at the room's temperature, its faces are the curves that are
/// printed, and what enters the disc at a gap is what warms it.
#[test]
fn the_field_agrees_with_the_curves() {
    let desk = Desk::open("field", &[]);
    let mut state = two_plies(2.0);
    // dry, and apart from the disc, so that all that warms it crosses the last gap
    for i in [0, 2] {
        state["layup"]["stack"][i]["regain_pct"] = json!(0);
    }
    state["layup"]["stack"].as_array_mut().unwrap().push(json!({"gap_mm": 3}));
    let answer = desk.post("answer", &state).json();
    let view = &answer["views"][0];
    let list = |value: &Value| -> Vec<f64> {
        value.as_array().unwrap().iter().map(|one| one.as_f64().unwrap()).collect()
    };
    let (times, depth) = (list(&view["time_s"]), list(&view["depth_mm"]));
    let temps = list(&view["temperature_tenth_C"]);
    assert_eq!(temps.len(), times.len() * depth.len());
    assert!(depth.windows(2).all(|pair| pair[0] < pair[1]), "{depth:?}");
    assert!(temps[..depth.len()].iter().all(|temp| *temp == 250.0), "the room is at 25 °C");
    let column = |header: &str| {
        let columns = answer["runs"][0]["course"]["columns"].as_array().unwrap();
        list(&columns.iter().find(|one| one["header"] == header).unwrap()["values"])
    };
    let (outer, disc, flux) =
        (column("outer_face_C"), column("disc_C"), column("flux_to_disc_kW_m2"));
    let n = depth.len();
    let ways = view["ways"].as_array().unwrap().last().unwrap().clone();
    for row in 0..times.len() {
        let at = list(&answer["runs"][0]["course"]["time_s"]).iter().position(|t| *t == times[row]);
        let at = at.expect("as few steps are not thinned");
        assert!((temps[row * n] / 10.0 - outer[at]).abs() < 0.06);
        assert!((temps[row * n + n - 1] / 10.0 - disc[at]).abs() < 0.06);
        let key = |key: &str| list(&ways[key])[row];
        let crossed = key("conduction_kW_m2") + key("moving_air_kW_m2") + key("radiation_kW_m2");
        // the air's own small capacity, half of it on the disc's face, takes the rest
        let off = (crossed - flux[at]).abs();
        assert!(
            off < 0.01 + 0.01 * flux[at].abs(),
            "{crossed} into the disc at {}, {}",
            times[row],
            flux[at]
        );
    }
}

/// A figure as it is written: value and what is left open.
fn with_error(text: &str) -> (f64, f64) {
    let (value, error) = text.split_once(" ± ").unwrap_or_else(|| panic!("{text}"));
    let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().unwrap();
    (number(value), number(error))
}

#[test]
fn a_coarse_answer_leaves_open_what_the_close_one_finds() {
    let desk = Desk::open("coarse", &["three-ply-quilted-blank"]);
    let mut state = desk.get("shelf.json").json()["start"].clone();
    for (pitch, flat) in [(15, false), (30, false), (60, false), (30, true)] {
        state["layup"]["quilting"]["pitch_mm"] = json!(pitch);
        state["flat"] = json!(flat);
        let [coarse, close] =
            ["answer/coarse", "answer"].map(|path| desk.post(path, &state).json());
        let figures = |answer: &Value| answer["headlines"].as_array().unwrap().clone();
        let (coarse, close) = (figures(&coarse), figures(&close));
        assert_eq!(coarse.len(), close.len());
        let mut wider = 0;
        for (coarse, close) in coarse.iter().zip(&close) {
            let told = |one: &Value| with_error(one["text"].as_str().unwrap());
            let ((value, error), (right, open)) = (told(coarse), told(close));
            let name = &close["name"];
            assert!((value - right).abs() <= error + open, "{name}: {coarse} {close}");
            // what the disc's paths and what skin is told with
            assert!(error <= 0.05 * value, "{name}: {coarse}");
            wider += i32::from(error > open);
        }
        // a flat stack is settled as closely on the coarsest meshes
        assert!(flat || wider > 0, "{coarse:?}");
    }
}
