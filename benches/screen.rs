//! Ten thousand different three-ply layups at once. How to run and read: `benches/README.md`.

mod common;

use std::time::Instant;

use stillair::bench::screen::{Screening, screen};

fn main() {
    let (layup, exposure) = (common::three_plies(), common::exposure());
    let screening = Screening { exposure: &exposure, error_goal: 5e-3 };
    let mut best = f64::INFINITY;
    let mut sum = 0.0;
    for _ in 0..7 {
        let start = Instant::now();
        sum = screen(common::varied(&layup).take(4096), screening)
            .map(|one| one.expect("runs").rise24.t().expect("reached"))
            .sum::<f64>();
        best = best.min(start.elapsed().as_secs_f64());
    }
    println!("{:.2} us per layup, sum {sum:.17e}", best * 1e6 / 4096.0);
}
