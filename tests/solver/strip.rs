//! Claim: heat between columns side by side follows closed forms: a strip that evens out, a fin between two gases.
//! Source: the Fourier series of an insulated strip after a step (H. S. Carslaw, J. C. Jaeger, Conduction of heat in
//! solids, 2nd edition, section 3.3, from memory); a straight fin with an insulated tip, cosh m·x, m² = h/(k·δ)
//! (textbooks of heat transfer, from memory), two of which meet in the middle.
//! Tolerance: 1 % of the step; heat is kept to rounding where capacities do not change.

use stillair::physics::law::Law;
use stillair::solver::options::Options;
use stillair::solver::problem::{Back, Drive, Medium, Piece, Problem, Slab};
use stillair::solver::strip::{Held, Row, Sideways, Strip, Together, march_strip};
use stillair::solver::watch::{Next, Step, Watch};

const COLD: f64 = 300.0;
const HOT: f64 = 320.0;
const N: usize = 20;
/// Width of a column [m].
const WIDTH: f64 = 1e-3;
/// Thickness of the sheet [m].
const DELTA: f64 = 0.5e-3;
const N_CELLS: usize = 2;

/// A metal sheet: conductivity [W/(m·K)] and heat capacity [J/(m³·K)].
struct Metal {
    k: f64,
    rho_cp: f64,
}

impl Sideways for Metal {
    fn row(&self, _: usize, held: &Held) -> Row {
        let last = held.temps.len() - 1;
        let dx = DELTA / N_CELLS as f64;
        let half = |i: usize| if i == 0 || i == last { 0.5 * dx } else { dx };
        Row {
            cap: (0..=last).map(|i| half(i) * self.rho_cp).collect(),
            along: (0..=last).map(|i| half(i) * self.k).collect(),
        }
    }
}

impl Metal {
    /// A column that starts at `temp` [K] below a gas at `gas` [K] behind a film of `h` [W/(m²·K)].
    fn column(&self, temp: f64, (h, gas): (f64, f64), t_end: f64) -> Problem {
        let medium = Medium {
            k: Law::constant(self.k),
            rho_cp: Law::constant(self.rho_cp),
            changes: Vec::new(),
            sink: None,
        };
        let cells = vec![DELTA / N_CELLS as f64; N_CELLS];
        let temps_start = (temp, temp);
        let slab =
            Slab { medium, cells, extinction: None, sorbent: None, reacting: None, temps_start };
        let piece = Piece { t_end, h: (h, h), temp_gas: gas, p_vapour: 0.0, q_rad: (0.0, 0.0) };
        let drive =
            Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: COLD, blown: false };
        Problem {
            slabs: vec![slab],
            joints: Vec::new(),
            back: Back::Insulated,
            drive,
            source: None,
        }
    }
}

struct Look;

impl Watch for Look {
    fn step(&mut self, _: &Step<'_>) -> Next {
        Next::Go
    }
}

/// Temperatures of the columns at the end [K].
fn ends(metal: &Metal, columns: &[Problem], dt: f64) -> Vec<f64> {
    let strip = Strip {
        shares: vec![1.0 / N as f64; N],
        widths: vec![WIDTH; N],
        borders: vec![1.0 / (N as f64 * WIDTH); N - 1],
    };
    let columns: Vec<&Problem> = columns.iter().collect();
    let options = Options::default();
    let together = Together { strip: &strip, tied: false, options: &options, dt };
    let ended = march_strip(&columns, &together, metal, |_| Some(Look)).unwrap();
    ended.into_iter().map(|(_, held)| held.temps[0]).collect()
}

/// Middle of a column from the left end [m].
fn middle(c: usize) -> f64 {
    (c as f64 + 0.5) * WIDTH
}

#[test]
fn a_strip_evens_out_as_its_fourier_series() {
    let metal = Metal { k: 50.0, rho_cp: 2e6 };
    let length = N as f64 * WIDTH;
    let alpha = metal.k / metal.rho_cp;
    for t in [0.2, 1.0, 4.0] {
        let at = |c: usize| if c < N / 2 { HOT } else { COLD };
        let columns: Vec<Problem> = (0..N).map(|c| metal.column(at(c), (0.0, COLD), t)).collect();
        let found = ends(&metal, &columns, 0.01);
        for (c, temp) in found.iter().enumerate() {
            let x = middle(c);
            let term = |n: usize| {
                let n = (2 * n + 1) as f64 * std::f64::consts::PI / length;
                let sign = (0.5 * n * length).sin();
                2.0 * sign / (n * length) * (n * x).cos() * (-alpha * n * n * t).exp()
            };
            let share = 0.5 + (0..200).map(term).sum::<f64>();
            let expected = COLD + (HOT - COLD) * share;
            // the cells straddle the step: what is within a column is not resolved at once
            assert!((temp - expected).abs() < 0.01 * (HOT - COLD), "{t} s, {c}: {temp} {expected}");
        }
        let mean = found.iter().sum::<f64>() / N as f64;
        assert!((mean - 0.5 * (HOT + COLD)).abs() < 1e-6, "{t} s: mean {mean}");
    }
}

#[test]
fn two_fins_meet_between_two_gases() {
    let metal = Metal { k: 50.0, rho_cp: 1e6 };
    let h = 100.0;
    let gas = |c: usize| if c < N / 2 { HOT } else { COLD };
    let columns: Vec<Problem> = (0..N).map(|c| metal.column(COLD, (h, gas(c)), 60.0)).collect();
    let found = ends(&metal, &columns, 0.1);
    let m = (h / (metal.k * DELTA)).sqrt();
    let half = 0.5 * N as f64 * WIDTH;
    // continuous in temperature and flux where they meet
    let swing = 0.5 * (COLD - HOT) / (m * half).cosh();
    for (c, temp) in found.iter().enumerate() {
        let x = middle(c);
        let expected = match c < N / 2 {
            true => HOT + swing * (m * x).cosh(),
            false => COLD - swing * (m * (2.0 * half - x)).cosh(),
        };
        assert!((temp - expected).abs() < 0.01 * (HOT - COLD), "{c}: {temp}, not {expected}");
    }
    // the sheet shares heat: the hot half is well below its gas
    assert!(found[0] < HOT - 0.3 * (HOT - COLD), "{}", found[0]);
}

#[test]
fn a_strip_that_is_not_described_is_refused() {
    let metal = Metal { k: 50.0, rho_cp: 1e6 };
    let column = metal.column(COLD, (0.0, COLD), 1.0);
    let columns = vec![&column; 3];
    let strip = Strip { shares: vec![0.5; 2], widths: vec![WIDTH; 3], borders: vec![1.0; 2] };
    let options = Options::default();
    let together = Together { strip: &strip, tied: false, options: &options, dt: 0.1 };
    assert!(march_strip(&columns, &together, &metal, |_| Some(Look)).is_err());
    assert!(march_strip(&[], &together, &metal, |_| Some(Look)).is_err());
}
