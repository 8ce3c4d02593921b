//! Claim: the lightest layups that keep a share burnt are those that trying all finds.
//! Source: every combination of a small suit's layups put on the body by itself, one by one.

use std::path::Path;

use serde_json::Value;
use stillair::garment::suit::Suit;
use stillair::shelf::materials::Shelf;
use stillair::shelf::suit::body_map::built_in_body_map;
use stillair::shelf::suit::read::read_suit_text;
use stillair::study::body::ask::burn_body;
use stillair::study::body::keep::{Kept, keep_share};
use stillair::study::body::worn::Terms;
use stillair::study::suit::panel_mass;

use crate::flat::flat;
use crate::run::{done, stillair};

const DURATIONS: [f64; 2] = [6.0, 12.0];

/// Three panels, two of them with two alternatives, of two layups at most; invented for the test.
fn suit() -> Suit {
    let panel = |name: &str, place: &str, share: f64, layup: &str, others: &str| {
        format!(
            "[[panel]]\nname = \"{name}\"\nplace = \"{place}\"\nside = \"both\"\nshare_pct = {share}\n\
             layup = \"{layup}\"\nalternatives = [{others}]\n"
        )
    };
    let text = format!(
        "name = \"small\"\ntarget = \"fia-8856-2018-overall\"\nlayups_at_most = 2\n[body]\nmass_kg = 78\n\
         height_cm = 178\n{}{}{}",
        panel(
            "trunk",
            "trunk",
            32.0,
            "two-ply-outer-knit",
            "\"single-outer-195\", \"three-ply-light\""
        ),
        panel(
            "sleeves",
            "sleeve",
            14.0,
            "single-outer-195",
            "\"two-ply-outer-knit\", \"three-ply-light\""
        ),
        panel("thighs", "thigh", 19.0, "two-ply-outer-knit", "\"single-outer-195\""),
    );
    read_suit_text(&text, Path::new("small.toml"), &Shelf::built_in().unwrap())
        .unwrap_or_else(|faults| panic!("{faults}"))
}

fn with_terms<T>(of: impl FnOnce(&Terms<'_>) -> T) -> T {
    let shelf = Shelf::built_in().unwrap();
    of(&Terms::plain(
        (shelf.exposure("manikin-84").unwrap(), &DURATIONS),
        shelf.skins().next().unwrap(),
        &built_in_body_map().unwrap(),
    ))
}

fn mass(suit: &Suit) -> f64 {
    let of = |panel| panel_mass(panel, &panel.layup, suit.area(panel, 1.0)).total();
    suit.panels.iter().map(of).sum()
}

/// Every combination of layups: its mass, its number of different layups, what it burns after each fire.
fn all(suit: &Suit) -> Vec<(f64, usize, Vec<f64>)> {
    let n: usize = suit.panels.iter().map(|panel| 1 + panel.alternatives.len()).product();
    let one = |mut code: usize| {
        let mut worn = suit.clone();
        for panel in &mut worn.panels {
            let pick = code % (1 + panel.alternatives.len());
            code /= 1 + panel.alternatives.len();
            if pick > 0 {
                panel.layup = panel.alternatives[pick - 1].clone();
            }
        }
        let mut names: Vec<&str> = worn.panels.iter().map(|p| p.layup.name.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        let study = with_terms(|terms| burn_body(&worn, terms)).unwrap();
        let burnt = study.fires.iter().map(|fire| fire.covered[1]).collect();
        (mass(&worn), names.len(), burnt)
    };
    (0..n).map(one).collect()
}

#[test]
fn the_search_finds_what_trying_all_does() {
    let suit = suit();
    let all = all(&suit);
    let (mut n_none, mut masses) = (0, Vec::new());
    for at_most in [0.0, 0.02, 0.05, 0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 0.95, 1.0] {
        let keeps = |burnt: &[f64]| burnt.iter().all(|share| *share <= at_most + 1e-12);
        let allowed = all.iter().filter(|(_, n_layups, burnt)| *n_layups <= 2 && keeps(burnt));
        let least = allowed.map(|(mass, ..)| *mass).fold(f64::INFINITY, f64::min);
        let kept: Kept = with_terms(|terms| keep_share(&suit, terms, at_most)).unwrap();
        let Some(found) = &kept.found else {
            assert!(least.is_infinite(), "{at_most}: nothing found, tried all: {least}");
            n_none += 1;
            continue;
        };
        assert!((found.mass - least).abs() < 1e-9, "{at_most}: {} {least}", found.mass);
        for fire in 0..DURATIONS.len() {
            assert!(kept.share(found, fire) <= at_most + 1e-9);
            assert!(kept.error(found, fire) >= 0.0);
        }
        masses.push(found.mass);
    }
    // the less may burn, the heavier; and the shares tried are worth trying
    assert!(masses.windows(2).all(|pair| pair[1] <= pair[0]), "{masses:?}");
    masses.dedup();
    assert!(n_none > 0 && masses.len() >= 3, "{n_none} without, {masses:?}");
}

/// What the search says of the suit as it is is what the suit's own answer is.
#[test]
fn as_it_is_is_the_answer_without_a_search() {
    let suit = suit();
    let kept = with_terms(|terms| keep_share(&suit, terms, 0.5)).unwrap();
    let study = with_terms(|terms| burn_body(&suit, terms)).unwrap();
    let own = kept.task.as_it_is();
    assert!((own.mass - mass(&suit)).abs() < 1e-12);
    for (k, fire) in study.fires.iter().enumerate() {
        assert!((kept.share(&own, k) - fire.covered[1]).abs() < 1e-12);
        assert!(kept.error(&own, k) >= fire.error[1] - 1e-12);
    }
}

#[test]
fn text_and_json_tell_the_search() {
    let words = ["body", "refuelling-coverall", "--for", "4,8", "--keep", "25"];
    let out = done(&words);
    let all = flat(&out);
    assert!(all.contains("At least grams with at most 25.0 % second degree"), "{out}");
    assert!(out.lines().all(|line| line.chars().count() <= 80), "{out}");
    let json: Value = serde_json::from_str(&done(&[&words[..], &["--json"]].concat())).unwrap();
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{value}"));
    let [own, lightest] = ["as_it_is", "lightest"].map(|key| &json["keep"][key]);
    assert!(number(&lightest["mass_g"]) <= number(&own["mass_g"]));
    let layups = lightest["layups"].as_array().unwrap();
    let sum: f64 = layups.iter().map(|panel| number(&panel["mass_g"])).sum();
    assert!((sum - number(&lightest["mass_g"])).abs() < 1e-6 * sum);
    for fire in lightest["fires"].as_array().unwrap() {
        assert!(number(&fire["second_degree_of_covered_pct"]["value"]) <= 25.0 + 1e-9);
    }
    let (_, said, code) = stillair(&["body", "refuelling-coverall", "--keep", "-1"], "2");
    assert!(code == 2, "{said}");
    let none = done(&["body", "refuelling-coverall", "--for", "8", "--keep", "1"]);
    assert!(flat(&none).contains("finds none"), "{none}");
}
