//! Claim: frontier and shortlist are those of all layups compared with all others.
//! Source: brute force, written apart: layups from TOML text, masses read off the list of fabrics,
//! every pair compared.
//! Tolerance: none; the disc's times have the same bits in whatever order layups are exposed.

use std::path::Path;

use stillair::bench::figure::Found;
use stillair::bench::screen::{Screening, screen};
use stillair::garment::layup::Layup;
use stillair::shelf::layup::read::read_layup_text;
use stillair::study::seek::score::Scored;
use stillair::study::seek::space::Space;

use crate::study_seek::fixtures::{ERROR_GOAL, brief, searched, shelf};

const OUTERS: [&str; 4] =
    ["outer-aramid-150", "outer-aramid-200", "outer-fr-cotton-250", "outer-wool-270"];
const FELTS: [&str; 5] = [
    "felt-spunlace-60",
    "felt-spunlace-85",
    "felt-needled-100",
    "felt-novoloid-100",
    "felt-oxidised-pan-120",
];
const INNERS: [&str; 4] =
    ["inner-jersey-140", "inner-interlock-200", "inner-rib-210", "inner-wool-190"];
const GAPS_MM: [f64; 5] = [0.0, 0.5, 1.0, 1.5, 2.0];

/// A layup, its mass [g/m²], its thickness [mm], its HTI24 [s] with error.
struct Plain {
    words: String,
    mass: f64,
    thickness: f64,
    t: f64,
    error: f64,
}

fn text(plies: [&str; 3], gaps: [f64; 2]) -> String {
    let mut text = String::from("name = \"plain\"\n");
    for (i, ply) in plies.iter().enumerate() {
        text += &format!("[[stack]]\nply = \"{ply}\"\n");
        if i < 2 && gaps[i] > 0.0 {
            text += &format!("[[stack]]\ngap_mm = {}\n", gaps[i]);
        }
    }
    text
}

fn words(plies: [&str; 3], gaps: [f64; 2]) -> String {
    format!("{} {} {} {} {}", plies[0], gaps[0], plies[1], gaps[1], plies[2])
}

fn all() -> Vec<Plain> {
    let shelf = shelf();
    let (mut layups, mut names): (Vec<Layup>, Vec<String>) = (Vec::new(), Vec::new());
    // Another order than the search's.
    for behind in GAPS_MM {
        for inner in INNERS {
            for before in GAPS_MM {
                for felt in FELTS {
                    for outer in OUTERS {
                        let (plies, gaps) = ([outer, felt, inner], [behind, before]);
                        let text = text(plies, gaps);
                        layups.push(read_layup_text(&text, Path::new("plain"), &shelf).unwrap());
                        names.push(words(plies, gaps));
                    }
                }
            }
        }
    }
    assert_eq!(layups.len(), 2000);
    let exposure = shelf.exposure("flame-80").unwrap();
    let screening = Screening { exposure, error_goal: ERROR_GOAL };
    let times: Vec<_> =
        screen(layups.clone(), screening).map(|s| s.unwrap().times.rise24).collect();
    let plain = layups.iter().zip(names).zip(times).map(|((layup, words), when)| {
        let stillair::bench::outcome::When::At { t, error } = when else { panic!("{words}") };
        let (mass, thickness) = (1e3 * layup.areal_density(), 1e3 * layup.thickness());
        Plain { words, mass, thickness, t, error }
    });
    plain.collect()
}

const BRIEF: &str = r#"
name = "two thousand"
outer = ["outer-aramid-150", "outer-aramid-200", "outer-fr-cotton-250", "outer-wool-270"]
felts = ["felt-spunlace-60", "felt-spunlace-85", "felt-needled-100", "felt-novoloid-100", "felt-oxidised-pan-120"]
felts_least = 1
felts_most = 1
inner = ["inner-jersey-140", "inner-interlock-200", "inner-rib-210", "inner-wool-190"]
shortlist = 12

[[target]]
target = "fia-8856-2018-overall"
margin_pct = 25

[[gap]]
place = "behind outer"
least_mm = 0
most_mm = 2
step_mm = 0.5

[[gap]]
place = "before inner"
least_mm = 0
most_mm = 2
step_mm = 0.5
"#;

/// The words of a combination that the search found.
fn found(space: &Space<'_>, scored: &Scored) -> (String, f64) {
    let candidate = space.candidate(scored.index).unwrap();
    let names: Vec<&str> = space.fabrics(&candidate.plies).map(|f| f.name.as_str()).collect();
    let mm = |i: usize| (candidate.gaps[i] * 1e7).round() / 1e4;
    let Found::Value { valued, .. } = scored.readings[0] else { panic!("reached") };
    (words([names[0], names[1], names[2]], [mm(0), mm(1)]), valued.value)
}

#[test]
fn the_frontier_is_that_of_every_pair_compared() {
    let all = all();
    let beats = |a: &Plain, b: &Plain| {
        let lighter = a.mass < b.mass - 1e-6;
        let no_heavier = a.mass < b.mass + 1e-6;
        no_heavier && a.t >= b.t && (lighter || a.t > b.t)
    };
    let mut expected: Vec<(f64, String, f64)> = all
        .iter()
        .filter(|one| !all.iter().any(|other| beats(other, one)))
        .map(|one| (one.mass, one.words.clone(), one.t))
        .collect();
    expected.sort_by(|a, b| a.0.total_cmp(&b.0));
    let expected: Vec<(String, f64)> = expected.into_iter().map(|(_, w, t)| (w, t)).collect();

    let brief = brief(BRIEF);
    let space = Space::of(&brief).unwrap();
    let summary = searched(&space);
    assert_eq!((summary.counts.n_seen, summary.counts.n_exposed()), (2000, 2000));
    assert!(
        summary.sieve.n_left > 1000,
        "the coarsest mesh tells most of them: {:?}",
        summary.sieve
    );
    let frontier: Vec<_> = summary.frontier.iter().map(|one| found(&space, one)).collect();
    assert!(expected.len() > 8, "only {} on the frontier: too few to tell", expected.len());
    assert_eq!(frontier, expected);

    // 12 s and a quarter more, the numerical error taken off
    let keeps = |one: &Plain| one.t - one.error >= 15.0;
    assert_eq!(summary.counts.n_keeping, all.iter().filter(|one| keeps(one)).count() as u64);
    let plies = |words: &str| {
        let words: Vec<&str> = words.split(' ').collect();
        format!("{} {} {}", words[0], words[2], words[4])
    };
    let mut keeping: Vec<&Plain> = all.iter().filter(|one| keeps(one)).collect();
    keeping.sort_by(|a, b| {
        let grams = |one: &Plain| one.mass.round();
        let microns = |one: &Plain| (1e4 * one.thickness).round();
        grams(a)
            .total_cmp(&grams(b))
            .then(microns(a).total_cmp(&microns(b)))
            .then(b.t.total_cmp(&a.t))
    });
    let mut seen: Vec<String> = Vec::new();
    let mut shortlist = Vec::new();
    for one in keeping {
        if !seen.contains(&plies(&one.words)) && shortlist.len() < 12 {
            seen.push(plies(&one.words));
            shortlist.push((one.words.clone(), one.t));
        }
    }
    assert_eq!(shortlist.len(), 12, "enough of them to fill the list");
    let listed: Vec<_> = summary.shortlist.iter().map(|one| found(&space, one)).collect();
    assert_eq!(listed, shortlist);
}
