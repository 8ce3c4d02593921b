//! Claim: every term of the glossary is told in plain words with its source, and the command that it offers runs.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, refused};

#[test]
fn every_term_fits_and_its_command_runs() {
    let all: Value = serde_json::from_str(&done(&["explain", "--json"])).unwrap();
    assert_eq!(all["schema"], "stillair/glossary");
    let terms = all["terms"].as_array().unwrap();
    assert!(terms.len() >= 30);
    let mut commands = BTreeSet::new();
    for term in terms {
        let text = done(&["explain", term["name"].as_str().unwrap()]);
        fits_80_columns(&text);
        assert!(text.contains("Screening model only."), "{text}");
        commands.insert(term["try"].as_str().unwrap().to_owned());
    }
    for command in commands {
        let words: Vec<&str> = command.split_whitespace().skip(1).collect();
        done(&words);
    }
}

#[test]
fn terms_are_found_by_any_of_their_words_whatever_the_capitals() {
    let hti = done(&["explain", "hti24"]);
    assert!(hti.contains("24 K warmer"), "{hti}");
    assert_eq!(done(&["explain", "heat", "transfer", "index"]), hti);
    assert!(done(&["explain", "Henriques"]).contains("burn integral"));
    fits_80_columns(&done(&["explain"]));
}

#[test]
fn the_measured_conversions_of_the_glossary_are_those_of_the_program() {
    // 1 cal is 4.184 J. Source: ISO 80000-5, thermochemical calorie (memory).
    assert!(done(&["explain", "TPP"]).contains("41.84 kJ/m²"));
    // ISO 9151:2016: the disc's mass and size, as on the shelf
    assert!(done(&["explain", "copper disc"]).contains("18 g, 40 mm"));
}

#[test]
fn a_term_that_is_not_there_is_refused_with_the_nearest() {
    refused(&["explain", "HTI42"], 1, &["no such term is explained", "did you mean", "HTI24"]);
    refused(&["explain", "zzzzzzzz"], 1, &["see `stillair explain` for all of them"]);
}
