//! Claim: whatever layup of moist plies that char stands in a flame, then cools, heat and water are
//! accounted for, no content falls below 0, no share converted leaves 0 to 1, and a run ends.
//! Source: conservation.
//! Tolerance: 1e-6 of the heat, 1e-9 kg/m² of water.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use stillair::bench::assemble::{Backing, Setup, assemble};
use stillair::bench::expose::options;
use stillair::bench::watch_disc::DiscEvents;
use stillair::garment::exposure::{Exposure, Flux};
use stillair::garment::fabric::Fabric;
use stillair::garment::layup::{Entry, Layup};
use stillair::shelf::materials::Shelf;
use stillair::solver::march::march;
use stillair::solver::watch::{Next, Step, Watch};

use crate::bench::fixtures::{gap, known, layup, ply};

/// Looks at every step for what cannot be.
#[derive(Default)]
struct Bounds {
    disc: Option<DiscEvents>,
    least_content: f64,
    shares: (f64, f64),
}

impl Watch for Bounds {
    fn step(&mut self, step: &Step<'_>) -> Next {
        for i in 0..step.n_nodes() {
            self.least_content = self.least_content.min(step.content1(i));
        }
        for e in 0..step.n_entries() {
            self.shares.0 = self.shares.0.min(step.converted1(e));
            self.shares.1 = self.shares.1.max(step.converted1(e));
        }
        self.disc.as_mut().map_or(Next::Go, |disc| disc.step(step))
    }
}

/// A fabric of one of the shelf's fibres.
///
/// - `mass`, `bulk`: its dry mass per area [kg/m²] and per volume [kg/m³]
/// - `wet`: its water over that in the conditioning climate
fn of_shelf(shelf: &Shelf, fibre: usize, (mass, bulk): (f64, f64), wet: f64) -> Fabric {
    const LIKE: [&str; 4] =
        ["outer-aramid-200", "outer-viscose-aramid-240", "felt-lined-255", "lining-fr-viscose-140"];
    let mut made = shelf.fabric(LIKE[fibre]).expect("on the shelf").clone();
    let thickness = mass / bulk;
    let regain = made.regain_conditioned * wet;
    made.thickness = known(thickness);
    made.areal_density = known(mass * (1.0 + regain));
    made.regain = known(regain);
    made.face_void = known(0.05 * thickness);
    made
}

prop_compose! {
    /// One to four plies of the shelf's fibres, of any mass, thickness and wetness.
    fn any_layup()(
        parts in prop::collection::vec(
            (0usize..4, 0.06..0.45f64, 60.0..450.0f64, 0.2..2.0f64, prop_oneof![Just(0.0), 0.3..8.0f64]),
            1..5,
        )
    ) -> Layup {
        let shelf = Shelf::built_in().expect("a shelf");
        let mut stack: Vec<Entry> = Vec::new();
        for (fibre, mass, bulk, wet, air) in parts {
            stack.push(ply(of_shelf(&shelf, fibre, (mass, bulk), wet)));
            if air > 0.0 {
                stack.push(gap(air));
            }
        }
        layup(stack)
    }
}

fn any_exposure() -> impl Strategy<Value = Exposure> {
    let shares = prop_oneof![0.0..1.0f64, Just(1.0)];
    (5e3..90e3f64, shares, 1100.0..2000.0f64, 0.0..15e3f64, 2.0..60.0f64).prop_map(
        |(flux, radiant_share, flame, p_vapour_gas, duration)| {
            let shelf = Shelf::built_in().expect("a shelf");
            let flame_80 = shelf.exposure("flame-80").expect("on the shelf").clone();
            Exposure {
                flux: Flux::Steady(flux),
                radiant_share,
                temp_flame: flame + 273.15,
                p_vapour_gas,
                duration: (duration < 20.0).then_some(duration),
                t_end: 60.0,
                ..flame_80
            }
        },
    )
}

/// Follows a run to its end: before the disc to its last event, before skin to the end of the exposure.
fn accounted_for(
    layup: &Layup,
    exposure: &Exposure,
    backing: Backing,
) -> Result<(), TestCaseError> {
    let assembly = assemble(layup, exposure, backing, &Setup::level(0));
    let cap_area = exposure.disc.cap_area();
    let disc = matches!(backing, Backing::Disc)
        .then(|| DiscEvents::new(assembly.node_behind, exposure.temp_room, cap_area));
    let mut bounds = Bounds { disc, ..Bounds::default() };
    let end = march(&assembly.problem, &options(0, &backing), &mut bounds);
    prop_assert!(end.is_ok(), "{:?}", end);
    let ledger = end.unwrap();
    prop_assert!(ledger.residual() <= 1e-6, "heat: {:e}", ledger.residual());
    prop_assert!(ledger.vapour_lost() <= 1e-9, "water: {:e} kg/m²", ledger.vapour_lost());
    prop_assert!(bounds.least_content >= 0.0, "{:e}", bounds.least_content);
    prop_assert!(bounds.shares.0 >= 0.0 && bounds.shares.1 <= 1.0, "{:?}", bounds.shares);
    Ok(())
}

fn settings(cases: u32, seed: u64) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(seed),
        failure_persistence: None,
        max_shrink_iters: 40,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(settings(500, 8127))]

    #[test]
    fn heat_and_water_are_accounted_for(layup in any_layup(), exposure in any_exposure()) {
        accounted_for(&layup, &exposure, Backing::Disc)?;
    }
}

proptest! {
    #![proptest_config(settings(500, 4410))]

    #[test]
    fn so_they_are_before_skin_in_flame_and_cooling_down(
        layup in any_layup(),
        exposure in any_exposure(),
        duration in 2.0..20.0f64,
    ) {
        let shelf = Shelf::built_in().expect("a shelf");
        let skin = shelf.skins().next().expect("on the shelf");
        let exposure = Exposure { duration: Some(duration), ..exposure };
        accounted_for(&layup, &exposure, Backing::Skin(skin))?;
    }
}
