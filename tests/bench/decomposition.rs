//! Claim: heat of decomposition is taken up once, whole, by the dry fibre, and delays the disc.
//! Source: conservation of energy: dry mass times heat per mass.
//! Tolerance: 1e-6 of the heat taken up; the printed errors for the delay.

use crate::bench::fixtures::{at, disc, fabric, flame, known, touching};
use crate::close::within_share;
use stillair::bench::assemble::{Backing, PartKind, Setup};
use stillair::bench::effects::{Effect, Without};
use stillair::bench::expose::run_level;
use stillair::bench::watch_disc::DiscWatch;
use stillair::garment::fabric::{Decomposition, Fabric};
use stillair::physics::units::kelvin;
use stillair::solver::problem::Back;

/// Per dry mass [J/kg]; chosen, not measured.
const HEAT: f64 = 150e3;

/// A window that every place of a thin ply passes within seconds.
fn decomposing(mut fabric: Fabric, heat: f64) -> Fabric {
    let (temp_from, temp_to) = (kelvin(60.0), kelvin(120.0));
    fabric.decomposition = Some(Decomposition { heat: known(heat), temp_from, temp_to });
    fabric
}

#[test]
fn all_of_it_is_taken_up_once() {
    let mut cloth = decomposing(fabric(180.0, 0.45, 0.055, 1e-4), HEAT);
    cloth.regain = known(0.08);
    let dry = 0.180 / 1.08;
    let layup = touching([cloth]);
    // the flame goes, and the ply cools again: what was taken up stays taken up
    let mut exposure = flame();
    exposure.duration = Some(12.0);
    exposure.t_end = 40.0;
    let cap_area = exposure.disc.cap_area();
    // water that stays where it is until it leaves for good
    let without = Without::these(&[Effect::MovingVapour]);
    let setup = Setup { without, ..Setup::level(1) };
    let record = run_level(&layup, &exposure, Backing::Disc, &setup, |assembly, trace| {
        let mut watch = DiscWatch::new(trace, assembly.node_behind, 298.15, cap_area);
        watch.to_the_end = true;
        watch
    })
    .expect("a run");
    let trace = &record.watch.trace;
    let (start, end) = (trace.row(0), trace.rows().last().expect("steps"));
    let ply = record.assembly.parts.iter().find(|part| part.kind == PartKind::Ply).unwrap();
    let coolest = (ply.first..=ply.last)
        .map(|i| trace.rows().map(|row| row[i]).fold(0.0, f64::max))
        .fold(f64::INFINITY, f64::min);
    assert!(coolest > kelvin(120.0), "the window is passed everywhere: {coolest} K");
    // the water's own change is the medium's; the law alone is what dry fibre and water hold
    let slab = &record.assembly.problem.slabs[0];
    assert_eq!(slab.medium.changes.len(), 2);
    let sensible: f64 = slab
        .cells
        .iter()
        .enumerate()
        .flat_map(|(c, dx)| [(c, 0.5 * dx), (c + 1, 0.5 * dx)])
        .map(|(i, dx)| {
            let mut without = slab.medium.clone();
            without.changes.truncate(1);
            dx * (without.heat(end[i], 1000.0) - without.heat(start[i], start[i]))
        })
        .sum();
    let Back::Lump { cap_area, .. } = record.assembly.problem.back else { panic!("a disc") };
    let disc = cap_area * (end[ply.last] - start[ply.last]);
    let entered = *trace.heat_in.last().unwrap();
    within_share(entered - sensible - disc, dry * HEAT, 1e-6);
}

#[test]
fn it_delays_and_heat_given_off_hastens() {
    let time = |heat| {
        let cloth = decomposing(fabric(180.0, 0.45, 0.055, 1e-4), heat);
        at(disc(&touching([cloth]), &flame(), 2e-3).rise24)
    };
    let (off, none, up) = (time(-40e3), time(0.0), time(HEAT));
    println!("{off:?} {none:?} {up:?}");
    assert!(none.0 - off.0 > none.1 + off.1 && up.0 - none.0 > up.1 + none.1);
}
