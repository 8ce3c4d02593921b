//! Claim: a book is held against predictions, advises the next test and has its views, whatever the
//! model says: figures are compared with the book and between views, never with numbers written here.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, folder, json, refused, stillair};
use crate::flat::flat;

const TARGET: &str = "fia-8856-2018-overall";

/// A book of made-up tests: date, layup, figure with exposure, specimens, washed how often.
fn book(name: &str, tests: &[(&str, &str, &str, u32)]) -> String {
    let place = folder(name).join("bench-book.csv");
    let mut text = String::from("date,layup,exposure,figure,values_s,washed\n");
    for (day, (layup, figure, values, washed)) in tests.iter().enumerate() {
        let exposure = if figure.starts_with('R') { "radiant-20" } else { "flame-80" };
        text.push_str(&format!(
            "2026-11-{:02},{layup},{exposure},{figure},{values},{washed}\n",
            day + 1
        ));
    }
    fs::write(&place, text).unwrap();
    place.to_str().unwrap().to_owned()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("no number: {value}"))
}

#[test]
fn every_test_stands_beside_its_prediction() {
    let tests = [
        ("three-ply-loose", "HTI24", "14.1 13.7 14.6", 0),
        ("three-ply-loose", "HTI12", "10.1", 0),
        ("single-outer-195", "HTI24", "5.1 5.3", 0),
        ("single-outer-195", "RHTI24", "14 15", 0),
    ];
    let book = book("far_all", &tests);
    let far = json(&["book", "how-far", "--json", "--book", &book]);
    let rows = far["tests"].as_array().unwrap();
    assert_eq!(rows.len(), 4);
    for row in rows {
        let values: Vec<f64> = row["values_s"].as_array().unwrap().iter().map(number).collect();
        let predicted = number(&row["predicted_s"]);
        let mean_ln =
            values.iter().map(|v| (v / predicted).ln()).sum::<f64>() / values.len() as f64;
        assert!((number(&row["ratio"]) - mean_ln.exp()).abs() < 1e-6, "{row}");
    }
    // the prediction is that of `expose`
    let exposed = json(&["expose", "three-ply-loose", "--behind", "disc", "--json"]);
    assert_eq!(rows[0]["predicted_s"], exposed["disc"]["figures"]["HTI24_s"]["value"]);
    assert_eq!(rows[1]["predicted_s"], exposed["disc"]["figures"]["HTI12_s"]["value"]);
    assert_eq!(far["groups"].as_array().unwrap().len(), 4);
    // the property's change, times its derivative, makes up what the test lies off
    let own = &rows[0]["explained_by"][0];
    assert!(number(&own["tolerance_pct"]) > 0.0, "{own}");
    assert!(rows[1]["explained_by"].as_array().unwrap().is_empty(), "no derivatives of HTI12");
    let text = done(&["book", "how-far", "--book", &book]);
    fits_80_columns(&text);
    assert!(text.contains(own["property"].as_str().unwrap()), "{text}");
    assert!(flat(&text).contains(stillair::NOTICE));
    let csv = Path::new(&book).with_file_name("far.csv");
    done(&["book", "how-far", "--book", &book, "--csv", csv.to_str().unwrap()]);
    let csv = fs::read_to_string(csv).unwrap();
    assert_eq!(csv.lines().count(), 5);
    assert!(csv.lines().next().unwrap().contains("measured_s,predicted_s"), "{csv}");
}

/// Four tests of one layup, their ratios in line with washing, tell of no drift: too few cases.
#[test]
fn few_tests_tell_of_no_drift() {
    let tests = [
        ("three-ply-loose", "HTI24", "14.0", 0),
        ("three-ply-loose", "HTI24", "13.5", 5),
        ("three-ply-loose", "HTI24", "13.0", 10),
        ("three-ply-loose", "HTI24", "12.5", 15),
    ];
    let book = book("far_few", &tests);
    let text = flat(&done(&["book", "how-far", "--book", &book]));
    assert!(
        text.contains("Too few different cases to tell of mass, thickness, regain and washing")
    );
    assert!(!text.contains("more than chance"), "{text}");
}

