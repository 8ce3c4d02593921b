//! Claim: mesh and step are both of the second order, with k(T) and c(T) that vary fourfold,
//! on equal and graded cells, across a joint between two media.
//! Source: manufactured solutions (Roache, J. Fluids Eng. 124 (2002) 4): T = T0 + A(t) cos(πx/L)
//! passes no heat at either face; the source that keeps it is derived below.
//! Tolerance: fitted order at least 1.9.

use crate::solver::rig::{Probe, flux_drive, halved_problem, slab};
use std::f64::consts::PI;
use stillair::physics::law::Law;
use stillair::solver::grid::graded_cells;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Joint, Medium, Problem, Slab};

pub const LENGTH: f64 = 2e-3;
const MEAN: f64 = 400.0;
const SWING: f64 = 60.0;
pub const T_END: f64 = 1.0;
/// Value and slope at the mean temperature.
const K: (f64, f64) = (0.05, 5e-4);
const RHO_CP: (f64, f64) = (3e5, 2e3);

/// Swing of the wave and its rate, from 0 to nearly `SWING`.
fn swing(t: f64) -> (f64, f64) {
    (SWING * (1.5 * t).sin(), SWING * 1.5 * (1.5 * t).cos())
}

fn exact(x: f64, t: f64) -> f64 {
    MEAN + swing(t).0 * (PI * x / LENGTH).cos()
}

/// ρc ∂T/∂t − ∂/∂x(k ∂T/∂x) of the wave.
fn source(x: f64, t: f64) -> f64 {
    let (a, rate) = swing(t);
    let wave = PI / LENGTH;
    let (cos, sin) = ((wave * x).cos(), (wave * x).sin());
    let off = a * cos;
    let (slope, curvature) = (-a * wave * sin, -a * wave * wave * cos);
    let k = K.0 + K.1 * off;
    let rho_cp = RHO_CP.0 + RHO_CP.1 * off;
    rho_cp * rate * cos - k * curvature - K.1 * slope * slope
}

fn wave_slab(cells: Vec<f64>) -> Slab {
    let medium = Medium {
        k: Law::line(K.0, MEAN, K.1),
        rho_cp: Law::line(RHO_CP.0, MEAN, RHO_CP.1),
        changes: vec![],
        sink: None,
    };
    slab(medium, cells, MEAN)
}

fn chain(slabs: Vec<Slab>, source: fn(f64, f64) -> f64) -> Problem {
    let joints = vec![Joint::Shared; slabs.len() - 1];
    let drive = flux_drive(0.0, T_END);
    Problem { slabs, joints, back: Back::Insulated, drive, source: Some(source) }
}

/// Fixed steps: no error reaches what is allowed.
pub fn fixed(n_steps: usize) -> Options {
    let dt = T_END / n_steps as f64;
    Options { tol: 1.0, rise_scale: 1e3, dt_start: dt, dt_most: dt, ..Options::default() }
}

/// Root mean square difference from `expected` at the end, over nodes weighted by their cells [K].
fn off(problem: &Problem, options: &Options, expected: impl Fn(f64) -> f64) -> f64 {
    let n = problem.n_nodes();
    let wanted = (0..n).map(|i| (T_END, i)).collect();
    let mut probe = Probe { wanted, read: vec![f64::NAN; n] };
    march(problem, options, &mut probe).expect("a march");
    let (mut x, mut sum, mut length) = (0.0, 0.0, 0.0);
    let cells = problem.slabs.iter().flat_map(|slab| &slab.cells);
    for (i, dx) in cells.enumerate() {
        let before = probe.read[i] - expected(x);
        x += dx;
        let after = probe.read[i + 1] - expected(x);
        sum += 0.5 * dx * (before * before + after * after);
        length += dx;
    }
    (sum / length).sqrt()
}

/// Slope of log error over log size by least squares.
fn order(sizes: &[f64], errors: &[f64]) -> f64 {
    let n = sizes.len() as f64;
    let (xs, ys): (Vec<f64>, Vec<f64>) =
        sizes.iter().zip(errors).map(|(s, e)| (s.ln(), e.ln())).unzip();
    let (x_mean, y_mean) = (xs.iter().sum::<f64>() / n, ys.iter().sum::<f64>() / n);
    let above: f64 = xs.iter().zip(&ys).map(|(x, y)| (x - x_mean) * (y - y_mean)).sum();
    above / xs.iter().map(|x| (x - x_mean).powi(2)).sum::<f64>()
}

