//! Claim: fluxes that vary in time, exposures that end and events that never happen are
//! reported as they are.
//! Source: two descriptions of one exposure; conservation; definitions of the figures.
//! Tolerance: the printed numerical errors.

use crate::bench::fixtures::{
    at, disc, fabric, flame, on_skin, outcome, skin, three_plies, touching,
};
use crate::close::within;
use stillair::bench::assemble::{Backing, PartKind, Setup};
use stillair::bench::expose::{Behind, run_level};
use stillair::bench::outcome::{ColumnKind, Figures, When};
use stillair::bench::watch_skin::{SkinEvents, SkinWatch};
use stillair::garment::exposure::Flux;

#[test]
fn a_constant_series_is_a_steady_flux() {
    let layup = touching(three_plies(1.0));
    let steady = disc(&layup, &flame(), 5e-3);
    let mut exposure = flame();
    for points in [
        vec![(0.0, 80e3), (60.0, 80e3)],
        vec![(0.0, 80e3), (3.0, 80e3), (7.3, 80e3)],
        vec![(0.0, 80e3), (90.0, 80e3)],
    ] {
        exposure.flux = Flux::Series(points);
        let series = disc(&layup, &exposure, 5e-3);
        for (one, other) in [
            (steady.rise12, series.rise12),
            (steady.rise24, series.rise24),
            (steady.stoll, series.stoll),
        ] {
            let ((t, error), (t_series, error_series)) = (at(one), at(other));
            within(t_series, t, error + error_series);
        }
        let (tpp, tpp_series) = (steady.tpp.expect("tpp"), series.tpp.expect("tpp"));
        within(tpp_series.value, tpp.value, tpp.error + tpp_series.error);
    }
}

#[test]
fn a_rising_flux_is_slower_than_its_end_and_faster_than_its_start() {
    let layup = touching(three_plies(1.0));
    let time = |flux| {
        at(disc(&layup, &stillair::garment::exposure::Exposure { flux, ..flame() }, 2e-3).rise24).0
    };
    let (low, high) = (time(Flux::Steady(40e3)), time(Flux::Steady(80e3)));
    let rising = time(Flux::Series(vec![(0.0, 40e3), (8.0, 80e3)]));
    assert!(high < rising && rising < low, "{high} < {rising} < {low}");
}

#[test]
fn the_burn_integral_grows_after_the_flame() {
    let layup = touching(three_plies(1.0));
    let mut exposure = flame();
    exposure.duration = Some(5.0);
    exposure.t_end = 120.0;
    let run = outcome(&layup, &exposure, Behind::Skin, 2e-3).skin.expect("a run");
    let Figures::Skin(figures) = run.figures else { panic!("figures of skin") };
    let omega = run.curves.columns.iter().find(|column| column.kind == ColumnKind::Omega);
    let values = &omega.expect("a column of the burn integral").values;
    let end = run.curves.t.iter().position(|t| *t == 5.0).expect("a step that ends with the flame");
    assert!(
        figures.omega_basal.value > values[end] + 0.1,
        "{figures:?}, {} at the end",
        values[end]
    );
    assert!(values.windows(2).all(|pair| pair[1] >= pair[0]), "the integral never falls");
    assert!(figures.t_basal_peak > 5.0);
    // looked at until everything is cooler than 44 °C, not until the end of looking
    assert!(run.curves.t.last().expect("steps") < &120.0);
}

#[test]
fn what_never_happens_is_not_within() {
    let layup = touching(three_plies(1.0));
    let mut exposure = flame();
    exposure.flux = Flux::Steady(2e3);
    exposure.t_end = 10.0;
    let figures = disc(&layup, &exposure, 5e-3);
    assert_eq!(figures.rise12, When::NotWithin { t_end: 10.0 });
    assert_eq!(figures.rise24, When::NotWithin { t_end: 10.0 });
    assert_eq!(figures.stoll, When::NotWithin { t_end: 10.0 });
    assert_eq!(figures.rise24_less_12, None);
    assert_eq!(figures.tpp, None);
    assert_eq!(figures.transmission_factor, None);
    let burnt = on_skin(&layup, &exposure, 5e-3);
    assert_eq!(burnt.second_degree, When::NotWithin { t_end: 10.0 });
    assert_eq!(burnt.omega_basal.value, 0.0);
}

/// The moment the flame leaves is laid shortly before and after the moment skin reaches
/// 44 °C: heat already on its way must give the same time to the microsecond of the break.
#[test]
fn events_beside_the_end_of_the_flame() {
    let layup = touching(three_plies(1.0));
    let (skin, level) = (skin(), 3);
    let basal_44 = |duration: Option<f64>| {
        let mut exposure = flame();
        exposure.duration = duration;
        let record = run_level(
            &layup,
            &exposure,
            Backing::Skin(&skin),
            &Setup::level(level),
            |assembly, trace| {
                let mut bases = assembly
                    .parts
                    .iter()
                    .filter(|part| part.kind == PartKind::Skin)
                    .map(|p| p.last);
                let (basal, dermal) = (bases.next().expect("basal"), bases.next().expect("dermal"));
                SkinWatch::new(trace, SkinEvents::new(&skin, basal, dermal))
            },
        );
        record.expect("a run").watch.events.basal_44.expect("44 °C")
    };
    let lasting = basal_44(None);
    for offset in [-1e-2, -1e-4, 1e-7, 1e-4, 1e-2] {
        // three plies hide 10 ms of flame from the skin
        within(basal_44(Some(lasting + offset)), lasting, 1e-4);
    }
}

#[test]
fn a_ply_that_passes_its_limit_is_timed_and_one_that_does_not_is_not() {
    let mut exposure = flame();
    exposure.duration = Some(4.0);
    exposure.t_end = 40.0;
    let mut fabrics = three_plies(1.0);
    fabrics[2] = fabric(600.0, 3.0, 0.05, 0.0);
    let run = outcome(&touching(fabrics), &exposure, Behind::Disc, 5e-3).disc.expect("a run");
    let (t, _) = at(run.plies[0].limit_passed);
    assert!(t > 0.0 && t < 4.0 && run.plies[0].temp_peak > run.plies[0].temp_limit.unwrap());
    assert_eq!(run.plies[2].limit_passed, When::NotWithin { t_end: 40.0 });
    assert!(run.plies[2].temp_peak < run.plies[2].temp_limit.unwrap());
}
