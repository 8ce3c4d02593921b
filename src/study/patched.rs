//! A layup that carries a patch: two places side by side, flat or each with its own cell of quilting.
//!
//! The bench's disc stands behind both and averages them; skin is two places of its own.

use crate::bench::assemble::{Backing, Setup, assemble};
use crate::bench::expose::{Behind, BenchError, Question, expose, options};
use crate::bench::figure::{DiscTimes, disc_readings};
use crate::bench::outcome::{Outcome, When};
use crate::bench::refine::refine;
use crate::garment::layup::Layup;
use crate::garment::press::pressed_layup;
use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::march::{march_tied, tied_ledger};
use crate::study::answer::{AnswerError, admit, quilting};
use crate::study::patch::{Patch, with_patch};
use crate::study::patch_cut::{Cuts, in_one_shape};
use crate::study::quilt::ask::N_POINTS;
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::patched::disc_behind_both;
use crate::study::quilt::record::record;
use crate::study::quilt::run::Asked;
use crate::study::run::{Terms, disc_watch};

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

/// Exposes a layup that carries a patch; stitch lines press none of it, and no loft opens beneath it.
///
/// Errors: [`AnswerError`].
pub fn expose_patched(
    layup: &Layup,
    patch: &Patch,
    terms: &Terms,
) -> Result<PatchOutcome, AnswerError> {
    admit(layup, terms.quilts)?;
    let question = Question::plain(Behind::Both, terms.skin, terms.error_goal);
    if let Some(quilting) = quilting(layup, terms.quilts) {
        let exposure = terms.exposure;
        let asked = Asked { layup, quilting, exposure, question: &question, patch: None };
        return Ok(quilted(&asked, patch)?);
    }
    flat(layup, patch, terms, &question).map_err(AnswerError::Bench)
}

/// A quilted layup, the disc behind the cells of both places.
fn quilted(asked: &Asked, patch: &Patch) -> Result<PatchOutcome, QuiltError> {
    let beside = record(asked, N_POINTS)?;
    let under = record(&Asked { patch: Some(patch), ..*asked }, N_POINTS)?;
    let failed = |source| QuiltError::Solver { behind: "disc", source };
    let both = disc_behind_both(asked, patch, N_POINTS).map_err(failed)?;
    let areas = both.area_errors.map(|error| error.unwrap_or(0.0));
    let DiscTimes { rise12, rise24, stoll, .. } = DiscTimes::from(&both.figures).widened(areas);
    let (audit, goal_met) = (both.numerics.audit, both.numerics.goal_met);
    let disc = SharedDisc { rise12, rise24, stoll, audit, goal_met };
    Ok(PatchOutcome { patch: patch.clone(), beside, under, disc })
}

/// A flat stack and the same under the patch.
fn flat(
    layup: &Layup,
    patch: &Patch,
    terms: &Terms,
    question: &Question,
) -> Result<PatchOutcome, BenchError> {
    let layup = &pressed_layup(layup);
    let covered = pressed_layup(&with_patch(layup, patch));
    let beside = expose(layup, terms.exposure, question)?;
    let under = expose(&covered, terms.exposure, question)?;
    let disc = shared_disc(layup, &covered, patch.share, terms)
        .map_err(|source| BenchError::Solver { behind: "disc", source })?;
    Ok(PatchOutcome { patch: patch.clone(), beside, under, disc })
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
        let mut watches = [&beside, &under].map(|assembly| disc_watch(exposure, assembly));
        let ledgers = march_tied(&lanes, &options(level, &Backing::Disc), &weights, &mut watches)?;
        let ledger = tied_ledger(&weights, &ledgers);
        Ok((ledger.residual(), disc_readings(&watches[0].events, [], &ledger)))
    })?;
    let DiscTimes { rise12, rise24, stoll, .. } = DiscTimes::from(&refined);
    Ok(SharedDisc { rise12, rise24, stoll, audit: refined.finest, goal_met: refined.goal_met })
}
