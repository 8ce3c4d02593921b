//! All paths of a cell at one level of refinement: into one disc, or each before skin of its own.

use crate::bench::account::stored;
use crate::bench::assemble::{Assembly, Backing};
use crate::bench::batch::march_all;
use crate::bench::expose::{Question, disc_watch, options, setup, skin_watch};
use crate::bench::moment::{Snapshot, at_moment_tied};
use crate::bench::trace::Trace;
use crate::bench::watch_disc::DiscWatch;
use crate::bench::watch_skin::SkinWatch;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::tied::{N_PATHS_MOST, march_paths};
use crate::solver::watch::{Next, Step, Watch};
use crate::study::patch::Patch;
use crate::study::patch_cut::{Cuts, in_one_shape};
use crate::study::quilt::lay::{assemblies, worn};
use crate::study::quilt::path::Path;

/// The layup, its quilting and what it is asked.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The layup, flat.
    pub layup: &'a Layup,
    /// Its quilting, which has been checked.
    pub quilting: &'a Quilting,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// Skin, error goal and how long to follow.
    pub question: &'a Question<'a>,
    /// A patch that lies on all of it; none for the bare quilting.
    pub patch: Option<&'a Patch>,
}

impl Asked<'_> {
    /// The paths laid out at a level of refinement.
    pub fn assemblies(&self, paths: &[Path], backing: Backing, level: usize) -> Vec<Assembly> {
        let (lies, setting) = ((self.layup, self.patch), (self.exposure, backing));
        assemblies(lies, self.quilting, paths, setting, &setup(self.question, level))
    }

    /// The layup with the patch on it.
    pub fn worn(&self) -> Layup {
        worn(self.layup.clone(), self.patch)
    }
}

/// What all paths into one disc did.
#[derive(Debug, Clone)]
pub struct Shared {
    /// The disc, seen behind the first path.
    pub disc: DiscWatch,
    /// Records of the other paths, in their order.
    pub others: Vec<Trace>,
    /// Accounts of all paths, per area of their own; heat into the disc is spread over all of it.
    pub ledgers: Vec<Ledger>,
    /// The account of all paths by their shares of the area.
    pub ledger: Ledger,
    /// Nodes of a path.
    pub n_nodes: usize,
    /// The paths as laid out, with their shares of the area.
    made: Vec<Lane>,
    /// Level of refinement.
    level: usize,
}

impl Shared {
    /// Records of all paths, in their order.
    pub fn traces(&self) -> impl Iterator<Item = &Trace> {
        std::iter::once(&self.disc.trace).chain(&self.others)
    }

    /// The paths as laid out and their records, in their order.
    pub fn into_paths(self) -> Vec<(Assembly, Trace)> {
        let traces = std::iter::once(self.disc.trace).chain(self.others);
        self.made.into_iter().map(|one| one.laid).zip(traces).collect()
    }

    /// The paths as laid out, each with its share of the area [–].
    pub fn laid(&self) -> impl Iterator<Item = (&Assembly, f64)> {
        self.made.iter().map(|one| (&one.laid, one.share))
    }

    /// Heat that each path has passed on to the disc up to `t` [s], per area of its own [J/m²]: what
    /// entered the path less what it holds.
    ///
    /// Errors: those of the solver.
    pub fn passed_on(&self, t: f64) -> Result<Vec<f64>, SolverError> {
        let moments = self.moments(t)?;
        let paths = self.made.iter().zip(self.traces()).zip(&moments);
        let passed = paths.map(|((one, trace), now)| {
            now.heat_in - stored(&one.laid, &Snapshot::start(trace), now)
        });
        Ok(passed.collect())
    }

    /// The state of each path at `t` [s].
    ///
    /// Errors: those of the solver.
    pub fn moments(&self, t: f64) -> Result<Vec<Snapshot>, SolverError> {
        match self.made.len() {
            1 => self.moments_in::<1>(t),
            2..=4 => self.moments_in::<4>(t),
            5..=8 => self.moments_in::<8>(t),
            9..=16 => self.moments_in::<16>(t),
            _ => self.moments_in::<N_PATHS_MOST>(t),
        }
    }

    fn moments_in<const L: usize>(&self, t: f64) -> Result<Vec<Snapshot>, SolverError> {
        let traces: Vec<&Trace> = self.traces().collect();
        let spare = traces.len() - 1;
        let runs = std::array::from_fn(|l| (&self.made[l.min(spare)].laid, traces[l.min(spare)]));
        let ties: [f64; L] = std::array::from_fn(|l| self.made.get(l).map_or(0.0, |one| one.share));
        let now = at_moment_tied(runs, &options(self.level, &Backing::Disc), Some(ties), t)?;
        Ok(now.into_iter().take(traces.len()).collect())
    }
}

/// A path laid out, with its share of the area [–].
#[derive(Debug, Clone)]
struct Lane {
    laid: Assembly,
    share: f64,
}

