//! The runs before skin: every layup, at every place of its quilting, with every gap behind it, after every fire.

use rayon::prelude::*;

use crate::bench::assemble::{Assembly, Backing, Setup, assemble};
use crate::bench::batch::march_all;
use crate::bench::expose::options;
use crate::bench::watch_skin::{OMEGAS, SkinEvents};
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup};
use crate::garment::skin::Skin;
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::watch::{Next, Step, Watch};
use crate::study::answer::{Quilts, quilting};
use crate::study::body::burns::{Burn, ByGap, GAPS, gaps};
use crate::study::body::cell::Behind;
use crate::study::quilt::lay::layup_at;
use crate::study::quilt::path::{Path, paths};

/// Until when burns are looked for after the start [s]: a run ends before that as soon as all is below 44 °C.
pub const REST: f64 = 600.0;
/// Points over the lofted part of a cell between its edge and its middle.
const N_BETWEEN: usize = 1;

/// A layup as it is worn.
#[derive(Debug, Clone, PartialEq)]
pub struct Worn {
    /// The layup, pressed where it is; a gap of its own behind the last ply is left out.
    pub layup: Layup,
    /// Whether all of it lies on the body.
    pub is_pressed: bool,
}

/// What all runs have in common.
#[derive(Debug, Clone, Copy)]
pub struct Setting<'a> {
    /// The skin.
    pub skin: &'a Skin,
    /// Whether quilting is computed.
    pub quilts: Quilts,
}

/// What the runs took.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Work {
    /// Runs on either mesh.
    pub n_runs: usize,
    /// Accepted steps.
    pub n_steps: usize,
    /// Runs that had not come to rest at [`REST`].
    pub n_restless: usize,
    /// Largest part of the heat that an account does not explain [–].
    pub audit: f64,
}

impl Work {
    /// Both together.
    pub fn and(self, other: Work) -> Work {
        Work {
            n_runs: self.n_runs + other.n_runs,
            n_steps: self.n_steps + other.n_steps,
            n_restless: self.n_restless + other.n_restless,
            audit: self.audit.max(other.audit),
        }
    }
}

/// One run to be made.
struct Lane {
    assembly: Assembly,
    flame_end: f64,
}

/// One run as it ended.
#[derive(Debug, Clone, Copy)]
struct Ended {
    degrees: [Option<f64>; 3],
    omegas: [f64; 2],
}

/// Watches skin until nothing more can come, and no shorter: a burn integral that were cut off when the third
/// degree is there would tell nothing of how far the burn reaches.
struct ToRest(SkinEvents);

impl Watch for ToRest {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.0.step(step);
        if self.0.over { Next::Stop } else { Next::Go }
    }
}

/// Which gaps are run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// All of [`GAPS`].
    All,
    /// Every second one.
    Second,
}

impl Which {
    fn gaps(self, worn: &Worn) -> Vec<f64> {
        let n = match (worn.is_pressed, self) {
            (true, _) => 1,
            (false, Which::All) => GAPS.len(),
            (false, Which::Second) => GAPS.len().div_ceil(2),
        };
        gaps(n)
    }
}

/// The burns behind each layup after each fire on the mesh of a level, at all gaps or some:
/// `[exposure][layup]`.
///
/// - `exposures`: each with an end of its flame and [`REST`] to look for burns
///
/// Errors: as [`run_cases`].
pub fn run_all(
    layups: &[Worn],
    exposures: &[Exposure],
    setting: &Setting<'_>,
    (level, which): (usize, Which),
) -> Result<(Vec<Vec<Behind>>, Work), SolverError> {
    let of_fire = |exposure| layups.iter().map(move |worn| (worn, exposure));
    let cases: Vec<(&Worn, &Exposure)> = exposures.iter().flat_map(of_fire).collect();
    let (all, work) = run_cases(&cases, setting, level, which)?;
    let mut all = all.into_iter();
    let behind = exposures.iter().map(|_| all.by_ref().take(layups.len()).collect());
    Ok((behind.collect(), work))
}

