//! Paths of one shape marched into one lump, whatever looks at them.

use crate::solver::error::SolverError;
use crate::solver::fault::Fault;
use crate::solver::lanes::Lanes;
use crate::solver::ledger::Ledger;
use crate::solver::march::{march_tied, tied_ledger};
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::watch::Watch;

/// Most paths that one lump can be shared by.
pub const N_PATHS_MOST: usize = 32;

/// What paths into one lump did.
#[derive(Debug, Clone)]
pub struct Tied<W> {
    /// The watch of each path.
    pub watches: Vec<W>,
    /// The account of each path, per area of its own; heat into the lump is spread over all of it.
    pub ledgers: Vec<Ledger>,
    /// The account of all paths by their shares of the area.
    pub ledger: Ledger,
}

/// Marches paths into one lump, side by side in the solver; all stop when one watch says so.
///
/// - `paths`: of one shape, each with its share of the area [–]; the shares add up to 1
/// - `watch`: makes the watch of the path at a place
///
/// Errors: those of the march; [`Fault::Paths`] for no path, or more than [`N_PATHS_MOST`].
pub fn march_paths<W: Watch>(
    paths: &[(&Problem, f64)],
    options: &Options,
    watch: impl Fn(usize) -> W,
) -> Result<Tied<W>, SolverError> {
    match paths.len() {
        1 => march_in::<_, 1>(paths, options, watch),
        2..=4 => march_in::<_, 4>(paths, options, watch),
        5..=8 => march_in::<_, 8>(paths, options, watch),
        9..=16 => march_in::<_, 16>(paths, options, watch),
        17..=N_PATHS_MOST => march_in::<_, N_PATHS_MOST>(paths, options, watch),
        n => Err(Fault::Paths(n).into()),
    }
}

/// Paths in `L` lanes; lanes left over repeat the last path and count no area.
fn march_in<W: Watch, const L: usize>(
    paths: &[(&Problem, f64)],
    options: &Options,
    watch: impl Fn(usize) -> W,
) -> Result<Tied<W>, SolverError> {
    let n = paths.len();
    let problems: [&Problem; L] = std::array::from_fn(|l| paths[l.min(n - 1)].0);
    let weights: [f64; L] = std::array::from_fn(|l| paths.get(l).map_or(0.0, |path| path.1));
    // a lane that is nobody's has none
    let mut watches: [Option<W>; L] = std::array::from_fn(|l| (l < n).then(|| watch(l)));
    let lanes = Lanes::new(&problems)?;
    let ledgers = march_tied(&lanes, options, &weights, &mut watches)?;
    Ok(Tied {
        watches: watches.into_iter().flatten().collect(),
        ledgers: ledgers[..n].to_vec(),
        ledger: tied_ledger(&weights, &ledgers),
    })
}
