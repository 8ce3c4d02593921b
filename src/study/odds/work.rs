//! The runs, block by block: each block a share of the sets and a share of the rows of the second
//! design, so that a beginning is as usable as the whole, only coarser.

use std::fmt;

use rayon::prelude::*;

use crate::bench::figure::{Figured, Found};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::study::answer::{AnswerError, quilting};
use crate::study::bits::{Bits, records};
use crate::study::digest::digest;
use crate::study::figure::{Ask, coarsest, figures};
use crate::study::odds::inputs::{Inputs, TooDense};
use crate::study::odds::points::Design;
use crate::study::odds::shortcut::{N_CHECKED, Shortcut};
use crate::study::quilt::ask::N_POINTS;

/// Blocks that the work is cut into.
pub const N_BLOCKS: usize = 16;
/// Quantiles that each input is moved to alone.
pub const SWING: [f64; 2] = [0.05, 0.95];

/// How much is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plan {
    /// Sets of specimens, at most [`crate::study::odds::points::N_MOST`].
    pub n_sets: usize,
    /// Specimens of a set, 1 or more.
    pub n_specimens: usize,
    /// Rows of a design of its own for the contributions; 0 tells them from a surface through the sets.
    pub n_rows: usize,
    /// Seed of the points.
    pub seed: u32,
}

/// What was run so far.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Done {
    /// Blocks.
    pub n_blocks: usize,
    /// The figure of every specimen, set by set, the model taken as exact.
    pub specimens: Vec<Figured>,
    /// Row by row: f(A), f(B), then f(A_B,i) for each input but the model.
    pub rows: Vec<Figured>,
}

/// Why the work could not go on.
#[derive(Debug, Clone, PartialEq)]
pub enum OddsError {
    /// A figure could not be had.
    Answer(AnswerError),
    /// The tolerances are wider than the fabric bears.
    TooDense(TooDense),
}

impl fmt::Display for OddsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OddsError::Answer(error) => write!(f, "{error}"),
            OddsError::TooDense(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for OddsError {}

/// Everything that is held while the blocks run.
#[derive(Debug, Clone)]
pub struct Work<'a> {
    /// The layup.
    pub layup: &'a Layup,
    /// What is asked; its exposure is the one that is drawn around.
    pub ask: Ask<'a>,
    /// How much is drawn.
    pub plan: Plan,
    /// What varies.
    pub inputs: Inputs,
    /// The figure with every input at its value.
    pub nominal: Found,
    /// What it would be with as few points over a cell as the draws have, less that figure [s or J/m²];
    /// none for a flat stack.
    pub fewer_points: Option<f64>,
    /// The figure with one input alone at its quantiles [`SWING`]; none for the model.
    pub swings: Vec<Option<[Figured; 2]>>,
    /// How a draw is had from the coarsest mesh; none where every draw is settled.
    pub shortcut: Option<Shortcut>,
    /// What specimens are counted against [s or J/m²]: sets near it are settled, so that their number is
    /// that of settled ones. None for [`Work::begin`].
    pub at_least: Option<f64>,
    /// What was run so far.
    pub done: Done,
}

