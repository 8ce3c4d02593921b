//! All paths of a cell at one level of refinement: into one disc, or each before skin of its own.

use crate::bench::account::stored;
use crate::bench::assemble::{Assembly, Backing};
use crate::bench::expose::{Question, disc_watch, options, setup, skin_watch};
use crate::bench::moment::at_moment_tied;
use crate::bench::trace::Trace;
use crate::bench::watch_disc::DiscWatch;
use crate::bench::watch_skin::SkinWatch;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::march::{march_tied, tied_ledger};
use crate::solver::problem::Problem;
use crate::solver::stream::{Stream, march_stream};
use crate::solver::watch::{Next, Step, Watch};
use crate::study::quilt::lay::assemblies;
use crate::study::quilt::path::Path;

/// Most paths that one disc can be shared by.
pub const N_PATHS_MOST: usize = 32;
/// Paths before skin that are advanced side by side.
const N_SIDE_BY_SIDE: usize = 8;

/// The layup, its quilting and what it is asked.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// The layup, flat.
    pub layup: &'a Layup,
    /// Its quilting, which has been checked.
    pub quilting: &'a Quilting,
    /// The exposure.
    pub exposure: &'a Exposure,
    /// Skin, error goal and how long to follow.
    pub question: &'a Question<'a>,
}

impl Case<'_> {
    /// The paths laid out at a level of refinement.
    pub fn assemblies(&self, paths: &[Path], backing: Backing, level: usize) -> Vec<Assembly> {
        let setting = (self.exposure, backing);
        assemblies(self.layup, self.quilting, paths, setting, &setup(self.question, level))
    }

    fn trace(&self, assembly: &Assembly) -> Trace {
        let limits: Vec<f64> = self.layup.plies().map(|ply| ply.fabric.temp_limit.value).collect();
        Trace::new(assembly, &limits)
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
    made: Vec<Assembly>,
    /// The paths' shares of the area.
    shares: Vec<f64>,
    /// Level of refinement.
    level: usize,
}

impl Shared {
    /// Records of all paths, in their order.
    pub fn traces(&self) -> impl Iterator<Item = &Trace> {
        std::iter::once(&self.disc.trace).chain(&self.others)
    }

    /// Heat that each path has passed on to the disc up to `t` [s], per area of its own [J/m²]: what
    /// entered the path less what it holds.
    ///
    /// Errors: those of the solver.
    pub fn passed_on(&self, t: f64) -> Result<Vec<f64>, SolverError> {
        match self.made.len() {
            1 => self.passed_on_in::<1>(t),
            2..=8 => self.passed_on_in::<8>(t),
            9..=16 => self.passed_on_in::<16>(t),
            17..=24 => self.passed_on_in::<24>(t),
            _ => self.passed_on_in::<N_PATHS_MOST>(t),
        }
    }

    fn passed_on_in<const L: usize>(&self, t: f64) -> Result<Vec<f64>, SolverError> {
        let traces: Vec<&Trace> = self.traces().collect();
        let spare = traces.len() - 1;
        let runs = std::array::from_fn(|l| (&self.made[l.min(spare)], traces[l.min(spare)]));
        let ties: [f64; L] = std::array::from_fn(|l| self.shares.get(l).copied().unwrap_or(0.0));
        let now = at_moment_tied(runs, &options(self.level, &Backing::Disc), Some(ties), t)?;
        let paths = self.made.iter().zip(&traces).zip(&now);
        let passed = paths.map(|((one, trace), now)| {
            now.heat_in - stored(one, trace.row(0), now).iter().sum::<f64>()
        });
        Ok(passed.collect())
    }
}

