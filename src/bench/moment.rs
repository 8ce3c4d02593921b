//! The state of a run at any moment, between the steps of its record.
//!
//! The solver goes on from the last step before the moment and ends on it, with its own account of
//! what entered meanwhile: nothing is interpolated, so that heat is found again as closely as in a
//! whole run.

use crate::bench::assemble::Assembly;
use crate::bench::trace::Trace;
use crate::solver::error::SolverError;
use crate::solver::lanes::Lanes;
use crate::solver::march::{Moment, march_on};
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::watch::{Next, Step, Watch};

/// A chain at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Snapshot {
    /// The moment [s].
    pub t: f64,
    /// Temperature of each node [K].
    pub temps: Vec<f64>,
    /// Highest temperature of each node up to then [K].
    pub peaks: Vec<f64>,
    /// What each node holds of water, bound and liquid [kg/m²]; empty where none moves.
    pub contents: Vec<f64>,
    /// Shares of all reactions converted [–]; empty where nothing reacts.
    pub converted: Vec<f64>,
    /// Net heat in through the outer face up to then [J/m²].
    pub heat_in: f64,
}

impl Snapshot {
    /// The same as what a march goes on from.
    pub fn moment(&self) -> Moment<'_> {
        Moment {
            t: self.t,
            temps: &self.temps,
            peaks: &self.peaks,
            contents: &self.contents,
            converted: &self.converted,
        }
    }

    /// The start of a recorded run.
    pub fn start(trace: &Trace) -> Snapshot {
        let temps = trace.row(0).to_vec();
        let contents = trace.contents(0).to_vec();
        let converted = trace.converted(0).to_vec();
        Snapshot { t: 0.0, peaks: temps.clone(), temps, contents, converted, heat_in: 0.0 }
    }
}

/// The state of a run at `t` [s], from its record; no later than the end of its drive.
///
/// Errors: those of the solver.
pub fn at_moment(
    (assembly, trace): (&Assembly, &Trace),
    options: &Options,
    t: f64,
) -> Result<Snapshot, SolverError> {
    let [one] = at_moment_tied([(assembly, trace)], options, None, t)?;
    Ok(one)
}

/// The states at `t` [s] of runs side by side, tied by `ties` as they were.
///
/// Errors: those of the solver.
pub fn at_moment_tied<const L: usize>(
    runs: [(&Assembly, &Trace); L],
    options: &Options,
    ties: Option<[f64; L]>,
    t: f64,
) -> Result<[Snapshot; L], SolverError> {
    let t_end = |(one, _): &(&Assembly, &Trace)| {
        one.problem.drive.pieces.last().map_or(f64::INFINITY, |piece| piece.t_end)
    };
    let t = runs.iter().map(t_end).fold(t, f64::min);
    let mut found = runs.map(|(_, trace)| before(trace, t));
    if found.iter().all(|one| one.t >= t) {
        return Ok(found);
    }
    let cut =
        runs.map(|(one, _)| Problem { drive: one.problem.drive.until(t), ..one.problem.clone() });
    let lanes = Lanes::new(&cut.each_ref())?;
    let from = found.each_ref().map(Snapshot::moment);
    let mut ends: [End; L] = std::array::from_fn(|_| End::default());
    // one step to the moment unless its error asks for more
    let options = Options { dt_start: f64::INFINITY, ..*options };
    march_on(&lanes, &options, ties, &from, &mut ends)?;
    for (one, end) in found.iter_mut().zip(ends) {
        one.t = t;
        one.heat_in += end.heat_in;
        one.peaks.iter_mut().zip(&end.temps).for_each(|(peak, temp)| *peak = peak.max(*temp));
        one.temps = end.temps;
        one.contents = end.contents;
        one.converted = end.converted;
    }
    Ok(found)
}

/// The last step's end of a record that is not after `t`.
fn before(trace: &Trace, t: f64) -> Snapshot {
    let row = trace.t.iter().rposition(|time| *time <= t).unwrap_or(0);
    let peak = |i: usize| trace.rows().take(row + 1).map(|now| now[i]).fold(0.0, f64::max);
    let temps = trace.row(row).to_vec();
    Snapshot {
        t: trace.t[row],
        peaks: (0..temps.len()).map(peak).collect(),
        temps,
        contents: trace.contents(row).to_vec(),
        converted: trace.converted(row).to_vec(),
        heat_in: trace.heat_in[row],
    }
}

/// Keeps what a march ends with.
#[derive(Default)]
struct End {
    temps: Vec<f64>,
    contents: Vec<f64>,
    converted: Vec<f64>,
    heat_in: f64,
}

impl Watch for End {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.settled(step);
        self.converted = (0..step.n_entries()).map(|e| step.converted1(e)).collect();
        self.heat_in = step.heat_in;
        Next::Go
    }

    fn settled(&mut self, end: &Step<'_>) {
        self.temps = (0..end.n_nodes()).map(|i| end.temp1(i)).collect();
        if end.has_vapour() {
            self.contents = (0..end.n_nodes()).map(|i| end.content1(i)).collect();
        }
    }
}
