//! A quilted layup put before the disc and before skin.

use crate::bench::account::ply_fates;
use crate::bench::expose::{Behind, BenchError, Question, disc_figures, expose};
use crate::bench::figure::{DiscTimes, disc_readings};
use crate::bench::outcome::{Numerics, PlyFate, When};
use crate::bench::refine::{Readings, Refined, refine};
use crate::bench::trace::Trace;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::tied::N_PATHS_MOST;
use crate::study::quilt::burnt::{Burn, BurntArea};
use crate::study::quilt::cell::{Cell, thread_mass};
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::lay::check;
use crate::study::quilt::outcome::{DiscAnswer, Quilted, QuiltedDisc, QuiltedSkin, SkinPlace};
use crate::study::quilt::path::{Path, Place, paths};
use crate::study::quilt::run::{Alone, Asked, Shared, before_skin, into_one_disc};

/// Points over the lofted part of a cell; figures are checked against half as many.
pub const N_POINTS: usize = 14;

/// Exposes a quilted layup: all paths into one disc, and each before skin of its own.
///
/// - `quilting`: how the layup is quilted; its own is passed over
/// - `n_points`: points over the lofted part of a cell, 2 to 30; the same with half as many tells their error
///
/// Errors: [`QuiltError`].
pub fn quilt(
    layup: &Layup,
    quilting: &Quilting,
    exposure: &Exposure,
    question: &Question,
    n_points: usize,
) -> Result<Quilted, QuiltError> {
    check(layup, quilting)?;
    let most = N_PATHS_MOST - 2;
    if !(2..=most).contains(&n_points) {
        return Err(QuiltError::TooManyPoints { n_points, most });
    }
    let asked = Asked { layup, quilting, exposure, question, patch: None };
    let failed = |behind| move |source| QuiltError::Solver { behind, source };
    let (disc, (skin, flat)) = rayon::join(
        || (question.behind != Behind::Skin).then(|| disc(&asked, n_points)).transpose(),
        || {
            let skin =
                || (question.behind != Behind::Disc).then(|| skin(&asked, n_points)).transpose();
            rayon::join(skin, || expose(layup, exposure, question))
        },
    );
    let flat = flat.map_err(bench_failed)?;
    Ok(Quilted {
        layup: Layup { quilting: Some(quilting.clone()), ..layup.clone() },
        exposure: exposure.clone(),
        quilting: quilting.clone(),
        stitch_share: Cell::of(quilting).stitch_share(),
        thread: thread_mass(quilting),
        n_points,
        flat,
        disc: disc.map_err(failed("disc"))?,
        skin: skin.map_err(failed("skin"))?,
        patch: None,
        sideways: None,
    })
}

/// Why the flat stack could not be computed, as an error of a quilting.
pub(super) fn bench_failed(error: BenchError) -> QuiltError {
    match error {
        BenchError::Solver { behind, source } => QuiltError::Solver { behind, source },
        BenchError::PressedAcrossGap => QuiltError::UnderPressure,
        BenchError::ColdFlame(cold) => QuiltError::ColdFlame(cold),
        BenchError::NoPlyOutermost => QuiltError::TooFewPlies { n_plies: 0 },
    }
}

/// Times of the shared disc and the plies' limits at a level.
pub(crate) fn disc_level(
    asked: &Asked,
    paths: &[Path],
    level: usize,
) -> Result<(Shared, Readings), SolverError> {
    let shared = into_one_disc(asked, paths, level)?;
    let passed = first_passed(shared.traces());
    let readings = disc_readings(&shared.disc.events, passed, &shared.ledger);
    Ok((shared, readings))
}

