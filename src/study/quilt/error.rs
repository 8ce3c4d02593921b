//! Why a quilting could not be computed.

use std::fmt;

use crate::garment::exposure::ColdFlame;
use crate::solver::error::SolverError;

/// A quilting that is none, or a run that stopped.
#[derive(Debug, Clone, PartialEq)]
pub enum QuiltError {
    /// The layup has no quilting and not enough was given to make one.
    NoQuilting {
        /// Options that are missing.
        missing: Vec<&'static str>,
    },
    /// Fewer than two plies.
    TooFewPlies {
        /// How many there are.
        n_plies: usize,
    },
    /// The layup stands under pressure, which leaves no loft.
    UnderPressure,
    /// The flame gas is colder than the limit of the outermost ply.
    ColdFlame(ColdFlame),
    /// The stitch lines are as wide as their pitch.
    StitchTooWide {
        /// Stitch-line width [m].
        stitch_width: f64,
        /// Pitch [m].
        pitch: f64,
    },
    /// The pressed plies are thicker than the loose ones.
    PressedTooThick {
        /// Thickness asked for [m].
        pressed: f64,
        /// Thickness of the plies together [m].
        plies: f64,
    },
    /// The pressed plies would be thinner than their fibre.
    PressedTooThin {
        /// Thickness asked for [m].
        pressed: f64,
        /// Thickness at which the first ply is solid fibre [m].
        solid: f64,
    },
    /// Every joint between plies has a conductance of its own, so that air finds no place.
    NoPlaceForLoft,
    /// More quadrature points than lanes.
    TooManyPoints {
        /// Points asked for.
        n_points: usize,
        /// The most there can be.
        most: usize,
    },
    /// The solver gave up.
    Solver {
        /// "disc" or "skin".
        behind: &'static str,
        /// Its own error.
        source: SolverError,
    },
    /// A point of a sweep does not reach the figure.
    NotReached {
        /// The figure.
        figure: &'static str,
        /// Pitch [m].
        pitch: f64,
        /// Loft [m].
        loft: f64,
        /// Time looked at [s].
        t_end: f64,
    },
}

impl QuiltError {
    /// What is wrong, in a sentence.
    pub fn what(&self) -> String {
        self.parts().0
    }

    /// What is wrong, the rule, and the next thing to do.
    pub fn parts(&self) -> (String, String, String) {
        let mm = |m: f64| format!("{} mm", (1e6 * m).round() / 1e3);
        match self {
            QuiltError::NoQuilting { missing } => (
                "the layup is not quilted".into(),
                "a layup with a `[quilting]` table, or every option of one".into(),
                format!("give {}", missing.join(", ")),
            ),
            QuiltError::TooFewPlies { n_plies } => (
                format!("a layup of {n_plies} ply cannot be quilted"),
                "two plies or more".into(),
                "add plies to the layup".into(),
            ),
            QuiltError::UnderPressure => (
                "the layup stands under pressure, which leaves no loft between stitch lines".into(),
                "a layup without `pressure_kPa`".into(),
                "remove the pressure from the layup, or expose it flat".into(),
            ),
            QuiltError::ColdFlame(cold) => {
                (cold.to_string(), ColdFlame::EXPECTED.into(), ColdFlame::MEND.into())
            }
            QuiltError::StitchTooWide { stitch_width, pitch } => (
                format!("stitch lines {} wide stand {} apart", mm(*stitch_width), mm(*pitch)),
                "a stitch-line width less than the pitch".into(),
                "give a smaller --stitch-width or a larger --pitch".into(),
            ),
            QuiltError::PressedTooThick { pressed, plies } => (
                format!("the pressed plies are {} thick, thicker than loose", mm(*pressed)),
                format!("more than 0 and at most {}, the plies together", mm(*plies)),
                "measure the thickness at a stitch line: `pressed_mm`, or --pressed".into(),
            ),
            QuiltError::PressedTooThin { pressed, solid } => (
                format!(
                    "the plies cannot be pressed to {}: nothing but fibre is left",
                    mm(*pressed)
                ),
                format!("more than {}", mm(*solid)),
                "measure the thickness at a stitch line: `pressed_mm`, or --pressed".into(),
            ),
            QuiltError::NoPlaceForLoft => (
                "the plies cannot loft: each joint between them has a conductance of its own"
                    .into(),
                "at least one joint without a conductance, or no loft".into(),
                "remove a joint's conductance from the layup, or take a loft of 0".into(),
            ),
            QuiltError::TooManyPoints { n_points, most } => (
                format!("{n_points} points over a cell are too many"),
                format!("1 to {most}"),
                "ask for fewer".into(),
            ),
            QuiltError::Solver { behind, source } => (
                format!("the run in front of the {behind} stopped: {source}"),
                "a layup and an exposure that the solver can follow".into(),
                "look for a value far from the usual in the layup; nothing was written".into(),
            ),
            QuiltError::NotReached { figure, pitch, loft, t_end } => (
                format!(
                    "{figure} is not reached within {t_end} s at a pitch of {} and {} of loft",
                    mm(*pitch),
                    mm(*loft)
                ),
                format!("{figure} at every point of a sweep"),
                "follow for longer with --until, or sweep a smaller range".into(),
            ),
        }
    }
}

impl fmt::Display for QuiltError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, expected, mend) = self.parts();
        write!(f, "error: {what}\n  expected: {expected}\n  mend: {mend}")
    }
}

impl std::error::Error for QuiltError {}
