//! Claim: where vapour moves, mesh and step are of the second order in temperature and in what is held.
//! Source: manufactured solutions (Roache, J. Fluids Eng. 124 (2002) 4): T = T0 + A(t) cos(πx/L) and
//! w = w0 + B(t) cos(πx/L) pass neither heat nor vapour at either face; the sources that keep them follow from
//! the equations of heat and of water, differentiated in place and time by stencils of
//! the fourth order, of a step so short that it is not seen.
//! Tolerance: fitted order at least 1.9 in either field.

use crate::solver::manufactured::{LENGTH, T_END, fixed, second_order};
use crate::solver::rig::slab;
use std::f64::consts::PI;
use stillair::physics::law::Law;
use stillair::physics::vapour;
use stillair::solver::grid::{graded_cells, halved};
use stillair::solver::march::{Options, march};
use stillair::solver::problem::{Back, Drive, Medium, Piece, Problem, Slab};
use stillair::solver::sorbent::{Sorbent, Supply};
use stillair::solver::watch::{Next, Step, Watch};

const TEMP: (f64, f64) = (335.0, 18.0);
/// What is held, mean and swing [kg/m³]: never more than the fibres bind.
const HELD: (f64, f64) = (9.0, 3.0);
const K: f64 = 0.05;
const RHO_CP: f64 = 1.8e5;

const SORBENT: Sorbent = Sorbent {
    bound_65: 11.0,
    held_start: HELD.0,
    porosity: 0.9,
    openness: 0.8,
    cut_off: 1e-2,
    k_wet: 0.0,
    supply: Some(Supply(vapour_source)),
};

/// Temperature [K] and what is held [kg/m³].
fn exact(x: f64, t: f64) -> (f64, f64) {
    let wave = (PI * x / LENGTH).cos();
    (TEMP.0 + TEMP.1 * (1.5 * t).sin() * wave, HELD.0 + HELD.1 * (1.2 * t).sin() * wave)
}

/// Derivative at `x` by a stencil of the fourth order.
fn slope(f: impl Fn(f64) -> f64, x: f64, step: f64) -> f64 {
    let pair = |k: f64| f(x + k * step) - f(x - k * step);
    (8.0 * pair(1.0) - pair(2.0)) / (12.0 * step)
}

const DX: f64 = 1e-5;
const DT: f64 = 1e-4;

/// Vapour that passes [kg/(m²·s)]: Stefan's diffusion through the air of the pores.
fn vapour_flux(x: f64, t: f64) -> f64 {
    let potential = |x: f64| {
        let (temp, held) = exact(x, t);
        let p = SORBENT.airborne(temp, held) * vapour::GAS_CONSTANT_VAPOUR * temp;
        vapour::stefan(p, SORBENT.cut_off).value
    };
    -SORBENT.openness * vapour::transport(exact(x, t).0).value * slope(potential, x, DX)
}

/// Heat that passes [W/m²]: conducted, and carried by the vapour.
fn heat_flux(x: f64, t: f64) -> f64 {
    let conducted = -K * slope(|x| exact(x, t).0, x, DX);
    conducted + vapour_flux(x, t) * vapour::enthalpy_vapour(exact(x, t).0)
}

fn vapour_source(x: f64, t: f64) -> f64 {
    let stored = |t: f64| {
        let (temp, held) = exact(x, t);
        held + SORBENT.porosity * SORBENT.airborne(temp, held)
    };
    slope(stored, t, DT) + slope(|x| vapour_flux(x, t), x, DX)
}

fn heat_source(x: f64, t: f64) -> f64 {
    let stored = |t: f64| {
        let (temp, held) = exact(x, t);
        RHO_CP * temp + SORBENT.heat(temp, held)
    };
    slope(stored, t, DT) + slope(|x| heat_flux(x, t), x, DX)
}

fn problem(cells: Vec<f64>) -> Problem {
    let medium =
        Medium { k: Law::constant(K), rho_cp: Law::constant(RHO_CP), changes: vec![], sink: None };
    let slab = Slab { sorbent: Some(SORBENT), ..slab(medium, cells, TEMP.0) };
    let (h, q_rad) = ((0.0, 0.0), (0.0, 0.0));
    let piece = Piece { t_end: T_END, h, temp_gas: TEMP.0, p_vapour: 0.0, q_rad };
    let drive = Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: TEMP.0, blown: false };
    let (joints, back, source) =
        (vec![], Back::Insulated, Some(heat_source as fn(f64, f64) -> f64));
    Problem { slabs: vec![slab], joints, back, drive, source }
}

