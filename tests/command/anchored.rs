//! Claim: own tests move a prediction and its band in every command alike, through the one rule by
//! which targets are called; what they do not cover, what contradicts and what has changed is said.
//! Predicted figures are compared between commands and with the book, never with numbers written here.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, folder, json, refused, stillair};
use crate::flat::flat;

const TARGET: &str = "fia-8856-2018-overall";

/// A book of made-up tests: layup and specimens of HTI24 in the flame.
fn book(name: &str, tests: &[(&str, &str)]) -> String {
    let place = folder(name).join("bench-book.csv");
    let mut text = String::from("date,layup,exposure,figure,values_s\n");
    for (day, (layup, values)) in tests.iter().enumerate() {
        text.push_str(&format!("2026-11-{:02},{layup},flame-80,HTI24,{values}\n", day + 1));
    }
    fs::write(&place, text).unwrap();
    place.to_str().unwrap().to_owned()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("no number: {value}"))
}

#[test]
fn one_layup_has_one_anchored_answer_in_every_command() {
    let book = book("anchored_one", &[("three-ply-loose", "14.1 13.7 14.6")]);
    let own = ["--anchored", "--book", &book, "--against", TARGET];
    let exposed = json(&[&["expose", "three-ply-loose", "--json"][..], &own].concat());
    let told = &exposed["anchored"][0];
    assert_eq!(told["figure"], "HTI24");
    assert_eq!(told["tests"], serde_json::json!(["three-ply-loose of 2026-11-01"]));
    assert_eq!(told["model_s"], exposed["disc"]["figures"]["HTI24_s"]["value"]);
    let [model, anchored, low, high] =
        ["model_s", "anchored_s", "anchored_low_s", "anchored_high_s"]
            .map(|key| number(&told[key]));
    // one test of the very layup: the anchored figure is near what was read, and within its band
    assert!((anchored / 14.13 - 1.0).abs() < 0.02, "{told}");
    assert!(low < anchored && anchored < high && high < model, "{told}");
    let rule = &exposed["against"][0]["rule"];
    assert_eq!(rule["lower_factor"], told["lower_factor"]);
    assert!((number(&rule["lower_factor"]) * model - low).abs() < 1e-5 * low);

    let ranked = ["rank", "three-ply-loose", "two-ply-outer-knit", "--json"];
    let ranked = json(&[&ranked[..], &own].concat());
    let layups = ranked["rankings"][0]["layups"].as_array().unwrap();
    let is_own = |one: &&Value| one["layup"] == exposed["layup"]["name"];
    let placed = layups.iter().find(is_own).unwrap();
    assert_eq!(placed["anchored"]["anchored_s"], told["anchored_s"]);
    assert_eq!(placed["against"][0]["rule"], *rule);

    let drawn = ["odds", "three-ply-loose", "--sets", "16", "--rows", "0", "--json"];
    let drawn = json(&[&drawn[..], &own].concat());
    assert_eq!(drawn["against"]["rule"], *rule);
    assert_eq!(drawn["model_lower_factor"], told["lower_factor"]);
    assert_eq!(drawn["model_upper_factor"], told["upper_factor"]);

    let said = done(&["book", "anchor", "three-ply-loose", "--book", &book]);
    let text = done(&[&["expose", "three-ply-loose"][..], &own].concat());
    let line = said.lines().find(|line| line.contains("anchored to 1 of your tests")).unwrap();
    assert!(text.contains(line), "{line}\n{text}");
    fits_80_columns(&text);

    let page = Path::new(&book).with_file_name("own.html");
    let file = page.to_str().unwrap();
    done(&[&["report", "three-ply-loose", "--out", file][..], &own].concat());
    let page = fs::read_to_string(&page).unwrap();
    assert!(page.contains("Anchored to your own tests") && page.contains(line.trim()), "{line}");
    assert!(page.contains("bench-book.csv</td>"), "the book is among the inputs");
}

