//! A patch or embroidery over a share of the area: two paths side by side.
//!
//! The bench's disc stands behind both and averages them; skin is two places of its own.

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use crate::bench::effects::Without;
use crate::bench::expose::{Behind, BenchError, Follow, Question, expose, options};
use crate::bench::outcome::{Outcome, When};
use crate::bench::refine::{Readings, refine};
use crate::bench::trace::Trace;
use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::garment::press::pressed_layup;
use crate::physics::gap::Convection;
use crate::physics::law::Law;
use crate::solver::error::SolverError;
use crate::solver::grid;
use crate::solver::lanes::Lanes;
use crate::solver::march::{march_tied, tied_ledger};
use crate::solver::problem::{Change, Joint, Slab};
use crate::study::run::{Terms, disc_times, disc_watch};

/// Conductivity of thread along its fibres [W/(m·K)]; common practice, no source.
pub const K_THREAD: f64 = 0.25;
/// How cells of the outer ply beside the patch grow from the face inwards [–].
const RATIO_BESIDE: f64 = 1.15;
/// Conductance of a cut that is none [W/(m²·K)].
const H_CUT: f64 = 1e7;
/// Air in a cut that is none [m]: it resists a hundred-thousandth of what a ply does.
const AIR_CUT: f64 = 1e-8;

/// An extra outer ply over part of the area.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Its fabric.
    pub fabric: Fabric,
    /// Share of the area that it covers [–], 0 to 1.
    pub share: f64,
    /// Share of the covered area that is thread piercing the plies as far as the first air gap [–], 0 to below 1.
    pub thread: f64,
}

impl Patch {
    /// Mass that it adds, averaged over the whole area [kg/m²].
    pub fn added(&self) -> f64 {
        self.share * self.fabric.areal_density.value
    }
}

/// What the disc behind both paths reads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharedDisc {
    /// Time to a rise of 12 K.
    pub rise12: When,
    /// Time to a rise of 24 K.
    pub rise24: When,
    /// Time at which its heat crosses the Stoll curve.
    pub stoll: When,
    /// (In − out − stored) over in, weighted by area, absolute [–].
    pub audit: f64,
    /// Whether every time keeps to the error asked for.
    pub goal_met: bool,
}

/// A patched layup exposed.
#[derive(Debug, Clone, PartialEq)]
pub struct PatchOutcome {
    /// The patch.
    pub patch: Patch,
    /// The layup as given: the place beside the patch, and a disc that sees no patch.
    pub beside: Outcome,
    /// The layup with the patch all over: the place under it.
    pub under: Outcome,
    /// The disc behind both.
    pub disc: SharedDisc,
}

/// Exposes a layup that carries a patch.
///
/// Errors: [`BenchError`], when the layup has no ply outermost or the solver gives up.
pub fn expose_patched(
    layup: &Layup,
    patch: &Patch,
    terms: &Terms,
) -> Result<PatchOutcome, BenchError> {
    let question = Question {
        behind: Behind::Both,
        skin: terms.skin,
        error_goal: terms.error_goal,
        follow: Follow::UntilKnown,
        without: Without::default(),
    };
    let layup = &pressed_layup(layup);
    let covered = pressed_layup(&with_patch(layup, patch));
    let beside = expose(layup, terms.exposure, &question)?;
    let under = expose(&covered, terms.exposure, &question)?;
    let disc = shared_disc(layup, &covered, patch.share, terms)
        .map_err(|source| BenchError::Solver { behind: "disc", source })?;
    Ok(PatchOutcome { patch: patch.clone(), beside, under, disc })
}

/// The layup as it is under the patch.
pub fn with_patch(layup: &Layup, patch: &Patch) -> Layup {
    let own = Entry::Ply(Box::new(Ply { fabric: patch.fabric.clone(), joint: PlyJoint::Faces }));
    let mut stack: Vec<Entry> = std::iter::once(own).chain(layup.stack.iter().cloned()).collect();
    for entry in &mut stack {
        match entry {
            Entry::Ply(ply) => {
                ply.fabric.conductivity = ply.fabric.conductivity.map(|k| pierced(k, patch.thread));
            }
            Entry::Gap(_) => break,
        }
    }
    Layup { stack, ..layup.clone() }
}

/// Conductivity of a ply with thread in parallel.
fn pierced(k: &Law, thread: f64) -> Law {
    if thread == 0.0 {
        return k.clone();
    }
    let mut mixed = k.scaled(1.0 - thread);
    mixed.base += thread * K_THREAD;
    mixed
}

