//! Claim: ratios and bands that `verify` prints are what a few lines of Python make of the same
//! measurements; every row of the published tables is shown; what lies furthest off comes first.
//! Source: `tests/reference/measured_check.py`, standard library alone, run where `python3` is there; the
//! rule by itself is held against scipy beside it (`evidence::measured::support`).
//! Tolerance: seven digits of the CSV.

use std::fs;
use std::path::PathBuf;
use std::process::Command;
use std::sync::LazyLock;

use serde_json::Value;

use crate::command::program::{done, done_once, folder};
use crate::flat::flat;

/// What one run of the measured cases told and wrote.
pub struct Measured {
    /// As it was printed.
    pub text: String,
    pub json: Value,
    /// The predictions.
    pub csv: PathBuf,
    pub page: PathBuf,
    pub chart: PathBuf,
}

/// One run for all tests: it takes long.
pub static RUN: LazyLock<Measured> = LazyLock::new(|| {
    let folder = folder("measured");
    let [csv, page, chart] =
        ["predictions.csv", "page.html", "parity.svg"].map(|name| folder.join(name));
    let [c, p, s] = [&csv, &page, &chart].map(|path| path.to_str().unwrap());
    let only = ["verify", "--json", "--only", "measured"];
    let text = done(&[&only[..], &["--csv", c, "--report", p, "--chart", s]].concat());
    let json = serde_json::from_str(&text).expect("JSON");
    Measured { text, json, csv, page, chart }
});

fn list<'j>(json: &'j Value, key: &str) -> &'j Vec<Value> {
    json["measured"][key].as_array().unwrap_or_else(|| panic!("{key}"))
}

fn near(value: &Value, cell: &str, what: &str) {
    let (value, cell) = (value.as_f64().expect(what), cell.parse::<f64>().expect(what));
    assert!((value / cell - 1.0).abs() < 2e-6, "{what}: {value}, Python {cell}");
}

#[test]
fn python_finds_the_same_ratios_and_bands() {
    let Measured { csv: path, json, .. } = &*RUN;
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/measured_check.py");
    let Ok(out) = Command::new("python3").arg(script).arg(path).output() else {
        eprintln!("python3 is not there: the comparison is left out");
        return;
    };
    let said = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let rows: Vec<Vec<String>> = csv::Reader::from_reader(said.as_bytes())
        .records()
        .map(|row| row.expect("a row").iter().map(String::from).collect())
        .collect();
    let row = |what: &str| {
        let found = rows.iter().find(|row| row[0] == what);
        found.unwrap_or_else(|| panic!("Python has no {what}:\n{said}"))
    };
    let mut n_ratios = 0;
    for case in list(json, "comparisons").iter().chain(list(json, "derived")) {
        let name = case["case"].as_str().expect("a name");
        if case["layers"] != "material" {
            near(&case["ratio"], &row(name)[2], name);
            n_ratios += 1;
        }
    }
    // 24 times and 8 dead times of felts, 5 and 4 figures of the suit, 33 ratios, 22 of skin, 5 bands,
    // and 8 of felts anchored to one another
    let n_anchored = if cfg!(feature = "lapack") { 8 } else { 0 };
    assert_eq!(n_ratios, 24 + 8 + 9 + 33 + 22 + 5 + n_anchored);
    let bands = list(json, "bands");
    let known: Vec<&Value> = bands.iter().filter(|band| band["n"] != 0).collect();
    assert_eq!((known.len(), rows.iter().filter(|row| row[0].contains(": ")).count()), (7, 7));
    for band in known {
        let what =
            format!("{}: {}", band["layers"].as_str().unwrap(), band["figure"].as_str().unwrap());
        let row = row(&what);
        assert_eq!(band["n"].to_string(), row[1], "{what}");
        near(&band["ratios"][0], &row[2], &what);
        near(&band["ratios"][1], &row[3], &what);
        near(&band["factors"][0], &row[4], &what);
        near(&band["factors"][1], &row[5], &what);
        let rule = if band["n"].as_u64() < Some(5) { "judgement" } else { "5 % and 95 % limits" };
        assert_eq!(band["rule"], rule, "{what}");
    }
}

#[test]
fn every_row_of_the_table_is_shown_and_the_worst_comes_first() {
    let Measured { csv: path, json, .. } = &*RUN;
    let table = fs::read_to_string("tests/reference/measured_bench.csv").expect("the table");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    let written = fs::read_to_string(path).expect("the predictions");
    let names: Vec<&str> = list(json, "comparisons")
        .iter()
        .chain(list(json, "derived"))
        .map(|case| case["case"].as_str().expect("a name"))
        .collect();
    let mut n = 0;
    for row in reader.records().map(|row| row.expect("a row")) {
        let felt = !row[3].is_empty();
        let figures: &[&str] = match felt {
            true => &["HTI12", "HTI24", "RHTI24 − RHTI12", "dead time, RHTI", "RHTI24/HTI24"],
            false => &["RHTI24/HTI24", "first/second, HTI", "first/second, RHTI"],
        };
        for figure in figures {
            let name = format!("{} {figure}", &row[0]);
            assert!(names.contains(&name.as_str()), "{name}");
            assert!(written.contains(&name), "{name} in the CSV");
        }
        n += 1;
    }
    assert_eq!(n, 10);
    for key in ["comparisons", "derived"] {
        let of_class = list(json, key).iter().filter(|case| case["class"] == "interval");
        let off: Vec<f64> = of_class
            .map(|case| (1.0 + 0.01 * case["difference_pct"].as_f64().unwrap()).ln().abs())
            .collect();
        assert!(off.len() > 30 && off.windows(2).all(|pair| pair[0] >= pair[1]), "{key}: {off:?}");
    }
}

/// The column of differences may not be what its header says, and the text tells so.
#[test]
fn doubts_and_causes_are_told() {
    let text = done_once(&["verify", "--only", "measured"]);
    let text = flat(&text);
    for part in [
        "not what its header says",
        "kept aside for a blind check",
        "were not seen",
        "judgement",
        "late rise under radiation",
        "goal 15 %: ",
    ] {
        assert!(text.contains(part), "{part}");
    }
    let bands = text.find("Bands that the measured cases support").expect("the bands");
    assert!(bands < text.find("complete: 22 cases").expect("skin"), "fabric comes before skin");
}
