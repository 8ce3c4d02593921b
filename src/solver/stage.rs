//! What an implicit stage is asked, and one iteration of Newton's method on the exact tridiagonal Jacobian.
//!
//! The Newton matrix is eliminated row by row while the chain is walked, and the way back measures
//! the correction: two passes over the nodes an iteration.

use crate::solver::evaluate::{Ends, Node, Rows};
use crate::solver::lanes::Lanes;
use crate::solver::media::Point;
use crate::solver::pack::{Mask, Pack, larger};
use crate::solver::rates::Rates;
use crate::solver::tridiagonal::{Tridiagonal, weighted};

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
    pub curvature: [f64; L],
    /// Size of the next correction below which a lane is done when `curvature` foretells it [K].
    pub foretold_tol: f64,
    /// Weights of the lanes when their last node is one and the same.
    pub ties: Option<[f64; L]>,
}

/// Room for the Newton iteration.
#[derive(Debug, Clone)]
pub(crate) struct Workspace<const L: usize> {
    /// The matrix of the stage solved last, eliminated.
    pub matrix: Tridiagonal<L>,
    /// Corrections [K].
    pub delta: Vec<[f64; L]>,
    /// Heat beyond the goal [J/m²].
    excess: Vec<[f64; L]>,
    last: LastRow<L>,
    /// The nodes of a slab.
    pub points: Vec<Point<L>>,
}

/// Rate of the last node and its derivatives by the temperature before it and its own.
#[derive(Debug, Clone, Copy)]
struct LastRow<const L: usize> {
    rate: [f64; L],
    lower: [f64; L],
    diag: [f64; L],
}

impl<const L: usize> Workspace<L> {
    /// Room for `n` nodes; what it holds means nothing before a stage is solved.
    pub fn new(n: usize) -> Workspace<L> {
        let zeros = || vec![[0.0; L]; n];
        let last = LastRow { rate: [0.0; L], lower: [0.0; L], diag: [0.0; L] };
        let points = vec![Point::ZERO; n];
        Workspace { matrix: Tridiagonal::zeros(n), delta: zeros(), excess: zeros(), last, points }
    }
}

/// How a stage ended, lane by lane.
pub(crate) struct StageEnd<const L: usize> {
    /// The iteration came to its end.
    pub solved: [bool; L],
    /// Newton iterations made.
    pub n_iterations: [usize; L],
    /// Largest correction over the square of the one before; none after a single correction.
    pub curvature: [Option<f64>; L],
}

/// What a stage starts from.
#[derive(Clone, Copy)]
pub(crate) struct Given<'a, const L: usize> {
    /// Goals [J/m²].
    pub goal: &'a [[f64; L]],
    /// Highest temperatures seen before the step [K].
    pub peaks: &'a [[f64; L]],
}

/// Judges the corrections of one iteration, lane by lane.
#[inline(always)]
pub(super) fn note_sizes<const L: usize>(
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
                end.curvature[l] = Some(size[l] / (size_before[l] * size_before[l]));
            }
            size_before[l] = size[l];
            let foretold = ask.curvature[l] * size[l] * size[l];
            let small = beyond[l] <= 0.0 || (!turned[l] && foretold <= ask.foretold_tol);
            end.solved[l] = !bad[l] && small;
            open[l] = !bad[l] && !end.solved[l];
        }
    }
}

/// Eliminates the Newton matrix as its rows come.
pub(crate) struct Eliminate<'a, const L: usize, const W: bool> {
    weight: Pack<L, W>,
    ties: Option<&'a [f64; L]>,
    goal: &'a [[f64; L]],
    matrix: &'a mut Tridiagonal<L>,
    delta: &'a mut [[f64; L]],
    excess: &'a mut [[f64; L]],
    cap: &'a mut [[f64; L]],
    last: &'a mut LastRow<L>,
    /// Eliminated coefficient and right-hand side of the row before.
    upper_before: Pack<L, W>,
    delta_before: Pack<L, W>,
}

impl<const L: usize, const W: bool> Rows<L, W> for Eliminate<'_, L, W> {
    #[inline(always)]
    fn row(&mut self, i: usize, node: &Node<L, W>, lower: Pack<L, W>, upper: Pack<L, W>) {
        let weight = self.weight;
        let row_lower = -(weight * lower);
        let excess = node.heat - Pack(self.goal[i]);
        let mut pivot = node.cap - weight * node.diag - row_lower * self.upper_before;
        let mut rhs = weight * node.rate - excess - row_lower * self.delta_before;
        if i + 1 == self.goal.len() {
            if let Some(ties) = self.ties {
                pivot = Pack::all(weighted(ties, &pivot.0));
                rhs = Pack::all(weighted(ties, &rhs.0));
            }
            *self.last = LastRow { rate: node.rate.0, lower: lower.0, diag: node.diag.0 };
        }
        let inverse = 1.0 / pivot;
        self.upper_before = -(weight * upper) * inverse;
        self.delta_before = rhs * inverse;
        self.matrix.lower[i] = row_lower.0;
        self.matrix.diag[i] = inverse.0;
        self.matrix.upper[i] = self.upper_before.0;
        self.delta[i] = self.delta_before.0;
        self.excess[i] = excess.0;
        self.cap[i] = node.cap.0;
    }
}

