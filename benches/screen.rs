//! Ten thousand different three-ply layups at once, how the cost grows with layups and nodes, and
//! how much memory it takes. How to run and read: `benches/README.md`.

mod common;

use std::time::Instant;

use stillair::bench::assemble::{Backing, Mesh, Setup, assemble};
use stillair::bench::screen::{Screening, screen};
use stillair::solver::march::{Options, march};
use stillair::solver::watch::{Next, Step, Watch};

fn main() {
    print_memory();
    print_growth_with_layups();
    print_growth_with_nodes();
    divan::main();
}

/// Screens that many varied layups at 0.5 %; the sum of their times to 24 K [s].
fn screened(n: usize) -> f64 {
    let (layup, exposure) = (common::three_plies(), common::exposure());
    let screening = Screening { exposure: &exposure, error_goal: 5e-3 };
    screen(common::varied(&layup).take(n), screening)
        .map(|one| one.expect("the layup runs").times.rise24.t().expect("the rise is reached"))
        .sum()
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn ten_thousand() -> f64 {
    screened(10_000)
}

/// Most memory held so far [MiB]; none where the system does not tell.
fn memory_peak() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    line.split_whitespace().nth(1)?.parse::<f64>().ok().map(|kib| kib / 1024.0)
}

fn print_memory() {
    for n in [1_000, 10_000, 100_000] {
        screened(n);
        println!("{n} layups: most memory so far {:.1} MiB", memory_peak().unwrap_or(f64::NAN));
    }
}

/// Time of a run [s].
fn timed(mut run: impl FnMut()) -> f64 {
    let start = Instant::now();
    run();
    start.elapsed().as_secs_f64()
}

/// Exponent of a power law through the points by least squares.
fn exponent(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let logs: Vec<(f64, f64)> = points.iter().map(|(x, y)| (x.ln(), y.ln())).collect();
    let mean = |of: fn(&(f64, f64)) -> f64| logs.iter().map(of).sum::<f64>() / n;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let over: f64 = logs.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    over / logs.iter().map(|point| (point.0 - x).powi(2)).sum::<f64>()
}

fn print_growth_with_layups() {
    let sizes = [4_096, 8_192, 16_384, 32_768];
    let mut points = sizes.map(|n| (n as f64, f64::INFINITY));
    // the sizes take turns, so that a busy minute hits all of them
    for _ in 0..7 {
        for (point, n) in points.iter_mut().zip(sizes) {
            point.1 = point.1.min(timed(|| assert!(screened(n) > 0.0)));
        }
    }
    println!("cost grows with layups to the power {:.3}", exponent(&points));
}

/// Lets a march go on to its end.
struct Blind;

impl Watch for Blind {
    fn step(&mut self, _: &Step<'_>) -> Next {
        Next::Go
    }
}

/// Equal steps, so that nodes alone differ.
fn print_growth_with_nodes() {
    let (layup, exposure) = (common::three_plies(), common::exposure());
    let points: Vec<(f64, f64)> = (2..7)
        .map(|n_halvings| {
            let setup = Setup { mesh: Mesh::level(n_halvings), ..Setup::level(0) };
            let problem = assemble(&layup, &exposure, Backing::Disc, &setup).problem;
            let options = Options { tol: 1e9, dt_most: 0.05, ..Options::default() };
            let mut iterations = 0;
            let mut march = || {
                iterations = march(&problem, &options, &mut Blind).expect("runs").n_newton;
            };
            let time = (0..20).map(|_| timed(&mut march)).fold(f64::INFINITY, f64::min);
            (problem.n_nodes() as f64, time / iterations as f64)
        })
        .collect();
    println!("cost of an iteration grows with nodes to the power {:.3}", exponent(&points));
}
