//! The exported three-ply problem by diffsol, with the exact Jacobian and faer's sparse LU.
//!
//! usage: rival-diffsol PROBLEM REPEATS
//! prints for each method one line a tolerance: rtol, time to the rise [s], steps, best time [µs]

use std::time::Instant;

use diffsol::{FaerSparseLU, FaerSparseMat, OdeBuilder, OdeSolverMethod, OdeSolverStopReason};

type Matrix = FaerSparseMat<f64>;
type Solver = FaerSparseLU<f64>;

const SIGMA: f64 = 5.670374419e-8;

#[derive(Clone)]
struct Problem {
    n: usize,
    head: Vec<f64>,
    /// Size, k0, k1, c0, c1.
    cells: Vec<[f64; 5]>,
}

impl Problem {
    fn read(path: &str) -> Problem {
        let text = std::fs::read_to_string(path).expect("the problem reads");
        let numbers: Vec<f64> = text.split_whitespace().map(|w| w.parse().expect("a number")).collect();
        let cells = numbers[10..].chunks_exact(5).map(|c| [c[0], c[1], c[2], c[3], c[4]]).collect();
        Problem { n: numbers[0] as usize, head: numbers[1..10].to_vec(), cells }
    }

    /// Heat rate of a node and its heat capacity.
    fn node(&self, x: &[f64], i: usize) -> (f64, f64) {
        let [h, gas, q_rad, emissivity, surround, disc, ..] = self.head[..] else { panic!("a head") };
        let (mut rate, mut cap) = (0.0, 0.0);
        if i == 0 {
            rate += h * (gas - x[0]) + q_rad - emissivity * SIGMA * (x[0].powi(4) - surround.powi(4));
        } else {
            let [dx, k0, k1, c0, c1] = self.cells[i - 1];
            rate += (k0 + 0.5 * k1 * (x[i - 1] + x[i])) * (x[i - 1] - x[i]) / dx;
            cap += 0.5 * dx * (c0 + c1 * x[i]);
        }
        if i == self.n {
            cap += disc;
        } else {
            let [dx, k0, k1, c0, c1] = self.cells[i];
            rate -= (k0 + 0.5 * k1 * (x[i] + x[i + 1])) * (x[i] - x[i + 1]) / dx;
            cap += 0.5 * dx * (c0 + c1 * x[i]);
        }
        (rate, cap)
    }

    fn rhs(&self, x: &[f64], y: &mut [f64]) {
        for i in 0..=self.n {
            let (rate, cap) = self.node(x, i);
            y[i] = rate / cap;
        }
    }

    fn jac_mul(&self, x: &[f64], v: &[f64], y: &mut [f64]) {
        for i in 0..=self.n {
            let (rate, cap) = self.node(x, i);
            let (mut change, mut cap_slope) = (0.0, 0.0);
            if i == 0 {
                change -= (self.head[0] + 4.0 * self.head[3] * SIGMA * x[0].powi(3)) * v[0];
            } else {
                let [dx, k0, k1, _, c1] = self.cells[i - 1];
                change += ((k0 + k1 * x[i - 1]) * v[i - 1] - (k0 + k1 * x[i]) * v[i]) / dx;
                cap_slope += 0.5 * dx * c1;
            }
            if i < self.n {
                let [dx, k0, k1, _, c1] = self.cells[i];
                change -= ((k0 + k1 * x[i]) * v[i] - (k0 + k1 * x[i + 1]) * v[i + 1]) / dx;
                cap_slope += 0.5 * dx * c1;
            }
            y[i] = (change - rate * cap_slope * v[i] / cap) / cap;
        }
    }
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let own = Problem::read(&words[1]);
    let repeats: usize = words[2].parse().expect("a whole number");
    println!("# diffsol 0.18");
    for method in ["BDF", "TR-BDF2", "ESDIRK34"] {
        println!("# {method}");
        for rtol in [3e-3, 1e-3, 5e-4, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6] {
            let (a, b, c, d) = (own.clone(), own.clone(), own.clone(), own.clone());
            let n = own.n;
            let problem = OdeBuilder::<Matrix>::new()
                .rtol(rtol)
                .atol([1e-6])
                .h0(1e-4)
                .rhs_implicit(
                    move |x: &[f64], _: &[f64], _, y: &mut [f64]| a.rhs(x, y),
                    move |x: &[f64], _: &[f64], _, v: &[f64], y: &mut [f64]| b.jac_mul(x, v, y),
                )
                .init(move |_: &[f64], _, y: &mut [f64]| y.fill(c.head[6]), n + 1)
                .root(
                    move |x: &[f64], _: &[f64], _, y: &mut [f64]| y[0] = x[n] - d.head[6] - d.head[7],
                    1,
                )
                .build()
                .expect("the problem builds");
            let mut best = f64::INFINITY;
            let mut told = None;
            for _ in 0..repeats {
                let start = Instant::now();
                macro_rules! march {
                    ($solver:expr) => {{
                        let Ok(mut solver) = $solver else { continue };
                        let _ = solver.set_stop_time(own.head[8]);
                        let mut n_steps = 0;
                        loop {
                            match solver.step() {
                                Ok(OdeSolverStopReason::InternalTimestep) => n_steps += 1,
                                Ok(OdeSolverStopReason::RootFound(t, _)) => break Some((t, n_steps)),
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
                best = best.min(start.elapsed().as_secs_f64() * 1e6);
            }
            if let Some((t, n_steps)) = told {
                println!("{rtol:e} {t:.12} {n_steps} {best:.3}");
            }
        }
    }
}