impl Lane {
    fn trace(&self) -> Trace {
        Trace::new(&self.laid)
    }
}

/// Marches all paths into one disc.
///
/// Errors: those of the solver; among them more than [`N_PATHS_MOST`] paths.
pub fn into_one_disc(asked: &Asked, paths: &[Path], level: usize) -> Result<Shared, SolverError> {
    let made = asked.assemblies(paths, Backing::Disc, level).into_iter().zip(paths);
    let lane = |(laid, path): (_, &Path)| Lane { laid, share: path.share };
    side_by_side(asked, made.map(lane).collect(), level)
}

/// Marches all paths into one disc twice over: bare ones beside the patch and covered ones under it.
///
/// The covered ones follow the bare ones, in the same order.
///
/// Errors: as [`into_one_disc`].
pub fn into_one_disc_patched(
    (bare, patch): (&Asked, &Patch),
    paths: &[Path],
    level: usize,
) -> Result<Shared, SolverError> {
    let covered = Asked { patch: Some(patch), ..*bare };
    let cuts = Cuts::of(&covered.worn(), bare.exposure, &setup(bare.question, level));
    let laid = |asked: &Asked| asked.assemblies(paths, Backing::Disc, level);
    let (mut lanes, mut under_all) = (Vec::new(), Vec::new());
    for ((one, other), path) in laid(bare).into_iter().zip(laid(&covered)).zip(paths) {
        let (beside, under) = in_one_shape(one, other, &cuts);
        let lane = |laid, part: f64| Lane { laid, share: part * path.share };
        lanes.push(lane(beside, 1.0 - patch.share));
        under_all.push(lane(under, patch.share));
    }
    lanes.extend(under_all);
    side_by_side(bare, lanes, level)
}

fn side_by_side(asked: &Asked, made: Vec<Lane>, level: usize) -> Result<Shared, SolverError> {
    let paths: Vec<(&Problem, f64)> =
        made.iter().map(|lane| (&lane.laid.problem, lane.share)).collect();
    let watch = |i: usize| {
        let trace = made[i].trace();
        match i {
            0 => {
                let watch = disc_watch(&made[0].laid, trace, asked.exposure, asked.question);
                TiedWatch::Disc(Box::new(watch))
            }
            _ => TiedWatch::Path(Box::new(trace)),
        }
    };
    let tied = march_paths(&paths, &options(level, &Backing::Disc), watch)?;
    let n_nodes = made[0].laid.problem.n_nodes();
    let (mut disc, mut others) = (None, Vec::with_capacity(made.len() - 1));
    for watch in tied.watches {
        match watch {
            TiedWatch::Disc(watch) => disc = Some(*watch),
            TiedWatch::Path(trace) => others.push(*trace),
        }
    }
    Ok(Shared {
        disc: disc.expect("the first path watches the disc"),
        others,
        ledger: tied.ledger,
        ledgers: tied.ledgers,
        n_nodes,
        level,
        made,
    })
}

/// What looks at a path into the shared disc.
enum TiedWatch {
    /// The disc itself, and the first path.
    Disc(Box<DiscWatch>),
    /// Another path.
    Path(Box<Trace>),
}

impl Watch for TiedWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        match self {
            TiedWatch::Disc(watch) => watch.step(step),
            TiedWatch::Path(trace) => {
                trace.note(step);
                Next::Go
            }
        }
    }

    fn settled(&mut self, end: &Step<'_>) {
        match self {
            TiedWatch::Disc(watch) => watch.settled(end),
            TiedWatch::Path(trace) => trace.settle(end),
        }
    }
}

/// A path before skin of its own.
#[derive(Debug, Clone)]
pub struct Alone {
    /// The skin behind it.
    pub watch: SkinWatch,
    /// Its account.
    pub ledger: Ledger,
    /// Nodes of the path.
    pub n_nodes: usize,
}

/// Marches every path before skin of its own, each with the bits it would have alone.
///
/// Errors: those of the solver, for the first path that has one.
pub fn before_skin(asked: &Asked, paths: &[Path], level: usize) -> Result<Vec<Alone>, SolverError> {
    let backing = Backing::Skin(asked.question.skin);
    let made = asked.assemblies(paths, backing, level);
    let problems: Vec<&Problem> = made.iter().map(|one| &one.problem).collect();
    let watch = |i: usize| {
        let trace = Trace::new(&made[i]);
        skin_watch(&made[i], trace, asked.exposure, asked.question)
    };
    let runs = march_all(&problems, &options(level, &backing), watch).into_iter().zip(&made);
    let alone = |(run, made): (Result<_, SolverError>, &Assembly)| {
        let n_nodes = made.problem.n_nodes();
        run.map(|(watch, ledger)| Alone { watch, ledger, n_nodes })
    };
    runs.map(alone).collect()
}
