//! Heat content, heat rates and their exact Jacobian at given temperatures.
//!
//! Vertex-centred finite volumes: half of each cell belongs to the node on either side.
//! The flux through a cell is the difference of the conductivity integral over the cell
//! size (Kirchhoff's transform), exact at steady state whatever k(T).

use crate::physics::gap::conductance;
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::{LaneJoint, LaneSlab, Lanes};
use crate::solver::media::{Flux, Point};
use crate::solver::problem::{Piece, Source};

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
    /// Whether anything can leave the chain.
    has_out: bool,
}

/// What gathers at one node while the chain is walked.
#[derive(Debug, Clone, Copy)]
struct Node<const L: usize> {
    heat: [f64; L],
    cap: [f64; L],
    rate: [f64; L],
    diag: [f64; L],
}

impl<const L: usize> Rates<L> {
    pub fn new(n: usize) -> Rates<L> {
        let zeros = || vec![[0.0; L]; n];
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
            has_out: false,
        }
    }

    /// Moves the rates along a small correction of the temperatures in the lanes of `which`.
    ///
    /// Flux by flux this is linear, so that what leaves one node still enters the next; the error
    /// is of the second order in the correction.
    pub fn shift(&mut self, delta: &[[f64; L]], which: &[bool; L]) {
        let n = self.rate.len();
        assert!(delta.len() == n, "one correction a node");
        let mut before = [0.0; L];
        for i in 0..n {
            let now = delta[i];
            let after = if i + 1 < n { delta[i + 1] } else { [0.0; L] };
            let (lower, diag, upper) = (&self.lower[i], &self.diag[i], &self.upper[i]);
            let rate = &mut self.rate[i];
            for l in 0..L {
                let change = lower[l] * before[l] + diag[l] * now[l] + upper[l] * after[l];
                rate[l] += if which[l] { change } else { 0.0 };
            }
            before = now;
        }
        for l in 0..L {
            self.q_in[l] += if which[l] { self.q_in_slope[l] * delta[0][l] } else { 0.0 };
        }
        if self.has_out {
            for i in 0..n {
                for l in 0..L {
                    self.q_out[l] +=
                        if which[l] { self.q_out_slope[i][l] * delta[i][l] } else { 0.0 };
                }
            }
        }
    }
}

impl<const L: usize> Node<L> {
    /// Adds half a cell's heat.
    #[inline(always)]
    fn add_half(&mut self, dx: &[f64; L], point: &Point<L>) {
        for l in 0..L {
            self.heat[l] += 0.5 * dx[l] * point.heat[l];
            self.cap[l] += 0.5 * dx[l] * point.rho_cp[l];
        }
    }

    /// A flux leaves towards the next node.
    #[inline(always)]
    fn give(&mut self, flux: &Flux<L>) {
        for l in 0..L {
            self.rate[l] -= flux.q[l];
            self.diag[l] -= flux.by_before[l];
        }
    }

    /// A flux arrives from the node before.
    #[inline(always)]
    fn take(&mut self, flux: &Flux<L>) {
        for l in 0..L {
            self.rate[l] += flux.q[l];
            self.diag[l] += flux.by_after[l];
        }
    }
}

impl<const L: usize> Rates<L> {
    /// Writes a finished node down.
    #[inline(always)]
    fn put(&mut self, i: usize, node: &Node<L>) {
        self.heat[i] = node.heat;
        self.cap[i] = node.cap;
        self.rate[i] = node.rate;
        self.diag[i] = node.diag;
    }

    /// Writes the coupling of node `i` and the next one down.
    #[inline(always)]
    fn couple(&mut self, i: usize, flux: &Flux<L>) {
        self.lower[i + 1] = flux.by_before;
        for l in 0..L {
            self.upper[i][l] = -flux.by_after[l];
        }
    }
}

impl<const L: usize> Lanes<L> {
    /// Evaluates everything at `temps` and times `t`, within pieces `piece` of each lane's drive.
    ///
    /// Walks the chain once and writes every node once.
    pub(crate) fn evaluate(
        &self,
        temps: &[[f64; L]],
        peaks: &[[f64; L]],
        t: &[f64; L],
        piece: &[usize; L],
        out: &mut Rates<L>,
    ) {
        let n = self.n;
        assert!(temps.len() == n && peaks.len() == n && out.rate.len() == n, "one entry a node");
        let q_rad = self.q_rad(t, piece);
        let mut node = self.node(0, &temps[0], &q_rad);
        self.add_drive(&temps[0], t, piece, &q_rad, (&mut node, out));
        let mut joints = self.joints.iter().peekable();
        for slab in &self.slabs {
            let mut before = slab.at(&temps[slab.first], &peaks[slab.first]);
            for (c, dx) in slab.dx.iter().enumerate() {
                let (i, j) = (slab.first + c, slab.first + c + 1);
                let after = slab.at(&temps[j], &peaks[j]);
                let flux = LaneSlab::flux(dx, &before, &after);
                node.add_half(dx, &before);
                node.give(&flux);
                out.put(i, &node);
                out.couple(i, &flux);
                node = self.node(j, &temps[j], &q_rad);
                node.add_half(dx, &after);
                node.take(&flux);
                before = after;
            }
            let last = slab.first + slab.dx.len();
            if let Some(joint) = joints.next_if(|joint| joint.node() == last) {
                let flux = joint.flux(&temps[last], &temps[last + 1]);
                node.give(&flux);
                out.put(last, &node);
                out.couple(last, &flux);
                node = self.node(last + 1, &temps[last + 1], &q_rad);
                node.take(&flux);
            }
        }
        out.put(n - 1, &node);
        self.add_rest(temps, t, out);
    }

