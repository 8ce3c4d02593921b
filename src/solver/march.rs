//! The adaptive march through time.

use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
pub use crate::solver::moment::Moment;
pub use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::state::State;
use crate::solver::tridiagonal::weighted;
use crate::solver::watch::Watch;

/// Advances one problem until its drive ends or `watch` stops it; returns its closed account.
///
/// Errors: an unusable description, a step too short, too many steps, a watch that gives up.
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
/// Errors: as [`march`], for the first lane that fails; the others go on to their end before it is told.
pub fn march_lanes<W: Watch, const L: usize>(
    lanes: &Lanes<L>,
    options: &Options,
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    run(State::new(lanes.clone(), options, None), watches)
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
    run(State::new(lanes.clone(), options, Some(*weights)), watches)
}

/// Goes on from a moment of an earlier march in every lane; the ledgers begin there.
///
/// - `ties`: the lanes' weights when their last node is one and the same, as for [`march_tied`]
///
/// Errors: as [`march`].
///
/// Panics: if a moment has not one temperature a node.
pub fn march_on<W: Watch, const L: usize>(
    lanes: &Lanes<L>,
    options: &Options,
    ties: Option<[f64; L]>,
    from: &[Moment<'_>; L],
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    let mut state = State::new(lanes.clone(), options, ties);
    for (l, moment) in from.iter().enumerate() {
        state.take_up(l, moment);
    }
    run(state, watches)
}

/// The account of tied lanes: heat weighted by area, work counted once.
pub fn tied_ledger<const L: usize>(weights: &[f64; L], ledgers: &[Ledger; L]) -> Ledger {
    let sum = |of: fn(&Ledger) -> f64| weighted(weights, &std::array::from_fn(|l| of(&ledgers[l])));
    Ledger {
        heat_in: sum(|ledger| ledger.heat_in),
        heat_out: sum(|ledger| ledger.heat_out),
        heat_source: sum(|ledger| ledger.heat_source),
        heat_stored: sum(|ledger| ledger.heat_stored),
        vapour_in: sum(|ledger| ledger.vapour_in),
        vapour_stored: sum(|ledger| ledger.vapour_stored),
        ..ledgers[0]
    }
}

/// Steps until no lane goes on; every end is taken.
fn run<W: Watch, const L: usize>(
    mut state: State<L>,
    watches: &mut [W; L],
) -> Result<[Ledger; L], SolverError> {
    let mut failed = None;
    let mut ledgers = [Ledger::default(); L];
    while state.is_active() {
        step(&mut state, watches);
        for (l, ledger) in ledgers.iter_mut().enumerate() {
            match state.take_end(l) {
                Some(Ok(closed)) => *ledger = closed,
                Some(Err(error)) => failed = failed.or(Some(error)),
                None => {}
            }
        }
    }
    failed.map_or(Ok(ledgers), Err)
}

/// Tries one step in every active lane; those whose step stands are shown to their watch and moved to
/// its end.
///
/// Before: every end was taken ([`State::take_end`]). After: a lane that has come to the end of its
/// drive, was stopped by its watch or failed is idle and its end waits to be taken.
pub(crate) fn step<W: Watch, const L: usize>(state: &mut State<L>, watches: &mut [W; L]) {
    state.plan();
    state.refresh();
    state.attempt();
    state.control(watches);
    state.close(watches);
}