impl<'a> Work<'a> {
    /// Runs the layup as it stands, and each input alone at its quantiles.
    ///
    /// Errors: a figure that could not be had, a fabric denser than its fibre.
    pub fn begin(
        layup: &'a Layup,
        ask: Ask<'a>,
        plan: Plan,
        inputs: Inputs,
    ) -> Result<Work<'a>, OddsError> {
        let moving: Vec<usize> = moving(&inputs);
        let at_rest = vec![0.0; inputs.n_factors()];
        let alone = moving.iter().flat_map(|i| SWING.map(|p| inputs.alone(*i, p)));
        let all: Vec<Vec<f64>> = [at_rest].into_iter().chain(alone).collect();
        let found = expose(layup, &ask, &inputs, &all)?;
        let mut swings = vec![None; inputs.all.len()];
        for (i, pair) in moving.iter().zip(found[1..].chunks_exact(2)) {
            swings[*i] = Some([pair[0].figured(), pair[1].figured()]);
        }
        let done = Done::default();
        let (mut nominal, mut fewer_points) = (found[0], None);
        if quilting(layup, ask.quilts).is_some() {
            let many = Ask { n_points: N_POINTS, ..ask };
            nominal = expose(layup, &many, &inputs, &all[..1])?[0];
            fewer_points = Some(found[0].figured().value - nominal.figured().value);
        }
        let (shortcut, at_least) = (None, None);
        let mut work = Work {
            layup,
            ask,
            plan,
            inputs,
            nominal,
            fewer_points,
            swings,
            shortcut,
            at_least,
            done,
        };
        work.shortcut = work.seen_both_ways(found[0])?;
        Ok(work)
    }

    /// What the coarsest mesh tells of the layup as it stands and of some draws, beside what is settled.
    ///
    /// - `nominal`: the settled figure with as many points over a cell as the draws have
    fn seen_both_ways(&self, nominal: Found) -> Result<Option<Shortcut>, OddsError> {
        let Work { layup, ask, inputs, .. } = self;
        let at_rest = vec![0.0; inputs.n_factors()];
        let drawn = (0..N_CHECKED).map(|set| self.specimen(set, 0));
        let all: Vec<Vec<f64>> = std::iter::once(at_rest).chain(drawn).collect();
        let cases = cases(layup, ask, inputs, &all)?;
        let Some(coarse) = coarsest(&cases, ask).map_err(OddsError::Answer)? else {
            return Ok(None);
        };
        let settled = figures(&cases[1..], ask).map_err(OddsError::Answer)?;
        let settled = std::iter::once(nominal).chain(settled);
        let both: Vec<(Found, Found)> = settled.zip(coarse).collect();
        Ok(Shortcut::of(&both, ask.nominal.t_end, ask.error_goal))
    }

    /// Runs of one block on average, for a progress bar.
    pub fn n_runs(&self) -> usize {
        self.plan.n_sets * self.plan.n_specimens + self.plan.n_rows * self.row_length()
    }

    /// Runs of one row of the second design.
    pub fn row_length(&self) -> usize {
        2 + moving(&self.inputs).len()
    }

    /// Whether every block was run.
    pub fn is_done(&self) -> bool {
        self.done.n_blocks >= N_BLOCKS
    }

    /// Runs the next block; nothing when all were.
    ///
    /// Errors: as [`Work::begin`]; what was run before stays.
    pub fn block(&mut self) -> Result<(), OddsError> {
        if self.is_done() {
            return Ok(());
        }
        let block = self.done.n_blocks;
        let share = |n: usize| n * block / N_BLOCKS..n * (block + 1) / N_BLOCKS;
        let mut all = Vec::new();
        for set in share(self.plan.n_sets) {
            all.extend((0..self.plan.n_specimens).map(|s| self.specimen(set, s)));
        }
        let n_specimens = all.len();
        for row in share(self.plan.n_rows) {
            all.extend(self.row(row));
        }
        let mut found = self.run(&all, n_specimens)?;
        let rows = found.split_off(n_specimens);
        self.done.specimens.extend(found);
        self.done.rows.extend(rows);
        self.done.n_blocks += 1;
        Ok(())
    }

    /// The figure at each point as one number, the model taken as exact.
    ///
    /// - `n_counted`: of the points, from the first on, stand for the specimens of whole sets
    fn run(&self, points: &[Vec<f64>], n_counted: usize) -> Result<Vec<Figured>, OddsError> {
        let Work { layup, ask, inputs, .. } = self;
        let cases = cases(layup, ask, inputs, points)?;
        let quick = match &self.shortcut {
            Some(shortcut) => {
                let coarse = coarsest(&cases, ask).map_err(OddsError::Answer)?;
                coarse.map(|all| all.iter().map(|one| shortcut.corrected(one)).collect())
            }
            None => None,
        };
        let mut quick: Vec<Option<Figured>> = quick.unwrap_or_else(|| vec![None; cases.len()]);
        if let (Some(shortcut), Some(at_least)) = (&self.shortcut, self.at_least) {
            let n = self.plan.n_specimens;
            let sets = quick[..n_counted].chunks_exact_mut(n).zip(points.chunks_exact(n));
            for (set, points) in sets {
                let factors = [1.0, inputs.model(&points[0])];
                if shortcut.is_close(set, factors, at_least) {
                    set.fill(None);
                }
            }
        }
        let left = cases.into_iter().zip(&quick).filter(|(_, quick)| quick.is_none());
        let left: Vec<(Layup, Exposure)> = left.map(|(case, _)| case).collect();
        let settled = figures(&left, ask).map_err(OddsError::Answer)?;
        let mut settled = settled.iter().map(Found::figured);
        let one = |quick: Option<Figured>| quick.or_else(|| settled.next());
        Ok(quick.into_iter().filter_map(one).collect())
    }

    /// Standard coordinates of a specimen of a set.
    pub fn specimen(&self, set: usize, specimen: usize) -> Vec<f64> {
        let design = Design { seed: self.plan.seed.wrapping_mul(2) };
        self.inputs.coordinates(design, set, specimen)
    }

    /// Standard coordinates of A and B of a row.
    pub fn pair(&self, row: usize) -> [Vec<f64>; 2] {
        let design = Design { seed: self.plan.seed.wrapping_mul(2).wrapping_add(1) };
        let n = self.inputs.n_factors();
        [0, n].map(|from| {
            let u: Vec<f64> = (0..n).map(|i| design.at(row, from + i)).collect();
            self.inputs.standard(&u)
        })
    }

    fn row(&self, row: usize) -> Vec<Vec<f64>> {
        let [first, second] = self.pair(row);
        let swapped = |i: usize| {
            let mut mixed = first.clone();
            self.inputs.swap(i, &second, &mut mixed);
            mixed
        };
        let swapped: Vec<Vec<f64>> = moving(&self.inputs).into_iter().map(swapped).collect();
        [first, second].into_iter().chain(swapped).collect()
    }

    /// What the values hang on, in sixteen hexadecimal digits.
    pub fn fingerprint(&self) -> String {
        let mut bits = Vec::new();
        env!("CARGO_PKG_VERSION").put(&mut bits);
        self.put(&mut bits);
        format!("{:016x}", digest(&bits))
    }
}

