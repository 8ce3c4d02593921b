//! The exported problem of two fields by diffsol, with its own Jacobian and faer's sparse LU.
//!
//! usage: two_fields PROBLEM REPEATS
//! prints for each method one line a tolerance: rtol, time to the rise [s], steps, least processor time [µs]

mod problem;

use std::cell::RefCell;

use diffsol::{FaerSparseLU, FaerSparseMat, OdeBuilder, OdeSolverMethod, OdeSolverStopReason};
use problem::{Evaluated, Problem};

type Matrix = FaerSparseMat<f64>;
type Solver = FaerSparseLU<f64>;

unsafe extern "C" {
    /// Processor time of this process; POSIX: a millionth of a second each.
    safe fn clock() -> std::ffi::c_long;
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let own = Problem::read(&words[1]);
    let repeats: usize = words[2].parse().expect("a whole number");
    println!("# diffsol 0.18");
    for method in ["BDF", "TR-BDF2", "ESDIRK34"] {
        println!("# {method}");
        for rtol in [1e-2, 3e-3, 1e-3, 5e-4, 3e-4, 1e-4, 3e-5, 1e-5] {
            let (a, b, c, d) = (own.clone(), own.clone(), own.clone(), own.clone());
            let kept = RefCell::new(Evaluated::default());
            let n = own.n;
            let atol = own.nodes.iter().flat_map(|node| [1e-6, 1e-3 * rtol * node[4]]);
            let mut problem = OdeBuilder::<Matrix>::new()
                .rtol(rtol)
                .atol(atol.collect::<Vec<f64>>())
                .h0(1e-5)
                .rhs_implicit(
                    move |x: &[f64], _: &[f64], _, y: &mut [f64]| a.rhs(x, y),
                    move |x: &[f64], _: &[f64], _, v: &[f64], y: &mut [f64]| {
                        let mut kept = kept.borrow_mut();
                        b.evaluate(x, &mut kept);
                        kept.times(v, y);
                    },
                )
                .init(
                    move |_: &[f64], _, y: &mut [f64]| {
                        for (unknowns, node) in y.chunks_exact_mut(2).zip(&c.nodes) {
                            unknowns.copy_from_slice(&[c.head[6], node[2]]);
                        }
                    },
                    2 * n,
                )
                .root(
                    move |x: &[f64], _: &[f64], _, y: &mut [f64]| {
                        y[0] = x[2 * n - 2] - d.head[6] - d.head[7];
                    },
                    1,
                )
                .build()
                .expect("the problem builds");
            // nodes that dry out cost some; the usual 50 in all are not enough
            problem.ode_options.max_nonlinear_solver_failures = 5000;
            problem.ode_options.max_error_test_failures = 5000;
            let mut best = f64::INFINITY;
            let mut told = None;
            for _ in 0..repeats {
                let start = clock();
                macro_rules! march {
                    ($solver:expr) => {{
                        let Ok(mut solver) = $solver else { continue };
                        let _ = solver.set_stop_time(own.head[8]);
                        let mut n_steps = 0;
                        loop {
                            match solver.step() {
                                Ok(OdeSolverStopReason::InternalTimestep) => n_steps += 1,
                                Ok(OdeSolverStopReason::RootFound(t, _)) => {
                                    break Some((t, n_steps));
                                }
                                _ => break None,
                            }
                        }
                    }};
                }
                told = match method {
                    "BDF" => march!(problem.bdf::<Solver>()),
                    "TR-BDF2" => march!(problem.tr_bdf2::<Solver>()),
                    _ => march!(problem.esdirk34::<Solver>()),
                };
                best = best.min((clock() - start) as f64);
            }
            if let Some((t, n_steps)) = told {
                println!("{rtol:e} {t:.12} {n_steps} {best:.3}");
            }
        }
    }
}
