//! Claim: the error printed for a burn integral at the end covers what a much finer solution gives.
//! Source: the same runs on cells a quarter as large, with steps of a 64th of the tolerance, extrapolated.
//! Tolerance: the printed error alone; that of the finer solution is a sixteenth of it or less. Layups and
//! exposures drawn with one seed; those that burn between hardly and several times over are looked at.

use crate::bench::fixtures::{fabric, flame, gap, known, layup, outcome, ply, skin};
use rayon::prelude::*;
use stillair::bench::assemble::{Backing, Setup, assemble};
use stillair::bench::expose::{Behind, Question, run_level, skin_watch};
use stillair::bench::outcome::{Figures, Valued};
use stillair::garment::exposure::{Exposure, Flux, Orientation};
use stillair::garment::layup::{Entry, Layup};

/// Runs drawn; a half of them are settled on few meshes, and a third of those burn as much as is looked at.
const N_DRAWN: usize = 300;
/// Finest level of what is told that two finer ones are held against.
const LEVEL_MOST: usize = 2;

/// One to three plies, dry or moist, and a flame or radiator that goes away.
fn drawn(i: usize) -> (Layup, Exposure) {
    let mut state = 0x9e37_79b9_7f4a_7c15 ^ (1 + i as u64);
    let mut between = |low: f64, high: f64| {
        // Marsaglia's xorshift of 64 bits, J. Stat. Software 8 (2003) 14
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        low + (high - low) * (state >> 11) as f64 / (1u64 << 53) as f64
    };
    let n_plies = 1 + i % 3;
    let mut stack: Vec<Entry> = Vec::new();
    for _ in 0..n_plies {
        let mm = between(0.3, 1.5);
        let mut cloth = fabric(between(150.0, 400.0) * mm, mm, between(0.035, 0.07), 1e-4);
        if i % 2 == 1 {
            cloth.regain = known(between(0.02, 0.1));
            cloth.regain_conditioned = cloth.regain.value;
        }
        stack.push(ply(cloth));
        let mm = between(-1.0, 2.0);
        if mm > 0.2 {
            stack.push(gap(mm));
        }
    }
    let flux = 1e3 * between(10.0, 84.0);
    // about as long as bare skin behind so much cloth stands it
    let duration = between(0.4, 2.2) * n_plies as f64 * (6e4 / flux).powf(0.8) * 2.0;
    let exposure = Exposure {
        flux: Flux::Steady(flux),
        radiant_share: between(0.0, 1.0),
        orientation: Orientation::Vertical,
        duration: Some(duration),
        t_end: 120.0,
        ..flame()
    };
    (layup(stack), exposure)
}

/// Burn integrals at the end, basal and dermal, at a level of refinement.
fn at_level(layup: &Layup, exposure: &Exposure, level: usize) -> [f64; 2] {
    let skin = skin();
    let question = Question::plain(Behind::Skin, &skin, 5e-3);
    let (backing, setup) = (Backing::Skin(&skin), Setup::level(level));
    let run = run_level(layup, exposure, backing, &setup, |assembly, trace| {
        skin_watch(assembly, trace, exposure, &question)
    });
    let events = run.expect("a run").watch.events;
    [events.basal.omega, events.dermal.omega]
}

/// What is told, and what a solution two levels finer than its finest one gives; none where that
/// takes too long.
fn both(layup: &Layup, exposure: &Exposure) -> Option<([Valued; 2], [f64; 2])> {
    let outcome = outcome(layup, exposure, Behind::Skin, 5e-3);
    let run = outcome.skin.expect("a run");
    let Figures::Skin(told) = run.figures else { panic!("no skin") };
    let nodes = |level| {
        assemble(layup, exposure, Backing::Skin(&skin()), &Setup::level(level)).problem.n_nodes()
    };
    let level = (0..=LEVEL_MOST).find(|level| nodes(*level) == run.numerics.n_nodes)?;
    let [before, last] = [1, 2].map(|more| at_level(layup, exposure, level + more));
    let finer = [0, 1].map(|k| last[k] + (last[k] - before[k]) / 3.0);
    Some(([told.omega_basal, told.omega_dermal], finer))
}

#[test]
fn the_printed_error_of_a_burn_integral_covers() {
    let all: Vec<([Valued; 2], [f64; 2])> = (0..N_DRAWN)
        .into_par_iter()
        .filter_map(|i| {
            let (layup, exposure) = drawn(i);
            both(&layup, &exposure)
        })
        .collect();
    let (mut n_looked_at, mut missed) = (0, Vec::new());
    for (told, finer) in &all {
        for ((Valued { value, error }, finer), place) in
            told.iter().zip(finer).zip(["basal", "dermal"])
        {
            if !(0.003..10.0).contains(finer) {
                continue;
            }
            n_looked_at += 1;
            if (value - finer).abs() > *error {
                missed.push(format!("{place}: {value:.6} ± {error:.6}, finer {finer:.6}"));
            }
        }
    }
    assert!(n_looked_at > 30, "{n_looked_at} burn integrals looked at");
    assert!(missed.is_empty(), "{} of {n_looked_at} missed:\n{}", missed.len(), missed.join("\n"));
}