records! {
    Plan { n_sets, n_specimens, n_rows, seed }
}

impl Bits for Work<'_> {
    fn put(&self, to: &mut Vec<u8>) {
        // the rest follows from these: figures of the layup as it stands, and what was run so far
        let Work { layup, ask, plan, inputs, shortcut, at_least, .. } = self;
        let Ask { figure, nominal, skin, error_goal, quilts, n_points } = ask;
        layup.put(to);
        (*figure, (*quilts, (*error_goal, *n_points))).put(to);
        nominal.put(to);
        skin.put(to);
        plan.put(to);
        inputs.put(to);
        (*shortcut, *at_least).put(to);
    }
}

/// The inputs that ask for runs: all but the model.
pub(crate) fn moving(inputs: &Inputs) -> Vec<usize> {
    (0..inputs.all.len()).filter(|i| !inputs.is_model(*i)).collect()
}

/// What is known of the figure at each point, the model taken as exact, settled.
fn expose(
    layup: &Layup,
    ask: &Ask,
    inputs: &Inputs,
    points: &[Vec<f64>],
) -> Result<Vec<Found>, OddsError> {
    figures(&cases(layup, ask, inputs, points)?, ask).map_err(OddsError::Answer)
}

/// The layup and its exposure at each point.
fn cases(
    layup: &Layup,
    ask: &Ask,
    inputs: &Inputs,
    points: &[Vec<f64>],
) -> Result<Vec<(Layup, Exposure)>, OddsError> {
    let draw = |x: &Vec<f64>| inputs.draw(layup, ask.nominal, x);
    let drawn: Vec<Result<(Layup, Exposure), TooDense>> = points.par_iter().map(draw).collect();
    drawn.into_iter().collect::<Result<_, _>>().map_err(OddsError::TooDense)
}
