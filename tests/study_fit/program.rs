//! Claim: the command prints, writes and draws the fit, and what it writes feeds every other command.

use std::fs;

use serde_json::Value;
use stillair::NOTICE;

use crate::flat::flat;
use crate::run::{done, folder};

const CURVES: [&str; 2] =
    ["materials/curves/demo-specimen-1.csv", "materials/curves/demo-specimen-2.csv"];

const STITCHED: [&str; 8] =
    ["--stitch-width", "2", "--loft", "1", "--pressed", "1.4", "--behind", "disc"];

/// What it printed, what it said beside, and its status.
fn stillair(arguments: &[&str]) -> (String, String, i32) {
    crate::run::stillair(arguments, "2")
}

#[test]
fn text_fits_80_columns_and_bears_the_notice() {
    let of_curves = ["fit", "three-ply-loose", CURVES[0], CURVES[1], "--free", "conductivity:2"];
    let of_times = ["fit", "three-ply-loose", "--hti12", "12.5", "--hti24", "17.3"];
    let twins = [&of_curves[..], &["--free", "thickness:2"]].concat();
    let of_times = [&of_times[..], &["--free", "gap:1=0.3..2"]].concat();
    for (arguments, says) in [
        (of_curves.to_vec(), "Nothing among the free properties"),
        (
            twins,
            "WARNING: the readings hardly separate \"conductivity, ply 2\" and \"thickness, ply 2\"",
        ),
        (of_times, "Times alone fix at most as many properties as there are different rises"),
    ] {
        let text = done(&arguments);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        let said = flat(&text);
        assert!(said.contains(NOTICE) && said.contains(says), "{text}");
        for word in ["safe", "certified", "passes", "fails"] {
            assert!(!said.replace(NOTICE, "").contains(word), "{word}:\n{text}");
        }
    }
}

/// The demo's curves come from a felt of 0.043 W/(m·K) behind 0.8 mm of air.
#[test]
fn the_demo_is_found_again_and_its_file_feeds_the_other_commands() {
    let folder = folder("feeds");
    let file = |name: &str| folder.join(name).display().to_string();
    let (layup, csv, svg) = (file("fitted.toml"), file("fit.csv"), file("fit.svg"));
    let json = done(&[
        "fit",
        "three-ply-loose",
        CURVES[0],
        CURVES[1],
        "--free",
        "conductivity:2",
        "--free",
        "gap:1",
        "--out",
        &layup,
        "--csv",
        &csv,
        "--chart",
        &svg,
        "--json",
    ]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!((&json["schema"], &json["notice"]), (&"stillair/fit".into(), &NOTICE.into()));
    for (i, (key, truth)) in [("conductivity_W_mK", 0.043), ("gap_mm", 0.8)].into_iter().enumerate()
    {
        let value = &json["values"][i];
        assert_eq!(value["key"], key);
        let (low, high) = (value["low"].as_f64().unwrap(), value["high"].as_f64().unwrap());
        assert!(low <= truth && truth <= high, "{value}");
    }
    let text = fs::read_to_string(&layup).unwrap();
    assert!(flat(&text.replace("\n# ", " ")).contains(NOTICE), "{text}");
    assert!(
        text.contains("conductivity_from = \"fitted: materials/curves/demo-specimen-1.csv and")
    );
    // the fitted file and what the curves were computed from give the same time
    let rise24 = |layup: &str| -> f64 {
        let json = done(&["expose", layup, "--behind", "disc", "--json"]);
        let json: Value = serde_json::from_str(&json).unwrap();
        json.pointer("/disc/figures/HTI24_s/value").and_then(Value::as_f64).expect("reached")
    };
    let (fitted, truth) = (rise24(&layup), rise24("materials/curves/demo-truth.toml"));
    assert!((fitted - truth).abs() < 0.05, "{fitted} s, from {truth} s");
    let page = folder.join("fitted.html").display().to_string();
    for arguments in [
        vec!["gap", &layup, "--gap", "1", "--points", "3"],
        vec!["rank", &layup, "three-ply-loose"],
        vec!["pressed", &layup, "--pressures", "1,5"],
        vec!["patch", &layup, "--ply", "patch-aramid-400", "--share", "20"],
        [&["quilt", &layup, "--pattern", "square", "--pitch", "30"][..], &STITCHED].concat(),
        vec!["odds", &layup, "--against", "en-469-xf1", "--sets", "16", "--rows", "0"],
        vec!["lots", &layup, "examples/rolls.csv"],
        vec!["report", &layup, "--out", &page],
        vec!["materials", "check", &layup],
        vec!["fit", &layup, CURVES[0], "--free", "conductivity:2"],
    ] {
        done(&arguments);
    }
    let svg = fs::read_to_string(svg).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("Screening model only."));
    let mut reader = csv::Reader::from_path(csv).unwrap();
    assert!(reader.headers().unwrap().iter().next_back().unwrap().ends_with(NOTICE));
    assert_eq!(reader.records().map(Result::unwrap).count(), 162);
}

#[test]
fn fabrics_and_exposures_are_written_for_a_shelf() {
    let folder = folder("shelf");
    let file = |name: &str| folder.join(name).display().to_string();
    let (fabrics, flame) = (file("fabrics.csv"), file("flame.toml"));
    done(&[
        "fit",
        "three-ply-loose",
        CURVES[0],
        "--free",
        "conductivity:2",
        "--free",
        "flux",
        "--out",
        &fabrics,
        "--exposure-out",
        &flame,
    ]);
    let shelf = folder.display().to_string();
    let shown = done(&["--shelf", &shelf, "materials", "show", "felt-needled-100-fitted-2"]);
    assert!(shown.contains("fitted"), "{shown}");
    done(&["expose", "three-ply-loose", "--exposure", &flame, "--behind", "disc"]);
}

#[test]
fn what_does_not_fit_is_refused_with_its_four_parts() {
    let curve = CURVES[0];
    let fit = ["fit", "three-ply-loose"];
    for (arguments, what) in [
        (vec![curve, "--free", "conductivity:4"], "the layup has no such ply; it has 3"),
        (vec![curve, "--free", "gap:3"], "the layup has no air gap behind ply 3"),
        (vec![curve, "--free", "joint:1"], "no conductance is given for the joint behind ply 1"),
        (vec![curve, "--free", "gap:1=2..3"], "outside its range"),
        (vec![curve, "--free", "emissivity:1=0.5..1.5"], "goes beyond what a file may hold"),
        (vec![curve, "--free", "flux", "--free", "flux"], "a property is freed twice"),
        (vec![curve, "--free", "radiant-share", "--exposure", "radiant-40"], "is radiant"),
        (
            vec!["--hti24", "17", "--free", "flux", "--free", "gap:1"],
            "2 properties are free, but there is only 1 reading",
        ),
        (vec![curve, "--free", "gap:1", "--out", "x.csv"], "no property of a fabric is fitted"),
        (vec!["nowhere.csv", "--free", "flux"], "there is no such file"),
    ] {
        let (out, err, code) = stillair(&[&fit[..], &arguments].concat());
        assert_eq!((code, out.as_str()), (1, ""), "{arguments:?}");
        assert!(err.contains(what), "{arguments:?}\n{err}");
        for part in ["error: ", "expected: ", "mend: "] {
            assert!(err.contains(part), "{part}\n{err}");
        }
    }
    for wrong in [vec!["--free", "flux"], vec![curve], vec![curve, "--free", "colour:1"]] {
        assert_eq!(stillair(&[&fit[..], &wrong].concat()).2, 2, "{wrong:?}");
    }
}