/// Marches all paths into one disc.
///
/// Errors: those of the solver; a [`SolverError::Description`] for more than [`N_PATHS_MOST`] paths.
pub fn into_one_disc(case: &Case, paths: &[Path], level: usize) -> Result<Shared, SolverError> {
    match paths.len() {
        1 => tied::<1>(case, paths, level),
        2..=8 => tied::<8>(case, paths, level),
        9..=16 => tied::<16>(case, paths, level),
        17..=24 => tied::<24>(case, paths, level),
        25..=N_PATHS_MOST => tied::<32>(case, paths, level),
        n => Err(SolverError::Description { what: format!("{n} paths side by side") }),
    }
}

/// Paths in `L` lanes; lanes left over repeat the last path and count no area.
fn tied<const L: usize>(case: &Case, paths: &[Path], level: usize) -> Result<Shared, SolverError> {
    let made = case.assemblies(paths, Backing::Disc, level);
    let n = paths.len();
    let problems: [&Problem; L] = std::array::from_fn(|l| &made[l.min(n - 1)].problem);
    let weights: [f64; L] = std::array::from_fn(|l| paths.get(l).map_or(0.0, |path| path.share));
    let mut watches: [TiedWatch; L] = std::array::from_fn(|l| match (l, made.get(l)) {
        (_, None) => TiedWatch::Spare,
        (0, Some(one)) => {
            let watch = disc_watch(one, case.trace(one), case.exposure, case.question.follow);
            TiedWatch::Disc(Box::new(watch))
        }
        (_, Some(one)) => TiedWatch::Path(Box::new(case.trace(one))),
    });
    let lanes = Lanes::new(&problems)?;
    let ledgers = march_tied(&lanes, &options(level, &Backing::Disc), &weights, &mut watches)?;
    let (mut disc, mut others) = (None, Vec::with_capacity(n - 1));
    for watch in watches {
        match watch {
            TiedWatch::Disc(watch) => disc = Some(*watch),
            TiedWatch::Path(trace) => others.push(*trace),
            TiedWatch::Spare => {}
        }
    }
    Ok(Shared {
        disc: disc.expect("the first path watches the disc"),
        others,
        ledger: tied_ledger(&weights, &ledgers),
        ledgers: ledgers[..n].to_vec(),
        n_nodes: lanes.n_nodes(),
        shares: paths.iter().map(|path| path.share).collect(),
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
    /// Nobody's path.
    Spare,
}

impl Watch for TiedWatch {
    fn step(&mut self, step: &Step<'_>) -> Next {
        match self {
            TiedWatch::Disc(watch) => return watch.step(step),
            TiedWatch::Path(trace) => trace.note(step),
            TiedWatch::Spare => {}
        }
        Next::Go
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
pub fn before_skin(case: &Case, paths: &[Path], level: usize) -> Result<Vec<Alone>, SolverError> {
    let made = case.assemblies(paths, Backing::Skin(case.question.skin), level);
    let mut stream = SkinStream { case, made: &made, n_given: 0, ends: Vec::new() };
    stream.ends.resize_with(made.len(), || None);
    march_stream::<_, N_SIDE_BY_SIDE>(
        &mut stream,
        &options(level, &Backing::Skin(case.question.skin)),
    );
    let ends = stream.ends.into_iter();
    ends.map(|end| end.expect("the stream gives back every path that it took")).collect()
}

/// The paths as the solver takes them.
struct SkinStream<'a> {
    case: &'a Case<'a>,
    made: &'a [Assembly],
    n_given: usize,
    ends: Vec<Option<Result<Alone, SolverError>>>,
}

impl<'a> Stream<'a> for SkinStream<'a> {
    type Watch = SkinWatch;

    fn next(&mut self) -> Option<(&'a Problem, SkinWatch)> {
        let one = self.made.get(self.n_given)?;
        self.n_given += 1;
        let case = self.case;
        let watch = skin_watch(one, case.trace(one), case.exposure, case.question);
        Some((&one.problem, watch))
    }

    fn ended(&mut self, order: usize, watch: SkinWatch, end: Result<Ledger, SolverError>) {
        let n_nodes = self.made[order].problem.n_nodes();
        self.ends[order] = Some(end.map(|ledger| Alone { watch, ledger, n_nodes }));
    }
}
