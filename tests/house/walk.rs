//! Claim: from `main` to the line of a gap's flux a reader opens seven files, and one that lists the commands; each
//! calls what the next one defines, and DEVELOPERS.md has them in that order.

use crate::source::{Source, all, holds};

/// The files in order, with what each calls of the next; the last with the line itself.
const WALK: [(&str, &str); 8] = [
    ("src/main.rs", "cli::run("),
    ("src/cli/mod.rs", "expose::run("),
    ("src/cli/expose.rs", "answer("),
    ("src/study/answer.rs", "expose_seen("),
    ("src/bench/expose.rs", "march("),
    ("src/solver/march.rs", "state.attempt("),
    ("src/solver/state/attempt.rs", "lanes.walk::<W>("),
    ("src/solver/evaluate.rs", "q: value * diff + sent *"),
];
/// Most files to open beside the list of commands.
const N_MOST: usize = 7;

/// Where a step of the walk leads nowhere.
fn astray(sources: &[Source]) -> Vec<String> {
    let text = |path: &str| sources.iter().find(|own| own.path == path).map_or("", |own| &own.code);
    let mut found = Vec::new();
    for (i, (path, call)) in WALK.iter().enumerate() {
        if !text(path).contains(call) {
            found.push(format!("{path}: `{call}` is not there"));
        }
        let Some((next, _)) = WALK.get(i + 1) else { break };
        let name = call.rsplit(['.', ':']).find(|word| word.starts_with(char::is_lowercase));
        let name = name.unwrap_or(call).trim_end_matches('(');
        let defined = [format!("fn {name}("), format!("fn {name}<")];
        if !defined.iter().any(|words| text(next).contains(words.as_str())) {
            found.push(format!("{next}: `{name}` is not defined there"));
        }
    }
    found
}

#[test]
fn each_file_calls_what_the_next_one_defines() {
    holds(astray);
    assert!(WALK.len() - 1 <= N_MOST);
}

#[test]
fn the_guide_for_developers_walks_the_same_way() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/DEVELOPERS.md");
    let text = std::fs::read_to_string(path).unwrap();
    let walk = text.split("## A walk").nth(1).unwrap().split("\n## ").next().unwrap();
    let mut from = 0;
    for (path, _) in WALK {
        let name = path.trim_start_matches("src/");
        let at = walk[from..].find(&format!("`{name}`"));
        from += at.unwrap_or_else(|| panic!("{name} is not named, or not in its place"));
    }
}

#[test]
fn the_rule_complains() {
    let all = all();
    let without = |path: &str, words: &str| -> Vec<Source> {
        let changed = |own: &Source| match own.path == path {
            true => Source::new(path, &own.raw.replace(words, "gone")),
            false => Source::new(&own.path, &own.raw),
        };
        all.iter().map(changed).collect()
    };
    for (path, call) in WALK {
        assert!(!astray(&without(path, call)).is_empty(), "{path}");
    }
    assert!(!astray(&without("src/solver/evaluate.rs", "fn walk<")).is_empty());
}
