//! Claim: no module uses another that, over any number of steps, uses it back.

use std::collections::{BTreeMap, BTreeSet};

use crate::source::{Source, all};

type Graph = BTreeMap<String, BTreeSet<String>>;

/// Which modules each module names in its code.
fn graph(sources: &[Source]) -> Graph {
    let modules: BTreeSet<String> = sources.iter().map(Source::module).collect();
    let mut graph = Graph::new();
    for source in sources.iter().filter(|s| !matches!(s.floor(), "lib" | "main")) {
        let own = source.module();
        let used =
            paths(&source.code, &own).into_iter().filter_map(|path| longest(&path, &modules));
        graph.insert(own.clone(), used.filter(|used| *used != own).collect());
    }
    graph
}

/// Every path in the code, from the crate's root.
pub fn paths(code: &str, own: &str) -> Vec<String> {
    // Groups hold blanks and line feeds after commas: they are joined before they are opened.
    let code = code.split_whitespace().collect::<Vec<_>>().join(" ");
    let code = code.replace(", ", ",").replace("{ ", "{").replace(" }", "}");
    let mut found = Vec::new();
    let tokens = code.split(|c: char| !(c.is_alphanumeric() || "_:{},".contains(c)));
    for token in tokens.filter(|token| token.contains("::")) {
        let paths = opened(token).into_iter().filter(|path| !path.ends_with("::"));
        found.extend(paths.map(|path| from_root(&path, own)));
    }
    found
}

/// `a::{b, c::{d}}` as `a::b` and `a::c::d`.
fn opened(token: &str) -> Vec<String> {
    let Some(brace) = token.find('{') else { return token.split(',').map(String::from).collect() };
    let head = token[..brace].rsplit(',').next().unwrap_or("");
    let (mut depth, mut item, mut items) = (0, String::new(), Vec::new());
    for letter in token[brace + 1..].chars() {
        match letter {
            '}' if depth == 0 => break,
            ',' if depth == 0 => items.push(std::mem::take(&mut item)),
            _ => {
                depth += i32::from(letter == '{') - i32::from(letter == '}');
                item.push(letter);
            }
        }
    }
    items.push(item);
    items.iter().flat_map(|item| opened(item)).map(|path| format!("{head}{path}")).collect()
}

fn from_root(path: &str, own: &str) -> String {
    if let Some(rest) = path.strip_prefix("crate::") {
        return rest.to_string();
    }
    let (mut base, mut rest) = (own.to_string(), path.strip_prefix("self::").unwrap_or(path));
    while let Some(further) = rest.strip_prefix("super::") {
        base = base.rsplit_once("::").map_or(String::new(), |(parent, _)| parent.to_string());
        rest = further;
    }
    if base.is_empty() { rest.to_string() } else { format!("{base}::{rest}") }
}

/// The longest beginning of a path that is a module.
fn longest(path: &str, modules: &BTreeSet<String>) -> Option<String> {
    let mut path = path.to_string();
    loop {
        if modules.contains(&path) {
            return Some(path);
        }
        path = path.rsplit_once("::")?.0.to_string();
    }
}

/// Every module that is used from `start` on, over any number of steps.
fn reached<'g>(graph: &'g Graph, start: &str) -> BTreeSet<&'g String> {
    let mut seen = BTreeSet::new();
    let mut open: Vec<&String> = graph.get(start).into_iter().flatten().collect();
    while let Some(at) = open.pop() {
        if seen.insert(at) {
            open.extend(graph.get(at).into_iter().flatten());
        }
    }
    seen
}

/// Every module that comes back to itself, with the modules it goes through at first.
fn circles(graph: &Graph) -> Vec<String> {
    let all: BTreeMap<&String, BTreeSet<&String>> =
        graph.keys().map(|module| (module, reached(graph, module))).collect();
    all.iter()
        .filter(|(module, seen)| seen.contains(*module))
        .map(|(module, seen)| {
            let back = seen.iter().filter(|m| all.get(*m).is_some_and(|s| s.contains(*module)));
            let back: Vec<&str> = back.map(|m| m.as_str()).filter(|m| m != module).collect();
            format!("{module} is in a circle with {}", back.join(", "))
        })
        .collect()
}

#[test]
fn no_module_is_in_a_circle() {
    let graph = graph(&all());
    let n_edges: usize = graph.values().map(BTreeSet::len).sum();
    assert!(n_edges > 50, "only {n_edges} uses found: the rule would check nothing");
    let found = circles(&graph);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_rule_complains() {
    let bad = |files: &[(&str, &str)]| {
        let sources: Vec<Source> = files.iter().map(|(p, t)| Source::new(p, t)).collect();
        !circles(&graph(&sources)).is_empty()
    };
    let back = ("src/chart/a.rs", "use crate::chart::b::B;");
    assert!(bad(&[back, ("src/chart/b.rs", "fn f() { super::a::g(); }")]));
    assert!(bad(&[back, ("src/chart/b.rs", "use crate::chart::{c::C, a::{A, Z}};")]));
    assert!(bad(&[
        back,
        ("src/chart/b.rs", "use super::c;\nfn f() { c::g() }"),
        ("src/chart/c.rs", "use crate::chart::a;\n use a::A;"),
    ]));
    assert!(bad(&[("src/chart/mod.rs", "pub use a::A;"), ("src/chart/a.rs", "use super::B;")]));
    assert!(!bad(&[back, ("src/chart/b.rs", "use crate::chart::c::C;"), ("src/chart/c.rs", "")]));
    let siblings = ("src/chart/mod.rs", "mod a;\nmod b;\nfn f() { a::g() }");
    assert!(!bad(&[siblings, ("src/chart/a.rs", "use super::{b, b::B};"), ("src/chart/b.rs", "")]));
    assert!(!bad(&[("src/chart/mod.rs", "mod a;\npub use a::A;"), ("src/chart/a.rs", "")]));
}
