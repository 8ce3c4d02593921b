//! Claim: conductivity that is lost with a change conducts until the change has happened, and not
//! after it; neighbours of one temperature exchange no heat whatever they have been through.
//! Source: Fourier's law through a slab in steady state; second law of thermodynamics; conservation.
//! Tolerance: 1e-9 of the rise; 1e-6 K; 1e-9 of the heat; order 2 within a quarter.

use crate::close::{within, within_share};
use crate::solver::drying::{TEMP, moist, piece, tight};
use crate::solver::rig::{Probe, flux_drive, single};
use stillair::solver::grid::halved;
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Piece, Problem};
use stillair::solver::watch::{Next, Step, Watch};

const K: f64 = 0.06;
const K_WATER: f64 = 0.09;

/// The moist slab of the drying tests, its water conducting.
fn wet(pieces: Vec<Piece>) -> Problem {
    let mut problem = moist(pieces);
    problem.slabs[0].medium.changes[0].k_lost = K_WATER;
    problem
}

/// Rise of the heated face over the held one in steady state [K].
fn steady_rise(temp: f64) -> f64 {
    let mut slab = wet(vec![piece(1.0, 0.0, 0.0)]).slabs.remove(0);
    slab.temps_start = (temp, temp);
    let problem = single(slab, Back::Held, flux_drive(1e3, 500.0));
    let mut probe = Probe { wanted: vec![(500.0, 0)], read: vec![f64::NAN] };
    let ledger = march(&problem, &tight(), &mut probe).expect("a march");
    assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
    probe.read[0] - temp
}

#[test]
fn water_conducts_while_it_is_there() {
    within_share(steady_rise(TEMP), 1e3 * 1e-3 / (K + K_WATER), 1e-9);
    within_share(steady_rise(420.0), 1e3 * 1e-3 / K, 1e-9);
}

#[test]
fn what_is_half_dry_comes_to_rest_at_one_temperature() {
    // the outer side boils dry, the inner one stays wet; then all of it is left alone
    let problem = wet(vec![piece(1.0, 60e3, 0.0), piece(400.0, 0.0, 0.0)]);
    let n = problem.n_nodes();
    let mut probe = Probe { wanted: (0..n).map(|i| (400.0, i)).collect(), read: vec![f64::NAN; n] };
    let ledger = march(&problem, &tight(), &mut probe).expect("a march");
    assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
    for temp in &probe.read {
        within(*temp, probe.read[0], 1e-6);
    }
}

/// Time at which the back has warmed by 20 K.
struct Warm {
    t: f64,
}

impl Watch for Warm {
    fn step(&mut self, step: &Step<'_>) -> Next {
        let last = step.n_nodes() - 1;
        if step.temp1(last) < TEMP + 20.0 {
            return Next::Go;
        }
        self.t = stillair::solver::root::crossing(step.t0, step.t1, 1e-12, |t| {
            step.temp(last, t) - TEMP - 20.0
        });
        Next::Stop
    }
}

#[test]
fn the_mesh_converges_in_second_order() {
    let times: Vec<f64> = (0..4)
        .map(|level| {
            let mut problem = wet(vec![piece(60.0, 20e3, 0.0)]);
            for _ in 0..level {
                problem.slabs[0].cells = halved(&problem.slabs[0].cells);
            }
            let mut warm = Warm { t: f64::NAN };
            let options = Options { tol: 1e-7, dt_start: 1e-5, ..Options::default() };
            let ledger = march(&problem, &options, &mut warm).expect("a march");
            assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
            warm.t
        })
        .collect();
    let steps: Vec<f64> = times.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect();
    let order = (steps[1] / steps[2]).log2();
    println!("{times:?}: order {order}");
    within(order, 2.0, 0.25);
}
