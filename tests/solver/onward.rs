//! Claim: a march that goes on from a moment of an earlier one ends where the earlier one would
//! have, and both accounts together close; a drive cut off is the same drive up to the cut.
//! Source: the state of a first-order equation is all that its future depends on; conservation.
//! Tolerance: 1e-5 K, what the steps' own tolerance of 1e-7 leaves; 1e-9 of the heat.

use crate::close::{within, within_share};
use crate::solver::drying::{TEMP, moist, piece, tight};
use stillair::solver::lanes::Lanes;
use stillair::solver::march::{Moment, march, march_on};
use stillair::solver::problem::Problem;
use stillair::solver::watch::{Next, Step, Watch};

/// Temperatures, their peaks and the heat in at the end of the first step after `t_stop`.
#[derive(Default)]
struct State {
    t_stop: f64,
    t: f64,
    temps: Vec<f64>,
    peaks: Vec<f64>,
    heat_in: f64,
}

impl Watch for State {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.temps = (0..step.n_nodes()).map(|i| step.temp1(i)).collect();
        self.peaks.resize(step.n_nodes(), TEMP);
        for (peak, temp) in self.peaks.iter_mut().zip(&self.temps) {
            *peak = peak.max(*temp);
        }
        (self.t, self.heat_in) = (step.t1, step.heat_in);
        if step.t1 >= self.t_stop { Next::Stop } else { Next::Go }
    }
}

/// A moist slab heated, cooled and heated again.
fn heated() -> Problem {
    moist(vec![piece(5.0, 40e3, 0.0), piece(12.0, 0.0, 200.0), piece(20.0, 30e3, 0.0)])
}

fn run(problem: &Problem, t_stop: f64) -> State {
    let mut state = State { t_stop, ..State::default() };
    march(problem, &tight(), &mut state).expect("a march");
    state
}

#[test]
fn going_on_ends_where_the_march_would_have() {
    let whole = run(&heated(), 20.0);
    for t_stop in [0.5, 4.0, 7.0, 12.0, 15.0] {
        let half = run(&heated(), t_stop);
        let problem = heated();
        let lanes = Lanes::new(&[&problem]).expect("lanes");
        let from = Moment {
            t: half.t,
            temps: &half.temps,
            peaks: &half.peaks,
            contents: &[],
            converted: &[],
        };
        let mut rest = State { t_stop: 20.0, peaks: half.peaks.clone(), ..State::default() };
        let watches = std::array::from_mut(&mut rest);
        let [ledger] = march_on(&lanes, &tight(), None, &[from], watches).expect("a march");
        assert!(ledger.residual() <= 1e-9, "{}", ledger.residual());
        within_share(half.heat_in + rest.heat_in, whole.heat_in, 1e-6);
        for (got, expected) in rest.temps.iter().zip(&whole.temps) {
            within(*got, *expected, 1e-5 * (expected - TEMP).max(1.0));
        }
        for (got, expected) in rest.peaks.iter().zip(&whole.peaks) {
            within(*got, *expected, 1e-5 * (expected - TEMP).max(1.0));
        }
    }
}

#[test]
fn a_drive_cut_off_is_the_same_up_to_the_cut() {
    for t in [0.25, 5.0, 6.5, 20.0, 30.0] {
        let mut cut = heated();
        cut.drive = cut.drive.until(t);
        let t = t.min(20.0);
        within(cut.drive.pieces.last().expect("a piece").t_end, t, 0.0);
        let ended = run(&cut, f64::INFINITY);
        within(ended.t, t, 0.0);
        let heat = if t <= 5.0 { Some(40e3 * t) } else { None };
        if let Some(heat) = heat {
            within_share(ended.heat_in, heat, 1e-12);
        }
    }
    let mut ramp = heated();
    ramp.drive.pieces = vec![piece(4.0, 0.0, 0.0)];
    ramp.drive.pieces[0].q_rad = (0.0, 80e3);
    ramp.drive = ramp.drive.until(1.0);
    within_share(run(&ramp, f64::INFINITY).heat_in, 0.5 * 20e3, 1e-12);
}
