//! A solve in two dimensions across a stitch line: the columns of a quilting side by side, heat
//! flowing down each and, if wanted, along the plies from one to the next.
//!
//! Backward Euler with every coefficient taken from the step before; the system is symmetric and
//! banded, and is factored as L D Lᵀ. One temperature stands for all of the copper disc.

use stillair::physics::radiation::{self};
use stillair::physics::units::STEFAN_BOLTZMANN;
use stillair::physics::{air, gap};
use stillair::solver::problem::{Back, Joint, Problem};

/// Columns across half a pitch, the middle of the stitch line first.
pub struct Sheet {
    /// The columns, all of one shape; plies opaque, without water.
    pub columns: Vec<Problem>,
    /// Their widths [m].
    pub widths: Vec<f64>,
    /// Conductivity along a layer over that through it [–]; 0 lets no heat flow sideways.
    pub along: f64,
}

/// A symmetric banded system of `n` unknowns with `band` diagonals below the main one.
struct Banded {
    n: usize,
    band: usize,
    /// `rows[i * (band + 1) + band - k]` holds the entry in column i − k.
    rows: Vec<f64>,
}

impl Banded {
    fn zeros(n: usize, band: usize) -> Banded {
        Banded { n, band, rows: vec![0.0; n * (band + 1)] }
    }

    fn add(&mut self, i: usize, j: usize, value: f64) {
        let (i, j) = (i.max(j), i.min(j));
        self.rows[i * (self.band + 1) + self.band + j - i] += value;
    }

    /// L D Lᵀ in place.
    fn factor(&mut self) {
        let (band, wide) = (self.band, self.band + 1);
        let mut scaled = vec![0.0; wide];
        for i in 0..self.n {
            let first = i.saturating_sub(band);
            for j in first..i {
                let low = first.max(j.saturating_sub(band));
                let (row, other) = (i * wide + band - i, j * wide + band - j);
                let mut sum = self.rows[row + j];
                for k in low..j {
                    sum -= scaled[k + band - i] * self.rows[other + k];
                }
                scaled[j + band - i] = sum;
                self.rows[row + j] = sum / self.rows[j * wide + band];
            }
            let row = i * wide + band - i;
            let taken: f64 = (first..i).map(|k| self.rows[row + k] * scaled[k + band - i]).sum();
            self.rows[i * wide + band] -= taken;
        }
    }

    fn solve(&self, rhs: &mut [f64]) {
        let (band, wide) = (self.band, self.band + 1);
        for i in 0..self.n {
            let first = i.saturating_sub(band);
            let row = i * wide + band - i;
            rhs[i] -= (first..i).map(|k| self.rows[row + k] * rhs[k]).sum::<f64>();
        }
        for (i, x) in rhs.iter_mut().enumerate() {
            *x /= self.rows[i * wide + band];
        }
        for i in (0..self.n).rev() {
            let row = i * wide + band - i;
            for k in i.saturating_sub(band)..i {
                rhs[k] -= self.rows[row + k] * rhs[i];
            }
        }
    }
}

/// Where a node stands in a column: capacities and links at the temperatures of the step before.
struct Frozen {
    /// Heat capacity per area of each node [J/(m²·K)].
    cap: Vec<f64>,
    /// Conductance from each node to the next [W/(m²·K)].
    down: Vec<f64>,
    /// Conductivity along the layers times their thickness that belongs to each node [W/K].
    along: Vec<f64>,
}

fn freeze(problem: &Problem, temps: &[f64]) -> Frozen {
    let n = problem.n_nodes();
    let mut frozen = Frozen { cap: vec![0.0; n], down: vec![0.0; n - 1], along: vec![0.0; n] };
    let spans = problem.spans();
    let (back, cap_behind) = match problem.back {
        Back::Lump { joint, cap_area, .. } => (Some(joint), cap_area),
        _ => (None, 0.0),
    };
    frozen.cap[n - 1] += cap_behind;
    for (slab, (first, _)) in problem.slabs.iter().zip(&spans) {
        for (c, dx) in slab.cells.iter().enumerate() {
            let i = first + c;
            let middle = 0.5 * (temps[i] + temps[i + 1]);
            frozen.down[i] = slab.medium.k.at(middle) / dx;
            for node in [i, i + 1] {
                frozen.cap[node] += 0.5 * dx * slab.medium.rho_cp.at(temps[node]);
                frozen.along[node] += 0.5 * dx * slab.medium.k.at(temps[node]);
            }
        }
    }
    for (joint, (_, i)) in problem.joints.iter().copied().chain(back).zip(spans) {
        match joint {
            Joint::Shared => {}
            Joint::Conductance(h) => frozen.down[i] = h,
            Joint::Air { thickness, exchange, convection, cap_area } => {
                let (one, other) = (temps[i], temps[i + 1]);
                frozen.down[i] = gap::conductance(one, other, thickness, convection).value
                    + radiation::conductance(one, other, exchange).value;
                let k = air::conductivity(0.5 * (one + other)).value;
                for node in [i, i + 1] {
                    frozen.cap[node] += 0.5 * cap_area;
                    frozen.along[node] += 0.5 * thickness * k;
                }
            }
        }
    }
    frozen
}

