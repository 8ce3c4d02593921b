//! A sweep of 60 gaps, 0.5 to 12.7 mm, disc and skin at 0.5 % error each. How to run and read:
//! `benches/README.md`.

use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::gap::{Swept, sweep, swept_plies};
use stillair::study::run::Terms;

fn main() {
    divan::main();
}

fn sixty(bencher: divan::Bencher, name: &str, swept: Swept) {
    let shelf = Shelf::built_in().expect("the built-in shelf reads");
    let (text, path) = (shelf.layup_text(name), shelf.layup_path(name));
    let layup = read_layup_text(text.expect("on the shelf"), path.expect("on the shelf"), &shelf)
        .expect("the layup reads");
    let exposure = shelf.exposure("flame-80").expect("on the shelf");
    let skin = shelf.skin("f1930-iso13506").expect("on the shelf");
    let terms = Terms { exposure, skin, error_goal: 5e-3, quilts: Quilts::Computed };
    let plies = swept_plies(&layup, swept).expect("the layup has the gap");
    let gaps: Vec<f64> = (0..60).map(|i| 1e-3 * (0.5 + 12.2 * f64::from(i) / 59.0)).collect();
    bencher.bench_local(|| sweep(&layup, &terms, (swept, &plies), &gaps).expect("the sweep runs"));
}

#[divan::bench]
fn three_plies_all_gaps(bencher: divan::Bencher) {
    sixty(bencher, "three-ply-loose", Swept::All);
}

#[divan::bench]
fn single_ply_behind(bencher: divan::Bencher) {
    sixty(bencher, "single-outer-195", Swept::Behind);
}