/// Whether errors fall by the second order of their sizes.
#[track_caller]
pub fn second_order(what: &str, sizes: &[f64], errors: &[f64]) {
    let fitted = order(sizes, errors);
    // written so that NaN fails
    assert!(fitted >= 1.9, "{what}: order {fitted:.3} from sizes {sizes:?} and errors {errors:?}");
    assert!(errors.windows(2).all(|pair| pair[1] < pair[0]), "{what}: {errors:?}");
}

fn in_space(what: &str, base: &Problem, expected: impl Fn(f64) -> f64) {
    // steps so short that the mesh alone is seen
    let options = Options { tol: 1e-7, rise_scale: 1.0, dt_start: 1e-5, ..Options::default() };
    let levels = [0, 1, 2, 3];
    let sizes = levels.map(|level| 0.5f64.powi(level));
    let errors =
        levels.map(|level| off(&halved_problem(base, level as usize), &options, &expected));
    second_order(what, &sizes, &errors);
}

#[test]
fn equal_cells() {
    let base = chain(vec![wave_slab(vec![LENGTH / 8.0; 8])], source);
    in_space("equal cells", &base, |x| exact(x, T_END));
}

#[test]
fn graded_cells_of_both_directions() {
    for ratio in [1.3, 1.0 / 1.3] {
        let base = chain(vec![wave_slab(graded_cells(LENGTH, 8, ratio))], source);
        in_space("graded cells", &base, |x| exact(x, T_END));
    }
}

#[test]
fn one_body_cut_in_two_slabs() {
    let outer = wave_slab(graded_cells(0.4 * LENGTH, 5, 1.2));
    let inner = wave_slab(vec![0.6 * LENGTH / 6.0; 6]);
    in_space("two slabs", &chain(vec![outer, inner], source), |x| exact(x, T_END));
}

/// Two media side by side: k 0.05 and 0.2 W/(m·K), ρc 3e5 and 1e6 J/(m³·K), each 1 mm. The wave
/// cos(πx/2l) outside goes on as −(k1/k2) sin(π(x−l)/2l) inside: same temperature, same flux, and
/// none at either face.
fn pair_exact(x: f64, t: f64) -> f64 {
    let wave = PI / LENGTH;
    let a = swing(t).0;
    if x < 0.5 * LENGTH {
        MEAN + a * (wave * x).cos()
    } else {
        MEAN - 0.25 * a * (wave * (x - 0.5 * LENGTH)).sin()
    }
}

/// At the joint both sides' sources vanish with the temperature's excess, so that the shared
/// node needs no choice of side.
fn pair_source(x: f64, t: f64) -> f64 {
    let wave = PI / LENGTH;
    let (a, rate) = swing(t);
    if x < 0.5 * LENGTH {
        (wave * x).cos() * (3e5 * rate + 0.05 * a * wave * wave)
    } else {
        -0.25 * (wave * (x - 0.5 * LENGTH)).sin() * (1e6 * rate + 0.2 * a * wave * wave)
    }
}

#[test]
fn two_media_that_share_a_face() {
    let slab = |k, rho_cp, cells| Slab {
        medium: crate::solver::rig::medium(k, rho_cp),
        ..wave_slab(cells)
    };
    let outer = slab(0.05, 3e5, graded_cells(0.5 * LENGTH, 5, 1.2));
    let inner = slab(0.2, 1e6, graded_cells(0.5 * LENGTH, 4, 1.1));
    in_space("two media", &chain(vec![outer, inner], pair_source), |x| pair_exact(x, T_END));
}

#[test]
fn order_in_time() {
    // the fixed mesh's own answer, by steps 16 times finer than the finest fitted
    let problem = chain(vec![wave_slab(vec![LENGTH / 64.0; 64])], source);
    let n = problem.n_nodes();
    let end = |n_steps: usize| {
        let wanted = (0..n).map(|i| (T_END, i)).collect();
        let mut probe = Probe { wanted, read: vec![f64::NAN; n] };
        let ledger = march(&problem, &fixed(n_steps), &mut probe).expect("a march");
        assert_eq!((ledger.n_steps, ledger.n_rejected), (n_steps, 0));
        probe.read
    };
    let reference = end(4096);
    let counts = [16, 32, 64, 128, 256];
    let sizes = counts.map(|count| T_END / count as f64);
    let errors = counts.map(|count| {
        let off = end(count).iter().zip(&reference).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(off.is_finite());
        off
    });
    second_order("steps", &sizes, &errors);
}
