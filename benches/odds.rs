//! 4,096 samples of three plies, every tolerance of them drawn, disc at 0.5 % error. How to run and
//! read: `benches/README.md`.

use stillair::garment::band::Factors;
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::Layup;
use stillair::garment::target::Figure;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::figure::Ask;
use stillair::study::odds::defaults;
use stillair::study::odds::inputs::{Further, Inputs};
use stillair::study::odds::work::{Plan, Work};

fn main() {
    divan::main();
}

const BANDS: Further =
    Further { flux: defaults::FLUX, model: Factors { lower: 0.75, upper: 1.15 } };

fn with(name: &str, job: impl FnOnce(&Shelf, &Layup, &Exposure)) {
    let shelf = Shelf::built_in().expect("the built-in shelf reads");
    let (text, path) = (shelf.layup_text(name), shelf.layup_path(name));
    let layup = read_layup_text(text.expect("on the shelf"), path.expect("on the shelf"), &shelf)
        .expect("the layup reads");
    job(&shelf, &layup, shelf.exposure("flame-80").expect("on the shelf"));
}

fn samples(bencher: divan::Bencher, name: &str, plan: Plan) {
    with(name, |shelf, layup, exposure| {
        let skin = shelf.skin("f1930-iso13506").expect("on the shelf");
        let ask = Ask {
            figure: Figure::Rise24,
            nominal: exposure,
            skin,
            error_goal: 5e-3,
            quilts: Quilts::Computed,
            n_points: 3,
        };
        let begin = || {
            let inputs = Inputs::of(layup, exposure, BANDS);
            Work::begin(layup, ask, plan, inputs).expect("the layup runs")
        };
        bencher.with_inputs(begin).bench_local_values(|mut work| {
            while !work.is_done() {
                work.block().expect("the block runs");
            }
            work
        });
    });
}

const SAMPLES: Plan = Plan { n_sets: 4096, n_specimens: 1, n_rows: 0, seed: 1 };
const USUAL: Plan = Plan { n_sets: 1024, n_specimens: 3, n_rows: 0, seed: 1 };

#[divan::bench(sample_count = 5, sample_size = 1)]
fn three_plies_4096_samples(bencher: divan::Bencher) {
    samples(bencher, "three-ply-quilted-blank", SAMPLES);
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn three_plies_with_gaps_4096_samples(bencher: divan::Bencher) {
    samples(bencher, "three-ply-loose", SAMPLES);
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn three_plies_as_the_command_does(bencher: divan::Bencher) {
    samples(bencher, "three-ply-quilted-blank", USUAL);
}