/// A suit's panel is called by the anchored rule, and its margin is that of the anchored figure.
#[test]
fn a_suits_panels_are_anchored() {
    let book = book("anchored_suit", &[("two-ply-outer-knit", "12.1 11.8 12.4")]);
    let of = ["suit", "refuelling-coverall", "--flat", "--json", "--anchored", "--book", &book];
    let suit = json(&of);
    let panels = suit["panels"].as_array().unwrap();
    let shin = panels.iter().find(|panel| panel["panel"] == "shin").unwrap();
    let told = &shin["own"]["anchored"];
    assert_eq!(told["tests"], serde_json::json!(["two-ply-outer-knit of 2026-11-01"]));
    let margin = 100.0 * (number(&told["anchored_s"]) / 12.0 - 1.0);
    assert!((number(&shin["own"]["margin_pct"]) - margin).abs() < 1e-3, "{shin}");
}

/// A search keeps its margins on anchored figures; its parts join with the same book alone.
#[test]
fn a_search_is_anchored_and_its_parts_join_with_the_same_book() {
    let book = book("anchored_seek", &[("three-ply-loose", "11.1 10.9")]);
    let folder = Path::new(&book).parent().unwrap().to_path_buf();
    let file = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let brief = file("brief.toml");
    let text = format!(
        "name = \"made up\"\nminimise = \"mass\"\nshortlist = 2\nouter = [\"outer-aramid-200\"]\nodds_sets = 0\n\
         felts = [\"felt-needled-100\"]\nfelts_least = 1\nfelts_most = 1\n\
         inner = [\"inner-jersey-140\", \"inner-wool-190\"]\n[[target]]\ntarget = \"{TARGET}\"\n\
         margin_pct = 5\n"
    );
    fs::write(&brief, text).unwrap();
    let own = ["--anchored", "--book", &book];
    let whole = json(&[&["seek", &brief, "--json"][..], &own].concat());
    for point in whole["frontier"].as_array().unwrap() {
        let figure = &point["figures"][0];
        let spare = 100.0 * (number(&figure["anchored"]["anchored_s"]) / 12.6 - 1.0);
        assert!((number(&point["spare_pct"]) - spare).abs() < 1e-3, "{point}");
    }
    let parts = [file("one.part"), file("two.part")];
    for (i, part) in parts.iter().enumerate() {
        let k = format!("{}/2", i + 1);
        done(&[&["seek", &brief, "--part", &k, "--checkpoint", part][..], &own].concat());
    }
    let merge = ["merge", &parts[0], &parts[1], "--json"];
    let joined = json(&[&merge[..], &own].concat());
    assert_eq!(joined["frontier"], whole["frontier"]);
    refused(&merge, 1, &["own tests of other values"]);
}

#[test]
fn without_a_book_or_a_test_it_is_said() {
    let expose = ["expose", "single-outer-195", "--behind", "disc", "--against", TARGET];
    let with = |more: &[&'static str]| [&expose[..], more].concat();
    refused(&with(&["--anchored"]), 1, &["no bench book was named", "expected: --book", "mend:"]);
    refused(&with(&["--anchored", "--book", "nowhere.csv"]), 1, &["no such file", "mend:"]);
    refused(&with(&["--book", "nowhere.csv"]), 2, &["--anchored"]);
    let place = folder("anchored_none").join("bench-book.csv");
    fs::write(&place, "date,layup,exposure,figure,values_s\n").unwrap();
    let own = ["--anchored", "--book", place.to_str().unwrap()];
    let said = stillair(&[&expose[..], &own].concat());
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.err.contains("has no test; the shelf's bands hold"), "{}", said.err);
    let text = flat(&said.out);
    assert!(text.contains("no test of it in the book: by the shelf's band"), "{text}");
    let plain: Value = serde_json::from_str(&done(&with(&["--json"]))).unwrap();
    let own = stillair(&[&with(&["--json"])[..], &own].concat());
    let own: Value = serde_json::from_str(&own.out).unwrap();
    let rule = |all: &Value| all["against"][0]["rule"]["lower_factor"].clone();
    assert_eq!(rule(&plain), rule(&own), "none reduces to the shelf's band");
}

#[test]
fn what_lies_outside_the_tests_is_said() {
    let book = book("anchored_outside", &[("three-ply-loose", "14.1 13.7")]);
    let expose = ["expose", "single-outer-195", "--behind", "disc", "--anchored", "--book", &book];
    let text = flat(&done(&expose));
    assert!(text.contains("your one test of it is not near: by the shelf's band"), "{text}");
    assert!(text.contains("lies outside what your tests of HTI24 cover"), "{text}");
}

