//! Heat content, heat rates and their exact Jacobian at given temperatures.
//!
//! Vertex-centred finite volumes: half of each cell belongs to the node on either side.
//! The flux through a cell is the difference of the conductivity integral over the cell
//! size (Kirchhoff's transform), exact at steady state whatever k(T).
//!
//! The chain is walked once, from the outer face inwards, and every finished node is handed to
//! whoever asked ([`Rows`]): a Newton iteration eliminates it at once, the start of a step keeps
//! its values.

use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::{LaneSlab, Lanes};
use crate::solver::media::{Flux, Point};
use crate::solver::problem::Piece;

/// Where the chain is evaluated: temperatures, highest ones so far, times and pieces of the drive.
#[derive(Clone, Copy)]
pub(crate) struct At<'a, const L: usize> {
    pub temps: &'a [[f64; L]],
    pub peaks: &'a [[f64; L]],
    pub t: &'a [f64; L],
    pub piece: &'a [usize; L],
}

/// What gathers at one node while the chain is walked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Node<const L: usize> {
    /// Heat content per area [J/m²], up to a constant.
    pub heat: [f64; L],
    /// Its derivative [J/(m²·K)].
    pub cap: [f64; L],
    /// Net heat rate per area [W/m²].
    pub rate: [f64; L],
    /// Derivative of the rate by the node's own temperature [W/(m²·K)].
    pub diag: [f64; L],
}

/// Takes the nodes of a chain in order.
pub(crate) trait Rows<const L: usize> {
    /// A finished node; `lower` and `upper` are the derivatives of its rate by the temperatures
    /// before and after it [W/(m²·K)].
    fn row(&mut self, i: usize, node: &Node<L>, lower: &[f64; L], upper: &[f64; L]);
}

/// What passes the ends of the chain.
#[derive(Debug, Clone)]
pub(crate) struct Ends<const L: usize> {
    /// Net flux into the chain through the outer face, radiation included [W/m²].
    pub q_in: [f64; L],
    /// Flux out of the chain by sinks and through a held last face [W/m²].
    pub q_out: [f64; L],
    /// Heat set free by the source [W/m²].
    pub q_source: [f64; L],
    /// Derivative of `q_in` by the outer face's temperature [W/(m²·K)].
    pub q_in_slope: [f64; L],
    /// Derivative of `q_out` by each node's temperature [W/(m²·K)]; empty when nothing leaves.
    pub q_out_slope: Vec<[f64; L]>,
}

impl<const L: usize> Ends<L> {
    pub fn new(lanes: &Lanes<L>) -> Ends<L> {
        let leaves = lanes.held || lanes.slabs.iter().any(|slab| slab.sink.is_some());
        Ends {
            q_in: [0.0; L],
            q_out: [0.0; L],
            q_source: [0.0; L],
            q_in_slope: [0.0; L],
            q_out_slope: vec![[0.0; L]; if leaves { lanes.n } else { 0 }],
        }
    }
}

impl<const L: usize> Node<L> {
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
            self.diag[l] -= flux.by_after[l];
        }
    }
}

impl<const L: usize> Lanes<L> {
    /// Evaluates everything at `at`, handing each node to `rows`.
    #[inline(always)]
    pub(crate) fn walk(&self, at: &At<L>, rows: &mut impl Rows<L>, ends: &mut Ends<L>) {
        let n = self.n;
        assert!(at.temps.len() == n && at.peaks.len() == n, "one entry a node");
        ends.q_out = [0.0; L];
        ends.q_source = [0.0; L];
        ends.q_out_slope.fill([0.0; L]);
        let (q_rad, mut node) = self.driven(at, ends);
        let mut lower = [0.0; L];
        let mut joints = self.joints.iter().peekable();
        for slab in &self.slabs {
            let mut before = slab.at(&at.temps[slab.first], &at.peaks[slab.first]);
            self.hold(slab, 0, &before, at, (&mut node, ends));
            for (c, per_dx) in slab.per_dx.iter().enumerate() {
                let j = slab.first + c + 1;
                let after = slab.at(&at.temps[j], &at.peaks[j]);
                let mut flux = LaneSlab::flux(per_dx, &before, &after);
                if slab.drains {
                    let temps = [&at.temps[j - 1], &at.temps[j]];
                    slab.add_drained(per_dx, temps, [&at.peaks[j - 1], &at.peaks[j]], &mut flux);
                }
                node.give(&flux);
                rows.row(j - 1, &node, &lower, &flux.by_after);
                lower = flux.by_before;
                node = self.irradiated(j, &q_rad);
                self.hold(slab, c + 1, &after, at, (&mut node, ends));
                node.take(&flux);
                before = after;
            }
            let last = slab.first + slab.per_dx.len();
            self.add_lump(last, &at.temps[last], &mut node);
            if let Some(joint) = joints.next_if(|joint| joint.node() == last) {
                let flux = joint.flux(&at.temps[last], &at.temps[last + 1]);
                node.give(&flux);
                rows.row(last, &node, &lower, &flux.by_after);
                lower = flux.by_before;
                node = self.irradiated(last + 1, &q_rad);
                self.add_lump(last + 1, &at.temps[last + 1], &mut node);
                node.take(&flux);
            }
        }
        if self.held {
            Self::let_out(n - 1, &mut node, &mut lower, ends);
        }
        rows.row(n - 1, &node, &lower, &[0.0; L]);
    }

