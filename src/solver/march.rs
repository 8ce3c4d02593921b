//! The adaptive march through time.

use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::problem::Problem;
use crate::solver::state::State;
use crate::solver::tridiagonal::weighted;
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
    run(State::new(lanes, options, None), watches)
}

/// Advances the problems of all lanes together, their last node being one and the same.
///
/// The lanes are paths side by side into one lump: `weights` are their shares of the area and add
/// up to 1. Every lane describes the same lump and starts it at the same temperature. All lanes
/// take the same steps; all stop when one of `watches` says so. The lanes' own ledgers do not
/// close, their weighted sum does ([`tied_ledger`]).
///
/// Errors: as [`march`].
pub fn march_tied<W: Watch, const L: usize>(
    lanes: &Lanes<L>,
    options: &Options,
    weights: &[f64; L],
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    run(State::new(lanes, options, Some(*weights)), watches)
}

/// The account of tied lanes: heat weighted by area, work counted once.
pub fn tied_ledger<const L: usize>(weights: &[f64; L], ledgers: &[Ledger; L]) -> Ledger {
    let sum = |of: fn(&Ledger) -> f64| weighted(weights, &std::array::from_fn(|l| of(&ledgers[l])));
    Ledger {
        heat_in: sum(|ledger| ledger.heat_in),
        heat_out: sum(|ledger| ledger.heat_out),
        heat_source: sum(|ledger| ledger.heat_source),
        heat_stored: sum(|ledger| ledger.heat_stored),
        ..ledgers[0]
    }
}

fn run<W: Watch, const L: usize>(
    mut state: State<'_, L>,
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    while state.active.contains(&true) {
        state.refresh();
        state.attempt();
        state.judge(watches)?;
    }
    state.close();
    Ok(state.ledgers)
}
