//! Many problems marched side by side: those of one shape fill the solver's lanes as these empty.
//!
//! Batches of them run on all cores. Each problem comes out with the bits that it would have alone,
//! whatever stands beside it and however many threads there are.

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::solver::error::SolverError;
use crate::solver::ledger::Ledger;
use crate::solver::options::Options;
use crate::solver::problem::Problem;
use crate::solver::shape::Shape;
use crate::solver::stream::{Stream, march_stream};
use crate::solver::watch::Watch;

/// Problems side by side in the solver.
const N_LANES: usize = 8;
/// Problems side by side where there are no more than these: empty lanes cost as much as full ones.
const N_LANES_FEW: usize = 4;
/// Problems that one thread takes at a time, at least and at most: few leave no core idle, many leave
/// fewer lanes empty at the end of each batch.
const N_BATCH: (usize, usize) = (16, 128);

/// Watch and account of a problem that has ended, or why it was given up.
pub type End<W> = Result<(W, Ledger), SolverError>;

/// Marches all problems; the ends come in the order of the problems.
///
/// - `watch`: makes the watch of the problem at a place
pub fn march_all<W, F>(problems: &[&Problem], options: &Options, watch: F) -> Vec<End<W>>
where
    W: Watch + Send,
    F: Fn(usize) -> W + Sync,
{
    let mut shapes: BTreeMap<Shape, Vec<usize>> = BTreeMap::new();
    for (place, problem) in problems.iter().enumerate() {
        shapes.entry(Shape::of(problem)).or_default().push(place);
    }
    let n_batch = (problems.len() / N_BATCH.0).clamp(N_BATCH.0, N_BATCH.1);
    let batches: Vec<&[usize]> = shapes.values().flat_map(|all| all.chunks(n_batch)).collect();
    let march = |batch: &&[usize]| {
        let ends = batch.iter().map(|_| None).collect();
        let mut stream = Batch { problems, watch: &watch, places: batch, n_given: 0, ends };
        match batch.len() {
            1 => march_stream::<_, 1>(&mut stream, options),
            2..=N_LANES_FEW => march_stream::<_, N_LANES_FEW>(&mut stream, options),
            _ => march_stream::<_, N_LANES>(&mut stream, options),
        }
        stream.ends
    };
    let ends: Vec<Vec<Option<End<W>>>> = batches.par_iter().map(march).collect();
    let mut all: Vec<Option<End<W>>> = problems.iter().map(|_| None).collect();
    for (place, end) in batches.iter().copied().flatten().zip(ends.into_iter().flatten()) {
        all[*place] = end;
    }
    let given_back = |end: Option<End<W>>| end.expect("the stream gives back all that it took");
    all.into_iter().map(given_back).collect()
}

/// Problems of one shape as the solver takes them.
struct Batch<'a, W, F> {
    problems: &'a [&'a Problem],
    watch: &'a F,
    places: &'a [usize],
    n_given: usize,
    ends: Vec<Option<End<W>>>,
}

impl<'a, W: Watch, F: Fn(usize) -> W> Stream<'a> for Batch<'a, W, F> {
    type Watch = W;

    fn next(&mut self) -> Option<(&'a Problem, W)> {
        let place = *self.places.get(self.n_given)?;
        self.n_given += 1;
        Some((self.problems[place], (self.watch)(place)))
    }

    fn ended(&mut self, order: usize, watch: W, end: Result<Ledger, SolverError>) {
        self.ends[order] = Some(end.map(|ledger| (watch, ledger)));
    }
}
