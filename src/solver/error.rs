//! What can go wrong while advancing a problem.

use std::fmt;

use crate::solver::fault::Fault;

/// A failure of the solver, with the moment and the numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum SolverError {
    /// The description is not usable: what is wrong with it.
    Description(Fault),
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
            SolverError::Description(fault) => write!(f, "unusable description: {fault}"),
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

impl From<Fault> for SolverError {
    fn from(fault: Fault) -> SolverError {
        SolverError::Description(fault)
    }
}