#[test]
fn two_identical_tests_narrow_and_two_that_contradict_are_said() {
    let width = |name: &str, tests: &[(&str, &str)]| {
        let book = book(name, tests);
        let told = ["expose", "three-ply-loose", "--behind", "disc", "--json", "--anchored"];
        let told = &json(&[&told[..], &["--book", &book]].concat())["anchored"][0];
        let [low, high] = ["anchored_low_s", "anchored_high_s"].map(|key| number(&told[key]));
        (high / low, told["contradicting"].clone())
    };
    let loose = "three-ply-loose";
    let (one, none) = width("anchored_single", &[(loose, "14.1 13.7")]);
    let (two, same) = width("anchored_twice", &[(loose, "14.1 13.7"), (loose, "14.1 13.7")]);
    assert!(none.is_null() && same.is_null());
    assert!(two < one, "{two} after two tests, {one} after one");
    let apart = [(loose, "14.1 13.7"), (loose, "10.1 9.9")];
    let (_, said) = width("anchored_apart", &apart);
    let names = ["three-ply-loose of 2026-11-01", "three-ply-loose of 2026-11-02"];
    assert_eq!(said, serde_json::json!([names]));
    let book = book("anchored_apart", &apart);
    let text = done(&["book", "anchor", loose, "--book", &book]);
    let text = flat(&text);
    assert!(text.contains("contradict each other by more than their scatter explains"), "{text}");
}

/// A layup whose file has changed since its test is said, and its test is left out.
#[test]
fn a_layup_that_has_changed_since_is_left_out_aloud() {
    let place = folder("anchored_changed");
    let layup = place.join("own.toml");
    let built_in = concat!(env!("CARGO_MANIFEST_DIR"), "/materials/layups/three-ply-loose.toml");
    let text = fs::read_to_string(built_in).unwrap();
    fs::write(&layup, &text).unwrap();
    let (layup, book) = (layup.to_str().unwrap(), place.join("bench-book.csv"));
    let book = book.to_str().unwrap();
    let add = ["book", "add", layup, "--figure", "HTI24", "--date", "2026-11-20"];
    done(&[&add[..], &["--values", "14.1,13.7", "--book", book]].concat());
    let expose = ["expose", layup, "--behind", "disc", "--json", "--anchored", "--book", book];
    assert_eq!(json(&expose)["anchored"][0]["tests_of_figure"], 1);
    fs::write(layup, format!("{text}\n# a word more\n")).unwrap();
    let said = stillair(&expose);
    assert!(said.err.contains("its file has changed since"), "{}", said.err);
    let told: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(told["anchored"][0]["tests_of_figure"], 0);
    let far = done(&["book", "how-far", "--book", book]);
    let far = flat(&far);
    assert!(far.contains("Changed since the test: the file of own.toml"), "{far}");
}

/// A folder that holds the book alone is a shelf.
#[test]
fn a_shelf_may_hold_the_book_alone() {
    let book = book("anchored_shelf", &[("single-outer-195", "3.2 3.1")]);
    let shelf = Path::new(&book).parent().unwrap().to_str().unwrap().to_owned();
    let expose = ["expose", "single-outer-195", "--behind", "disc", "--json", "--anchored"];
    let by_shelf = json(&[&expose[..], &["--shelf", &shelf]].concat());
    let by_name = json(&[&expose[..], &["--book", &book]].concat());
    assert_eq!(by_shelf["anchored"], by_name["anchored"]);
    assert_eq!(by_shelf["anchored"][0]["tests_of_figure"], 1);
}

/// A flame that is taken away is another exposure: a figure read under a lasting one says nothing of it.
#[test]
fn a_flame_that_is_taken_away_is_not_anchored_to_a_lasting_one() {
    let book = book("anchored_short", &[("single-outer-195", "3.2 3.1")]);
    let expose = ["expose", "single-outer-195", "--behind", "disc", "--json", "--anchored"];
    let short = json(&[&expose[..], &["--for", "2", "--book", &book]].concat());
    let told = short["anchored"].as_array();
    assert!(told.is_none_or(|all| all.iter().all(|one| one["tests_of_figure"] == 0)), "{short}");
}
