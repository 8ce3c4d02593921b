//! One implicit stage: Newton's method on the exact tridiagonal Jacobian.

use crate::solver::evaluate::Rates;
use crate::solver::lanes::Lanes;
use crate::solver::media::{larger, smaller};
use crate::solver::tridiagonal::Tridiagonal;

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
}

impl<const L: usize> Workspace<L> {
    pub fn new(n: usize) -> Workspace<L> {
        Workspace { matrix: Tridiagonal::zeros(n), delta: vec![[0.0; L]; n] }
    }
}

/// How a stage ended, lane by lane.
pub(crate) struct StageEnd<const L: usize> {
    pub solved: [bool; L],
    pub n_iterations: [usize; L],
    /// Largest correction over the square of the one before; none after a single correction.
    pub bend: [Option<f64>; L],
}

/// Solves `heat(T) − weight·rate(T) = goal` from the guess in `temps`; `rates` end up at the solution.
///
/// The second argument holds goals [J/m²] and the highest temperatures seen before the step [K].
pub(crate) fn solve_stage<const L: usize>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    (goal, peaks): (&[[f64; L]], &[[f64; L]]),
    temps: &mut [[f64; L]],
    rates: &mut Rates<L>,
    room: &mut Workspace<L>,
) -> StageEnd<L> {
    let n = lanes.n;
    assert!(temps.len() == n && room.delta.len() == n, "one entry a node");
    let mut open = ask.active;
    let mut end = StageEnd { solved: [false; L], n_iterations: [0; L], bend: [None; L] };
    let mut size_before = [0.0; L];
    for _ in 0..N_NEWTON_MOST {
        lanes.evaluate(temps, peaks, &ask.t, &ask.piece, rates);
        correction(ask, goal, rates, room);
        let Sizes { mut size, mut beyond, mut bad } = sizes(lanes, ask, temps, &room.delta);
        if ask.ties.is_some() {
            // tied lanes are one system: solved together or not at all
            size = [largest(&size); L];
            beyond = [largest(&beyond); L];
            bad = [bad.contains(&true); L];
        }
        for l in 0..L {
            if open[l] {
                end.n_iterations[l] += 1;
                if size_before[l] > 0.0 {
                    end.bend[l] = Some(size[l] / (size_before[l] * size_before[l]));
                }
                size_before[l] = size[l];
                let foretold = ask.bend[l] * size[l] * size[l];
                let small = beyond[l] <= 0.0 || foretold <= ask.foretold_tol;
                end.solved[l] = !bad[l] && small;
                open[l] = !bad[l] && !end.solved[l];
            }
        }
        if !open.contains(&true) {
            break;
        }
        // a solved lane waits with its last correction, which comes out the same again
        add_where(&open, &room.delta, temps);
    }
    add_where(&end.solved, &room.delta, temps);
    rates.shift(&room.delta, &end.solved);
    end
}

/// What a correction amounts to, lane by lane.
struct Sizes<const L: usize> {
    /// Its largest entry [K].
    size: [f64; L],
    /// How far the largest entry lies beyond what is allowed [K].
    beyond: [f64; L],
    /// Whether it leads a temperature astray.
    bad: [bool; L],
}

#[inline(always)]
fn sizes<const L: usize>(
    lanes: &Lanes<L>,
    ask: &Ask<L>,
    temps: &[[f64; L]],
    delta: &[[f64; L]],
) -> Sizes<L> {
    let mut sizes = Sizes { size: [0.0; L], beyond: [f64::NEG_INFINITY; L], bad: [false; L] };
    let mut lowest = [f64::INFINITY; L];
    let mut highest = [0.0; L];
    for i in 0..lanes.n {
        let (temps, delta, start) = (&temps[i], &delta[i], &lanes.temps_start[i]);
        for l in 0..L {
            let temp = temps[l] + delta[l];
            let own = delta[l].abs();
            let allowed = ask.newton_tol * (ask.rise_scale + (temp - start[l]).abs());
            sizes.size[l] = larger(own, sizes.size[l]);
            sizes.beyond[l] = larger(own - allowed, sizes.beyond[l]);
            highest[l] = larger(temp, highest[l]);
            lowest[l] = smaller(temp, lowest[l]);
        }
    }
    for l in 0..L {
        // NaN in a correction spreads to its lane's first unknown, which it is looked for in
        sizes.bad[l] = !(lowest[l] > 1.0 && highest[l] < 1e5 && delta[0][l].is_finite());
    }
    sizes
}

fn largest<const L: usize>(values: &[f64; L]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, larger)
}

/// Adds the corrections in the lanes of `which`.
fn add_where<const L: usize>(which: &[bool; L], delta: &[[f64; L]], temps: &mut [[f64; L]]) {
    for (temp, delta) in temps.iter_mut().zip(delta) {
        for l in 0..L {
            temp[l] += if which[l] { delta[l] } else { 0.0 };
        }
    }
}

/// Factors the Newton matrix at `rates` and solves for the correction.
fn correction<const L: usize>(
    ask: &Ask<L>,
    goal: &[[f64; L]],
    rates: &Rates<L>,
    room: &mut Workspace<L>,
) {
    let n = room.delta.len();
    let matrix = &mut room.matrix;
    assert!(goal.len() == n && rates.rate.len() == n && matrix.diag.len() == n, "one row a node");
    let weight = &ask.weight;
    for i in 0..n {
        let (heat, cap, rate) = (&rates.heat[i], &rates.cap[i], &rates.rate[i]);
        let (lower, diag, upper) = (&rates.lower[i], &rates.diag[i], &rates.upper[i]);
        let (row_lower, row_diag, row_upper) =
            (&mut matrix.lower[i], &mut matrix.diag[i], &mut matrix.upper[i]);
        let (goal, delta) = (&goal[i], &mut room.delta[i]);
        for l in 0..L {
            row_lower[l] = -weight[l] * lower[l];
            row_diag[l] = cap[l] - weight[l] * diag[l];
            row_upper[l] = -weight[l] * upper[l];
            delta[l] = goal[l] - heat[l] + weight[l] * rate[l];
        }
    }
    matrix.factor(ask.ties.as_ref());
    matrix.solve(&mut room.delta, ask.ties.as_ref());
}
