//! Claim: quilted combinations are all there, weigh what a pencil says, read what the study of one
//! quilting reads, and their frontier is that of all compared with all.
//! Source: brute force through `study::quilt` with twice as many points over a cell; hand sums.
//! Tolerance: the printed numerical error.

use std::fs;
use std::path::Path;

use serde_json::Value;
use stillair::bench::expose::{Behind, Question};
use stillair::bench::figure::Found;
use stillair::bench::outcome::When;
use stillair::shelf::layup::read::read_layup_text;
use stillair::study::quilt::quilt;
use stillair::study::seek::space::{Fit, Space};

use crate::study_seek::fixtures::{ERROR_GOAL, QUILTED, brief, done, folder, searched, shelf};

#[test]
fn every_stitching_is_there_once_with_its_thread() {
    let brief = brief(QUILTED);
    let space = Space::of(&brief).unwrap();
    // loose plies, and 2 patterns × 2 pitches × 2 lofts; 2 outers × 2 gaps
    assert_eq!(space.n_total(), 2 * 2 * (1 + 2 * 2 * 2));
    let mut seen = Vec::new();
    for index in 0..space.n_total() {
        let candidate = space.candidate(index).unwrap();
        let plies: f64 = if candidate.plies.outer == 0 { 150.0 } else { 200.0 } + 100.0 + 140.0;
        let thread = match candidate.stitching.map(|own| (own.pattern.word(), own.pitch)) {
            None => 0.0,
            // one set of lines: 0.12 g/m over 30 mm or 50 mm
            Some(("channels", pitch)) if pitch < 0.04 => 4.0,
            Some(("channels", _)) => 2.4,
            // two sets of lines
            Some(("diamond", pitch)) if pitch < 0.04 => 8.0,
            Some(("diamond", _)) => 4.8,
            Some(other) => panic!("{other:?}"),
        };
        let found = 1e3 * space.areal_density(&candidate);
        assert!((found - plies - thread).abs() < 1e-9, "{found} {plies} {thread}");
        let outer = if candidate.plies.outer == 0 { 0.34 } else { 0.45 };
        let loft = candidate.stitching.map_or(0.0, |own| 1e3 * own.loft);
        let thickness = outer + 1.3 + 0.6 + 1e3 * candidate.gaps[0] + loft;
        assert!((1e3 * space.thickness(&candidate) - thickness).abs() < 1e-9);
        assert!(!seen.contains(&candidate), "{candidate:?} twice");
        seen.push(candidate);
    }
}

/// Mass, HTI24 and its error of combination `index`, from the study of a single quilting.
fn plain(space: &Space<'_>, index: u64) -> (f64, f64, f64) {
    let shelf = shelf();
    let exposure = shelf.exposure("flame-80").unwrap();
    let skin = shelf.skins().next().unwrap();
    let question = Question::plain(Behind::Disc, skin, ERROR_GOAL);
    let candidate = space.candidate(index).unwrap();
    let layup = space.layup(&candidate);
    let rise24 = match &layup.quilting {
        Some(quilting) => {
            let quilted = quilt(&layup, quilting, exposure, &question, 14).unwrap();
            quilted.disc.unwrap().shared.figures.rise24
        }
        None => {
            let outcome = stillair::bench::expose(&layup, exposure, &question).unwrap();
            match outcome.disc.unwrap().figures {
                stillair::bench::outcome::Figures::Disc(disc) => disc.rise24,
                _ => panic!("a disc was asked for"),
            }
        }
    };
    let When::At { t, error } = rise24 else { panic!("{rise24:?}") };
    (space.areal_density(&candidate), t, error)
}

#[test]
fn the_frontier_of_quilted_layups_is_that_of_every_pair_compared() {
    let brief = brief(QUILTED);
    let space = Space::of(&brief).unwrap();
    let all: Vec<(f64, f64, f64)> = (0..space.n_total()).map(|i| plain(&space, i)).collect();
    let beats = |a: &(f64, f64, f64), b: &(f64, f64, f64)| {
        a.0 < b.0 + 1e-9 && a.1 >= b.1 && (a.0 < b.0 - 1e-9 || a.1 > b.1)
    };
    let mut expected: Vec<u64> = (0..space.n_total())
        .filter(|i| !all.iter().any(|other| beats(other, &all[*i as usize])))
        .collect();
    expected.sort_by(|a, b| all[*a as usize].0.total_cmp(&all[*b as usize].0));
    let summary = searched(&space);
    let found: Vec<u64> = summary.frontier.iter().map(|one| one.index).collect();
    assert_eq!(found, expected);
    assert!(found.len() > 3, "{found:?}");
    let n_quilted = found.iter().filter(|i| space.candidate(**i).unwrap().stitching.is_some());
    assert!(n_quilted.count() > 1, "some of them are quilted");
    for one in &summary.frontier {
        let (_, t, error) = all[one.index as usize];
        let Found::Value { valued, .. } = one.readings[0] else { panic!("{one:?}") };
        // the error of 7 points over a cell is far below that of mesh and step, and told with it
        assert!((valued.value - t).abs() < 0.1 * error, "{valued:?} {t} {error}");
        assert!(valued.error >= 0.99 * error, "{valued:?} {error}");
    }
}

#[test]
fn plies_that_cannot_be_stitched_so_are_counted_and_left_out() {
    // pressed to a tenth, nothing but fibre would be left
    let brief = brief(&QUILTED.replace("pressed_pct = 55", "pressed_pct = 10"));
    let space = Space::of(&brief).unwrap();
    let summary = searched(&space);
    assert_eq!(summary.counts.n_unstitchable, 2 * 2 * 8);
    assert_eq!(summary.counts.n_exposed(), 4);
    let candidate = (0..).map(|i| space.candidate(i).unwrap()).find(|c| c.stitching.is_some());
    assert_eq!(space.fit(&candidate.unwrap()), Fit::Unstitchable);
}

#[test]
fn quilt_takes_every_layup_that_is_written() {
    let folder = folder("quilted");
    let toml = folder.join("brief.toml");
    // stitched all, so that the layups written are
    fs::write(&toml, QUILTED.replace("[\"none\", ", "[")).unwrap();
    let layups = folder.join("layups");
    let arguments = ["seek", toml.to_str().unwrap(), "--json", "--write", layups.to_str().unwrap()];
    let json: Value = serde_json::from_str(&done(&arguments)).unwrap();
    let shortlist = json["shortlist"].as_array().unwrap();
    let mut files: Vec<_> = fs::read_dir(&layups).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    assert!(files.len() == shortlist.len() && !files.is_empty());
    for (file, choice) in files.iter().zip(shortlist) {
        let text = fs::read_to_string(file).unwrap();
        let layup = read_layup_text(&text, Path::new("layup.toml"), &shelf()).unwrap();
        let closed = if choice["closed"].is_null() { choice } else { &choice["closed"] };
        let number = |value: &Value| value.as_f64().unwrap();
        let loft = 1e3 * layup.quilting.as_ref().unwrap().loft.value;
        assert!((loft - number(&closed["quilting"]["loft_mm"])).abs() < 1e-6);
        let path = file.to_str().unwrap();
        let quilted: Value =
            serde_json::from_str(&done(&["quilt", path, "--behind", "disc", "--json"])).unwrap();
        let one = &quilted["disc"]["quilted"]["HTI24_s"];
        let other = &closed["figures"][0]["value_s"];
        let apart = (number(&one["value"]) - number(&other["value"])).abs();
        assert!(apart < 0.1 * number(&one["error"]), "{one} {other}");
    }
}
