//! What can go wrong while advancing a problem.

use std::fmt;

/// A failure of the solver, with the moment and the numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum SolverError {
    /// The description is not usable; the text says which part.
    Description {
        /// What is wrong with it.
        what: String,
    },
    /// Problems that are to lie side by side are not of one shape.
    Shape,
    /// A strip cannot have so many columns, or does not describe as many.
    Columns {
        /// Columns given.
        n: usize,
    },
    /// The step became too short.
    StepTooShort {
        /// Time reached [s].
        t: f64,
        /// Step asked for [s].
        dt: f64,
    },
    /// More steps than allowed.
    TooManySteps {
        /// Time reached [s].
        t: f64,
        /// Steps taken.
        n_steps: usize,
    },
    /// Its watch gave it up.
    GivenUp {
        /// Time reached [s].
        t: f64,
    },
}

impl fmt::Display for SolverError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SolverError::Description { what } => write!(f, "unusable description: {what}"),
            SolverError::Shape => write!(f, "unusable description: lanes of different shape"),
            SolverError::Columns { n } => {
                write!(f, "unusable description: a strip of {n} columns")
            }
            SolverError::StepTooShort { t, dt } => {
                write!(f, "step of {dt:.1e} s is too short at t = {t:.4} s")
            }
            SolverError::TooManySteps { t, n_steps } => {
                write!(f, "more than {n_steps} steps at t = {t:.4} s")
            }
            SolverError::GivenUp { t } => write!(f, "given up at t = {t:.4} s"),
        }
    }
}

impl std::error::Error for SolverError {}
