//! Heat content, heat rates and their exact Jacobian at given temperatures.
//!
//! Vertex-centred finite volumes: half of each cell belongs to the node on either side.
//! The flux through a cell is the difference of the conductivity integral over the cell
//! size (Kirchhoff's transform), exact at steady state whatever k(T).

use crate::physics::gap::conductance;
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::{LaneJoint, LaneLaw, LaneSlab, Lanes};

/// Values at one set of temperatures, one entry a node.
#[derive(Debug, Clone)]
pub(crate) struct Rates<const L: usize> {
    /// Heat content per area [J/m²], up to a constant.
    pub heat: Vec<[f64; L]>,
    /// Its derivative [J/(m²·K)].
    pub cap: Vec<[f64; L]>,
    /// Net heat rate per area [W/m²].
    pub rate: Vec<[f64; L]>,
    /// Derivative of the rate by the temperature before, at and after the node [W/(m²·K)].
    pub lower: Vec<[f64; L]>,
    pub diag: Vec<[f64; L]>,
    pub upper: Vec<[f64; L]>,
    /// Net flux into the chain through the outer face, radiation included [W/m²].
    pub q_in: [f64; L],
    /// Flux out of the chain by sinks and through a held last face [W/m²].
    pub q_out: [f64; L],
    /// Derivative of `q_in` by the outer face's temperature [W/(m²·K)].
    pub q_in_slope: [f64; L],
    /// Derivative of `q_out` by each node's temperature [W/(m²·K)].
    pub q_out_slope: Vec<[f64; L]>,
    /// Heat set free by the source [W/m²].
    pub q_source: [f64; L],
    before: Point<L>,
    after: Point<L>,
}

/// A medium's values at one temperature.
#[derive(Debug, Clone, Copy)]
struct Point<const L: usize> {
    potential: [f64; L],
    k: [f64; L],
    heat: [f64; L],
    rho_cp: [f64; L],
}

impl<const L: usize> Rates<L> {
    pub fn new(n: usize) -> Rates<L> {
        let zeros = || vec![[0.0; L]; n];
        let point = Point { potential: [0.0; L], k: [0.0; L], heat: [0.0; L], rho_cp: [0.0; L] };
        Rates {
            heat: zeros(),
            cap: zeros(),
            rate: zeros(),
            lower: zeros(),
            diag: zeros(),
            upper: zeros(),
            q_in: [0.0; L],
            q_out: [0.0; L],
            q_in_slope: [0.0; L],
            q_out_slope: zeros(),
            q_source: [0.0; L],
            before: point,
            after: point,
        }
    }

    /// Moves the rates along a small correction of the temperatures in the lanes of `which`.
    ///
    /// Flux by flux this is linear, so that what leaves one node still enters the next; the error
    /// is of the second order in the correction.
    pub fn shift(&mut self, delta: &[[f64; L]], which: &[bool; L]) {
        let n = self.rate.len();
        for i in 0..n {
            for l in 0..L {
                if which[l] {
                    let before = if i > 0 { self.lower[i][l] * delta[i - 1][l] } else { 0.0 };
                    let after = if i + 1 < n { self.upper[i][l] * delta[i + 1][l] } else { 0.0 };
                    self.rate[i][l] += before + self.diag[i][l] * delta[i][l] + after;
                    self.q_out[l] += self.q_out_slope[i][l] * delta[i][l];
                }
            }
        }
        for l in 0..L {
            if which[l] {
                self.q_in[l] += self.q_in_slope[l] * delta[0][l];
            }
        }
    }
}

/// Adds value and integral of a law at `temps`.
#[inline(always)]
fn law_at<const L: usize>(
    law: &LaneLaw<L>,
    temps: &[f64; L],
    value: &mut [f64; L],
    sum: &mut [f64; L],
) {
    for l in 0..L {
        value[l] = law.base[l];
        sum[l] = law.base[l] * temps[l];
    }
    for ramp in &law.ramps {
        for l in 0..L {
            let held = temps[l].max(ramp.lo[l]).min(ramp.hi[l]);
            value[l] += ramp.slope[l] * held;
            sum[l] += ramp.slope[l] * held * (temps[l] - 0.5 * held);
        }
    }
}

