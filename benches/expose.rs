//! One three-ply exposure end to end: the touching plies of `tests/reference/layups`, the disc
//! to HTI24 at 0.5 % error, and skin. How to run and read: `benches/README.md`.

use std::path::Path;

use stillair::bench::assemble::{Backing, Setup};
use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::{Behind, Question, expose, run_level};
use stillair::bench::watch_disc::DiscWatch;
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::Layup;
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;

fn main() {
    count_node_steps("check-three-ply.toml", Without::default());
    println!("conditioned, water stays:");
    count_node_steps(MOIST, Without::these(&[Effect::MovingVapour]));
    println!("conditioned, water moves, nothing chars:");
    count_node_steps(MOIST, Without::these(&[Effect::Charring]));
    println!("conditioned, water moves:");
    count_node_steps(MOIST, Without::default());
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
fn count_node_steps(file: &str, without: Without) {
    let shelf = shelf();
    let (layup, exposure) = case(&shelf, file);
    for level in 0..2 {
        let setup = Setup { without, ..Setup::level(level) };
        let record = run_level(&layup, &exposure, Backing::Disc, &setup, |assembly, trace| {
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

/// Three conditioned plies with 5 % of water.
const MOIST: &str = "moist-three-ply.toml";

fn ask(bencher: divan::Bencher, behind: Behind, file: &str) {
    ask_without(bencher, behind, file, Without::default());
}

fn ask_without(bencher: divan::Bencher, behind: Behind, file: &str, without: Without) {
    let shelf = shelf();
    let (layup, exposure) = case(&shelf, file);
    let skin = shelf.skin("f1930-iso13506").expect("on the shelf");
    let question = Question { without, ..Question::plain(behind, skin, 5e-3) };
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

#[divan::bench]
fn disc_conditioned(bencher: divan::Bencher) {
    ask(bencher, Behind::Disc, MOIST);
}

#[divan::bench]
fn disc_conditioned_without_charring(bencher: divan::Bencher) {
    ask_without(bencher, Behind::Disc, MOIST, Without::these(&[Effect::Charring]));
}

#[divan::bench]
fn disc_conditioned_water_stays(bencher: divan::Bencher) {
    ask_without(bencher, Behind::Disc, MOIST, Without::these(&[Effect::MovingVapour]));
}

#[divan::bench]
fn skin_conditioned(bencher: divan::Bencher) {
    ask(bencher, Behind::Skin, MOIST);
}
