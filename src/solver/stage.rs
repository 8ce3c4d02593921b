//! One implicit stage: Newton's method on the exact tridiagonal Jacobian.
//!
//! The Newton matrix is eliminated row by row while the chain is walked, and the way back measures
//! the correction: two passes over the nodes an iteration.

use crate::solver::evaluate::{At, Ends, Node, Rows};
use crate::solver::lanes::Lanes;
use crate::solver::mask::Mask;
use crate::solver::media::{larger, smaller};
use crate::solver::rates::Rates;
use crate::solver::target::per_target;
use crate::solver::tridiagonal::{Tridiagonal, weighted};

/// Most Newton iterations before a stage counts as failed.
const N_NEWTON_MOST: usize = 8;

/// What a stage asks of each lane.
pub(crate) struct Ask<const L: usize> {
    /// Time of the stage [s].
    pub t: [f64; L],
    /// Piece of the drive.
    pub piece: [usize; L],
    /// Diagonal weight times step [s].
    pub weight: [f64; L],
    /// Lanes that take part.
    pub active: [bool; L],
    /// Correction below which a lane is done, per `rise_scale` plus the node's own rise [–].
    pub newton_tol: f64,
    /// Rise that matters at the back of the chain [K].
    pub rise_scale: f64,
    /// Largest correction over the square of the one before, as seen lately [1/K]; infinite when
    /// it must not be relied on.
    pub bend: [f64; L],
    /// Size of the next correction below which a lane is done when `bend` foretells it [K].
    pub foretold_tol: f64,
    /// Weights of the lanes when their last node is one and the same.
    pub ties: Option<[f64; L]>,
}

/// Room for the Newton iteration.
#[derive(Debug, Clone)]
pub(crate) struct Workspace<const L: usize> {
    pub matrix: Tridiagonal<L>,
    delta: Vec<[f64; L]>,
    /// Heat beyond the goal [J/m²].
    excess: Vec<[f64; L]>,
    last: LastRow<L>,
}

/// Rate of the last node and its derivatives by the temperature before it and its own.
#[derive(Debug, Clone, Copy)]
struct LastRow<const L: usize> {
    rate: [f64; L],
    lower: [f64; L],
    diag: [f64; L],
}

impl<const L: usize> Workspace<L> {
    pub fn new(n: usize) -> Workspace<L> {
        let zeros = || vec![[0.0; L]; n];
        let last = LastRow { rate: [0.0; L], lower: [0.0; L], diag: [0.0; L] };
        Workspace { matrix: Tridiagonal::zeros(n), delta: zeros(), excess: zeros(), last }
    }
}

/// How a stage ended, lane by lane.
pub(crate) struct StageEnd<const L: usize> {
    pub solved: [bool; L],
    pub n_iterations: [usize; L],
    /// Largest correction over the square of the one before; none after a single correction.
    pub bend: [Option<f64>; L],
}

/// What a stage starts from.
#[derive(Clone, Copy)]
pub(crate) struct Given<'a, const L: usize> {
    /// Goals [J/m²].
    pub goal: &'a [[f64; L]],
    /// Highest temperatures seen before the step [K].
    pub peaks: &'a [[f64; L]],
}

per_target! {
    /// Solves `heat(T) − weight·rate(T) = goal` from the guess in `temps`; `rates` end up at the
    /// solution. What a lane that is not solved holds afterwards is of no use.
    pub(crate) fn solve_stage<const L: usize>(
        lanes: &Lanes<L>,
        ask: &Ask<L>,
        given: Given<'_, L>,
        temps: &mut [[f64; L]],
        rates: &mut Rates<L>,
        room: &mut Workspace<L>,
    ) -> StageEnd<L> {
        let mut open = ask.active;
        let mut end = StageEnd { solved: [false; L], n_iterations: [0; L], bend: [None; L] };
        let mut size_before = [0.0; L];
        for _ in 0..N_NEWTON_MOST {
            let at = At { temps, peaks: given.peaks, t: &ask.t, piece: &ask.piece };
            eliminate(lanes, ask, given.goal, &at, rates, room);
            let sizes = match lanes.has_changes() {
                true => go_back::<L, true>(lanes, ask, given.peaks, temps, room),
                false => go_back::<L, false>(lanes, ask, given.peaks, temps, room),
            };
            note_sizes(ask, sizes, &mut size_before, &mut open, &mut end);
            if !open.contains(&true) {
                break;
            }
            // a solved lane waits with its last correction, which comes out the same again
            add_where(&open, &room.delta, temps);
        }
        add_where(&[true; L], &room.delta, temps);
        shift(ask, rates, room);
        end
    }
}