impl<const L: usize> LaneSlab<L> {
    /// The medium's values at `temps`, where `peaks` are the highest temperatures seen so far.
    #[inline(always)]
    fn at(&self, temps: &[f64; L], peaks: &[f64; L], point: &mut Point<L>) {
        law_at(&self.k, temps, &mut point.k, &mut point.potential);
        law_at(&self.rho_cp, temps, &mut point.rho_cp, &mut point.heat);
        for change in &self.changes {
            for l in 0..L {
                let top = temps[l].max(peaks[l]);
                let u = ((top - change.temp_lo[l]) / change.width[l]).clamp(0.0, 1.0);
                let done = u * u * (3.0 - 2.0 * u);
                // ∫ done dT from temp_lo to top
                let beyond = (top - change.temp_lo[l] - change.width[l]).max(0.0);
                let passed = change.width[l] * u * u * u * (1.0 - 0.5 * u) + beyond;
                let lost = change.rho_cp_lost[l];
                point.heat[l] +=
                    change.heat[l] * done - lost * passed - lost * done * (temps[l] - top);
                let rising = if temps[l] >= peaks[l] { 1.0 } else { 0.0 };
                let slope = 6.0 * u * (1.0 - u) / change.width[l];
                point.rho_cp[l] += rising * change.heat[l] * slope - lost * done;
            }
        }
    }
}

impl<const L: usize> Lanes<L> {
    /// Evaluates everything at `temps` and times `t`, within pieces `piece` of each lane's drive.
    pub(crate) fn evaluate(
        &self,
        temps: &[[f64; L]],
        peaks: &[[f64; L]],
        t: &[f64; L],
        piece: &[usize; L],
        out: &mut Rates<L>,
    ) {
        for i in 0..self.n {
            for l in 0..L {
                out.heat[i][l] = self.lumps[i][l] * temps[i][l];
            }
            out.cap[i] = self.lumps[i];
            out.rate[i] = [0.0; L];
            out.lower[i] = [0.0; L];
            out.diag[i] = [0.0; L];
            out.upper[i] = [0.0; L];
            out.q_out_slope[i] = [0.0; L];
        }
        out.q_in = [0.0; L];
        out.q_out = [0.0; L];
        out.q_source = [0.0; L];
        self.add_drive(&temps[0], t, piece, out);
        for slab in &self.slabs {
            self.add_slab(slab, temps, peaks, t, out);
        }
        for joint in &self.joints {
            add_joint(joint, temps, out);
        }
        if self.held {
            let last = self.n - 1;
            for l in 0..L {
                out.q_out[l] += out.rate[last][l];
                out.q_out_slope[last - 1][l] += out.lower[last][l];
                out.q_out_slope[last][l] += out.diag[last][l];
            }
            out.rate[last] = [0.0; L];
            out.lower[last] = [0.0; L];
            out.diag[last] = [0.0; L];
        }
    }

    /// Film, radiation in and radiation out at the outer face.
    fn add_drive(&self, face: &[f64; L], t: &[f64; L], piece: &[usize; L], out: &mut Rates<L>) {
        let mut q_rad = [0.0; L];
        for l in 0..L {
            let pieces = &self.pieces[l];
            let now = &pieces[piece[l]];
            let start = if piece[l] == 0 { 0.0 } else { pieces[piece[l] - 1].t_end };
            let share = (t[l] - start) / (now.t_end - start);
            let h = now.h.0 + (now.h.1 - now.h.0) * share;
            q_rad[l] = now.q_rad.0 + (now.q_rad.1 - now.q_rad.0) * share;
            let sent = self.emissivity[l] * STEFAN_BOLTZMANN;
            let square = face[l] * face[l];
            let surround = self.temp_surround[l] * self.temp_surround[l];
            let film =
                h * (now.temp_gas - face[l]) - sent * (square * square - surround * surround);
            out.rate[0][l] += film;
            out.q_in_slope[l] = -(h + 4.0 * sent * square * face[l]);
            out.diag[0][l] += out.q_in_slope[l];
            out.q_in[l] = film + q_rad[l];
        }
        for i in 0..self.n {
            for l in 0..L {
                out.rate[i][l] += self.deposit[i][l] * q_rad[l];
            }
        }
    }

