//! Problems in few words, and watches that read temperatures and times off a march.

use crate::physics::law::Law;
use crate::solver::grid::halved;
use crate::solver::march::march;
use crate::solver::options::Options;
use crate::solver::problem::{Back, Drive, Joint, Medium, Piece, Problem, Slab};
use crate::solver::root::crossing;
use crate::solver::watch::{Next, Step, Watch};

/// A medium of constant properties.
pub fn medium(k: f64, rho_cp: f64) -> Medium {
    Medium { k: Law::constant(k), rho_cp: Law::constant(rho_cp), changes: vec![], sink: None }
}

/// An opaque slab at one temperature.
pub fn slab(medium: Medium, cells: Vec<f64>, temp: f64) -> Slab {
    Slab {
        medium,
        cells,
        extinction: None,
        sorbent: None,
        reacting: None,
        temps_start: (temp, temp),
    }
}

/// A steady flux into an otherwise insulated face.
pub fn flux_drive(q: f64, t_end: f64) -> Drive {
    let piece = Piece { t_end, h: (0.0, 0.0), temp_gas: 300.0, p_vapour: 0.0, q_rad: (q, q) };
    Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: 300.0, blown: false }
}

/// A film to a gas.
pub fn film_drive(h: f64, temp_gas: f64, t_end: f64) -> Drive {
    let piece = Piece { t_end, h: (h, h), temp_gas, p_vapour: 0.0, q_rad: (0.0, 0.0) };
    Drive { pieces: vec![piece], emissivity: 0.0, temp_surround: temp_gas, blown: false }
}

/// One slab.
pub fn single(slab: Slab, back: Back, drive: Drive) -> Problem {
    Problem { slabs: vec![slab], joints: vec![], back, drive, source: None }
}

/// Slabs whose faces share one temperature.
pub fn touching(slabs: Vec<Slab>, back: Back, drive: Drive) -> Problem {
    let joints = vec![Joint::Shared; slabs.len() - 1];
    Problem { slabs, joints, back, drive, source: None }
}

/// `n_even` cells of size `dx`, then cells growing by `ratio` until `thickness` is filled.
pub fn deep_cells(dx: f64, n_even: usize, ratio: f64, thickness: f64) -> Vec<f64> {
    let mut cells = vec![dx; n_even];
    let mut depth = dx * n_even as f64;
    let mut size = dx;
    while depth < thickness {
        size *= ratio;
        cells.push(size);
        depth += size;
    }
    cells
}

/// A place in a problem that stays the same when cells are halved.
#[derive(Debug, Clone, Copy)]
pub enum At {
    /// A node of a slab, counted on the mesh before halving.
    Slab(usize, usize),
    /// The last node of the chain.
    Last,
}

impl At {
    fn node(self, problem: &Problem, level: usize) -> usize {
        match self {
            At::Slab(j, i) => problem.spans()[j].0 + (i << level),
            At::Last => problem.n_nodes() - 1,
        }
    }
}

/// A number read off the march with its numerical error.
#[derive(Debug, Clone, Copy)]
pub struct Reading {
    /// The value.
    pub value: f64,
    /// Its numerical error, same unit.
    pub error: f64,
}

impl Reading {
    /// Extrapolates from two levels whose errors differ by a factor 4; the error is three times
    /// the step of the extrapolation (Roache, J. Fluids Eng. 116 (1994) 405).
    pub fn of_levels(coarse: f64, fine: f64) -> Reading {
        Reading { value: fine + (fine - coarse) / 3.0, error: (fine - coarse).abs() }
    }

    /// The reading put through a straight line.
    pub fn line(self, base: f64, factor: f64) -> Reading {
        Reading { value: base + factor * self.value, error: factor.abs() * self.error }
    }
}

/// The problem with every cell halved `level` times.
pub fn halved_problem(problem: &Problem, level: usize) -> Problem {
    let mut fine = problem.clone();
    for slab in &mut fine.slabs {
        for _ in 0..level {
            slab.cells = halved(&slab.cells);
        }
    }
    fine
}

/// Step tolerance of a level; each level divides it by 8, so that errors fall by 4.
pub fn options(level: usize) -> Options {
    Options { tol: 1e-5 / 8f64.powi(level as i32), dt_start: 1e-4, ..Options::default() }
}

const LEVELS: [usize; 2] = [2, 3];

/// Temperatures [K] at given times [s] and places.
pub fn temps(problem: &Problem, wanted: &[(f64, At)]) -> Vec<Reading> {
    let [coarse, fine] = LEVELS.map(|level| {
        let mesh = halved_problem(problem, level);
        let nodes = wanted.iter().map(|(t, at)| (*t, at.node(&mesh, level))).collect();
        Probe::new(nodes).read_off(&mesh, level)
    });
    coarse.iter().zip(fine).map(|(coarse, fine)| Reading::of_levels(*coarse, fine)).collect()
}

/// Times [s] at which a place first passes the given temperatures [K].
pub fn times(problem: &Problem, at: At, levels: &[f64]) -> Vec<Reading> {
    let [coarse, fine] = LEVELS.map(|level| {
        let mesh = halved_problem(problem, level);
        let found = vec![f64::NAN; levels.len()];
        let mut watch = Passing { node: at.node(&mesh, level), levels: levels.to_vec(), found };
        match march(&mesh, &options(level), &mut watch) {
            Ok(_) => watch.found,
            Err(_) => vec![f64::NAN; levels.len()],
        }
    });
    coarse.iter().zip(fine).map(|(coarse, fine)| Reading::of_levels(*coarse, fine)).collect()
}

/// Reads temperatures at given times.
#[derive(Debug, Clone)]
pub struct Probe {
    /// Time [s] and node.
    pub wanted: Vec<(f64, usize)>,
    /// Temperatures [K], NaN until read.
    pub read: Vec<f64>,
}

impl Probe {
    /// Reads nodes at given times [s] off a march.
    pub fn new(wanted: Vec<(f64, usize)>) -> Probe {
        let read = vec![f64::NAN; wanted.len()];
        Probe { wanted, read }
    }

    /// The temperatures [K] of the problem as it is, with the step tolerance of `level`; NaN where the solver gives up.
    pub fn read_off(mut self, problem: &Problem, level: usize) -> Vec<f64> {
        match march(problem, &options(level), &mut self) {
            Ok(_) => self.read,
            Err(_) => vec![f64::NAN; self.wanted.len()],
        }
    }
}

impl Watch for Probe {
    fn step(&mut self, step: &Step<'_>) -> Next {
        for ((t, node), read) in self.wanted.iter().zip(&mut self.read) {
            if *t > step.t0 && *t <= step.t1 {
                *read = step.temp(*node, *t);
            }
        }
        Next::Go
    }
}

/// Notes when a node first passes each level, from either side.
struct Passing {
    node: usize,
    levels: Vec<f64>,
    found: Vec<f64>,
}

impl Watch for Passing {
    fn step(&mut self, step: &Step<'_>) -> Next {
        for (level, found) in self.levels.iter().zip(&mut self.found) {
            let off = |t: f64| step.temp(self.node, t) - level;
            if found.is_nan() && off(step.t0) * off(step.t1) <= 0.0 {
                *found = crossing(step.t0, step.t1, 1e-10, off);
            }
        }
        if self.found.iter().any(|t| t.is_nan()) { Next::Go } else { Next::Stop }
    }
}

/// Looks at nothing.
#[derive(Debug, Clone, Copy)]
pub struct Blind;

impl Watch for Blind {
    fn step(&mut self, _: &Step<'_>) -> Next {
        Next::Go
    }
}
