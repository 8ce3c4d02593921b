//! Claim: no view and no command turns units by a factor of its own: they stand in `physics::units`.

use crate::source::{Source, all};

/// Powers of ten that turn a unit.
const FACTORS: [&str; 9] =
    ["1e3", "1e-3", "1e4", "1e-4", "1e6", "1e-6", "100.0", "1000.0", "0.001"];
/// Floors that speak in other units than SI.
const FLOORS: [&str; 3] = ["report", "chart", "cli"];

/// Factors by which those floors multiply or divide, or that they hand on behind what they turn; a power of
/// ten alone is a bound or a place.
fn factors(sources: &[Source]) -> Vec<String> {
    let is_number = |c: char| c.is_ascii_alphanumeric() || "._−".contains(c);
    let of = |source: &Source| {
        // the minus of an exponent belongs to its number
        let code = source.code.replace("e-", "e−");
        let mut all = Vec::new();
        let mut from = 0;
        while let Some(start) = code[from..].find(is_number).map(|at| from + at) {
            let end = code[start..].find(|c| !is_number(c)).map_or(code.len(), |n| start + n);
            let (before, behind) = (code[..start].trim_end(), code[end..].trim_start());
            let turns = before.ends_with(['*', '/'])
                || behind.starts_with(['*', '/'])
                || before.ends_with(',') && behind.starts_with(')');
            let factor = code[start..end].replace('−', "-");
            if turns && FACTORS.contains(&factor.as_str()) {
                let line = code[..start].matches('\n').count() + 1;
                all.push(format!("{}:{line}: {factor}", source.path));
            }
            from = end;
        }
        all
    };
    sources.iter().filter(|source| FLOORS.contains(&source.floor())).flat_map(of).collect()
}

#[test]
fn units_are_turned_by_their_quantity_alone() {
    let found = factors(&all());
    assert!(found.is_empty(), "take the Quantity of physics::units\n{}", found.join("\n"));
}

#[test]
fn the_rule_complains() {
    let of = |path: &str, text: &str| factors(&[Source::new(path, text)]).len();
    let bad = "fn f(x: f64) -> f64 { 1e-3 * x + x / 100.0 + turned(x, 1e3) } // 1e3 * x";
    assert_eq!(of("src/report/a.rs", bad), 3);
    let good = "let x = 1e-9 * y1e3 * 5.0 - 3.max(1e-3) + 1e-6; let y = [0.0, 100.0];";
    assert_eq!(of("src/report/a.rs", good), 0);
    assert_eq!(of("src/solver/a.rs", "let x = 1e-3 * 2.0;"), 0);
}
