//! Claim: whatever the layup, temperatures stay between the coldest and the hottest source,
//! more material or more still air never shortens the time, heat is accounted for, and the
//! printed error covers the change that a stricter goal brings.
//! Source: maximum principle and comparison theorem of the heat equation (Protter &
//! Weinberger, Maximum Principles in Differential Equations, chapter 3); conservation.
//! Tolerance: the printed numerical errors; 1e-6 for the account.

use crate::bench::fixtures::{at, disc, fabric, flame, gap, known, layup, outcome, ply, staying};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use stillair::bench::expose::Behind;
use stillair::bench::outcome::{ColumnKind, DiscFigures, Figures, Outcome, When};
use stillair::garment::exposure::{Exposure, Orientation};
use stillair::garment::fabric::Fabric;
use stillair::garment::layup::{Entry, Layup};

prop_compose! {
    fn any_fabric()(
        bulk in 60.0..400.0f64,
        mm in 0.3..2.0f64,
        k in 0.03..0.09f64,
        slope in 0.0..2e-4f64,
        emissivity in 0.3..0.95f64,
        transmissivity in prop_oneof![Just(0.0), 0.005..0.3f64],
        regain in prop_oneof![Just(0.0), 0.02..0.2f64],
    ) -> Fabric {
        let mut made = fabric(bulk * mm, mm, k, slope);
        made.emissivity = known(emissivity);
        made.transmissivity = known(transmissivity);
        made.regain = known(regain);
        made.regain_conditioned = regain.min(0.12);
        made
    }
}

/// One to four plies, after each a gap or none.
pub fn any_layup() -> impl Strategy<Value = Layup> {
    let gap_mm = prop_oneof![Just(0.0), 0.2..12.0f64];
    prop::collection::vec((any_fabric(), gap_mm), 1..5).prop_map(|parts| {
        let mut stack: Vec<Entry> = Vec::new();
        for (fabric, mm) in parts {
            stack.push(ply(fabric));
            if mm > 0.0 {
                stack.push(gap(mm));
            }
        }
        layup(stack)
    })
}

pub fn any_exposure() -> impl Strategy<Value = Exposure> {
    let orientation = prop_oneof![
        Just(Orientation::HeatedFromBelow),
        Just(Orientation::Vertical),
        Just(Orientation::Still)
    ];
    let duration = prop_oneof![Just(None), (2.0..12.0f64).prop_map(Some)];
    (10e3..100e3f64, 0.0..1.0f64, orientation, duration).prop_map(
        |(flux, radiant_share, orientation, duration)| Exposure {
            flux: stillair::garment::exposure::Flux::Steady(flux),
            radiant_share,
            orientation,
            duration,
            t_end: 40.0,
            ..flame()
        },
    )
}

fn finite(when: When) -> bool {
    match when {
        When::At { t, error } => t.is_finite() && error.is_finite() && t > 0.0 && error >= 0.0,
        When::NotWithin { t_end } => t_end.is_finite() && t_end > 0.0,
        When::Unsettled { t } => t.is_finite() && t > 0.0,
    }
}

fn figures_are_numbers(outcome: &Outcome) -> bool {
    let runs = outcome.disc.iter().chain(&outcome.skin);
    runs.flat_map(|run| {
        let mut good = vec![run.heat.entered.is_finite() && run.heat.passed_on.is_finite()];
        good.extend(run.heat.parts.iter().map(|part| {
            part.stored.is_finite() && part.resistance.is_finite() && part.resistance_cold > 0.0
        }));
        good.extend(run.plies.iter().map(|ply| finite(ply.limit_passed) && ply.temp_peak > 0.0));
        good.extend(
            run.curves.columns.iter().map(|column| column.values.iter().all(|v| v.is_finite())),
        );
        match &run.figures {
            Figures::Disc(disc) => {
                good.extend([disc.rise12, disc.rise24, disc.stoll].map(finite));
                let both = disc.rise12.t().is_some() && disc.rise24.t().is_some();
                let values = [
                    disc.rise24_less_12.map(|v| v.value + v.error),
                    disc.flux_mean_12_24,
                    disc.transmission_factor,
                ];
                good.extend(values.map(|value| !both || value.is_some_and(f64::is_finite)));
                good.extend(disc.tpp.map(|tpp| tpp.value.is_finite() && tpp.error.is_finite()));
            }
            Figures::Skin(skin) => {
                let times =
                    [skin.basal_44, skin.first_degree, skin.second_degree, skin.third_degree];
                good.extend(times.map(finite));
                let values = [skin.temp_basal_peak, skin.omega_basal, skin.omega_dermal];
                good.extend(values.map(|v| v.value.is_finite() && v.error.is_finite()));
            }
        }
        good
    })
    .all(|good| good)
}

