//! One three-ply exposure end to end: the touching plies of `tests/reference/layups`, the disc
//! to HTI24 at 0.5 % error, and skin. How to run and read: `benches/README.md`.

use std::path::Path;

use stillair::bench::assemble::{Backing, Setup};
use stillair::bench::expose::{Behind, Follow, Question, expose, run_level};
use stillair::bench::watch_disc::DiscWatch;
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::Layup;
use stillair::garment::read::read_layup;
use stillair::garment::shelf::Shelf;

fn main() {
    count_node_steps();
    divan::main();
}

fn shelf() -> Shelf {
    Shelf::built_in().expect("the built-in shelf reads")
}

fn case(shelf: &Shelf, file: &str) -> (Layup, Exposure) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/layups").join(file);
    let layup = read_layup(&path, shelf).expect("the reference layup reads");
    (layup, shelf.exposure("check-80").expect("on the shelf").clone())
}

/// Prints the work of one disc solve, so that times can be put per node and step.
fn count_node_steps() {
    let shelf = shelf();
    let (layup, exposure) = case(&shelf, "check-three-ply.toml");
    for level in 0..2 {
        let record =
            run_level(&layup, &exposure, Backing::Disc, &Setup::level(level), |assembly, trace| {
                let cap_area = exposure.disc.cap_area();
                DiscWatch::new(trace, assembly.node_behind, exposure.temp_room, cap_area)
            })
            .expect("the case runs");
        let (n_nodes, ledger) = (record.assembly.problem.n_nodes(), record.ledger);
        println!(
            "level {level}: {n_nodes} nodes, {} steps, {} rejected, {} Newton iterations, {} node-steps",
            ledger.n_steps,
            ledger.n_rejected,
            ledger.n_newton,
            n_nodes * ledger.n_steps
        );
    }
}

fn ask(bencher: divan::Bencher, behind: Behind, file: &str) {
    let shelf = shelf();
    let (layup, exposure) = case(&shelf, file);
    let skin = shelf.skin("f1930-iso13506").expect("on the shelf");
    let question = Question {
        behind,
        skin,
        error_goal: 5e-3,
        follow: Follow::UntilKnown,
        without: Default::default(),
    };
    bencher.bench_local(|| expose(&layup, &exposure, &question).expect("the case runs"));
}

#[divan::bench]
fn disc_touching(bencher: divan::Bencher) {
    ask(bencher, Behind::Disc, "check-three-ply.toml");
}

#[divan::bench]
fn disc_with_gaps(bencher: divan::Bencher) {
    ask(bencher, Behind::Disc, "check-three-ply-gaps.toml");
}

#[divan::bench]
fn skin_touching(bencher: divan::Bencher) {
    ask(bencher, Behind::Skin, "check-three-ply.toml");
}