/// Six cases in line do, with the chance that it is none stated.
#[test]
fn a_drift_is_told_with_its_chance() {
    let values = ["14.0", "13.5", "13.0", "12.5", "12.0", "11.5"];
    let tests: Vec<_> = values
        .iter()
        .enumerate()
        .map(|(i, value)| ("three-ply-loose", "HTI24", *value, 5 * i as u32))
        .collect();
    let book = book("far_drift", &tests);
    let text = flat(&done(&["book", "how-far", "--book", &book]));
    assert!(text.contains("The ratios fall with washing by more than chance explains"), "{text}");
    assert!(text.contains("in 5 of 100 books"), "{text}");
    assert!(
        text.contains("Too few different cases to tell of mass, thickness and regain"),
        "{text}"
    );
}

#[test]
fn the_next_test_is_one_in_doubt() {
    let layups = ["three-ply-loose", "three-ply-quilted-blank", "single-outer-195"];
    let next = [&["book", "next"][..], &layups, &["--against", TARGET]].concat();
    let said = json(&[&next[..], &["--json"]].concat());
    let of = &said["targets"][0];
    let all = of["candidates"].as_array().unwrap();
    assert_eq!((all.len(), &of["own_tests"]), (3, &Value::from(0)));
    // what is told is in order, and no test makes one wiser on average into being wrong more often
    let after: Vec<f64> = all.iter().map(|one| number(&one["wrong_calls_after"])).collect();
    assert!(after.windows(2).all(|pair| pair[0] <= pair[1]), "{after:?}");
    assert!(after.iter().all(|x| *x <= number(&of["wrong_calls_now"]) + 1e-6), "{of}");
    // a single cloth lies far below 12 s by any band: its test settles nothing
    let last = all.last().unwrap();
    assert_eq!(last["candidate"], "single outer ply", "{of}");
    assert!(number(&last["below_pct"]) > 99.0, "{last}");
    let advice = of["advice"].as_array().unwrap();
    assert!(advice.len() <= 2, "{advice:?}");
    let text = done(&next);
    fits_80_columns(&text);
    for sentence in advice {
        assert!(flat(&text).contains(sentence.as_str().unwrap()), "{sentence}\n{text}");
    }
}

/// What is in doubt is settled by its own test: it is worth less then.
#[test]
fn a_test_that_was_made_is_worth_less_again() {
    let layups = ["three-ply-loose", "three-ply-quilted-blank"];
    let worth = |book: Option<&str>| {
        let next = [&["book", "next"][..], &layups, &["--against", TARGET, "--json"]].concat();
        let with = book.map_or(Vec::new(), |book| vec!["--book", book]);
        number(&json(&[&next[..], &with].concat())["targets"][0]["wrong_calls_now"])
    };
    let tests = [
        ("three-ply-loose", "HTI24", "17 16.8 17.1", 0),
        ("three-ply-quilted-blank", "HTI24", "15 15.2", 0),
    ];
    let book = book("next_again", &tests);
    let (before, after) = (worth(None), worth(Some(&book)));
    assert!(after <= before + 1e-9, "{before} wrong calls before, {after} after both were tested");
}

#[test]
fn next_names_what_it_lacks() {
    refused(&["book", "next", "three-ply-loose"], 1, &["no target was named", "--against"]);
    let next = ["book", "next", "three-ply-loose", "--against", TARGET, "--book", "nowhere.csv"];
    refused(&next, 1, &["no such file"]);
    let brief = "examples/day/brief.toml";
    refused(&["book", "next", brief, "--against", TARGET], 1, &["names its own targets"]);
}

