//! Claim: views compute nothing: `report` and `chart` take records and constants of `study` and `evidence`, no function.
//! What a record says of itself is a method of it.

use std::collections::BTreeSet;

use crate::circles::paths;
use crate::source::{Source, all};

/// Functions that no record can hold, each with its reason.
const ALLOWED: [&str; 2] = [
    // which way a layup lies when it is exposed: a word, asked of the layup alone
    "study::answer::stack",
    // the plies at a place of a cell: what is drawn, no figure of it
    "study::quilt::lay::layup_at",
];

/// Functions of those floors that a view names.
fn computed(sources: &[Source]) -> Vec<String> {
    let modules: BTreeSet<String> = sources.iter().map(Source::module).collect();
    let is_function = |path: &String| {
        let (room, name) = path.rsplit_once("::").unwrap_or(("", path));
        let is_below = ["study", "evidence"].iter().any(|floor| room.starts_with(floor));
        is_below && modules.contains(room) && name != "self" && name.starts_with(char::is_lowercase)
    };
    let views = sources.iter().filter(|source| ["report", "chart"].contains(&source.floor()));
    let of = |source: &Source| {
        let named = paths(&source.code, &source.module()).into_iter();
        let found = named.filter(is_function).filter(|path| !modules.contains(path));
        let found: BTreeSet<String> = found.collect();
        let path = source.path.clone();
        found.into_iter().map(move |name| (path.clone(), name)).collect::<Vec<_>>()
    };
    let found = views.flat_map(of).filter(|(_, name)| !ALLOWED.contains(&name.as_str()));
    found.map(|(path, name)| format!("{path}: {name}")).collect()
}

#[test]
fn views_call_no_function_of_a_study() {
    let found = computed(&all());
    assert!(found.is_empty(), "make it a field or a method of the record\n{}", found.join("\n"));
}

#[test]
fn the_rule_complains() {
    let study = Source::new("src/study/gap.rs", "");
    let of = |path: &str, text: &str| {
        let study = Source::new(&study.path, "");
        computed(&[study, Source::new(path, text)])
    };
    let bad = "use crate::study::gap::{GapSweep, longest}; fn f() { longest(); }";
    assert_eq!(of("src/report/a.rs", bad), ["src/report/a.rs: study::gap::longest"]);
    assert_eq!(of("src/chart/a.rs", bad).len(), 1);
    assert!(of("src/cli/a.rs", bad).is_empty());
    let good = "use crate::study::gap::{self, GAIN_LEAST, GapSweep};";
    assert!(of("src/report/a.rs", good).is_empty());
}