impl Sheet {
    /// Temperatures of all columns after each step of `dt` up to `t_end` are shown to `look`, until it says stop.
    ///
    /// `look(t, temps)`: `temps[c][i]` of column c, node i [K]; true goes on.
    pub fn run(&self, dt: f64, t_end: f64, mut look: impl FnMut(f64, &[Vec<f64>]) -> bool) {
        let mut temps: Vec<Vec<f64>> = self.columns.iter().map(start).collect();
        let n_steps = (t_end / dt).round() as usize;
        for step in 1..=n_steps {
            self.step(dt, &mut temps);
            if !look(step as f64 * dt, &temps) {
                return;
            }
        }
    }

    /// One step; the last node of all columns is one (disc) or held (skin).
    fn step(&self, dt: f64, temps: &mut [Vec<f64>]) {
        let (n_columns, n) = (self.columns.len(), self.columns[0].n_nodes());
        let frozen: Vec<Frozen> =
            self.columns.iter().zip(temps.iter()).map(|(p, t)| freeze(p, t)).collect();
        let free = n - 1;
        let mut matrix = Banded::zeros(free * n_columns, n_columns);
        let mut rhs = vec![0.0; free * n_columns];
        let mut to_last = vec![0.0; free * n_columns];
        let at = |c: usize, i: usize| i * n_columns + c;
        let is_disc = matches!(self.columns[0].back, Back::Lump { .. });
        let (mut last_diag, mut last_rhs) = (0.0, 0.0);
        for (c, problem) in self.columns.iter().enumerate() {
            let width = self.widths[c];
            let own = &frozen[c];
            for i in 0..free {
                let hold = width * own.cap[i] / dt;
                matrix.add(at(c, i), at(c, i), hold);
                rhs[at(c, i)] += hold * temps[c][i];
                let g = width * own.down[i];
                matrix.add(at(c, i), at(c, i), g);
                if i + 1 < free {
                    matrix.add(at(c, i + 1), at(c, i + 1), g);
                    matrix.add(at(c, i), at(c, i + 1), -g);
                } else {
                    to_last[at(c, i)] = -g;
                    last_diag += g;
                }
                if c + 1 < n_columns {
                    // along two half columns in series
                    let half = |c: usize| 0.5 * self.widths[c] / frozen[c].along[i];
                    let g = self.along / (half(c) + half(c + 1));
                    matrix.add(at(c, i), at(c, i), g);
                    matrix.add(at(c + 1, i), at(c + 1, i), g);
                    matrix.add(at(c, i), at(c + 1, i), -g);
                }
            }
            let hold = width * own.cap[free] / dt;
            last_diag += hold;
            last_rhs += hold * temps[c][free];
            let (piece, drive) = (problem.drive.pieces[0], &problem.drive);
            let (face, around) = (temps[c][0], drive.temp_surround);
            let sent = drive.emissivity
                * STEFAN_BOLTZMANN
                * (face * face + around * around)
                * (face + around);
            matrix.add(at(c, 0), at(c, 0), width * (piece.h.0 + sent));
            rhs[at(c, 0)] += width * (piece.h.0 * piece.temp_gas + piece.q_rad.0 + sent * around);
        }
        matrix.factor();
        let last = if is_disc {
            // the border is eliminated: the disc's own equation with every column's answer to it
            let mut answer = to_last.clone();
            matrix.solve(&mut answer);
            matrix.solve(&mut rhs);
            let dot = |v: &[f64]| to_last.iter().zip(v).map(|(a, b)| a * b).sum::<f64>();
            let last = (last_rhs - dot(&rhs)) / (last_diag - dot(&answer));
            rhs.iter_mut().zip(&answer).for_each(|(x, a)| *x -= a * last);
            last
        } else {
            let held = temps[0][free];
            rhs.iter_mut().zip(&to_last).for_each(|(x, g)| *x -= g * held);
            matrix.solve(&mut rhs);
            held
        };
        for (c, column) in temps.iter_mut().enumerate() {
            for (i, temp) in column.iter_mut().enumerate().take(free) {
                *temp = rhs[at(c, i)];
            }
            column[free] = last;
        }
    }
}

/// Temperatures of a column at the start.
fn start(problem: &Problem) -> Vec<f64> {
    let mut temps = vec![0.0; problem.n_nodes()];
    for (slab, (first, last)) in problem.slabs.iter().zip(problem.spans()) {
        let thickness: f64 = slab.cells.iter().sum();
        let mut depth = 0.0;
        let (outer, inner) = slab.temps_start;
        for (i, temp) in temps[first..=last].iter_mut().enumerate() {
            *temp = outer + (inner - outer) * depth / thickness;
            depth += slab.cells.get(i).copied().unwrap_or(0.0);
        }
    }
    if let Back::Lump { temp_start, .. } = problem.back {
        *temps.last_mut().expect("a column has nodes") = temp_start;
    }
    temps
}