    /// The outer face under its drive, and the radiation that enters the chain [W/m²].
    #[inline(always)]
    fn driven(&self, at: &At<L>, ends: &mut Ends<L>) -> ([f64; L], Node<L>) {
        let mut h = [0.0; L];
        let mut q_rad = [0.0; L];
        let mut temp_gas = [0.0; L];
        for l in 0..L {
            let (now, share) = self.piece_at(l, at.t[l], at.piece[l]);
            h[l] = now.h.0 + (now.h.1 - now.h.0) * share;
            q_rad[l] = now.q_rad.0 + (now.q_rad.1 - now.q_rad.0) * share;
            temp_gas[l] = now.temp_gas;
        }
        let face = &at.temps[0];
        let mut node = self.irradiated(0, &q_rad);
        self.add_lump(0, face, &mut node);
        for l in 0..L {
            let sent = self.emissivity[l] * STEFAN_BOLTZMANN;
            let square = face[l] * face[l];
            let surround = self.temp_surround[l] * self.temp_surround[l];
            let film =
                h[l] * (temp_gas[l] - face[l]) - sent * (square * square - surround * surround);
            ends.q_in_slope[l] = -(h[l] + 4.0 * sent * square * face[l]);
            node.rate[l] += film;
            node.diag[l] += ends.q_in_slope[l];
            ends.q_in[l] = film + q_rad[l];
        }
        (q_rad, node)
    }

    /// The piece of a lane's drive and the share of it that has passed at `t`.
    #[inline(always)]
    fn piece_at(&self, l: usize, t: f64, piece: usize) -> (&Piece, f64) {
        let pieces = &self.pieces[l];
        let start = if piece == 0 { 0.0 } else { pieces[piece - 1].t_end };
        (&pieces[piece], (t - start) / (pieces[piece].t_end - start))
    }

    /// A node that holds nothing yet and absorbs its share of radiation.
    #[inline(always)]
    fn irradiated(&self, i: usize, q_rad: &[f64; L]) -> Node<L> {
        let mut rate = [0.0; L];
        for l in 0..L {
            rate[l] = self.deposit[i][l] * q_rad[l];
        }
        Node { heat: [0.0; L], cap: [0.0; L], rate, diag: [0.0; L] }
    }

    #[inline(always)]
    fn add_lump(&self, i: usize, temps: &[f64; L], node: &mut Node<L>) {
        let lump = &self.lumps[i];
        for l in 0..L {
            node.heat[l] += lump[l] * temps[l];
            node.cap[l] += lump[l];
        }
    }

    /// Adds what a slab holds at its node `c`: heat, and where there are any, sink and source.
    #[inline(always)]
    fn hold(
        &self,
        slab: &LaneSlab<L>,
        c: usize,
        point: &Point<L>,
        at: &At<L>,
        (node, ends): (&mut Node<L>, &mut Ends<L>),
    ) {
        let share = &slab.shares[c];
        for l in 0..L {
            node.heat[l] += share[l] * point.heat[l];
            node.cap[l] += share[l] * point.rho_cp[l];
        }
        if slab.sink.is_some() || self.source.is_some() {
            self.exchange(slab, c, at, (node, ends));
        }
    }

    /// Sink and source at node `c` of a slab: absent in most problems.
    #[inline(never)]
    fn exchange(
        &self,
        slab: &LaneSlab<L>,
        c: usize,
        at: &At<L>,
        (node, ends): (&mut Node<L>, &mut Ends<L>),
    ) {
        let i = slab.first + c;
        if let Some((rate, temp_sink)) = &slab.sink {
            for l in 0..L {
                let slope = slab.shares[c][l] * rate[l];
                let q = slope * (at.temps[i][l] - temp_sink[l]);
                node.rate[l] -= q;
                node.diag[l] -= slope;
                // what a held last face's own sink takes never enters the chain
                if !(self.held && i == self.n - 1) {
                    ends.q_out[l] += q;
                    ends.q_out_slope[i][l] += slope;
                }
            }
        }
        if let Some(source) = self.source {
            for l in 0..L {
                let q = slab.shares[c][l] * source(self.places[i][l], at.t[l]);
                node.rate[l] += q;
                ends.q_source[l] += q;
            }
        }
    }

    /// A held last face: what reaches it leaves the chain.
    fn let_out(last: usize, node: &mut Node<L>, lower: &mut [f64; L], ends: &mut Ends<L>) {
        for l in 0..L {
            ends.q_out[l] += node.rate[l];
            ends.q_out_slope[last - 1][l] += lower[l];
            ends.q_out_slope[last][l] += node.diag[l];
        }
        node.rate = [0.0; L];
        node.diag = [0.0; L];
        *lower = [0.0; L];
    }
}
