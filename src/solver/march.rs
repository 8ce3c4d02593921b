//! The adaptive march through time.

use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::state::State;
use crate::solver::watch::Watch;

/// How closely to follow the solution in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Error allowed in a step, relative to `rise_scale` plus the node's own rise [–].
    pub tol: f64,
    /// Rise that matters at the back of the chain [K].
    pub rise_scale: f64,
    /// First step, and longest first step after a break of the drive [s].
    pub dt_start: f64,
    /// Longest step [s].
    pub dt_most: f64,
    /// Most steps, rejected ones included.
    pub n_steps_most: usize,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            tol: 2e-3,
            rise_scale: 12.0,
            dt_start: 2e-3,
            dt_most: f64::INFINITY,
            n_steps_most: 200_000,
        }
    }
}

/// Advances one problem until its drive ends or `watch` stops it.
///
/// Errors: an unusable description, a step too short, too many steps.
pub fn march(
    problem: &Problem,
    options: &Options,
    watch: &mut impl Watch,
) -> Result<Ledger, SolverError> {
    let lanes = Lanes::new(&[problem])?;
    let [ledger] = march_lanes(&lanes, options, std::array::from_mut(watch))?;
    Ok(ledger)
}

/// Advances the problems of all lanes, each with its own step, until each ends or is stopped.
///
/// Errors: as [`march`], for the first lane that fails.
pub fn march_lanes<W: Watch, const L: usize>(
    lanes: &Lanes<L>,
    options: &Options,
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    let mut state = State::new(lanes, options);
    while state.active.contains(&true) {
        state.refresh();
        state.attempt();
        state.judge(watches)?;
    }
    state.close();
    Ok(state.ledgers)
}