/// Judges the corrections of one iteration, lane by lane.
#[inline(always)]
fn note_sizes<const L: usize>(
    ask: &Ask<L>,
    sizes: Sizes<L>,
    size_before: &mut [f64; L],
    open: &mut [bool; L],
    end: &mut StageEnd<L>,
) {
    let Sizes { mut size, mut beyond, mut bad, mut turned } = sizes;
    if ask.ties.is_some() {
        // tied lanes are one system: solved together or not at all
        size = [largest(&size); L];
        beyond = [largest(&beyond); L];
        bad = [bad.contains(&true); L];
        turned = [turned.contains(&true); L];
    }
    for l in 0..L {
        if open[l] {
            end.n_iterations[l] += 1;
            if size_before[l] > 0.0 {
                end.bend[l] = Some(size[l] / (size_before[l] * size_before[l]));
            }
            size_before[l] = size[l];
            let foretold = ask.bend[l] * size[l] * size[l];
            let small = beyond[l] <= 0.0 || (!turned[l] && foretold <= ask.foretold_tol);
            end.solved[l] = !bad[l] && small;
            open[l] = !bad[l] && !end.solved[l];
        }
    }
}

/// Eliminates the Newton matrix as its rows come.
struct Eliminate<'a, const L: usize> {
    ask: &'a Ask<L>,
    goal: &'a [[f64; L]],
    matrix: &'a mut Tridiagonal<L>,
    delta: &'a mut [[f64; L]],
    excess: &'a mut [[f64; L]],
    cap: &'a mut [[f64; L]],
    last: &'a mut LastRow<L>,
    /// Eliminated coefficient and right-hand side of the row before.
    upper_before: [f64; L],
    delta_before: [f64; L],
}

impl<const L: usize> Rows<L> for Eliminate<'_, L> {
    #[inline(always)]
    fn row(&mut self, i: usize, node: &Node<L>, lower: &[f64; L], upper: &[f64; L]) {
        let weight = &self.ask.weight;
        let mut row_lower = [0.0; L];
        let mut excess = [0.0; L];
        let mut pivot = [0.0; L];
        let mut rhs = [0.0; L];
        for l in 0..L {
            row_lower[l] = -weight[l] * lower[l];
            excess[l] = node.heat[l] - self.goal[i][l];
            pivot[l] = node.cap[l] - weight[l] * node.diag[l] - row_lower[l] * self.upper_before[l];
            rhs[l] = weight[l] * node.rate[l] - excess[l] - row_lower[l] * self.delta_before[l];
        }
        if i + 1 == self.goal.len() {
            note_last(self.ask, (node, lower), (&mut pivot, &mut rhs), self.last);
        }
        for l in 0..L {
            pivot[l] = 1.0 / pivot[l];
            self.upper_before[l] = -weight[l] * upper[l] * pivot[l];
            self.delta_before[l] = rhs[l] * pivot[l];
        }
        self.matrix.lower[i] = row_lower;
        self.matrix.diag[i] = pivot;
        self.matrix.upper[i] = self.upper_before;
        self.delta[i] = self.delta_before;
        self.excess[i] = excess;
        self.cap[i] = node.cap;
    }
}

/// Keeps the last row; ties the lanes' last unknowns into one.
///
/// A call of its own keeps what it is given in memory, lane beside lane, where the compiler
/// computes with all of them at once.
#[cold]
#[inline(never)]
fn note_last<const L: usize>(
    ask: &Ask<L>,
    (node, lower): (&Node<L>, &[f64; L]),
    (pivot, rhs): (&mut [f64; L], &mut [f64; L]),
    last: &mut LastRow<L>,
) {
    if let Some(ties) = &ask.ties {
        *pivot = [weighted(ties, pivot); L];
        *rhs = [weighted(ties, rhs); L];
    }
    *last = LastRow { rate: node.rate, lower: *lower, diag: node.diag };
}

#[inline(always)]
fn eliminate<const L: usize>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    goal: &[[f64; L]],
    at: &At<L>,
    rates: &mut Rates<L>,
    room: &mut Workspace<L>,
) {
    let Workspace { matrix, delta, excess, last } = room;
    let mut rows = Eliminate {
        ask,
        goal,
        matrix,
        delta,
        excess,
        cap: &mut rates.cap,
        last,
        upper_before: [0.0; L],
        delta_before: [0.0; L],
    };
    lanes.walk(at, &mut rows, &mut rates.ends);
}