/// The burns behind each layup under its own exposure on the mesh of a level, in the order of the cases.
///
/// The numbers do not depend on the number of threads. Errors: those of the solver, for the first run that has
/// one, in that order.
pub fn run_cases(
    cases: &[(&Worn, &Exposure)],
    setting: &Setting<'_>,
    level: usize,
    which: Which,
) -> Result<(Vec<Behind>, Work), SolverError> {
    let cells: Vec<Vec<Option<Path>>> =
        cases.iter().map(|(worn, _)| places(&worn.layup, setting.quilts)).collect();
    let mut plan = Vec::new();
    for ((worn, exposure), cell) in cases.iter().zip(&cells) {
        for path in cell {
            let gaps = which.gaps(worn).into_iter();
            plan.extend(gaps.map(|gap| (*exposure, *worn, *path, gap)));
        }
    }
    let lay = |(exposure, worn, path, gap): &(&Exposure, &Worn, Option<Path>, f64)| {
        let assembly = laid(&worn.layup, *path, *gap, exposure, setting.skin, level);
        Lane { assembly, flame_end: exposure.duration.unwrap_or(exposure.t_end) }
    };
    let lanes: Vec<Lane> = plan.par_iter().map(lay).collect();
    let problems: Vec<&Problem> = lanes.iter().map(|lane| &lane.assembly.problem).collect();
    let watch = |i: usize| ToRest(events(&lanes[i], setting.skin));
    let backing = Backing::Skin(setting.skin);
    let ends = march_all(&problems, &options(level, &backing), watch);
    let ends = ends.into_iter().collect::<Result<Vec<(ToRest, Ledger)>, SolverError>>()?;
    let work = work(&ends);
    let mut ended = ends.iter().map(|(watch, _)| ended(&watch.0));
    let behind = cases.iter().zip(&cells).map(|((worn, _), cell)| {
        let n_gaps = which.gaps(worn).len();
        let runs = cell.iter().map(|path| {
            let runs: Vec<Ended> = ended.by_ref().take(n_gaps).collect();
            (*path, [0, 1, 2].map(|degree| of_degree(&runs, degree)))
        });
        Behind::new(runs.collect())
    });
    Ok((behind.collect(), work))
}

/// The paths of a cell that are run; one that is none for a flat stack.
fn places(layup: &Layup, quilts: Quilts) -> Vec<Option<Path>> {
    match quilting(layup, quilts) {
        Some(quilting) => paths(quilting, N_BETWEEN).into_iter().map(Some).collect(),
        None => vec![None],
    }
}

/// A layup laid out at a place, with a gap behind its last ply.
fn laid(
    layup: &Layup,
    path: Option<Path>,
    gap: f64,
    exposure: &Exposure,
    skin: &Skin,
    level: usize,
) -> Assembly {
    let backing = Backing::Skin(skin);
    let made = |layup: &Layup| assemble(layup, exposure, backing, &Setup::level(level));
    let layup = with_gap(layup, gap);
    match (path, &layup.quilting) {
        (Some(path), Some(quilting)) => {
            made(&layup_at(&layup, quilting, &path)).cut_like(&made(&layup))
        }
        _ => made(&layup),
    }
}

/// The layup with this gap behind its last ply, in place of one of its own.
pub fn with_gap(layup: &Layup, gap: f64) -> Layup {
    let mut stack = layup.stack.clone();
    while matches!(stack.last(), Some(Entry::Gap(_))) {
        stack.pop();
    }
    if gap > 0.0 {
        let thickness = Known::new(gap, Provenance::Estimated, "air under the garment");
        stack.push(Entry::Gap(Gap { thickness }));
    }
    Layup { stack, ..layup.clone() }
}

fn events(lane: &Lane, skin: &Skin) -> SkinEvents {
    let [basal, dermal] = lane.assembly.skin_bases();
    let mut events = SkinEvents::new(skin, basal, dermal);
    events.to_the_end = true;
    events.flame_end = lane.flame_end;
    events
}

fn ended(events: &SkinEvents) -> Ended {
    Ended { degrees: events.degrees, omegas: [events.basal.omega, events.dermal.omega] }
}

fn work(ends: &[(ToRest, Ledger)]) -> Work {
    Work {
        n_runs: ends.len(),
        n_steps: ends.iter().map(|(_, ledger)| ledger.n_steps).sum(),
        n_restless: ends.iter().filter(|(watch, _)| !watch.0.over).count(),
        audit: ends.iter().map(|(_, ledger)| ledger.residual()).fold(0.0, f64::max),
    }
}

/// The burns of one degree at all gaps.
fn of_degree(runs: &[Ended], degree: usize) -> ByGap {
    let burn = |run: &Ended| {
        let omega = run.omegas[usize::from(degree == 2)];
        Burn::new(run.degrees[degree], omega / OMEGAS[degree])
    };
    runs.iter().map(burn).collect()
}
