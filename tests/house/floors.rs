//! Claim: a floor uses only those below it, never its sibling.

use crate::source::{Source, holds};

/// Floors with their height; two at one height are siblings.
const FLOORS: [(&str, u8); 11] = [
    ("physics", 0),
    ("garment", 1),
    ("solver", 1),
    ("shelf", 2),
    ("bench", 3),
    ("study", 4),
    ("evidence", 5),
    ("chart", 6),
    ("report", 6),
    ("desk", 7),
    ("cli", 8),
];
/// A floor that does not know one below it.
const STRANGERS: [(&str, &str); 1] = [("shelf", "solver")];

fn height(floor: &str) -> Option<u8> {
    FLOORS.iter().find(|(name, _)| *name == floor).map(|(_, height)| *height)
}

fn complaints(sources: &[Source]) -> Vec<String> {
    let mut all = Vec::new();
    for source in sources.iter().filter(|s| !matches!(s.floor(), "lib" | "main")) {
        let own = source.floor();
        let Some(own_height) = height(own) else {
            all.push(format!("{}: `{own}` is no floor of the house", source.path));
            continue;
        };
        for used in floors_used(&source.code) {
            let is_below = height(&used).is_some_and(|h| h < own_height);
            let fine = used == own || is_below && !STRANGERS.contains(&(own, &used));
            if !fine {
                all.push(format!("{}: floor {own} uses {used}", source.path));
            }
        }
        if source.path == format!("src/{own}/mod.rs") && source.code.contains("super::") {
            all.push(format!("{}: reaches out of its floor by super::", source.path));
        }
    }
    all
}

/// Modules named right after `crate::` or `stillair::`, in a path or in a group.
fn floors_used(code: &str) -> Vec<String> {
    let mut used = Vec::new();
    for root in ["crate::", "stillair::"] {
        for (i, _) in code.match_indices(root) {
            let rest = &code[i + root.len()..];
            match rest.strip_prefix('{') {
                Some(group) => used.extend(group_heads(group)),
                None => used.extend(head(rest)),
            }
        }
    }
    // A constant or function of the crate's root is no floor.
    used.retain(|name| name.chars().all(|c| c.is_lowercase() || c == '_'));
    used
}

fn head(path: &str) -> Option<String> {
    let name: String = path.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    (!name.is_empty()).then_some(name)
}

fn group_heads(group: &str) -> Vec<String> {
    let (mut depth, mut item, mut heads) = (0, String::new(), Vec::new());
    for letter in group.chars() {
        match letter {
            '}' if depth == 0 => break,
            ',' if depth == 0 => heads.extend(head(std::mem::take(&mut item).trim())),
            _ => {
                depth += i32::from(letter == '{') - i32::from(letter == '}');
                item.push(letter);
            }
        }
    }
    heads.extend(head(item.trim()));
    heads
}

#[test]
fn floors_use_only_those_below() {
    holds(complaints);
}

#[test]
fn the_rule_complains() {
    for (path, text) in [
        ("src/physics/air.rs", "use crate::garment::layup::Layup;"),
        ("src/solver/step.rs", "use crate::garment::layup::Layup;"),
        ("src/garment/suit.rs", "use crate::solver::grid;"),
        ("src/garment/band.rs", "use crate::shelf::materials::Shelf;"),
        ("src/shelf/load.rs", "use crate::solver::grid;"),
        ("src/bench/disc.rs", "use crate::{physics::air, report::text};"),
        ("src/chart/lines.rs", "fn f() { crate::report::number::fixed(1.0, 2); }"),
        ("src/study/odds.rs", "use stillair::cli::run;"),
        ("src/study/odds.rs", "use crate::evidence::measured::Measured;"),
        ("src/report/text.rs", "use crate::desk::route::Desk;"),
        ("src/desk/serve.rs", "use crate::cli::stop;"),
        ("src/tools/odds.rs", ""),
        ("src/solver/mod.rs", "use super::bench;"),
    ] {
        assert_eq!(complaints(&[Source::new(path, text)]).len(), 1, "{path}: {text}");
    }
    let fine = "use crate::NOTICE; use crate::{physics::air::{k, mu}, bench::disc};";
    assert!(complaints(&[Source::new("src/report/text.rs", fine)]).is_empty());
}