/// One disc behind the given paths, refined.
pub fn disc_answer(
    asked: &Asked,
    paths: &[Path],
) -> Result<(DiscAnswer, Shared, usize), SolverError> {
    let goal = asked.question.error_goal;
    let refined = refine(0, goal, |level| {
        let (shared, readings) = disc_level(asked, paths, level)?;
        Ok(((shared, level), readings))
    })?;
    let disc_times = DiscTimes::from(&refined);
    let Refined { finest: (shared, level), times, goal_met, .. } = refined;
    let trace = &shared.disc.trace;
    let node = shared.n_nodes - 1;
    let rise =
        trace.t.iter().zip(trace.rows()).map(|(t, row)| (*t, row[node] - trace.row(0)[node]));
    let answer = DiscAnswer {
        figures: disc_figures(asked.exposure, &disc_times),
        plies: worst_fates(&asked.worn(), shared.traces(), &times[3..]),
        numerics: numerics(&shared.ledger, shared.n_nodes * paths.len(), goal, goal_met),
        rise: rise.collect(),
    };
    Ok((answer, shared, level))
}

/// Paths that stand for an area.
pub(crate) fn with_area(asked: &Asked, n_points: usize) -> Vec<Path> {
    let all = paths(asked.quilting, n_points).into_iter();
    all.filter(|path| path.share > 0.0).collect()
}

fn disc(asked: &Asked, n_points: usize) -> Result<QuiltedDisc, SolverError> {
    let all = with_area(asked, n_points);
    let (shared, run, level) = disc_answer(asked, &all)?;
    let (_, halved) = disc_level(asked, &with_area(asked, n_points / 2), level)?;
    let fine = [run.disc.events.rises[0], run.disc.events.rises[1], run.disc.events.stoll];
    let area_errors = std::array::from_fn(|i| Some((fine[i]? - halved.times[i]?).abs()));
    let everywhere = |place: Place| {
        let one = paths(asked.quilting, 1).into_iter().find(|path| path.place == place);
        let path = one.expect("every quilting has a stitch line and a centre");
        disc_answer(asked, &[Path { share: 1.0, ..path }]).map(|(answer, _, _)| answer)
    };
    let t_heat = shared.figures.rise24.t().unwrap_or(run.ledger.t);
    let passed = run.passed_on(t_heat)?;
    let part = |path: &Path, heat: &f64| path.share * heat;
    let whole: f64 = all.iter().zip(&passed).map(|(path, heat)| part(path, heat)).sum();
    let stitch = all.iter().zip(&passed).filter(|(path, _)| path.place == Place::StitchLine);
    let stitch: f64 = stitch.map(|(path, heat)| part(path, heat)).sum();
    Ok(QuiltedDisc {
        shared,
        area_errors,
        pressed: everywhere(Place::StitchLine)?,
        lofted: everywhere(Place::Centre)?,
        stitch_heat_share: stitch / whole,
        t_heat,
    })
}

/// Times behind every path at a level: 44 °C and the three degrees of each, then the plies' limits.
fn skin_level(
    asked: &Asked,
    paths: &[Path],
    level: usize,
) -> Result<(Vec<Alone>, Readings), SolverError> {
    let runs = before_skin(asked, paths, level)?;
    let mut times = Vec::new();
    for run in &runs {
        times.push(run.watch.events.basal_44);
        times.extend(run.watch.events.degrees);
    }
    times.extend(first_passed(runs.iter().map(|run| &run.watch.trace)));
    let t_end = runs.iter().map(|run| run.ledger.t).fold(0.0, f64::max);
    let moist = runs.iter().any(|run| run.ledger.has_vapour());
    Ok((runs, Readings { times, between: None, values: Vec::new(), t_end, moist }))
}

