//! Claim: all heat that enters is found again, ply by ply and in what is behind, at the very moment
//! of HTI24 or of the burn.
//! Source: conservation of energy; the heat a calorimeter holds (ISO 9151).
//! Tolerance: 1e-6 of the heat that entered; for the disc's 24 K the printed error of HTI24.

use crate::bench::fixtures::{
    at, fabric, flame, gap, known, layup, outcome, ply, three_plies, touching,
};
use crate::close::within;
use stillair::bench::expose::Behind;
use stillair::bench::outcome::{Figures, HeatAccount, Run};
use stillair::garment::exposure::Flux;
use stillair::garment::layup::Layup;

fn run(layup: &Layup, duration: Option<f64>) -> Run {
    let mut exposure = flame();
    exposure.duration = duration;
    let run = outcome(layup, &exposure, Behind::Disc, 5e-3).disc.expect("a run");
    assert!(run.numerics.audit <= 1e-6, "audit {}", run.numerics.audit);
    run
}

fn account(layup: &Layup, duration: Option<f64>) -> HeatAccount {
    run(layup, duration).heat
}

#[track_caller]
fn explained(heat: &HeatAccount) {
    let stored: f64 = heat.parts.iter().map(|part| part.stored).sum();
    let left = heat.entered - stored - heat.passed_on;
    within(left, 0.0, 1e-6 * heat.entered);
}

fn layups() -> Vec<Layup> {
    let [outer, felt, inner] = three_plies(1.0).map(ply);
    let mut damp = three_plies(1.0);
    for fabric in &mut damp {
        fabric.regain = known(0.08);
    }
    let mut thin = three_plies(1.0);
    thin[0].transmissivity = known(0.05);
    vec![
        touching(three_plies(1.0)),
        layup(vec![outer, gap(1.0), felt, gap(6.0), inner, gap(2.0)]),
        touching(damp),
        touching(thin),
    ]
}

#[test]
fn heat_is_explained_and_every_share_positive() {
    for layup in layups() {
        let run = run(&layup, None);
        let heat = &run.heat;
        explained(heat);
        assert!(heat.moment.starts_with("at "), "{}", heat.moment);
        assert!(heat.entered > 0.0 && heat.entered <= heat.offered && heat.passed_on > 0.0);
        for part in &heat.parts {
            assert!(part.stored > 0.0 && part.resistance > 0.0, "{part:?}");
        }
        // HTI24: the disc holds 24 K times 5514.7 J/(m²·K), to the printed error of that time
        let Figures::Disc(figures) = &run.figures else { panic!("the disc's run") };
        let (t, error) = at(figures.rise24);
        within(heat.t, t, 1e-12);
        let flux = figures.flux_mean_12_24.expect("24 K are reached");
        within(heat.passed_on, 24.0 * flame().disc.cap_area(), flux * error);
    }
}

#[test]
fn skin_is_accounted_for_at_the_moment_of_the_burn() {
    for layup in layups() {
        let run = outcome(&layup, &flame(), Behind::Skin, 5e-3).skin.expect("a run");
        let Figures::Skin(figures) = &run.figures else { panic!("the skin's run") };
        within(run.heat.t, at(figures.second_degree).0, 1e-12);
        assert!(run.heat.passed_on > 0.0 && run.heat.passed_on < run.heat.entered);
    }
}

#[test]
fn heat_is_explained_after_the_flame_is_gone() {
    for layup in layups() {
        explained(&account(&layup, Some(4.0)));
    }
}

#[test]
fn heat_offered_is_the_area_under_the_flux() {
    let mut exposure = flame();
    exposure.flux = Flux::Series(vec![(0.0, 0.0), (4.0, 80e3), (6.0, 40e3)]);
    let offered = |t: f64| stillair::bench::account::heat_offered(&exposure, t);
    within(offered(2.0), 0.5 * 2.0 * 40e3, 1e-6);
    within(offered(4.0), 160e3, 1e-6);
    within(offered(5.0), 160e3 + 70e3, 1e-6);
    within(offered(10.0), 160e3 + 120e3 + 160e3, 1e-6);
    let ended = stillair::garment::exposure::Exposure { duration: Some(5.0), ..exposure.clone() };
    within(stillair::bench::account::heat_offered(&ended, 10.0), 230e3, 1e-6);
}

#[test]
fn resistance_of_plies_is_thickness_over_conductivity() {
    let heat = account(&touching([fabric(200.0, 0.9, 0.05, 0.0)]), None);
    within(heat.parts[0].resistance, 0.9e-3 / 0.05, 1e-9);
    within(heat.parts[0].resistance_cold, 0.9e-3 / 0.05, 1e-9);
}