/// Runs both paths into one disc on finer and finer meshes.
fn shared_disc(
    layup: &Layup,
    covered: &Layup,
    share: f64,
    terms: &Terms,
) -> Result<SharedDisc, SolverError> {
    let exposure = terms.exposure;
    let weights = [1.0 - share, share];
    let refined = refine(0, terms.error_goal, |level| {
        let (beside, under) = paths(layup, covered, exposure, level);
        let lanes = Lanes::new(&[&beside.problem, &under.problem])?;
        let watch = |assembly: &Assembly, layup: &Layup| {
            let limits: Vec<f64> = layup.plies().map(|ply| ply.fabric.temp_limit.value).collect();
            disc_watch(exposure, assembly, Trace::new(assembly, &limits))
        };
        let mut watches = [watch(&beside, layup), watch(&under, covered)];
        let ledgers = march_tied(&lanes, &options(level, &Backing::Disc), &weights, &mut watches)?;
        let ledger = tied_ledger(&weights, &ledgers);
        let times = disc_times(&watches[0])[..3].to_vec();
        Ok((ledger.residual(), Readings { times, values: Vec::new(), t_end: ledger.t }))
    })?;
    Ok(SharedDisc {
        rise12: refined.times[0],
        rise24: refined.times[1],
        stoll: refined.times[2],
        audit: refined.finest,
        goal_met: refined.goal_met,
    })
}

/// Both paths in one shape: beside the patch the outer ply is cut in two where the patch ends in the other.
fn paths(
    layup: &Layup,
    covered: &Layup,
    exposure: &Exposure,
    level: usize,
) -> (Assembly, Assembly) {
    let coarse = assemble(covered, exposure, Backing::Disc, &Setup::level(0));
    let setup = Setup::level(level);
    let mut under = assemble(covered, exposure, Backing::Disc, &setup);
    let mut beside = assemble(layup, exposure, Backing::Disc, &setup);
    let counts = [0, 1].map(|j| coarse.problem.slabs[j].cells.len());
    let outer = beside.problem.slabs[0].clone();
    let thickness: f64 = outer.cells.iter().sum();
    let mut cells = grid::graded_cells(thickness, counts[0] + counts[1], RATIO_BESIDE);
    for _ in 0..level {
        cells = grid::halved(&cells);
    }
    let inner_cells = cells.split_off(under.problem.slabs[0].cells.len());
    let inner = Slab { cells: inner_cells, ..outer.clone() };
    beside.problem.slabs[0] = Slab { cells, ..outer };
    beside.problem.slabs.insert(1, inner);
    // the cut through the ply is of the kind of the joint under the patch, and resists nothing
    let cut = match under.problem.joints[0] {
        Joint::Shared => Joint::Shared,
        Joint::Conductance(_) => Joint::Conductance(H_CUT),
        Joint::Air { .. } => Joint::Air {
            thickness: AIR_CUT,
            exchange: 1.0,
            convection: Convection::Still,
            cap_area: 0.0,
        },
    };
    beside.problem.joints.insert(0, cut);
    // thread changes how finely the plies under the patch are cut: both places take the same cells
    for (one, other) in beside.problem.slabs.iter_mut().zip(&under.problem.slabs).skip(2) {
        one.cells.clone_from(&other.cells);
    }
    even_changes(&mut beside.problem.slabs[0], &mut under.problem.slabs[0]);
    // the outer ply beside the patch spans what are two plies under it
    let plies: Vec<_> = under.parts.iter().filter(|p| p.kind == PartKind::Ply).collect();
    let whole = (plies[0].first, plies[1].last);
    let rest = under.parts.iter().skip_while(|part| part.first < plies[1].last).cloned();
    let mut outer_part = beside.parts[0].clone();
    (outer_part.first, outer_part.last) = whole;
    beside.parts = std::iter::once(outer_part).chain(rest).collect();
    beside.node_behind = under.node_behind;
    (beside, under)
}

/// Gives both slabs the same number of changes; those added do nothing.
fn even_changes(one: &mut Slab, other: &mut Slab) {
    let idle = Change { heat: 0.0, rho_cp_lost: 0.0, k_lost: 0.0, temp_lo: 373.0, temp_hi: 374.0 };
    let most = one.medium.changes.len().max(other.medium.changes.len());
    one.medium.changes.resize(most, idle);
    other.medium.changes.resize(most, idle);
}
