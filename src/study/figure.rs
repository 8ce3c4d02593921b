//! One figure of many layups, each under its own exposure.

use std::fmt;

use rayon::prelude::*;

use crate::bench::account::heat_offered;
use crate::bench::expose::{Behind, BenchError, Question, expose};
use crate::bench::outcome::{Figures, When};
use crate::bench::screen::{Screened, screen_each};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;

/// A figure, or the least that it can be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figured {
    /// The figure, or what it is at least [s or J/m²].
    pub value: f64,
    /// Whether it was reached; otherwise `value` is a lower bound.
    pub reached: bool,
}

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
}

/// Why a figure could not be had.
#[derive(Debug, Clone, PartialEq)]
pub enum FigureError {
    /// The exposure could not be computed.
    Bench(BenchError),
    /// The disc was not even 12 K warmer by this time [s]: the time from 12 to 24 K has no bound.
    Unbounded {
        /// End of the time looked at [s].
        t_end: f64,
    },
}

impl fmt::Display for FigureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FigureError::Bench(error) => write!(f, "{error}"),
            FigureError::Unbounded { t_end } => {
                write!(f, "the disc was not 12 K warmer within {t_end} s")
            }
        }
    }
}

impl std::error::Error for FigureError {}

/// The figure of each case, in order; the same bits for any number of threads.
///
/// Errors: the first case, in that order, whose figure could not be had.
pub fn figures(cases: &[(Layup, Exposure)], ask: &Ask) -> Result<Vec<Figured>, FigureError> {
    if ask.figure == Figure::SecondDegree {
        let all: Vec<_> = cases.par_iter().map(|case| on_skin(case, ask)).collect();
        return all.into_iter().collect();
    }
    let borrowed: Vec<(Layup, &Exposure)> =
        cases.iter().map(|(layup, exposure)| (layup.clone(), exposure)).collect();
    screen_each(borrowed, ask.error_goal)
        .zip(cases)
        .map(|(screened, (_, exposure))| {
            let disc = |source| FigureError::Bench(BenchError::Solver { behind: "disc", source });
            of_disc(&screened.map_err(disc)?, exposure, ask)
        })
        .collect()
}

fn on_skin((layup, exposure): &(Layup, Exposure), ask: &Ask) -> Result<Figured, FigureError> {
    let question = Question::plain(Behind::Skin, ask.skin, ask.error_goal);
    let outcome = expose(layup, exposure, &question).map_err(FigureError::Bench)?;
    let figures = outcome.skin.map(|run| run.figures);
    Ok(match figures {
        Some(Figures::Skin(skin)) => time(skin.second_degree),
        _ => Figured { value: exposure.t_end, reached: false },
    })
}

/// The figure in what the disc read.
///
/// Errors: a difference of two times of which neither was reached.
pub(crate) fn of_disc(
    screened: &Screened,
    exposure: &Exposure,
    ask: &Ask,
) -> Result<Figured, FigureError> {
    Ok(match ask.figure {
        Figure::Rise12 => time(screened.rise12),
        Figure::Rise24 => time(screened.rise24),
        Figure::Stoll | Figure::SecondDegree => time(screened.stoll),
        Figure::Tpp => {
            let stoll = time(screened.stoll);
            Figured { value: heat_offered(ask.nominal, stoll.value), ..stoll }
        }
        Figure::Rise24Less12 => match (screened.rise24_less_12, screened.rise12.t()) {
            (Some(between), _) => Figured { value: between.value, reached: true },
            (None, Some(rise12)) => {
                Figured { value: (exposure.t_end - rise12).max(0.0), reached: false }
            }
            (None, None) => return Err(FigureError::Unbounded { t_end: exposure.t_end }),
        },
    })
}

/// A time that may not have been reached; where the meshes disagree it counts as reached.
fn time(when: When) -> Figured {
    match when {
        When::At { t, .. } | When::Unsettled { t } => Figured { value: t, reached: true },
        When::NotWithin { t_end } => Figured { value: t_end, reached: false },
    }
}
