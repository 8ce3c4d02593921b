//! One figure of many layups, each under its own exposure.

use rayon::prelude::*;

use crate::bench::expose::{Behind, BenchError, Question, expose};
use crate::bench::figure::{DiscTimes, Found, of_outcome, of_run};
use crate::bench::refine::Readings;
use crate::bench::screen::Screened;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;
use crate::study::answer::{AnswerError, Quilts, admit, as_computed, quilting};
use crate::study::quilt::path::Place;
use crate::study::quilt::record::skin_at;
use crate::study::quilt::run::Asked;
use crate::study::quilt::screen::{AreaError, Points, coarsest_all, screen_all};

/// What is asked of every layup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ask<'a> {
    /// The figure.
    pub figure: Figure,
    /// The exposure as the laboratory believes it to be: TPP is its flux times the time.
    pub nominal: &'a Exposure,
    /// The skin model.
    pub skin: &'a Skin,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
    /// Whether quilting is computed.
    pub quilts: Quilts,
    /// Points over the lofted part of a quilted layup's cell.
    pub n_points: usize,
}

/// The figure of each case, in order; the same bits for any number of threads.
///
/// Errors: the first case, in that order, that could not be computed.
pub fn figures(cases: &[(Layup, Exposure)], ask: &Ask) -> Result<Vec<Found>, AnswerError> {
    for (layup, _) in cases {
        admit(layup, ask.quilts)?;
    }
    if ask.figure == Figure::SecondDegree {
        let all: Vec<_> = cases.par_iter().map(|asked| on_skin(asked, ask)).collect();
        return all.into_iter().collect();
    }
    let points = Points { n: ask.n_points, area: AreaError::LeftOut };
    screen_all(laid(cases, ask), ask.skin, ask.error_goal, points)
        .into_iter()
        .zip(cases)
        .map(|(screened, (_, exposure))| Ok(of_disc(&screened?, exposure, ask)))
        .collect()
}

/// The figure of each case on the coarsest mesh alone, its error at 0 for want of a second mesh; none
/// where skin tells it.
///
/// Errors: as [`figures`].
pub fn coarsest(cases: &[(Layup, Exposure)], ask: &Ask) -> Result<Option<Vec<Found>>, AnswerError> {
    if ask.figure == Figure::SecondDegree {
        return Ok(None);
    }
    for (layup, _) in cases {
        admit(layup, ask.quilts)?;
    }
    let points = Points { n: ask.n_points, area: AreaError::LeftOut };
    let read = coarsest_all(laid(cases, ask), ask.skin, points).into_iter().zip(cases);
    let figure = |(readings, (_, exposure)): (Result<Readings, AnswerError>, &(_, Exposure))| {
        let nominal = under(exposure, ask);
        Ok(DiscTimes::of_one_mesh(&readings?).figure(ask.figure, &nominal))
    };
    read.map(figure).collect::<Result<_, _>>().map(Some)
}

fn laid<'a>(cases: &'a [(Layup, Exposure)], ask: &Ask) -> Vec<(Layup, &'a Exposure)> {
    cases.iter().map(|(layup, exposure)| (as_computed(layup, ask.quilts), exposure)).collect()
}

/// Behind a quilted layup skin burns first at a stitch line.
fn on_skin((layup, exposure): &(Layup, Exposure), ask: &Ask) -> Result<Found, AnswerError> {
    let question = Question::plain(Behind::Skin, ask.skin, ask.error_goal);
    let failed = |source| AnswerError::Bench(BenchError::Solver { behind: "skin", source });
    let run = match quilting(layup, ask.quilts) {
        Some(quilting) => {
            let asked = Asked { layup, quilting, exposure, question: &question, patch: None };
            skin_at(&asked, Place::StitchLine).map_err(failed)?.0
        }
        None => {
            let outcome = expose(layup, exposure, &question).map_err(AnswerError::Bench)?;
            return Ok(of_outcome(&outcome, ask.figure));
        }
    };
    Ok(of_run(&run, ask.figure, exposure))
}

/// The figure in what the disc read under `exposure`, looked for up to its end.
pub(crate) fn of_disc(screened: &Screened, exposure: &Exposure, ask: &Ask) -> Found {
    screened.times.figure(ask.figure, &under(exposure, ask))
}

/// The exposure as the laboratory believes it to be, looked at as long as the one that was computed.
fn under(exposure: &Exposure, ask: &Ask) -> Exposure {
    Exposure { t_end: exposure.t_end, ..ask.nominal.clone() }
}
