//! Claim: no view and no command turns units by a factor of its own: they stand in `physics::units`.

use std::collections::BTreeMap;

use crate::source::{Source, all};

/// Powers of ten that turn a unit.
const FACTORS: [&str; 9] =
    ["1e3", "1e-3", "1e4", "1e-4", "1e6", "1e-6", "100.0", "1000.0", "0.001"];
/// Floors that speak in other units than SI.
const FLOORS: [&str; 3] = ["report", "chart", "cli"];
/// Files that still have factors, and how many: the list only shrinks.
const STILL: &str = include_str!("factors.txt");

/// How many factors a file has, for each file of those floors that has any.
fn factors(sources: &[Source]) -> BTreeMap<String, usize> {
    let is_number = |c: char| c.is_ascii_alphanumeric() || c == '.' || c == '_';
    let of = |source: &Source| {
        // the minus of an exponent belongs to its number
        let code = source.code.replace("e-", "e−");
        let tokens = code.split(|c: char| !(is_number(c) || c == '−'));
        tokens.filter(|token| FACTORS.contains(&token.replace('−', "-").as_str())).count()
    };
    let own = sources.iter().filter(|source| FLOORS.contains(&source.floor()));
    own.map(|source| (source.path.clone(), of(source))).filter(|(_, n)| *n > 0).collect()
}

/// Files with more factors than they are allowed.
fn beyond(found: &BTreeMap<String, usize>, allowed: &str) -> Vec<String> {
    let allowed: BTreeMap<&str, usize> = allowed
        .lines()
        .filter_map(|line| line.split_once(' '))
        .map(|(path, n)| (path, n.parse().expect("a file and how many factors it has")))
        .collect();
    let most = |path: &str| allowed.get(path).copied().unwrap_or(0);
    let more = found.iter().filter(|(path, n)| **n > most(path));
    more.map(|(path, n)| format!("{path}: {n} factors, at most {}", most(path))).collect()
}

#[test]
fn units_are_turned_by_their_quantity_alone() {
    let found = factors(&all());
    let beyond = beyond(&found, STILL);
    let mend = "take the Quantity of physics::units";
    assert!(beyond.is_empty(), "{mend}\n{}", beyond.join("\n"));
    let now: String = found.iter().map(|(path, n)| format!("{path} {n}\n")).collect();
    if std::env::var_os("WRITE_EXPECTED").is_some() {
        std::fs::write("tests/house/factors.txt", &now).unwrap();
    }
}

#[test]
fn the_rule_complains() {
    let of = |path: &str, text: &str| factors(&[Source::new(path, text)]);
    let bad = of("src/report/a.rs", "fn f(x: f64) -> f64 { 1e-3 * x + 100.0 * x } // 1e3");
    assert_eq!(bad["src/report/a.rs"], 2);
    assert_eq!(beyond(&bad, "").len(), 1);
    assert_eq!(beyond(&bad, "src/report/a.rs 1").len(), 1);
    assert!(beyond(&bad, "src/report/a.rs 2").is_empty());
    assert!(of("src/report/a.rs", "let x = 1e-9 + y1e3 + 5.0 - 3;").is_empty());
    assert!(of("src/solver/a.rs", "let x = 1e-3 * 2.0;").is_empty());
}
