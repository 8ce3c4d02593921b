//! Claim: the shortlist holds the least layups of those whose odds reach what is wanted, as if odds
//! were drawn for all, and each has the odds that `stillair odds` tells.
//! Source: brute force through `study::odds`, one combination after the other, all sets drawn.
//! Tolerance: none; the sets drawn are the same, and figures have the same bits.

use std::fs;

use serde_json::Value;
use stillair::garment::brief::Brief;
use stillair::garment::target::Judged;
use stillair::study::answer::Quilts;
use stillair::study::figure::Ask;
use stillair::study::odds::defaults;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::result::odds;
use stillair::study::odds::work::{Plan, Work};
use stillair::study::seek::chance::{chances, reach};
use stillair::study::seek::score::{Scored, by_costs, score};
use stillair::study::seek::search::expose_all;
use stillair::study::seek::space::{Candidate, Fit, Space};

use crate::study_seek::fixtures::{
    COARSE, ERROR_GOAL, ODDS, QUILTED, brief, done, folder, searched, stillair,
};

/// Sets that reach the first target, out of all that the brief draws.
fn n_reaching(brief: &Brief, space: &Space<'_>, candidate: &Candidate) -> usize {
    let wanted = &brief.wanted[0];
    let layup = space.layup(candidate);
    let band = brief.bands.of(&layup, wanted.target.figure, &wanted.exposure);
    let further = Further { flux: defaults::FLUX, model: band.factors };
    let inputs = Inputs::of(&layup, &wanted.exposure, further);
    let ask = Ask {
        figure: wanted.target.figure,
        nominal: &wanted.exposure,
        quilts: Quilts::Computed,
        n_points: 7,
        skin: &brief.skin,
        error_goal: ERROR_GOAL,
    };
    let plan =
        Plan { n_sets: brief.n_sets, n_specimens: defaults::N_SPECIMENS, n_rows: 0, seed: 1 };
    let mut work = Work::begin(&layup, ask, plan, inputs).unwrap();
    while !work.is_done() {
        work.block().unwrap();
    }
    odds(&work, Judged::of(&wanted.target), wanted.target.at_least).unwrap().with_model.set.k
}

#[test]
fn the_shortlist_is_that_of_odds_drawn_for_all() {
    let brief = brief(ODDS);
    let space = Space::of(&brief).unwrap();
    let least = brief.wanted[0].odds.unwrap();
    let all: Vec<Candidate> = (0..space.n_total())
        .map(|i| space.candidate(i).unwrap())
        .filter(|candidate| space.fit(candidate) == Fit::Within)
        .collect();
    let readings = expose_all(&space, ERROR_GOAL, &all);
    let mut keeping: Vec<(Scored, Candidate)> = all
        .into_iter()
        .zip(readings)
        .filter_map(|(c, readings)| Some((score(&space, &c, readings.unwrap())?, c)))
        .filter(|(scored, _)| scored.keeps)
        .collect();
    keeping.sort_by(|(one, _), (other, _)| by_costs(one, other, brief.minimise));
    let (mut expected, mut n_short) = (Vec::<(u64, _)>::new(), 0);
    for (scored, candidate) in &keeping {
        let k = n_reaching(&brief, &space, candidate);
        if (k as f64) < least * brief.n_sets as f64 {
            n_short += 1;
        } else if expected.iter().all(|(_, plies)| *plies != candidate.plies) {
            expected.push((scored.index, candidate.plies.clone()));
        }
    }
    let n_found = expected.len();
    expected.truncate(brief.n_shortlist);
    assert!(n_short > 5 && n_found > brief.n_shortlist, "{n_short} {n_found}: nothing is tested");
    let found: Vec<u64> = searched(&space).shortlist.iter().map(|one| one.index).collect();
    assert_eq!(found, expected.iter().map(|(index, _)| *index).collect::<Vec<u64>>());
}

#[test]
fn giving_up_early_gives_the_answer_of_all_sets() {
    let mut brief = brief(QUILTED);
    let space = Space::of(&brief).unwrap();
    let all: Vec<Candidate> = (0..space.n_total()).map(|i| space.candidate(i).unwrap()).collect();
    let all: Vec<&Candidate> = all.iter().collect();
    let drawn: Vec<f64> = chances(&space, ERROR_GOAL, &all)
        .iter()
        .map(|of_one| of_one[0].as_ref().unwrap().set.value())
        .collect();
    // asked for what some reach and some do not
    let most = drawn.iter().copied().fold(0.0, f64::max);
    let least = drawn.iter().copied().fold(1.0, f64::min);
    assert!(least < most, "{drawn:?}: nothing is tested");
    let middle = 0.5 * (least + most);
    brief.wanted[0].odds = Some(middle);
    let whole: Vec<bool> = drawn.iter().map(|chance| *chance >= middle).collect();
    assert_eq!(reach(&Space::of(&brief).unwrap(), ERROR_GOAL, &all), whole);
}

#[test]
fn each_layup_has_the_odds_that_the_study_of_odds_tells() {
    let folder = folder("odds");
    let toml = folder.join("brief.toml");
    fs::write(&toml, ODDS).unwrap();
    let layups = folder.join("layups");
    let arguments = ["seek", toml.to_str().unwrap(), "--json", "--write", layups.to_str().unwrap()];
    let json: Value = serde_json::from_str(&done(&arguments)).unwrap();
    let shortlist = json["shortlist"].as_array().unwrap();
    let mut files: Vec<_> = fs::read_dir(&layups).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    assert_eq!(files.len(), shortlist.len());
    for (file, choice) in files.iter().zip(shortlist) {
        let arguments = [
            "odds",
            file.to_str().unwrap(),
            "--against",
            "fia-8856-2018-overall",
            "--sets",
            "64",
            "--rows",
            "0",
            "--json",
        ];
        let alone: Value = serde_json::from_str(&done(&arguments)).unwrap();
        let (set, told) = (&choice["odds"][0]["set"], alone.to_string());
        let reached = set["reached"].as_u64().unwrap();
        assert!(reached >= 48, "75 % of 64 are 48: {set}");
        let with_model = &alone["with_model"]["set"];
        assert_eq!(with_model["k"].as_u64(), Some(reached), "{told}");
    }
}

#[test]
fn threads_and_parts_change_nothing() {
    let folder = folder("odds_parts");
    for (name, text) in [("odds", ODDS), ("quilted", QUILTED)] {
        let toml = folder.join(format!("{name}.toml"));
        fs::write(&toml, text).unwrap();
        let toml = toml.to_str().unwrap();
        let whole = stillair(&["seek", toml, "--json", "--error", COARSE], "1");
        assert_eq!(whole, stillair(&["seek", toml, "--json", "--error", COARSE], "3"), "{name}");
        let parts: Vec<String> = (1..=2)
            .map(|k| {
                let file = folder.join(format!("{name}-{k}")).to_str().unwrap().to_owned();
                done(&[
                    "seek",
                    toml,
                    "--part",
                    &format!("{k}/2"),
                    "--checkpoint",
                    &file,
                    "--error",
                    COARSE,
                ]);
                file
            })
            .collect();
        let merged = done(&["merge", &parts[1], &parts[0], "--json"]);
        assert_eq!(merged, whole.0, "{name}");
    }
}
