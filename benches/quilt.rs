//! A quilting of 24 paths: into one disc at 0.5 % error, before skin, and the whole question.
//! How to run and read: `benches/README.md`.

use std::path::Path as File;

use stillair::bench::expose::{Behind, Question};
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::{Layup, Quilting};
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::quilt::ask::disc_answer;
use stillair::study::quilt::path::{Path, paths};
use stillair::study::quilt::run::Asked;
use stillair::study::quilt::{N_POINTS, SweepPlan, quilt, sweep};

fn main() {
    divan::main();
}

/// The demo's quilted blank before the flame bench.
struct Blank {
    shelf: Shelf,
    layup: Layup,
    quilting: Quilting,
    exposure: Exposure,
}

impl Blank {
    fn new() -> Blank {
        let shelf = Shelf::built_in().expect("the built-in shelf reads");
        let name = "three-ply-quilted-blank";
        let text = shelf.layup_text(name).expect("on the shelf");
        let layup = read_layup_text(text, File::new(name), &shelf).expect("the layup reads");
        let quilting = layup.quilting.clone().expect("it is quilted");
        let exposure = shelf.exposure("flame-80").expect("on the shelf").clone();
        Blank { shelf, layup, quilting, exposure }
    }

    fn question(&self, behind: Behind) -> Question<'_> {
        let skin = self.shelf.skin("f1930-iso13506").expect("on the shelf");
        Question::plain(behind, skin, 5e-3)
    }

    fn asked<'a>(&'a self, question: &'a Question<'a>) -> Asked<'a> {
        let (layup, quilting, exposure) = (&self.layup, &self.quilting, &self.exposure);
        Asked { layup, quilting, exposure, question, patch: None }
    }
}

/// The stitch line and 23 points of the loft feed one disc, refined to 0.5 %.
#[divan::bench]
fn disc_shared_by_24_paths(bencher: divan::Bencher) {
    let blank = Blank::new();
    let question = blank.question(Behind::Disc);
    let asked = blank.asked(&question);
    let all: Vec<Path> =
        paths(&blank.quilting, 23).into_iter().filter(|path| path.share > 0.0).collect();
    assert_eq!(all.len(), 24);
    bencher.bench_local(|| disc_answer(&asked, &all).expect("the case runs"));
}

/// Everything that `stillair quilt` asks of the disc: shared, with half the points, and alone.
#[divan::bench]
fn disc_whole_question(bencher: divan::Bencher) {
    let blank = Blank::new();
    let question = blank.question(Behind::Disc);
    let ask = || quilt(&blank.layup, &blank.quilting, &blank.exposure, &question, N_POINTS);
    bencher.bench_local(|| ask().expect("the case runs"));
}

/// Skin behind every path.
#[divan::bench]
fn skin_whole_question(bencher: divan::Bencher) {
    let blank = Blank::new();
    let question = blank.question(Behind::Skin);
    let ask = || quilt(&blank.layup, &blank.quilting, &blank.exposure, &question, N_POINTS);
    bencher.bench_local(|| ask().expect("the case runs"));
}

/// 17 pitches by 13 lofts before the disc.
#[divan::bench]
fn sweep_of_221_points(bencher: divan::Bencher) {
    let blank = Blank::new();
    let question = blank.question(Behind::Disc);
    let asked = blank.asked(&question);
    let plan = SweepPlan::even((0.020, 0.080), (0.0, 0.004), (17, 13));
    bencher.bench_local(|| sweep(&asked, &plan).expect("the case runs"));
}