/// What a correction amounts to, lane by lane.
struct Sizes<const L: usize> {
    /// Its largest entry [K].
    size: [f64; L],
    /// How far the largest entry lies beyond what is allowed [K].
    beyond: [f64; L],
    /// Whether it leads a temperature astray.
    bad: [bool; L],
    /// Whether it leads a temperature across the highest one so far, where one-way changes bend.
    turned: [bool; L],
}

/// Substitutes backwards and measures the correction on the way.
#[inline(always)]
fn go_back<const L: usize, const CHANGES: bool>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    peaks: &[[f64; L]],
    temps: &[[f64; L]],
    room: &mut Workspace<L>,
) -> Sizes<L> {
    let n = lanes.n;
    let (delta, upper) = (&mut room.delta[..n], &room.matrix.upper[..n]);
    let (temps, start, peaks) = (&temps[..n], &lanes.temps_start[..n], &peaks[..n]);
    let mut sizes = Sizes {
        size: [0.0; L],
        beyond: [f64::NEG_INFINITY; L],
        bad: [false; L],
        turned: [false; L],
    };
    let mut lowest = [f64::INFINITY; L];
    let mut highest = [0.0; L];
    let mut after = [0.0; L];
    let mut turned = [0; L];
    for i in (0..n).rev() {
        let mut own = delta[i];
        for l in 0..L {
            own[l] -= upper[i][l] * after[l];
            let temp = temps[i][l] + own[l];
            if CHANGES {
                let (from, to) = (temps[i][l] - peaks[i][l], temp - peaks[i][l]);
                turned[l] |= from.to_bits() ^ to.to_bits();
            }
            let size = own[l].abs();
            let allowed = ask.newton_tol * (ask.rise_scale + (temp - start[i][l]).abs());
            sizes.size[l] = larger(size, sizes.size[l]);
            sizes.beyond[l] = larger(size - allowed, sizes.beyond[l]);
            highest[l] = larger(temp, highest[l]);
            lowest[l] = smaller(temp, lowest[l]);
        }
        delta[i] = own;
        after = own;
    }
    for l in 0..L {
        // NaN in a correction spreads to its lane's first unknown, which it is looked for in
        sizes.bad[l] = !(lowest[l] > 1.0 && highest[l] < 1e5 && after[l].is_finite());
        sizes.turned[l] = turned[l] >> 63 == 1;
    }
    sizes
}

fn largest<const L: usize>(values: &[f64; L]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, larger)
}

/// Adds the corrections in the lanes of `which`.
#[inline(always)]
fn add_where<const L: usize>(which: &[bool; L], delta: &[[f64; L]], temps: &mut [[f64; L]]) {
    let mask = Mask::of(which);
    for (temp, delta) in temps.iter_mut().zip(delta) {
        for l in 0..L {
            temp[l] = mask.pick(l, temp[l] + delta[l], temp[l]);
        }
    }
}

/// Moves the rates along the last correction.
///
/// Along it the equations are straight: a row of the Newton matrix tells the rate that keeps the
/// node's account, `(heat beyond the goal + cap·δ)/weight`. What ends the chain is moved by its
/// own derivatives. The error is of the second order in the correction.
#[inline(always)]
fn shift<const L: usize>(ask: &Ask<L>, rates: &mut Rates<L>, room: &Workspace<L>) {
    let last = room.delta.len() - 1;
    let mut per_weight = [0.0; L];
    for l in 0..L {
        per_weight[l] = if ask.weight[l] > 0.0 { 1.0 / ask.weight[l] } else { 0.0 };
    }
    let (excess, delta) = (&room.excess[..last], &room.delta[..=last]);
    let (cap, rate) = (&rates.cap[..last], &mut rates.rate[..=last]);
    for i in 0..last {
        for l in 0..L {
            rate[i][l] = (excess[i][l] + cap[i][l] * delta[i][l]) * per_weight[l];
        }
    }
    let row = &room.last;
    for l in 0..L {
        rate[last][l] =
            row.rate[l] + row.lower[l] * delta[last - 1][l] + row.diag[l] * delta[last][l];
    }
    let Ends { q_in, q_out, q_in_slope, q_out_slope, .. } = &mut rates.ends;
    for l in 0..L {
        q_in[l] += q_in_slope[l] * delta[0][l];
    }
    for (slope, delta) in q_out_slope.iter().zip(delta) {
        for l in 0..L {
            q_out[l] += slope[l] * delta[l];
        }
    }
}
