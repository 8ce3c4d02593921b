//! Claim: the batch gives each layup the bits that it has alone, whatever stands beside it, in
//! whatever order, on however many threads.
//! Source: none needed; a lane's arithmetic names no other lane.
//! Tolerance: none, bits are compared. Numbers of lanes and targets are compared where they can be
//! chosen, in `solver::stream`.

use crate::bench::fixtures::layup;
use crate::bench::properties::{any_exposure, any_layup};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use stillair::bench::BenchError;
use stillair::bench::assemble::{Backing, Setup, assemble};
use stillair::bench::expose::options;
use stillair::bench::outcome::When;
use stillair::bench::refine::{Readings, refine};
use stillair::bench::screen::{Screened, screen_each};
use stillair::bench::watch_disc::DiscEvents;
use stillair::garment::exposure::Exposure;
use stillair::garment::layup::Layup;
use stillair::solver::march::march;

const GOAL: f64 = 2e-2;

fn bits_of(when: &When) -> (u8, [u64; 2]) {
    match *when {
        When::At { t, error } => (0, [t.to_bits(), error.to_bits()]),
        When::NotWithin { t_end } => (1, [t_end.to_bits(), 0]),
        When::Unsettled { t } => (2, [t.to_bits(), 0]),
    }
}

/// Everything that a layup's screening says.
type Bits = Result<(Vec<(u8, [u64; 2])>, Option<[u64; 2]>, bool), BenchError>;

fn bits(one: Result<Screened, BenchError>) -> Bits {
    one.map(|one| {
        let between = one.times.rise24_less_12.map(|v| [v.value.to_bits(), v.error.to_bits()]);
        let times =
            [one.times.rise12, one.times.rise24, one.times.stoll].iter().map(bits_of).collect();
        (times, between, one.goal_met)
    })
}

/// Level after level, one problem at a time, never through the batch.
fn alone(layup: &Layup, exposure: &Exposure) -> Bits {
    let refined = refine(0, GOAL, |level| {
        let assembly = assemble(layup, exposure, Backing::Disc, &Setup::level(level));
        let (disc, cap_area) = (assembly.node_behind, exposure.disc.cap_area());
        let mut events = DiscEvents::new(disc, exposure.temp_room, cap_area);
        let ledger = march(&assembly.problem, &options(level, &Backing::Disc), &mut events)?;
        let [rise12, rise24] = events.rises;
        let between = rise24.zip(rise12).map(|(late, early)| late - early);
        let times = vec![rise12, rise24, events.stoll];
        let (t_end, moist) = (ledger.t, ledger.has_vapour());
        Ok(((), Readings { times, between, values: Vec::new(), t_end, moist }))
    });
    let stopped = |source| BenchError::Solver { behind: "disc", source };
    refined.map_err(stopped).map(|refined| {
        let between = refined.between.map(|v| [v.value, v.error].map(f64::to_bits));
        (refined.times.iter().map(bits_of).collect(), between, refined.goal_met)
    })
}

fn together(cases: &[(Layup, Exposure)], order: &[usize], n_threads: usize) -> Vec<Bits> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(n_threads).build().expect("threads");
    let cases = order.iter().map(|i| (cases[*i].0.clone(), &cases[*i].1));
    let found: Vec<Bits> = pool.install(|| screen_each(cases, GOAL).map(bits).collect());
    let mut by_case = vec![None; order.len()];
    for (i, one) in order.iter().zip(found) {
        by_case[*i] = Some(one);
    }
    by_case.into_iter().map(|one| one.expect("an order names every case")).collect()
}

/// Cases of which some share their shape, and an order to take them in.
fn cases_in_order() -> impl Strategy<Value = (Vec<(Layup, Exposure)>, Vec<usize>)> {
    let family = (any_layup(), any_exposure(), prop::collection::vec(0.9..1.1f64, 1..7));
    let varied = |(from, exposure, factors): (Layup, Exposure, Vec<f64>)| {
        factors.into_iter().map(move |factor| (scaled(&from, factor), exposure.clone()))
    };
    prop::collection::vec(family, 1..5).prop_flat_map(move |families| {
        let cases: Vec<(Layup, Exposure)> = families.into_iter().flat_map(varied).collect();
        let order: Vec<usize> = (0..cases.len()).collect();
        (Just(cases), Just(order).prop_shuffle())
    })
}

/// The layup with the conductivity of each ply multiplied.
fn scaled(from: &Layup, factor: f64) -> Layup {
    let mut stack = from.stack.clone();
    for entry in &mut stack {
        if let stillair::garment::layup::Entry::Ply(ply) = entry {
            let k = &mut ply.fabric.conductivity.value;
            *k = k.scaled(factor);
        }
    }
    layup(stack)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 40,
        rng_seed: RngSeed::Fixed(6942),
        max_shrink_iters: 100,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn a_layup_among_others_has_the_bits_of_one_alone((cases, order) in cases_in_order()) {
        let alone: Vec<Bits> = cases.iter().map(|(layup, exposure)| alone(layup, exposure)).collect();
        let straight: Vec<usize> = (0..cases.len()).collect();
        prop_assert_eq!(&together(&cases, &straight, 1), &alone);
        prop_assert_eq!(&together(&cases, &order, 3), &alone);
    }
}