/// Temperatures and contents at the end.
#[derive(Default)]
struct End {
    temps: Vec<f64>,
    contents: Vec<f64>,
}

impl Watch for End {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.temps = (0..step.n_nodes()).map(|i| step.temp1(i)).collect();
        self.contents = (0..step.n_nodes()).map(|i| step.content1(i)).collect();
        Next::Go
    }
}

/// What is held per volume at each node [kg/m³]: of the half cells on either side.
fn held(end: &End, cells: &[f64]) -> Vec<f64> {
    let at = |i: usize| cells.get(i).copied().unwrap_or(0.0);
    let before = |i: usize| if i == 0 { 0.0 } else { at(i - 1) };
    let of = |(i, content): (usize, &f64)| content / (0.5 * (before(i) + at(i)));
    end.contents.iter().enumerate().map(of).collect()
}

/// Root mean square differences from the solution at the end: temperature [K], held [kg/m³].
fn off(cells: &[f64], options: &Options) -> [f64; 2] {
    let mut end = End::default();
    let ledger = march(&problem(cells.to_vec()), options, &mut end).expect("a march");
    assert!(ledger.residual() <= 1e-6 && ledger.vapour_lost() <= 1e-9, "{ledger:?}");
    let held = held(&end, cells);
    let mut x = 0.0;
    let mut sums = [0.0; 2];
    for (i, dx) in cells.iter().enumerate() {
        for (place, node) in [(x, i), (x + dx, i + 1)] {
            let (temp, content) = exact(place, T_END);
            sums[0] += 0.5 * dx * (end.temps[node] - temp).powi(2);
            sums[1] += 0.5 * dx * (held[node] - content).powi(2);
        }
        x += dx;
    }
    sums.map(|sum| (sum / x).sqrt())
}

fn in_space(what: &str, base: Vec<f64>) {
    let options = Options { tol: 1e-7, rise_scale: 1.0, dt_start: 1e-5, ..Options::default() };
    let mut cells = base;
    let (mut sizes, mut errors) = (Vec::new(), [Vec::new(), Vec::new()]);
    for level in 0..4 {
        let found = off(&cells, &options);
        sizes.push(0.5f64.powi(level));
        errors.iter_mut().zip(found).for_each(|(list, found)| list.push(found));
        cells = halved(&cells);
    }
    println!("{what}: temperature {:?}, held {:?}", errors[0], errors[1]);
    second_order(&format!("{what}, temperature"), &sizes, &errors[0]);
    second_order(&format!("{what}, held"), &sizes, &errors[1]);
}

#[test]
fn equal_cells() {
    in_space("equal cells", vec![LENGTH / 8.0; 8]);
}

#[test]
fn graded_cells_of_both_directions() {
    in_space("graded cells", graded_cells(LENGTH, 8, 1.25));
    in_space("graded cells", graded_cells(LENGTH, 8, 1.0 / 1.25));
}

#[test]
fn order_in_time() {
    let cells = vec![LENGTH / 32.0; 32];
    let end = |n_steps: usize| {
        let mut end = End::default();
        let ledger = march(&problem(cells.clone()), &fixed(n_steps), &mut end).expect("a march");
        assert_eq!((ledger.n_steps, ledger.n_rejected), (n_steps, 0));
        let held = held(&end, &cells);
        [end.temps, held]
    };
    // the fixed mesh's own answer, by steps 16 times finer than the finest fitted
    let reference = end(4096);
    let counts = [16, 32, 64, 128, 256];
    let sizes = counts.map(|count| T_END / count as f64);
    let found = counts.map(end);
    for (field, what) in ["temperature", "held"].into_iter().enumerate() {
        let errors = found.each_ref().map(|one| {
            let pairs = one[field].iter().zip(&reference[field]);
            pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
        });
        println!("{what} in time: {errors:?}");
        second_order(&format!("{what} in time"), &sizes, &errors);
    }
}