impl<const L: usize> Workspace<L> {
    /// Takes the rows of a stage's Newton matrix and eliminates them; with it what a walk along the chain
    /// finds at its ends, and room for a slab's nodes.
    #[inline(always)]
    pub fn eliminating<'a, const W: bool>(
        &'a mut self,
        ask: &'a Ask<L>,
        goal: &'a [[f64; L]],
        rates: &'a mut Rates<L>,
    ) -> (Eliminate<'a, L, W>, (&'a mut Ends<L>, &'a mut [Point<L>])) {
        let Workspace { matrix, delta, excess, last, points } = self;
        let rows = Eliminate {
            weight: Pack(ask.weight),
            ties: ask.ties.as_ref(),
            goal,
            matrix,
            delta,
            excess,
            cap: &mut rates.cap,
            last,
            upper_before: Pack::ZERO,
            delta_before: Pack::ZERO,
        };
        (rows, (&mut rates.ends, points))
    }
}

/// What a correction amounts to, lane by lane.
pub(super) struct Sizes<const L: usize> {
    /// Its largest entry [K].
    pub size: [f64; L],
    /// How far the largest entry lies beyond what is allowed [K].
    pub beyond: [f64; L],
    /// Whether it leads a temperature astray.
    pub bad: [bool; L],
    /// Whether it leads a temperature across the highest one so far, where one-way changes bend.
    pub turned: [bool; L],
}

/// Substitutes backwards and measures the correction on the way.
#[inline(always)]
pub(super) fn go_back<const L: usize, const W: bool, const CHANGES: bool>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    peaks: &[[f64; L]],
    temps: &[[f64; L]],
    workspace: &mut Workspace<L>,
) -> Sizes<L> {
    let n = lanes.n;
    let (delta, upper) = (&mut workspace.delta[..n], &workspace.matrix.upper[..n]);
    let (temps, start, peaks) = (&temps[..n], &lanes.temps_start[..n], &peaks[..n]);
    let (tol, scale) = (Pack::<L, W>::all(ask.newton_tol), Pack::all(ask.rise_scale));
    let mut largest = Pack::<L, W>::ZERO;
    let mut beyond = Pack::all(f64::NEG_INFINITY);
    let mut lowest = Pack::all(f64::INFINITY);
    let mut highest = Pack::ZERO;
    let mut after = Pack::ZERO;
    let mut turned = Pack::ZERO;
    for i in (0..n).rev() {
        let own = Pack(delta[i]) - Pack(upper[i]) * after;
        let before = Pack(temps[i]);
        let temp = before + own;
        if CHANGES {
            let peak = Pack(peaks[i]);
            turned = turned.or_bits((before - peak).other_bits(temp - peak));
        }
        let size = own.abs();
        let allowed = tol * (scale + (temp - Pack(start[i])).abs());
        largest = size.or_larger(largest);
        beyond = (size - allowed).or_larger(beyond);
        highest = temp.or_larger(highest);
        lowest = temp.or_smaller(lowest);
        delta[i] = own.0;
        after = own;
    }
    let (mut bad, mut astray) = ([false; L], [false; L]);
    for l in 0..L {
        // NaN in a correction spreads to its lane's first unknown, which it is looked for in
        bad[l] = !(lowest.0[l] > 1.0 && highest.0[l] < 1e5 && after.0[l].is_finite());
        astray[l] = turned.0[l].is_sign_negative();
    }
    Sizes { size: largest.0, beyond: beyond.0, bad, turned: astray }
}

fn largest<const L: usize>(values: &[f64; L]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, larger)
}

/// Adds the corrections in the lanes of `which`.
#[inline(always)]
pub(super) fn add_where<const L: usize, const W: bool>(
    which: &[bool; L],
    delta: &[[f64; L]],
    temps: &mut [[f64; L]],
) {
    let mask = Mask::<L, W>::of(which);
    for (temp, delta) in temps.iter_mut().zip(delta) {
        let before = Pack(*temp);
        *temp = mask.pick(before + Pack(*delta), before).0;
    }
}

/// Moves the rates along the last correction.
///
/// Along it the equations are straight: a row of the Newton matrix tells the rate that keeps the
/// node's account, `(heat beyond the goal + cap·δ)/weight`. What ends the chain is moved by its
/// own derivatives. The error is of the second order in the correction.
#[inline(always)]
pub(super) fn shift<const L: usize, const W: bool>(
    ask: &Ask<L>,
    rates: &mut Rates<L>,
    workspace: &Workspace<L>,
) {
    let last = workspace.delta.len() - 1;
    let weight = Pack::<L, W>(ask.weight);
    // a lane at rest has no weight
    let per_weight = weight.at_least(Pack::all(f64::MIN_POSITIVE)).only(1.0 / weight);
    let (excess, delta) = (&workspace.excess[..last], &workspace.delta[..=last]);
    let (cap, rate) = (&rates.cap[..last], &mut rates.rate[..=last]);
    for i in 0..last {
        let held = Pack(excess[i]) + Pack(cap[i]) * Pack(delta[i]);
        rate[i] = (held * per_weight).0;
    }
    let row = &workspace.last;
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
