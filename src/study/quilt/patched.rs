//! A patch or embroidery over part of a quilting: places beside it and under it, one disc behind all.

use crate::bench::expose::{Behind, disc_figures};
use crate::bench::figure::{DiscTimes, disc_readings};
use crate::bench::refine::{Readings, Refined, refine};
use crate::solver::error::SolverError;
use crate::solver::tied::N_PATHS_MOST;
use crate::study::patch::Patch;
use crate::study::quilt::ask::{disc_answer, numerics, skin, with_area};
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::outcome::{PatchedDisc, QuiltedPatch};
use crate::study::quilt::path::Path;
use crate::study::quilt::run::{Asked, Shared, into_one_disc_patched};

/// Most points over a cell when each place counts twice, beside the patch and under it.
pub const N_POINTS_MOST: usize = N_PATHS_MOST / 2 - 1;

/// What a patch adds to a quilting: the disc behind both places, and what stands under it.
///
/// The patch lies on the outer ply over its share of every cell alike, sewn on after the quilting:
/// stitch lines do not press it, and no loft opens beneath it.
///
/// - `case`: the quilting without the patch
/// - `n_points`: as [`quilt`](crate::study::quilt::ask::quilt), at most [`N_POINTS_MOST`]
///
/// Errors: [`QuiltError`].
pub fn patched(asked: &Asked, patch: &Patch, n_points: usize) -> Result<QuiltedPatch, QuiltError> {
    if !(2..=N_POINTS_MOST).contains(&n_points) {
        return Err(QuiltError::TooManyPoints { n_points, most: N_POINTS_MOST });
    }
    let covered = Asked { patch: Some(patch), ..*asked };
    let failed = |behind| move |source| QuiltError::Solver { behind, source };
    let before_disc = || {
        let both = disc_behind_both(asked, patch, n_points)?;
        let (under, _, _) = disc_answer(&covered, &with_area(asked, n_points))?;
        Ok((both, under))
    };
    let behind = asked.question.behind;
    let (disc, under_skin) = rayon::join(
        || (behind != Behind::Skin).then(before_disc).transpose(),
        || (behind != Behind::Disc).then(|| skin(&covered, n_points)).transpose(),
    );
    let (both, under_disc) = disc.map_err(failed("disc"))?.unzip();
    Ok(QuiltedPatch {
        patch: patch.clone(),
        both,
        under_disc,
        under_skin: under_skin.map_err(failed("skin"))?,
    })
}

/// Times of the disc behind both places at a level, and when the first ply anywhere is past its limit.
fn level_of(
    asked: &Asked,
    patch: &Patch,
    paths: &[Path],
    level: usize,
) -> Result<(Shared, Readings), SolverError> {
    let shared = into_one_disc_patched((asked, patch), paths, level)?;
    let passed = shared.traces().flat_map(|trace| trace.limits.passed.iter().flatten().copied());
    let first = passed.min_by(f64::total_cmp);
    let readings = disc_readings(&shared.disc.events, [first], &shared.ledger);
    Ok((shared, readings))
}

/// The one disc behind places beside a patch and under it.
///
/// - `n_points`: at most [`N_POINTS_MOST`]
///
/// Errors: those of the solver.
pub fn disc_behind_both(
    asked: &Asked,
    patch: &Patch,
    n_points: usize,
) -> Result<PatchedDisc, SolverError> {
    let all = with_area(asked, n_points);
    let goal = asked.question.error_goal;
    let refined = refine(0, goal, |level| {
        let (shared, readings) = level_of(asked, patch, &all, level)?;
        Ok(((shared, level, readings.clone()), readings))
    })?;
    let disc_times = DiscTimes::from(&refined);
    let Refined { finest: (shared, level, fine), times, goal_met, .. } = refined;
    let (_, halved) = level_of(asked, patch, &with_area(asked, n_points / 2), level)?;
    Ok(PatchedDisc {
        figures: disc_figures(asked.exposure, &disc_times),
        area_errors: std::array::from_fn(|i| Some((fine.times[i]? - halved.times[i]?).abs())),
        t_valid: times[3].t(),
        numerics: numerics(&shared.ledger, shared.n_nodes * 2 * all.len(), goal, goal_met),
    })
}