#[test]
fn the_list_has_its_views() {
    let tests =
        [("three-ply-loose", "HTI24", "14.1 13.7", 2), ("single-outer-195", "RHTI24", "14", 0)];
    let book = book("list_views", &tests);
    let list = json(&["book", "list", "--json", "--book", &book]);
    let rows = list["tests"].as_array().unwrap();
    assert_eq!(rows[0]["values_s"], serde_json::json!([14.1, 13.7]));
    assert_eq!((&rows[0]["washed"], &rows[1]["figure"]), (&Value::from(2), &"RHTI24".into()));
    let csv = Path::new(&book).with_file_name("list.csv");
    done(&["book", "list", "--csv", csv.to_str().unwrap(), "--book", &book]);
    let csv = fs::read_to_string(csv).unwrap();
    assert!(csv.lines().nth(1).unwrap().contains("13.9,,14.1 13.7"), "{csv}");
    let csv = Path::new(&book).with_file_name("anchor.csv");
    let anchor = ["book", "anchor", "three-ply-loose", "--book", &book];
    let told = json(&[&anchor[..], &["--json"]].concat());
    done(&[&anchor[..], &["--csv", csv.to_str().unwrap()]].concat());
    let csv = fs::read_to_string(csv).unwrap();
    let row: Vec<&str> = csv.lines().nth(1).unwrap().split(',').collect();
    let value: f64 = row[4].parse().unwrap();
    assert!((value - number(&told["anchored"]["anchored_s"])).abs() < 1e-4, "{csv}");
}

#[test]
fn the_chart_shows_own_tests_beside_published_ones() {
    let book = book("far_chart", &[("three-ply-loose", "HTI24", "14.1 13.7", 0)]);
    let chart = Path::new(&book).with_file_name("parity.svg");
    done(&["book", "how-far", "--book", &book, "--chart", chart.to_str().unwrap()]);
    let svg = fs::read_to_string(chart).unwrap();
    for part in ["own tests", "felts, flame", "felts, radiant", "a suit", stillair::NOTICE] {
        assert!(svg.contains(part), "{part}");
    }
}

/// A fit writes its readings to the book; a fitted material and the ratio of the same test are not
/// both applied.
#[test]
fn a_fitted_material_and_its_test_do_not_count_twice() {
    let place = folder("fit_book");
    let file = |name: &str| place.join(name).to_str().unwrap().to_owned();
    let (book, fitted) = (file("bench-book.csv"), file("fitted.toml"));
    let fit = ["fit", "three-ply-loose", "--free", "conductivity:2=0.02..0.08", "--hti24", "18.1"];
    let more = ["--hti24", "17.9", "--out", &fitted, "--book", &book, "--date", "2026-11-20"];
    let said = stillair(&[&fit[..], &more].concat());
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.err.contains("added HTI24"), "{}", said.err);
    let list = json(&["book", "list", "--json", "--book", &book]);
    assert_eq!(list["tests"][0]["values_s"], serde_json::json!([18.1, 17.9]));
    assert_eq!(list["tests"][0]["layup"], "three-ply-loose");
    // the layup as it was is anchored to the test
    let plain = json(&["book", "anchor", "three-ply-loose", "--json", "--book", &book]);
    assert_eq!(plain["anchored"]["tests"].as_array().unwrap().len(), 1);
    // the fitted one is not: its material stands for the test, which is said
    let own = json(&["book", "anchor", &fitted, "--json", "--book", &book]);
    assert_eq!(own["anchored"]["tests_of_figure"], 0);
    let names = serde_json::json!(["three-ply-loose of 2026-11-20"]);
    assert_eq!(own["anchored"]["fitted_to"], names);
    let text = flat(&done(&["book", "anchor", &fitted, "--book", &book]));
    assert!(text.contains("both would count one test twice"), "{text}");
    // a test of the fitted layup that is the one it was fitted to says nothing of the model
    let add = ["book", "add", &fitted, "--figure", "HTI24", "--date", "2026-11-20", "--values"];
    let other = file("other.csv");
    done(&[&add[..], &["18.1,17.9", "--book", &other]].concat());
    let said = stillair(&["book", "anchor", "three-ply-loose", "--json", "--book", &other]);
    assert!(said.err.contains("is left out: a material of the tested layup"), "{}", said.err);
    let bad = ["--out", &fitted, "--book", &book, "--date", "tomorrow"];
    refused(&[&fit[..], &bad].concat(), 1, &["`tomorrow` is not a day"]);
}
