//! Questions put to the bench, each answered with a number: infinite where the event was not reached in the
//! time looked at, NaN where the run failed. The two are told apart wherever they are shown.

use crate::bench::effects::Without;
use crate::bench::expose::{Behind, Question, expose};
use crate::bench::outcome::{Figures, HeatAccount, When};
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, Ply, PlyJoint};
use crate::physics::moisture::{WATER_CONDUCTIVITY, WATER_DENSITY};
use crate::physics::units::cal_cm2;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;

/// Numerical error allowed to each time [–].
const ERROR_GOAL: f64 = 2e-3;

/// What the disc reads: times [s], TPP [cal/cm²], transmission factor [%].
///
/// Infinite where it was not reached, NaN where the run failed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Predicted {
    /// Time to a rise of 12 K.
    pub rise12: f64,
    /// Time to a rise of 24 K.
    pub rise24: f64,
    /// Time between 12 and 24 K.
    pub between: f64,
    /// Heat offered until the Stoll crossing.
    pub tpp: f64,
    /// Flux let through over flux offered.
    pub factor: f64,
}

impl Predicted {
    /// Dead time t12 − (t24 − t12) [s].
    pub fn dead(&self) -> f64 {
        // what is not reached has none, however early the first half was
        if self.between.is_finite() { self.rise12 - self.between } else { self.between }
    }
}

/// Of a run that failed.
const NOTHING: Predicted = Predicted {
    rise12: f64::NAN,
    rise24: f64::NAN,
    between: f64::NAN,
    tpp: f64::NAN,
    factor: f64::NAN,
};

fn t(when: When) -> f64 {
    when.t().unwrap_or(f64::INFINITY)
}

/// The disc's figures and the account of heat at 24 K.
pub fn disc_and_heat(
    shelf: &Shelf,
    layup: &Layup,
    exposure: &Exposure,
) -> (Predicted, Option<HeatAccount>) {
    run(shelf, layup, exposure, Without::default())
}

fn run(
    shelf: &Shelf,
    layup: &Layup,
    exposure: &Exposure,
    without: Without,
) -> (Predicted, Option<HeatAccount>) {
    let Some(skin) = shelf.skins().next() else { return (NOTHING, None) };
    let question = Question { without, ..Question::plain(Behind::Disc, skin, ERROR_GOAL) };
    let run = expose(layup, exposure, &question).ok().and_then(|outcome| outcome.disc);
    let Some(run) = run else { return (NOTHING, None) };
    let Figures::Disc(figures) = run.figures else { return (NOTHING, None) };
    let times = Predicted {
        rise12: t(figures.rise12),
        rise24: t(figures.rise24),
        between: figures.rise24_less_12.map_or(f64::INFINITY, |v| v.value),
        tpp: figures.tpp.map_or(f64::INFINITY, |v| cal_cm2(v.value)),
        factor: figures.transmission_factor.map_or(f64::INFINITY, |share| 100.0 * share),
    };
    (times, Some(run.heat))
}

/// The disc's figures, with effects left out.
pub fn disc_without(
    shelf: &Shelf,
    layup: &Layup,
    exposure: &Exposure,
    without: Without,
) -> Predicted {
    run(shelf, layup, exposure, without).0
}

/// The disc's figures.
pub fn disc(shelf: &Shelf, layup: &Layup, exposure: &Exposure) -> Predicted {
    disc_and_heat(shelf, layup, exposure).0
}

/// Time to a second-degree burn of skin behind a layup [s].
pub fn second_degree(shelf: &Shelf, layup: &Layup, exposure: &Exposure) -> f64 {
    let Some(skin) = shelf.skins().next() else { return f64::NAN };
    let question = Question::plain(Behind::Skin, skin, ERROR_GOAL);
    let run = expose(layup, exposure, &question).ok().and_then(|outcome| outcome.skin);
    match run.map(|run| run.figures) {
        Some(Figures::Skin(figures)) => t(figures.second_degree),
        _ => f64::NAN,
    }
}

/// A layup of the shelf by its name.
pub fn shelf_layup(shelf: &Shelf, name: &str) -> Option<Layup> {
    let (text, path) = (shelf.layup_text(name).ok()?, shelf.layup_path(name).ok()?);
    read_layup_text(text, path, shelf).ok()
}

/// Fabrics of the shelf as plies that touch.
pub fn plies(shelf: &Shelf, names: &[&str]) -> Option<Layup> {
    let stack = names.iter().map(|name| {
        let fabric = shelf.fabric(name).ok()?.clone();
        Some(Entry::Ply(Box::new(Ply { fabric, joint: PlyJoint::Faces })))
    });
    let stack = stack.collect::<Option<Vec<Entry>>>()?;
    let (name, note) = (names.join(", "), String::new());
    Some(Layup { name, note, stack, pressure: None, quilting: None })
}

/// The same layup with air behind its last ply [m].
pub fn with_gap_behind(layup: &Layup, thickness: f64) -> Layup {
    let thickness = Known::new(thickness, Provenance::Estimated, "chosen for the comparison");
    let mut apart = layup.clone();
    apart.stack.push(Entry::Gap(Gap { thickness }));
    apart
}

/// The same layup with water added to one ply: `share` kg for each kg of the ply as conditioned.
pub fn wetted(layup: &Layup, which: usize, share: f64) -> Layup {
    let mut wet = layup.clone();
    if let Some(fabric) = fabric_of(&mut wet, which) {
        fabric.regain.value += share * (1.0 + fabric.regain.value);
        fabric.areal_density.value *= 1.0 + share;
    }
    wet
}

/// Conductivity of air at 330 K [W/(m·K)]. Source: Incropera & DeWitt, table A.4 (from memory).
const AIR_CONDUCTIVITY: f64 = 0.028;

/// The fabric of ply `which`, if there is one.
fn fabric_of(layup: &mut Layup, which: usize) -> Option<&mut Fabric> {
    let plies = layup.stack.iter_mut().filter_map(|entry| match entry {
        Entry::Ply(ply) => Some(&mut ply.fabric),
        Entry::Gap(_) => None,
    });
    plies.into_iter().nth(which)
}

/// As [`wetted`], the water only taking up heat.
pub fn wetted_without_conduction(layup: &Layup, which: usize, share: f64) -> Layup {
    let mut wet = wetted(layup, which, share);
    if let Some(fabric) = fabric_of(&mut wet, which) {
        fabric.regain_conditioned = fabric.regain.value;
    }
    wet
}

/// As [`wetted`], the water beside the fibre as a conductor of its own, even once it has left: the
/// most that it can raise the ply's conductivity (upper bound of Wiener 1912, phases in parallel).
pub fn wetted_in_parallel(layup: &Layup, which: usize, share: f64) -> Layup {
    let mut wet = wetted_without_conduction(layup, which, share);
    let dry = layup.plies().nth(which).map_or(0.0, |ply| ply.fabric.areal_density.value);
    if let Some(fabric) = fabric_of(&mut wet, which) {
        let fraction = dry * share / (fabric.thickness.value * WATER_DENSITY);
        fabric.conductivity.value.base += fraction * (WATER_CONDUCTIVITY - AIR_CONDUCTIVITY);
    }
    wet
}