/// Every place before skin of its own, refined.
pub(super) fn skin(asked: &Asked, n_points: usize) -> Result<QuiltedSkin, SolverError> {
    let all = paths(asked.quilting, n_points);
    let goal = asked.question.error_goal;
    let refined = refine(0, goal, |level| {
        let (runs, readings) = skin_level(asked, &all, level)?;
        Ok(((runs, level), readings))
    })?;
    let Refined { finest: (runs, level), times, goal_met, .. } = refined;
    let few = paths(asked.quilting, n_points / 2);
    let (few_runs, _) = skin_level(asked, &few, level)?;
    let raw =
        |runs: &[Alone]| runs.iter().map(|run| burn(run, run.watch.events.degrees[1])).collect();
    let burnt = |paths: &[Path], burns: Vec<Burn>| BurntArea::new(paths, &burns);
    let area_error = burnt(&all, raw(&runs)).distance(&burnt(&few, raw(&few_runs)));
    let places: Vec<SkinPlace> = all
        .iter()
        .zip(times.chunks_exact(4))
        .map(|(path, of)| SkinPlace {
            path: *path,
            basal_44: of[0],
            degrees: [of[1], of[2], of[3]],
        })
        .collect();
    let settled =
        runs.iter().zip(&places).map(|(run, place)| burn(run, happened(&place.degrees[1])));
    let passed = &times[4 * all.len()..];
    let n_nodes = runs.iter().map(|run| run.n_nodes).sum();
    let plies = worst_fates(&asked.worn(), runs.iter().map(|run| &run.watch.trace), passed);
    Ok(QuiltedSkin {
        skin: asked.question.skin.name.clone(),
        burnt: burnt(&all, settled.collect()),
        area_error,
        places,
        plies,
        numerics: numerics(&together(&runs), n_nodes, goal, goal_met),
    })
}

fn burn(run: &Alone, t: Option<f64>) -> Burn {
    Burn { t, omega: run.watch.events.basal.omega, t_end: run.ledger.t }
}

/// The time of an event that happened or may have [s].
fn happened(when: &When) -> Option<f64> {
    match when {
        When::At { t, .. } | When::Unsettled { t } => Some(*t),
        When::NotWithin { .. } => None,
    }
}

/// Work of all runs, and the worst account among them.
fn together(runs: &[Alone]) -> Ledger {
    let worst = runs.iter().map(|run| run.ledger);
    let worst = worst.max_by(|a, b| a.residual().total_cmp(&b.residual())).unwrap_or_default();
    let sum = |of: fn(&Ledger) -> usize| runs.iter().map(|run| of(&run.ledger)).sum();
    Ledger {
        n_steps: sum(|ledger| ledger.n_steps),
        n_rejected: sum(|ledger| ledger.n_rejected),
        n_newton: sum(|ledger| ledger.n_newton),
        ..worst
    }
}

/// How numbers were obtained, from an account.
pub(super) fn numerics(
    ledger: &Ledger,
    n_nodes: usize,
    error_goal: f64,
    goal_met: bool,
) -> Numerics {
    Numerics {
        audit: ledger.residual(),
        water_lost: ledger.has_vapour().then(|| ledger.vapour_lost()),
        n_nodes,
        n_steps: ledger.n_steps,
        n_rejected: ledger.n_rejected,
        n_newton: ledger.n_newton,
        error_goal,
        goal_met,
    }
}

/// When each ply first passed its limit on any path [s].
fn first_passed<'a>(traces: impl Iterator<Item = &'a Trace>) -> Vec<Option<f64>> {
    let mut first: Vec<Option<f64>> = Vec::new();
    for trace in traces {
        first.resize(trace.limits.passed.len(), None);
        for (early, t) in first.iter_mut().zip(&trace.limits.passed) {
            *early = [*early, *t].into_iter().flatten().min_by(f64::total_cmp);
        }
    }
    first
}

/// What became of each ply on the path that was worst for it.
fn worst_fates<'a>(
    layup: &Layup,
    traces: impl Iterator<Item = &'a Trace>,
    passed: &[When],
) -> Vec<PlyFate> {
    let mut peaks = vec![0.0_f64; passed.len()];
    let mut limits = &[][..];
    for trace in traces {
        limits = &trace.limits.limits;
        for (peak, temp) in peaks.iter_mut().zip(&trace.peaks) {
            *peak = peak.max(*temp);
        }
    }
    ply_fates((layup, limits), &peaks, passed)
}
