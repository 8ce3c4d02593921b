//! One semi-discrete problem, the touching three plies up to a rise of 24 K, for this solver and
//! for general-purpose integrators. How to run and read: `benches/README.md`.
//!
//! usage: against export FILE LEVEL | against run LEVEL REPEATS | against chart FILE [CSV]
//!        against export-moist FILE LEVEL | against run-moist LEVEL REPEATS | against moist-within PERCENT
//!
//! With `moist` it is the conditioned three plies with water that moves: see `two_fields`.
//!
//! `chart` draws error against time for several meshes and step tolerances, and below it the
//! contestants of a table that `benches/rivals/run` left behind.
//!
//! The exported file holds in a line: cells, film coefficient, gas temperature, radiation absorbed,
//! emissivity, surroundings, heat capacity of the disc, start, rise, end of looking; then a line a
//! cell: size, k0, k1, c0, c1 with k = k0 + k1·T and ρc = c0 + c1·T, all SI.

mod common;
mod two_fields;
mod work_precision;

use std::fmt::Write as _;
use std::hint::black_box;
use std::time::Instant;

use stillair::bench::assemble::{Backing, Setup, assemble};
use stillair::bench::expose::options;
use stillair::physics::law::Law;
use stillair::solver::error::SolverError;
use stillair::solver::ledger::Ledger;
use stillair::solver::march::march;
use stillair::solver::options::Options;
use stillair::solver::problem::{Back, Problem};
use stillair::solver::root::crossing;
use stillair::solver::stream::{Stream, march_stream};
use stillair::solver::tridiagonal::Tridiagonal;
use stillair::solver::watch::{Next, Step, Watch};

/// Rise that is timed [K].
const RISE: f64 = 24.0;
/// Problems in a batch.
const N_BATCH: usize = 256;
const TOLERANCES: [f64; 13] =
    [0.48, 0.24, 0.12, 6e-2, 3e-2, 1.6e-2, 8e-3, 4e-3, 2e-3, 1e-3, 2.5e-4, 3e-5, 1e-8];

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["export", file, level] => {
            std::fs::write(file, exported(&problems(number(level), 1)[0]))
                .expect("file is written");
        }
        ["export-moist", file, level] => {
            let problem = &two_fields::problems(number(level), 1, true)[0];
            std::fs::write(file, two_fields::exported(problem)).expect("file is written");
        }
        ["run-moist", level, repeats] => two_fields::run(number(level), number(repeats)),
        ["moist-within", percent] => {
            two_fields::within(1e-2 * percent.parse::<f64>().expect("a number"));
        }
        ["run", level, repeats] => run(number(level), number(repeats)),
        ["chart", file] => work_precision::draw(file, None),
        ["chart", file, csv] => work_precision::draw(file, Some(csv)),
        _ => run(2, 5),
    }
}

fn number(word: &str) -> usize {
    word.parse().expect("a whole number")
}

/// The layup's problem, then varied ones of the same shape.
fn problems(level: usize, n: usize) -> Vec<Problem> {
    let (layup, exposure) = (common::three_plies(), common::exposure());
    varied(&assemble(&layup, &exposure, Backing::Disc, &Setup::level(level)).problem, n)
}

/// A problem, then others of its shape that conduct up to a twentieth better or worse.
fn varied(first: &Problem, n: usize) -> Vec<Problem> {
    let factor = |i: usize| 1.0 + 0.1 * (i as f64 / n as f64 - 0.5);
    (0..n)
        .map(|i| {
            let mut problem = first.clone();
            for slab in problem.slabs.iter_mut().filter(|_| i > 0) {
                slab.medium.k = slab.medium.k.scaled(factor(i));
            }
            problem
        })
        .collect()
}

fn line(law: &Law) -> (f64, f64) {
    match law.ramps.as_slice() {
        [] => (law.base, 0.0),
        [ramp] => (law.base, ramp.slope),
        _ => panic!("a straight line"),
    }
}

fn exported(problem: &Problem) -> String {
    let Back::Lump { cap_area, temp_start, .. } = problem.back else { panic!("a disc") };
    let piece = problem.drive.pieces[0];
    let cells: usize = problem.slabs.iter().map(|slab| slab.cells.len()).sum();
    assert!(problem.n_nodes() == cells + 1, "every face is shared");
    let mut text = format!(
        "{cells} {} {} {} {} {} {cap_area} {temp_start} {RISE} {}\n",
        piece.h.0,
        piece.temp_gas,
        piece.q_rad.0,
        problem.drive.emissivity,
        problem.drive.temp_surround,
        piece.t_end
    );
    for slab in &problem.slabs {
        let ((k0, k1), (c0, c1)) = (line(&slab.medium.k), line(&slab.medium.rho_cp));
        for dx in &slab.cells {
            writeln!(text, "{dx} {k0} {k1} {c0} {c1}").expect("text grows");
        }
    }
    text
}

