//! A fit of three properties of a three-ply layup to one curve of 80 readings. How to run and read:
//! `benches/README.md`.

use stillair::garment::property::OfPly;
use stillair::shelf::lab::curve::Curve;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::answer::Quilts;
use stillair::study::fit::fitting::{LEVEL, Task, fit};
use stillair::study::fit::free::{Free, What};
use stillair::study::fit::model::Model;
use stillair::study::fit::readings::Readings;
use stillair::study::property::Property;

fn main() {
    divan::main();
}

#[divan::bench]
fn one_curve_three_properties(bencher: divan::Bencher) {
    let shelf = Shelf::built_in().expect("the built-in shelf reads");
    let name = "three-ply-loose";
    let (text, path) = (shelf.layup_text(name), shelf.layup_path(name));
    let layup = read_layup_text(text.expect("on the shelf"), path.expect("on the shelf"), &shelf)
        .expect("the layup reads");
    let exposure = shelf.exposure("flame-80").expect("on the shelf");
    let what = [
        What::Property(Property::Ply(1, OfPly::Conductivity)),
        What::Property(Property::Gap(0)),
        What::Property(Property::Flux),
    ];
    let free = what.map(|what| Free::new(what, None, &layup, exposure).expect("it is there"));
    let readings = |rises: &[f64]| {
        let points = rises.iter().enumerate().map(|(i, rise)| (0.25 * (i + 1) as f64, *rise));
        let (name, notes) = ("made".to_owned(), Vec::new());
        Readings::Curves(vec![Curve { name, points: points.collect(), notes }])
    };
    let mut model = Model::new(&layup, exposure, &free, &readings(&[0.0; 80]), LEVEL);
    let rises = model.predicted(&[vec![1.2, 0.8, 0.95]]).expect("the solver follows").remove(0);
    // a sawtooth of 0.1 K stands for the noise
    let read: Vec<f64> = rises
        .iter()
        .enumerate()
        .map(|(i, rise)| rise + 0.1 * ((i * 7 % 11) as f64 - 5.0) / 5.0)
        .collect();
    let readings = readings(&read);
    let task = Task {
        layup: &layup,
        exposure,
        free: &free,
        readings: &readings,
        level: LEVEL,
        quilts: Quilts::Computed,
    };
    bencher.bench_local(|| fit(&task).expect("it fits"));
}
