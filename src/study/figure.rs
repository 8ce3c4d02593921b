//! One figure of many layups, each under its own exposure.

use rayon::prelude::*;

use crate::bench::expose::{Behind, BenchError, Question, expose};
use crate::bench::figure::{DiscTimes, Found, of_outcome};
use crate::bench::screen::{Screened, screen_each};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Figure;

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

/// The figure of each case, in order; the same bits for any number of threads.
///
/// Errors: the first case, in that order, that could not be computed.
pub fn figures(cases: &[(Layup, Exposure)], ask: &Ask) -> Result<Vec<Found>, BenchError> {
    if ask.figure == Figure::SecondDegree {
        let all: Vec<_> = cases.par_iter().map(|case| on_skin(case, ask)).collect();
        return all.into_iter().collect();
    }
    let borrowed: Vec<(Layup, &Exposure)> =
        cases.iter().map(|(layup, exposure)| (layup.clone(), exposure)).collect();
    screen_each(borrowed, ask.error_goal)
        .zip(cases)
        .map(|(screened, (_, exposure))| {
            let disc = |source| BenchError::Solver { behind: "disc", source };
            Ok(of_disc(&screened.map_err(disc)?, exposure, ask))
        })
        .collect()
}

fn on_skin((layup, exposure): &(Layup, Exposure), ask: &Ask) -> Result<Found, BenchError> {
    let question = Question::plain(Behind::Skin, ask.skin, ask.error_goal);
    Ok(of_outcome(&expose(layup, exposure, &question)?, ask.figure))
}

/// The figure in what the disc read under `exposure`, looked for up to its end.
pub(crate) fn of_disc(screened: &Screened, exposure: &Exposure, ask: &Ask) -> Found {
    let nominal = Exposure { t_end: exposure.t_end, ..ask.nominal.clone() };
    DiscTimes::from(screened).figure(ask.figure, &nominal)
}