    /// Radiation that enters the chain [W/m²].
    #[inline(always)]
    fn q_rad(&self, t: &[f64; L], piece: &[usize; L]) -> [f64; L] {
        std::array::from_fn(|l| {
            let (now, share) = self.piece_at(l, t[l], piece[l]);
            now.q_rad.0 + (now.q_rad.1 - now.q_rad.0) * share
        })
    }

    /// The piece of a lane's drive and the share of it that has passed at `t`.
    #[inline(always)]
    fn piece_at(&self, l: usize, t: f64, piece: usize) -> (&Piece, f64) {
        let pieces = &self.pieces[l];
        let start = if piece == 0 { 0.0 } else { pieces[piece - 1].t_end };
        (&pieces[piece], (t - start) / (pieces[piece].t_end - start))
    }

    /// A node before any slab or joint has added to it.
    #[inline(always)]
    fn node(&self, i: usize, temps: &[f64; L], q_rad: &[f64; L]) -> Node<L> {
        let mut node = Node { heat: [0.0; L], cap: self.lumps[i], rate: [0.0; L], diag: [0.0; L] };
        for l in 0..L {
            node.heat[l] = self.lumps[i][l] * temps[l];
            node.rate[l] = self.deposit[i][l] * q_rad[l];
        }
        node
    }

    /// Film, radiation in and radiation out at the outer face.
    #[inline(always)]
    fn add_drive(
        &self,
        face: &[f64; L],
        t: &[f64; L],
        piece: &[usize; L],
        q_rad: &[f64; L],
        (node, out): (&mut Node<L>, &mut Rates<L>),
    ) {
        for l in 0..L {
            let (now, share) = self.piece_at(l, t[l], piece[l]);
            let h = now.h.0 + (now.h.1 - now.h.0) * share;
            let sent = self.emissivity[l] * STEFAN_BOLTZMANN;
            let square = face[l] * face[l];
            let surround = self.temp_surround[l] * self.temp_surround[l];
            let film =
                h * (now.temp_gas - face[l]) - sent * (square * square - surround * surround);
            out.q_in_slope[l] = -(h + 4.0 * sent * square * face[l]);
            node.rate[l] += film;
            node.diag[l] += out.q_in_slope[l];
            out.q_in[l] = film + q_rad[l];
        }
    }

    /// Sinks, the source of manufactured solutions and a held last face: absent in most problems.
    fn add_rest(&self, temps: &[[f64; L]], t: &[f64; L], out: &mut Rates<L>) {
        out.q_out = [0.0; L];
        out.q_source = [0.0; L];
        let has_sink = self.slabs.iter().any(|slab| slab.sink.is_some());
        if !has_sink && self.source.is_none() && !self.held {
            return;
        }
        out.has_out = true;
        out.q_out_slope.fill([0.0; L]);
        for slab in &self.slabs {
            if let Some((rate, temp_sink)) = &slab.sink {
                self.add_sink(slab, (rate, temp_sink), temps, out);
            }
            if let Some(source) = self.source {
                self.add_source(slab, source, t, out);
            }
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

    fn add_sink(
        &self,
        slab: &LaneSlab<L>,
        (sink, temp_sink): (&[f64; L], &[f64; L]),
        temps: &[[f64; L]],
        out: &mut Rates<L>,
    ) {
        for (c, dx) in slab.dx.iter().enumerate() {
            for node in [slab.first + c, slab.first + c + 1] {
                for l in 0..L {
                    let half = 0.5 * dx[l] * sink[l];
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
    }

    fn add_source(&self, slab: &LaneSlab<L>, source: Source, t: &[f64; L], out: &mut Rates<L>) {
        for (c, dx) in slab.dx.iter().enumerate() {
            for node in [slab.first + c, slab.first + c + 1] {
                for l in 0..L {
                    let q = 0.5 * dx[l] * source(self.places[node][l], t[l]);
                    out.rate[node][l] += q;
                    out.q_source[l] += q;
                }
            }
        }
    }
}

impl<const L: usize> LaneJoint<L> {
    /// The node before the joint.
    #[inline(always)]
    fn node(&self) -> usize {
        match self {
            LaneJoint::Conductance { node, .. } | LaneJoint::Air { node, .. } => *node,
        }
    }

    #[inline(always)]
    fn flux(&self, before: &[f64; L], after: &[f64; L]) -> Flux<L> {
        let mut flux = Flux { q: [0.0; L], by_before: [0.0; L], by_after: [0.0; L] };
        match self {
            LaneJoint::Conductance { h, .. } => {
                for l in 0..L {
                    flux.q[l] = h[l] * (before[l] - after[l]);
                    flux.by_before[l] = h[l];
                    flux.by_after[l] = -h[l];
                }
            }
            LaneJoint::Air { thickness, exchange, convection, .. } => {
                for l in 0..L {
                    let (hot, cold) = (before[l], after[l]);
                    let film = conductance(hot, cold, thickness[l], convection[l]);
                    let sent = exchange[l] * STEFAN_BOLTZMANN;
                    let (hot2, cold2) = (hot * hot, cold * cold);
                    let diff = hot - cold;
                    flux.q[l] = film.value * diff + sent * (hot2 * hot2 - cold2 * cold2);
                    flux.by_before[l] =
                        film.value + film.slope_outer * diff + 4.0 * sent * hot2 * hot;
                    flux.by_after[l] =
                        -film.value + film.slope_inner * diff - 4.0 * sent * cold2 * cold;
                }
            }
        }
        flux
    }
}
