//! A quilting over pitch and loft height.

use rayon::prelude::*;

use crate::bench::figure::figure_name;
use crate::bench::outcome::{Valued, When};
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::garment::target::Figure;
use crate::study::quilt::ask::disc_answer;
use crate::study::quilt::cell::{Cell, thread_mass};
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::lay::check;
use crate::study::quilt::path::paths;
use crate::study::quilt::run::Asked;

/// Points over the lofted part of a cell at each point of a sweep.
const N_POINTS: usize = 7;

/// What to sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepPlan {
    /// Pitches [m], increasing.
    pub pitches: Vec<f64>,
    /// Lofts [m], increasing.
    pub lofts: Vec<f64>,
}

impl SweepPlan {
    /// Evenly spaced pitches and lofts between the ends [m].
    pub fn even(
        pitch: (f64, f64),
        loft: (f64, f64),
        (n_pitches, n_lofts): (usize, usize),
    ) -> SweepPlan {
        let spread = |(from, to): (f64, f64), n: usize| -> Vec<f64> {
            (0..n).map(|i| from + (to - from) * i as f64 / (n - 1).max(1) as f64).collect()
        };
        SweepPlan { pitches: spread(pitch, n_pitches), lofts: spread(loft, n_lofts) }
    }
}

/// One point of a sweep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SweepPoint {
    /// Pitch [m].
    pub pitch: f64,
    /// Loft [m].
    pub loft: f64,
    /// Time to a 24 K rise of the one disc, with the error of mesh and step [s].
    pub rise24: Valued,
    /// Share of the area under stitch lines [–].
    pub stitch_share: f64,
    /// Mass of thread [kg/m²]; none when the thread is not known.
    pub thread: Option<f64>,
}

/// A swept quilting.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// The layup, its own quilting put aside.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// The quilting whose pitch and loft were swept.
    pub quilting: Quilting,
    /// What was swept.
    pub plan: SweepPlan,
    /// Points, pitch running fastest.
    pub points: Vec<SweepPoint>,
}

/// The bench's figure over pitch and loft; points are computed side by side and come in order.
///
/// Errors: [`QuiltError`], the first in the order of the points.
pub fn sweep(asked: &Asked, plan: &SweepPlan) -> Result<Sweep, QuiltError> {
    let places: Vec<(f64, f64)> = plan
        .lofts
        .iter()
        .flat_map(|loft| plan.pitches.iter().map(move |pitch| (*pitch, *loft)))
        .collect();
    let points: Vec<Result<SweepPoint, QuiltError>> =
        places.par_iter().map(|(pitch, loft)| point(asked, *pitch, *loft)).collect();
    Ok(Sweep {
        layup: asked.layup.clone(),
        exposure: asked.exposure.clone(),
        quilting: asked.quilting.clone(),
        plan: plan.clone(),
        points: points.into_iter().collect::<Result<_, _>>()?,
    })
}

fn point(asked: &Asked, pitch: f64, loft: f64) -> Result<SweepPoint, QuiltError> {
    let mut quilting = asked.quilting.clone();
    (quilting.pitch.value, quilting.loft.value) = (pitch, loft);
    check(asked.layup, &quilting)?;
    let asked = Asked { quilting: &quilting, ..*asked };
    let all: Vec<_> =
        paths(&quilting, N_POINTS).into_iter().filter(|path| path.share > 0.0).collect();
    let failed = |source| QuiltError::Solver { behind: "disc", source };
    let (answer, _, _) = disc_answer(&asked, &all).map_err(failed)?;
    match answer.figures.rise24 {
        When::At { t, error } => Ok(SweepPoint {
            pitch,
            loft,
            rise24: Valued { value: t, error },
            stitch_share: Cell::of(&quilting).stitch_share(),
            thread: thread_mass(&quilting),
        }),
        _ => {
            let figure = figure_name(Figure::Rise24, asked.exposure);
            Err(QuiltError::NotReached { figure, pitch, loft, t_end: asked.exposure.t_end })
        }
    }
}
