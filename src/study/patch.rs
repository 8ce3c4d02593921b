//! A patch or embroidery over a share of the area: two paths side by side.
//!
//! The bench's disc stands behind both and averages them; skin is two places of its own.

use crate::bench::assemble::{Assembly, Backing, Setup, assemble};
use crate::bench::expose::{Behind, BenchError, Question, expose, options};
use crate::bench::outcome::{Outcome, When};
use crate::bench::refine::{Readings, refine};
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::garment::press::pressed_layup;
use crate::physics::law::Law;
use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::march::{march_tied, tied_ledger};
use crate::study::patch_cut::{Cuts, in_one_shape};
use crate::study::run::{Terms, disc_times, disc_watch};

/// Conductivity of thread along its fibres [W/(m·K)]; common practice, no source.
pub const K_THREAD: f64 = 0.25;

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
    let question = Question::plain(Behind::Both, terms.skin, terms.error_goal);
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
        let setup = Setup::level(level);
        let cuts = Cuts::of(covered, exposure, &setup);
        let laid = |layup: &Layup| assemble(layup, exposure, Backing::Disc, &setup);
        let (beside, under) = in_one_shape(laid(layup), laid(covered), &cuts);
        let lanes = Lanes::new(&[&beside.problem, &under.problem])?;
        let watch = |assembly: &Assembly, layup: &Layup| {
            let limits: Vec<f64> = layup.plies().map(|ply| ply.fabric.temp_limit.value).collect();
            disc_watch(exposure, assembly, &limits)
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
