//! One layup unquilted and under several patterns, everything else alike, side by side.

use rayon::prelude::*;

use crate::bench::expose::{Behind, Question, expose};
use crate::bench::figure::{Found, of_outcome, t_valid};
use crate::bench::outcome::{Outcome, When};
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::garment::target::Figure;
use crate::study::quilt::ask::{N_POINTS, bench_failed, quilt};
use crate::study::quilt::cell::Cell;
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::outcome::{Quilted, Sideways};
use crate::study::quilt::run::Asked;
use crate::study::quilt::sideways::with_sideways;

/// One way to hold the plies together, exposed before disc and skin.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// No stitch line: the plies as listed.
    Unquilted(Box<Outcome>),
    /// Quilted.
    Quilted(Box<Quilted>),
}

/// No quilting, then every pattern.
pub const EVERY_WAY: [Option<Pattern>; 4] =
    [None, Some(Pattern::Channels), Some(Pattern::Square), Some(Pattern::Diamond)];

/// Exposes a layup each way asked for, before disc and skin.
///
/// - `patterns`: courses of the stitch lines, none for no stitch line
/// - `like`: the lengths and thread of all of them
/// - `along`: conductivity of the plies along over that through them [–], where every cell is solved in two
///   dimensions, too
///
/// Errors: [`QuiltError`].
pub fn each_way(
    layup: &Layup,
    (patterns, like, along): (&[Option<Pattern>], &Quilting, Option<f64>),
    exposure: &Exposure,
    question: &Question,
) -> Result<Vec<Way>, QuiltError> {
    let question = &Question { behind: Behind::Both, ..*question };
    let bare = Layup { quilting: None, ..layup.clone() };
    let one = |pattern: &Option<Pattern>| match *pattern {
        None => {
            let outcome = expose(&bare, exposure, question).map_err(bench_failed)?;
            Ok(Way::Unquilted(Box::new(outcome)))
        }
        Some(pattern) => {
            let quilting = Quilting { pattern, ..like.clone() };
            let mut quilted = quilt(layup, &quilting, exposure, question, N_POINTS)?;
            if let Some(along) = along {
                let asked = Asked { layup, quilting: &quilting, exposure, question, patch: None };
                let solved = with_sideways((&asked, &quilted), along);
                let failed = |(behind, source)| QuiltError::Solver { behind, source };
                quilted.sideways = Some(solved.map_err(failed)?);
            }
            Ok(Way::Quilted(Box::new(quilted)))
        }
    };
    patterns.par_iter().map(one).collect()
}

impl Way {
    /// Whether both are quiltings that are one to this model.
    pub fn is_twin(&self, other: &Way) -> bool {
        match (self.quilted(), other.quilted()) {
            (Some(one), Some(other)) => are_alike(&one.quilting, &other.quilting),
            _ => false,
        }
    }

    /// "unquilted", or the pattern.
    pub fn name(&self) -> &'static str {
        match self {
            Way::Unquilted(_) => "unquilted",
            Way::Quilted(quilted) => quilted.quilting.pattern.word(),
        }
    }

    /// The layup.
    pub fn layup(&self) -> &Layup {
        match self {
            Way::Unquilted(outcome) => &outcome.layup,
            Way::Quilted(quilted) => &quilted.layup,
        }
    }

    /// The exposure.
    pub fn exposure(&self) -> &Exposure {
        match self {
            Way::Unquilted(outcome) => &outcome.exposure,
            Way::Quilted(quilted) => &quilted.exposure,
        }
    }

    /// The quilting with its answers; none without stitch lines.
    pub fn quilted(&self) -> Option<&Quilted> {
        match self {
            Way::Unquilted(_) => None,
            Way::Quilted(quilted) => Some(quilted),
        }
    }

    /// The cell with heat sideways; none where that was not asked for, or without stitch lines.
    pub fn sideways(&self) -> Option<&Sideways> {
        self.quilted()?.sideways.as_ref()
    }

    /// Mass per area with the thread as far as it is known [kg/m²].
    pub fn mass(&self) -> f64 {
        match self {
            Way::Unquilted(outcome) => outcome.layup.areal_density(),
            Way::Quilted(quilted) => {
                quilted.layup.areal_density() + quilted.thread.unwrap_or_default()
            }
        }
    }

    /// What is known of a figure; of quilted skin the worst place's.
    pub fn figure(&self, figure: Figure) -> Found {
        match self {
            Way::Unquilted(outcome) => of_outcome(outcome, figure),
            Way::Quilted(quilted) => quilted.figure(figure),
        }
    }

    /// From when on a ply in front of skin is past its limit [s]; none if it never is.
    pub fn skin_valid_until(&self) -> Option<f64> {
        match self {
            Way::Unquilted(outcome) => t_valid(&outcome.skin.as_ref()?.plies),
            Way::Quilted(quilted) => t_valid(&quilted.skin.as_ref()?.plies),
        }
    }

    /// When the disc crosses Stoll's curve [s]; none if it does not.
    pub fn noticed(&self) -> Option<f64> {
        noticed(self.figure(Figure::Stoll))
    }

    /// Second-degree burn behind a stitch line; none without one.
    pub fn at_stitch_line(&self) -> Option<When> {
        self.quilted()?.at_stitch_line()
    }

    /// Second-degree burn behind the middle of a cell, or anywhere where there is no cell.
    pub fn at_centre(&self) -> Option<When> {
        match self {
            Way::Quilted(quilted) => Some(quilted.skin.as_ref()?.centre().degrees[1]),
            Way::Unquilted(outcome) => outcome.skin.as_ref()?.second_degree(),
        }
    }

    /// Share of the area that has a second-degree burn by `t` [s] [–].
    pub fn burnt_by(&self, t: f64) -> f64 {
        match self {
            Way::Quilted(quilted) => quilted.burnt_by(t).unwrap_or(0.0),
            Way::Unquilted(_) => {
                let burnt = self.at_centre().and_then(|when| when.t()).is_some_and(|at| at <= t);
                if burnt { 1.0 } else { 0.0 }
            }
        }
    }

    /// Points of the area burnt over time `(t [s], share [–])`; a jump has two points at its time.
    pub fn burnt_curve(&self) -> Vec<(f64, f64)> {
        match self {
            Way::Quilted(quilted) => {
                quilted.skin.as_ref().map_or(Vec::new(), |skin| skin.burnt.curve())
            }
            Way::Unquilted(_) => match self.at_centre().and_then(|when| when.t()) {
                Some(t) => vec![(0.0, 0.0), (t, 0.0), (t, 1.0)],
                None => vec![(0.0, 0.0)],
            },
        }
    }
}

impl Quilted {
    /// Second-degree burn behind a stitch line, beside a patch if there is one.
    pub fn at_stitch_line(&self) -> Option<When> {
        Some(self.skin.as_ref()?.stitch_line().degrees[1])
    }

    /// When the one disc crosses Stoll's curve [s]; none if it does not.
    pub fn noticed(&self) -> Option<f64> {
        noticed(self.figure(Figure::Stoll))
    }
}

fn noticed(stoll: Found) -> Option<f64> {
    match stoll {
        Found::Value { t, .. } => Some(t),
        _ => None,
    }
}

/// Whether two quiltings are one to this model: distances to the nearest stitch line spread alike over
/// the area, whatever the angle of the lines.
fn are_alike(one: &Quilting, other: &Quilting) -> bool {
    let (one_cell, other_cell) = (Cell::of(one), Cell::of(other));
    one_cell.n_families() == other_cell.n_families()
        && Quilting { pattern: other.pattern, ..one.clone() } == *other
}
