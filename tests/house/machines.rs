//! Claim: a figure has the same bits on any machine: what is computed takes exponentials, powers and the like
//! from `libm`, whose code is the same everywhere, never from the platform's library, whose last digits differ
//! from one release and one processor to the next.

use crate::source::{Source, holds};

/// Functions of a number that the platform's library answers.
const PLATFORM: [&str; 24] = [
    "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powf", "cbrt", "hypot", "sin",
    "cos", "tan", "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "gamma",
    "asinh",
];
/// Floors that compute.
const FLOORS: [&str; 7] = ["physics", "garment", "shelf", "solver", "bench", "study", "evidence"];
/// Where the functions of those names are packs' own, and where closed forms are held against the program.
const OTHERS: [&str; 3] =
    ["src/solver/pair/", "src/solver/transcendental.rs", "src/evidence/verify/"];

fn complaints(sources: &[Source]) -> Vec<String> {
    let computes = |source: &&Source| {
        FLOORS.contains(&source.floor()) && !OTHERS.iter().any(|path| source.path.starts_with(path))
    };
    let of = |source: &Source| {
        let path = source.path.clone();
        let code = source.code.clone();
        let used = PLATFORM.into_iter().filter(move |name| {
            let called = [format!(".{name}("), format!("f64::{name}")];
            called.iter().any(|call| {
                code.match_indices(call.as_str()).any(|(i, _)| {
                    let next = code[i + call.len()..].chars().next();
                    call.ends_with('(') || !next.is_some_and(|c| c.is_alphanumeric() || c == '_')
                })
            })
        });
        used.map(move |name| format!("{path}: `{name}` of the platform; take that of `libm`"))
            .collect::<Vec<_>>()
    };
    sources.iter().filter(computes).flat_map(of).collect()
}

#[test]
fn what_is_computed_has_the_same_bits_everywhere() {
    holds(complaints);
}

#[test]
fn the_rule_complains() {
    let of = |path: &str, text: &str| complaints(&[Source::new(path, text)]).len();
    assert_eq!(of("src/physics/a.rs", "fn f(x: f64) -> f64 { x.exp() + x.map(f64::ln) }"), 2);
    assert_eq!(
        of("src/physics/a.rs", "fn f(x: f64) -> f64 { libm::exp(x) + f64::ln_of(x) } // x.exp()"),
        0
    );
    assert_eq!(of("src/solver/pair/a.rs", "fn f(x: Pack) -> Pack { x.exp() }"), 0);
    assert_eq!(of("src/chart/a.rs", "fn f(x: f64) -> f64 { x.log10() }"), 0);
}
