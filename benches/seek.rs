//! 10,000 three-ply layups, the disc to HTI24 at 0.5 % error, frontier and shortlist. How to run and
//! read: `benches/README.md`.

use std::path::Path;

use stillair::garment::brief::Brief;
use stillair::shelf::brief::read::read_brief_text;
use stillair::shelf::materials::Shelf;
use stillair::study::seek::part::Part;
use stillair::study::seek::search::{Search, total};
use stillair::study::seek::space::Space;
use stillair::study::seek::summary::Done;

/// 8 outers, 10 felts, 5 inners, 5 × 5 gaps.
const BRIEF: &str = include_str!("seek.toml");

fn main() {
    let brief = brief();
    let n = Space::of(&brief).expect("the brief has combinations").n_total();
    assert_eq!(n, 10_000);
    divan::main();
}

fn brief() -> Brief {
    let shelf = Shelf::built_in().expect("the built-in shelf reads");
    read_brief_text(BRIEF, Path::new("seek.toml"), &shelf).expect("the brief reads")
}

#[divan::bench(sample_count = 5)]
fn ten_thousand_layups() -> usize {
    let brief = brief();
    let space = Space::of(&brief).expect("the brief has combinations");
    let search = Search { space: &space, error_goal: 5e-3, part: Part::WHOLE };
    let mut done = Done::new();
    search.run(&mut done, None, &mut |_| ()).expect("no checkpoint is written");
    total(&done, &space).frontier.len()
}