/// Times the rise of the last node.
#[derive(Debug, Clone, Default)]
struct Rise(Option<f64>);

impl Watch for Rise {
    fn step(&mut self, step: &Step<'_>) -> Next {
        let last = step.n_nodes() - 1;
        let over = |t: f64| step.temp(last, t) - 298.15 - RISE;
        if step.temp1(last) - 298.15 - RISE < 0.0 {
            return Next::Go;
        }
        self.0 = Some(crossing(step.t0, step.t1, 1e-9, over));
        Next::Stop
    }
}

struct Batch<'a> {
    problems: std::slice::Iter<'a, Problem>,
    first: f64,
}

impl<'a> Stream<'a> for Batch<'a> {
    type Watch = Rise;

    fn next(&mut self) -> Option<(&'a Problem, Rise)> {
        Some((self.problems.next()?, Rise::default()))
    }

    fn ended(&mut self, order: usize, watch: Rise, end: Result<Ledger, SolverError>) {
        end.expect("the problem runs");
        let t = watch.0.expect("the rise is reached");
        if order == 0 {
            self.first = t;
        }
    }
}

/// The time to the rise [s], and the work.
fn alone(problem: &Problem, options: &Options) -> (f64, Ledger) {
    let mut watch = Rise::default();
    let ledger = march(problem, options, &mut watch).expect("the problem runs");
    (watch.0.expect("the rise is reached"), ledger)
}

/// The time to the rise of the first of problems in 8 lanes [s].
fn together(problems: &[Problem], options: &Options) -> f64 {
    let mut batch = Batch { problems: problems.iter(), first: f64::NAN };
    march_stream::<_, 8>(&mut batch, options);
    batch.first
}

/// Best wall time of some runs [µs] and the last result.
fn best<T>(repeats: usize, run: impl FnMut() -> T) -> (f64, T) {
    let start = Instant::now();
    best_by(|| start.elapsed().as_secs_f64() * 1e6, repeats, run)
}

/// Least time of some runs by a clock and the last result.
fn best_by<T>(clock: impl Fn() -> f64, repeats: usize, mut run: impl FnMut() -> T) -> (f64, T) {
    let mut least = f64::INFINITY;
    let mut last = None;
    for _ in 0..repeats {
        let start = clock();
        last = Some(run());
        least = least.min(clock() - start);
    }
    (least, last.expect("at least one run"))
}

fn run(level: usize, repeats: usize) {
    let problems = problems(level, N_BATCH);
    println!("# stillair {}, {} unknowns", env!("CARGO_PKG_VERSION"), problems[0].n_nodes());
    let mut lines = [("single", String::new()), ("batch", String::new()), ("floor", String::new())];
    for tol in TOLERANCES {
        let options = Options { tol, ..options(0, &Backing::Disc) };
        let few = if tol < 1e-4 { 1 } else { repeats };
        let (single, (t, ledger)) = best(40 * few, || alone(&problems[0], &options));
        let (batch, t_batch) = best(few, || together(&problems, &options));
        assert!(t.to_bits() == t_batch.to_bits(), "alone and among others alike");
        let (floor, ()) = best(10 * few, || sweeps(problems[0].n_nodes(), ledger.n_newton));
        let times = [single, batch / N_BATCH as f64, floor / 8.0];
        for ((_, text), us) in lines.iter_mut().zip(times) {
            writeln!(text, "{tol:e} {t:.12} {} {us:.3}", ledger.n_steps).expect("text grows");
        }
    }
    for (name, text) in lines {
        print!("# {name}\n{text}");
    }
}

/// Bare elimination of `n` unknowns in 8 lanes, once for each Newton iteration.
fn sweeps(n: usize, times: usize) {
    let mut matrix = Tridiagonal::<8>::zeros(n);
    let mut rhs = vec![[1.0; 8]; n];
    for _ in 0..times {
        for i in 0..n {
            matrix.lower[i] = [-1.0; 8];
            matrix.diag[i] = [2.5; 8];
            matrix.upper[i] = [-1.0; 8];
        }
        matrix.factor(None);
        matrix.solve(black_box(&mut rhs), None);
    }
    black_box(&rhs);
}