/// Hottest temperature that a source can bring: the flame gas, or the face that radiates its
/// whole share away again.
fn hottest(exposure: &Exposure, flux: f64) -> f64 {
    let radiant =
        (exposure.radiant_share * flux / 5.670374419e-8 + exposure.temp_room.powi(4)).powf(0.25);
    radiant.max(if exposure.radiant_share < 1.0 { exposure.temp_flame } else { 0.0 })
}

fn rise24(layup: &Layup, exposure: &Exposure) -> (f64, f64) {
    let figures: DiscFigures = disc(layup, exposure, 5e-3);
    match figures.rise24 {
        When::At { t, error } => (t, error),
        _ => (exposure.t_end, 0.0),
    }
}

/// Most that evaporation cools below a room of 25 °C [K]: the wet bulb of dry air stands at 8 °C
/// (from memory: 1006 J/(kg·K)·17 K against 6.6 g/kg of 2.48 MJ/kg).
const COLDER_BY_EVAPORATION: f64 = 17.0;

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        rng_seed: RngSeed::Fixed(9151),
        max_shrink_iters: 200,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn figures_are_numbers_and_temperatures_between_the_sources(
        layup in any_layup(),
        exposure in any_exposure(),
    ) {
        let outcome = outcome(&layup, &exposure, Behind::Both, 2e-2);
        let staying = staying(&layup, &exposure, Behind::Both, 2e-2);
        prop_assert!(figures_are_numbers(&staying));
        for run in [&outcome.disc, &outcome.skin, &staying.disc, &staying.skin].into_iter().flatten() {
            prop_assert!(run.numerics.audit <= 1e-6, "audit {}", run.numerics.audit);
            let lost = run.numerics.water_lost.unwrap_or(0.0);
            prop_assert!(lost <= 1e-9, "water {lost} kg/m²");
        }
        prop_assert!(figures_are_numbers(&outcome));
        let stillair::garment::exposure::Flux::Steady(flux) = exposure.flux else { unreachable!() };
        let (cold, hot) = (exposure.temp_room, hottest(&exposure, flux));
        // evaporation cools below the room: only water that stays obeys the principle
        let runs = [(&staying, 0.1), (&outcome, COLDER_BY_EVAPORATION)];
        for (run, below) in runs.iter().flat_map(|(one, below)| {
            one.disc.iter().chain(&one.skin).map(move |run| (run, *below))
        }) {
            for column in run.curves.columns.iter().filter(|c| c.kind == ColumnKind::Temperature) {
                for temp in &column.values {
                    // a step may overshoot by its tolerance
                    prop_assert!(*temp >= cold - below && *temp <= hot + 0.1, "{temp} outside {cold} to {hot}");
                }
            }
        }
    }

    #[test]
    fn a_thicker_still_gap_never_shortens(fabrics in prop::collection::vec(any_fabric(), 2), mm in 0.2..8.0f64, more in 0.1..4.0f64) {
        let exposure = Exposure { orientation: Orientation::Still, ..flame() };
        let time = |mm: f64| {
            let [outer, inner] = [0, 1].map(|i: usize| ply(fabrics[i].clone()));
            rise24(&layup(vec![outer, gap(mm), inner]), &exposure)
        };
        let (thin, thick) = (time(mm), time(mm + more));
        prop_assert!(thick.0 >= thin.0 - thin.1 - thick.1, "{thin:?} with {mm} mm, {thick:?} with {more} mm more");
    }

    #[test]
    fn another_ply_never_shortens(fabrics in prop::collection::vec(any_fabric(), 1..4), inner in any_fabric()) {
        let time = |fabrics: &[Fabric]| {
            rise24(&layup(fabrics.iter().cloned().map(ply).collect()), &flame())
        };
        let before = time(&fabrics);
        let mut more = fabrics.clone();
        more.push(inner);
        let after = time(&more);
        prop_assert!(after.0 >= before.0 - before.1 - after.1, "{before:?}, with one more {after:?}");
    }

    #[test]
    fn the_printed_error_covers_a_stricter_goal(layup in any_layup()) {
        let exposure = Exposure { t_end: 40.0, ..flame() };
        let (loose, strict) = (disc(&layup, &exposure, 5e-3), disc(&layup, &exposure, 6e-4));
        for (name, loose, strict) in [
            ("12 K", loose.rise12, strict.rise12),
            ("24 K", loose.rise24, strict.rise24),
            ("Stoll", loose.stoll, strict.stoll),
        ] {
            if let (When::At { t, error }, When::At { t: t_strict, .. }) = (loose, strict) {
                prop_assert!((t - t_strict).abs() <= error, "{name}: {loose:?}, stricter {strict:?}");
            }
        }
    }
}

#[test]
fn at_refuses_what_did_not_happen() {
    let caught = std::panic::catch_unwind(|| at(When::NotWithin { t_end: 1.0 }));
    assert!(caught.is_err());
}