    fn add_slab(
        &self,
        slab: &LaneSlab<L>,
        temps: &[[f64; L]],
        peaks: &[[f64; L]],
        t: &[f64; L],
        out: &mut Rates<L>,
    ) {
        let first = slab.first;
        slab.at(&temps[first], &peaks[first], &mut out.before);
        for (c, dx) in slab.dx.iter().enumerate() {
            let (i, j) = (first + c, first + c + 1);
            slab.at(&temps[j], &peaks[j], &mut out.after);
            for l in 0..L {
                let per_dx = 1.0 / dx[l];
                let half = 0.5 * dx[l];
                let q = (out.before.potential[l] - out.after.potential[l]) * per_dx;
                let by_before = out.before.k[l] * per_dx;
                let by_after = out.after.k[l] * per_dx;
                out.rate[i][l] -= q;
                out.rate[j][l] += q;
                out.diag[i][l] -= by_before;
                out.upper[i][l] += by_after;
                out.lower[j][l] += by_before;
                out.diag[j][l] -= by_after;
                out.heat[i][l] += half * out.before.heat[l];
                out.heat[j][l] += half * out.after.heat[l];
                out.cap[i][l] += half * out.before.rho_cp[l];
                out.cap[j][l] += half * out.after.rho_cp[l];
            }
            if let Some((sink, temp_sink)) = &slab.sink {
                for l in 0..L {
                    let half = 0.5 * dx[l] * sink[l];
                    for node in [i, j] {
                        let q = half * (temps[node][l] - temp_sink[l]);
                        out.rate[node][l] -= q;
                        out.diag[node][l] -= half;
                        // what a held last face's own sink takes never enters the chain
                        if !(self.held && node == self.n - 1) {
                            out.q_out[l] += q;
                            out.q_out_slope[node][l] += half;
                        }
                    }
                }
            }
            if let Some(source) = self.source {
                for l in 0..L {
                    for node in [i, j] {
                        let q = 0.5 * dx[l] * source(self.places[node][l], t[l]);
                        out.rate[node][l] += q;
                        out.q_source[l] += q;
                    }
                }
            }
            std::mem::swap(&mut out.before, &mut out.after);
        }
    }
}

fn add_joint<const L: usize>(joint: &LaneJoint<L>, temps: &[[f64; L]], out: &mut Rates<L>) {
    let (node, flux) = match joint {
        LaneJoint::Conductance { node, h } => {
            let mut flux = [[0.0; L]; 3];
            for l in 0..L {
                flux[0][l] = h[l] * (temps[*node][l] - temps[*node + 1][l]);
                flux[1][l] = h[l];
                flux[2][l] = -h[l];
            }
            (*node, flux)
        }
        LaneJoint::Air { node, thickness, exchange, convection } => {
            let mut flux = [[0.0; L]; 3];
            for l in 0..L {
                let (hot, cold) = (temps[*node][l], temps[*node + 1][l]);
                let film = conductance(hot, cold, thickness[l], convection[l]);
                let sent = exchange[l] * STEFAN_BOLTZMANN;
                let (hot2, cold2) = (hot * hot, cold * cold);
                let diff = hot - cold;
                flux[0][l] = film.value * diff + sent * (hot2 * hot2 - cold2 * cold2);
                flux[1][l] = film.value + film.slope_outer * diff + 4.0 * sent * hot2 * hot;
                flux[2][l] = -film.value + film.slope_inner * diff - 4.0 * sent * cold2 * cold;
            }
            (*node, flux)
        }
    };
    for l in 0..L {
        out.rate[node][l] -= flux[0][l];
        out.rate[node + 1][l] += flux[0][l];
        out.diag[node][l] -= flux[1][l];
        out.upper[node][l] -= flux[2][l];
        out.lower[node + 1][l] += flux[1][l];
        out.diag[node + 1][l] += flux[2][l];
    }
}
