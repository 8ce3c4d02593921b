//! The one disc's times behind quilted layups, for studies that look at many of them.

use rayon::prelude::*;

use crate::bench::expose::{Behind, BenchError, Question};
use crate::bench::figure::DiscTimes;
use crate::bench::refine::Readings;
use crate::bench::screen::{Screened, screen_coarsest, screen_each};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::solver::error::SolverError;
use crate::study::answer::AnswerError;
use crate::study::quilt::ask::{disc_answer, disc_level, with_area};
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::lay::check;
use crate::study::quilt::run::Asked;

/// Points over the lofted part of a cell: with the stitch line they fill the solver's lanes.
pub const N_POINTS: usize = 7;
/// Points that they are checked against.
const N_FEW: usize = 3;

/// Whether the error of the points over a cell is told beside that of mesh and step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AreaError {
    /// It is added to the error of each time, at the price of one more run.
    Told,
    /// It is left out.
    LeftOut,
}

/// How a cell's points are taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Points {
    /// Points over the lofted part, 1 to 30.
    pub n: usize,
    /// Whether their error is told.
    pub area: AreaError,
}

impl Points {
    /// As many as fill the solver's lanes.
    pub fn usual(area: AreaError) -> Points {
        Points { n: N_POINTS, area }
    }
}

/// The disc's times of each layup under its own exposure, in order: quilted ones through all paths
/// of a cell into one disc, loose ones flat.
///
/// - `skin`: stands for none; a question has one
/// - `points`: those over the cell of a quilted layup
///
/// The numbers have the same bits whatever stands beside a layup and however many threads there are.
/// Errors, layup by layup: those of the solver; a quilting that cannot be is a description of it.
pub fn screen_all(
    cases: Vec<Laid>,
    skin: &Skin,
    error_goal: f64,
    points: Points,
) -> Vec<Result<Screened, AnswerError>> {
    let told = |one: Result<Screened, BenchError>| one.map_err(AnswerError::Bench);
    let flat = |flat: Vec<Laid>| screen_each(flat, error_goal).map(told).collect();
    let question = Question::plain(Behind::Disc, skin, error_goal);
    each_as_it_lies(cases, flat, |laid| disc_times(laid, &question, points))
}

/// As [`screen_all`], on the coarsest mesh alone: what the error of a time is, nothing tells.
pub fn coarsest_all(
    cases: Vec<Laid>,
    skin: &Skin,
    points: Points,
) -> Vec<Result<Readings, AnswerError>> {
    // one mesh has no goal to keep to
    let question = Question::plain(Behind::Disc, skin, f64::INFINITY);
    let quilted = |(layup, exposure): &Laid| {
        let asked = checked(layup, exposure, &question)?;
        Ok(disc_level(&asked, &with_area(&asked, points.n), 0).map_err(stopped)?.1)
    };
    let told = |one: Result<Readings, BenchError>| one.map_err(AnswerError::Bench);
    let flat = |flat: Vec<Laid>| screen_coarsest(&flat).into_iter().map(told).collect();
    each_as_it_lies(cases, flat, quilted)
}

/// A layup and what it is exposed to.
pub type Laid<'a> = (Layup, &'a Exposure);

/// Flat ones together and quilted ones one by one, the results in the order of the cases.
fn each_as_it_lies<'a, T: Send>(
    cases: Vec<Laid<'a>>,
    flat: impl FnOnce(Vec<Laid<'a>>) -> Vec<T>,
    quilted: impl Fn(&Laid<'a>) -> T + Sync + Send,
) -> Vec<T> {
    let is_quilted: Vec<bool> = cases.iter().map(|(layup, _)| layup.quilting.is_some()).collect();
    let (sewn, loose): (Vec<_>, Vec<_>) =
        cases.into_iter().partition(|(layup, _)| layup.quilting.is_some());
    let mut loose = flat(loose).into_iter();
    let sewn: Vec<T> = sewn.par_iter().map(quilted).collect();
    let mut sewn = sewn.into_iter();
    let next = |quilt: bool| if quilt { sewn.next() } else { loose.next() };
    is_quilted.into_iter().map(next).map(|one| one.expect("each case has a result")).collect()
}

/// A quilted layup as a case.
fn checked<'a>(
    layup: &'a Layup,
    exposure: &'a Exposure,
    question: &'a Question<'a>,
) -> Result<Asked<'a>, AnswerError> {
    let quilting = layup.quilting.as_ref().expect("only quilted layups come here");
    check(layup, quilting)?;
    Ok(Asked { layup, quilting, patch: None, exposure, question })
}

fn stopped(source: SolverError) -> AnswerError {
    AnswerError::Quilt(QuiltError::Solver { behind: "disc", source })
}

/// The disc's times behind a quilted layup.
fn disc_times(
    (layup, exposure): &Laid,
    question: &Question,
    points: Points,
) -> Result<Screened, AnswerError> {
    let asked = checked(layup, exposure, question)?;
    let (answer, shared, level) =
        disc_answer(&asked, &with_area(&asked, points.n)).map_err(stopped)?;
    let times = DiscTimes::from(&answer.figures);
    let screened = Screened { times, goal_met: answer.numerics.goal_met };
    if points.area == AreaError::LeftOut {
        return Ok(screened);
    }
    let (_, few) = disc_level(&asked, &with_area(&asked, N_FEW), level).map_err(stopped)?;
    let [rise12, rise24] = shared.disc.events.rises;
    let apart = |fine: Option<f64>, few: Option<f64>| match (fine, few) {
        (Some(fine), Some(few)) => (fine - few).abs(),
        _ => 0.0,
    };
    let fine = [rise12, rise24, shared.disc.events.stoll];
    let areas = std::array::from_fn(|i| apart(fine[i], few.times[i]));
    Ok(Screened { times: times.widened(areas), ..screened })
}
