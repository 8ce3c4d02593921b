//! Claim: `verify` runs the checks, says of each whether its bound is kept, and hides nothing.

use std::fs;

use stillair::NOTICE;

use crate::command::measured::RUN;
use crate::command::program::{
    command, done, done_once, fits_80_columns, folder, json, run, stillair,
};
use crate::flat::flat;

#[test]
fn a_group_is_told_within_80_columns() {
    let text = done(&["verify", "--only", "standards"]);
    fits_80_columns(&text);
    let text = flat(&text);
    for part in ["Standards: all kept of", "expected", "computed", "bound", "ISO 9151", NOTICE] {
        assert!(text.contains(part), "{part} is missing:\n{text}");
    }
    assert!(!text.contains("Analytic") && !text.contains("Measured"));
    let all = done(&["verify", "--only", "standards", "--all"]);
    fits_80_columns(&all);
    assert!(all.lines().count() > text.lines().count() + 40, "every case is shown");
    for row in ["3935 W/m²", "omega_ws_48", "cp_copper_200"] {
        assert!(flat(&all).contains(row), "{row}");
    }
}

#[test]
fn measured_classes_have_their_counts_and_what_is_wrong_is_said() {
    let text = done_once(&["verify", "--only", "measured"]);
    fits_80_columns(&text);
    let text = flat(&text);
    for part in [
        "Measured, complete: 22 cases",
        "0 fabric cases",
        "Measured, interval:",
        "Measured, band from memory: 5 cases",
        "never a validation",
        "Not met in full",
        "opposite",
        "from memory",
        "common practice, no source",
        "on interval cases, the only ones of fabric",
        NOTICE,
    ] {
        assert!(text.contains(part), "{part} is missing:\n{text}");
    }
    for word in ["www", "http", ".com"] {
        assert!(!text.contains(word), "{word}");
    }
}

#[test]
fn json_and_page_hold_every_case_and_the_notice() {
    let standards = json(&["verify", "--json", "--only", "standards"]);
    let page = fs::read_to_string(&RUN.page).unwrap();
    for (json, least) in [(&standards, 40), (&RUN.json, 0)] {
        let named = (&json["schema"], &json["schema_version"]);
        assert_eq!(named, (&"stillair/verify".into(), &1.into()));
        assert_eq!(json["notice"], NOTICE);
        assert_eq!(json["n_broken"], 0);
        let cases = json["cases"].as_array().unwrap();
        assert_eq!(cases.len() as u64, json["n_bounds"].as_u64().unwrap());
        assert!(cases.len() >= least);
        assert!(cases.iter().all(|case| case["bound_is"] == "kept" && case["expected"].is_f64()));
    }
    let comparisons = RUN.json["measured"]["comparisons"].as_array().unwrap();
    assert_eq!(comparisons.iter().filter(|c| c["class"] == "complete").count(), 22);
    assert_eq!(RUN.json["measured"]["n_complete_fabric"], 0);
    let path = folder("verify").join("page.html");
    done(&["verify", "--only", "standards", "--report", path.to_str().unwrap()]);
    let of_standards = fs::read_to_string(path).unwrap();
    let cases = standards["cases"].as_array().unwrap();
    let pages = cases.iter().map(|case| (case, &of_standards));
    for (case, page) in pages.chain(comparisons.iter().map(|case| (case, &page))) {
        let name = case["case"].as_str().unwrap();
        let escaped = name.replace('&', "&amp;").replace('<', "&lt;");
        assert!(page.contains(&escaped), "{name}");
    }
    assert_eq!(page.matches("<svg").count(), 3, "a chart for each class");
    assert!(page.contains(NOTICE) && page.contains("prefers-color-scheme: dark"));
    assert!(page.contains("@page { size: A4"));
    let outside = ["src=", "href=", "<script", "<link", "@import", "url("];
    for part in outside {
        // a drawing refers to its own parts alone
        let found = page.match_indices(part).filter(|(i, _)| !page[*i..].starts_with("url(#"));
        assert_eq!(found.count(), 0, "{part}");
    }
}

#[test]
fn the_same_bytes_whatever_the_threads() {
    let mut command = command(&["verify", "--only", "measured", "--json"]);
    let alone = run(command.env("RAYON_NUM_THREADS", "1")).out;
    assert_eq!(alone, RUN.text);
}

#[test]
fn a_wrong_group_or_file_is_refused() {
    let said = stillair(&["verify", "--only", "everything"]);
    assert_eq!(said.code, 2, "{}", said.err);
    assert!(said.err.contains("analytic"), "{}", said.err);
    let said = stillair(&["verify", "--report", "page.pdf"]);
    assert!(said.code == 2 && said.err.contains(".html"), "{}", said.err);
    let said = stillair(&["verify", "--only", "standards", "--report", "no/such/page.html"]);
    assert!(said.code == 1 && said.err.contains("no folder"), "{}", said.err);
}

#[test]
fn the_table_of_the_guide_is_current() {
    let text = done_once(&["verify", "--only", "measured"]);
    let from = text.find("How far predictions lie").expect("the table");
    let table = text[from..].split("\n\n").next().expect("a table");
    let page = fs::read_to_string("guide/trust.md").unwrap();
    assert!(page.contains(table), "put this into guide/trust.md:\n{table}");
}

#[test]
fn the_picture_of_the_readme_is_current() {
    let committed = fs::read_to_string("reports/parity.svg").expect("reports/parity.svg");
    assert_eq!(
        fs::read_to_string(&RUN.chart).unwrap(),
        committed,
        "draw it again, see DEVELOPERS.md"
    );
}
