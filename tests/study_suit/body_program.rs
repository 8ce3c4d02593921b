//! Claim: `body` says what the study finds in every form, with its evidence and the notice, within 40 lines, and
//! refuses what cannot be with four parts.

use std::fs;

use serde_json::Value;
use stillair::NOTICE;
use stillair::report::body::words::EVIDENCE;

use crate::flat::flat;
use crate::run::{done, folder, stillair};

const ASKED: [&str; 4] = ["body", "refuelling-coverall", "--for", "4,6,8"];

#[test]
fn text_is_short_and_says_what_it_rests_on() {
    let out = done(&ASKED);
    assert!(out.lines().count() <= 40, "{} lines", out.lines().count());
    for line in out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
        assert_eq!(line, line.trim_end());
    }
    assert!(flat(&out).contains(EVIDENCE) && flat(&out).contains(NOTICE), "{out}");
    let grams = done(&[&ASKED[..], &["--grams"]].concat());
    assert!(flat(&grams).contains("a gram more of"), "{grams}");
}

#[test]
fn json_csv_and_chart_tell_the_same_body() {
    let folder = folder("body");
    let (csv, svg) = (folder.join("body.csv"), folder.join("body.svg"));
    let (csv_word, svg_word) = (csv.display().to_string(), svg.display().to_string());
    let words = ["--json", "--csv", &csv_word, "--chart", &svg_word];
    let json: Value = serde_json::from_str(&done(&[&ASKED[..], &words].concat())).unwrap();
    assert_eq!(json["schema"], "stillair/body");
    assert_eq!((&json["notice"], &json["evidence"]), (&NOTICE.into(), &EVIDENCE.into()));
    let (csv, svg) = (fs::read_to_string(csv).unwrap(), fs::read_to_string(svg).unwrap());
    assert!(csv.contains(EVIDENCE) && csv.contains(NOTICE));
    assert!(flat(&svg).contains("foretells no manikin"), "{svg}");
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{value}"));
    for (fire, duration) in json["fires"].as_array().unwrap().iter().zip([4.0, 6.0, 8.0]) {
        assert_eq!(number(&fire["for_s"]), duration);
        // the panels' own shares, by their shares of the body, are the whole
        let panels = json["panels"].as_array().unwrap().iter();
        let parts = panels.zip(fire["panels"].as_array().unwrap());
        let sum: f64 = parts
            .map(|(on, burnt)| {
                0.01 * number(&on["of_body_pct"]) * number(&burnt["second_degree_pct"])
            })
            .sum();
        assert!((sum - number(&fire["second_degree_of_body_pct"])).abs() < 1e-5);
        let last = fire["over_time"].as_array().unwrap().last().unwrap();
        let covered = number(&fire["second_degree_of_covered_pct"]["value"]);
        assert!((number(&last["second_degree_pct"]) - covered).abs() < 1e-5);
        let end = format!("{duration},all that is covered,{}", number(&last["time_s"]));
        assert!(csv.contains(&end), "{end}");
    }
}

#[test]
fn threads_do_not_matter() {
    let words = [&ASKED[..], &["--json", "--grams"]].concat();
    assert_eq!(stillair(&words, "1"), stillair(&words, "3"));
}

#[test]
fn options_that_do_not_fit_have_four_parts() {
    let folder = folder("body_refused");
    let own = |from: &str, to: &str| {
        let text = fs::read_to_string("materials/body.toml").unwrap();
        assert!(text.contains(from), "{from}");
        let file = folder.join("own.toml");
        fs::write(&file, text.replacen(from, to, 1)).unwrap();
        file.display().to_string()
    };
    let refused = |words: &[&str], part: &str| {
        let words = [&["body", "refuelling-coverall"], words].concat();
        let (out, said, code) = stillair(&words, "2");
        assert_eq!((code, out.as_str()), (1, ""), "{said}");
        for part in ["error: ", "expected: ", "mend: ", part] {
            assert!(flat(&said).contains(part), "{part}: {said}");
        }
    };
    refused(&["--for", "61"], "a flame of 61 s is longer than the run of manikin-84");
    refused(&["--for", "1,2,3,4,5,6"], "6 fires are asked for at once");
    refused(&["--exposure", "flame-80"], "flame-80 does not say when its flame is taken away");
    let file = own("\"sleeve\", \"elbow\"", "\"sleeve\"");
    refused(&["--body", &file], "panel `elbow` lies at the elbow, which is on no region");
    let file = own("place = \"shin\"", "place = \"knee\"");
    refused(&["--body", &file], "air `knee` is there twice");
    refused(&["--body", "nowhere.toml"], "there is no such file");
}
