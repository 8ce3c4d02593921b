//! Claim: water beyond the conditioned regain conducts until it has left; leaving that out lengthens
//! the time, and a conditioned ply is untouched by it.
//! Source: Fourier's law; Schuhmeister 1877 and Baxter 1946 (from memory) for what it adds; conservation.
//! Tolerance: 1e-9 of the resistance; the printed errors where an order is asked for; 1e-6 of the heat.

use crate::bench::fixtures::{at, flame, known, ply, skin, three_plies, touching};
use crate::close::{within, within_share};
use stillair::bench::assemble::{Backing, Mesh, Setup, assemble};
use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::{Behind, Question, expose};
use stillair::bench::outcome::{Figures, Run};
use stillair::garment::layup::{Entry, Layup};
use stillair::garment::wet::conductivity_of_water;

/// Three plies, the innermost with that much water beyond its conditioned 5 %.
fn wet(share: f64) -> Layup {
    let mut plies = three_plies(1.0);
    for fabric in &mut plies {
        fabric.regain = known(0.05);
        fabric.regain_conditioned = 0.05;
    }
    plies[2].regain = known(0.05 + share);
    touching(plies)
}

fn run(layup: &Layup, without: &[Effect]) -> Run {
    let (skin, without) = (skin(), Without::these(without));
    let question = Question { without, ..Question::plain(Behind::Disc, &skin, 2e-3) };
    expose(layup, &flame(), &question).expect("an outcome").disc.expect("a run")
}

fn rise24(run: &Run) -> (f64, f64) {
    match &run.figures {
        Figures::Disc(figures) => at(figures.rise24),
        Figures::Skin(_) => panic!("the disc's run"),
    }
}

#[test]
fn a_wet_ply_resists_less_at_the_start() {
    let layup = wet(0.5);
    let inner = &layup.plies().last().expect("plies").fabric;
    let added = conductivity_of_water(inner);
    assert!(added > 0.0, "{added}");
    let k = inner.conductivity.value.at(298.15) + added;
    // where water moves, plies that share a face share its water
    let heat = run(&layup, &[Effect::MovingVapour]).heat;
    within_share(heat.parts[2].resistance_cold, inner.thickness.value / k, 1e-9);
    let stored: f64 = heat.parts.iter().map(|part| part.stored).sum();
    within(heat.entered - stored - heat.passed_on, 0.0, 1e-6 * heat.entered);
}

#[test]
fn water_that_conducts_shortens_the_time() {
    let layup = wet(0.5);
    let (with, without) = (run(&layup, &[]), run(&layup, &[Effect::WetConduction]));
    assert!(with.numerics.audit <= 1e-6 && without.numerics.audit <= 1e-6);
    let (with, without) = (rise24(&with), rise24(&without));
    assert!(without.0 - with.0 > with.1 + without.1, "{with:?} {without:?}");
}

#[test]
fn a_conditioned_ply_is_untouched() {
    let problem = |without: &[Effect]| {
        let setup = Setup { mesh: Mesh::level(0), without: Without::these(without) };
        assemble(&wet(0.0), &flame(), Backing::Disc, &setup).problem
    };
    assert_eq!(problem(&[]).slabs, problem(&[Effect::WetConduction]).slabs);
    let Entry::Ply(drier) = ply(three_plies(1.0)[0].clone()) else { panic!("a ply") };
    let mut drier = drier.fabric;
    drier.regain_conditioned = 0.05;
    within(conductivity_of_water(&drier), 0.0, 0.0);
}
