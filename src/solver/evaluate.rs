//! Heat content, heat rates and their exact Jacobian at given temperatures.
//!
//! Vertex-centred finite volumes: half of each cell belongs to the node on either side.
//! The flux through a cell is the difference of the conductivity integral over the cell
//! size (Kirchhoff's transform), exact at steady state whatever k(T).
//!
//! The chain is walked once, from the outer face inwards, and every finished node is handed to
//! whoever asked ([`Rows`]): a Newton iteration eliminates it at once, the start of a step keeps
//! its values.

use crate::physics::gap::{conductance, conductance_still, stays_still};
use crate::physics::slope::Between;
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::{LaneJoint, LaneSlab, Lanes};
use crate::solver::media::{Flux, Point};
use crate::solver::pack::Pack;
use crate::solver::problem::Piece;

/// Where the chain is evaluated: temperatures, highest ones so far, times, and the drive then.
#[derive(Clone, Copy)]
pub(crate) struct At<'a, const L: usize> {
    /// Temperatures of the nodes [K].
    pub temps: &'a [[f64; L]],
    /// Highest ones so far [K].
    pub peaks: &'a [[f64; L]],
    /// Time of each lane [s].
    pub t: &'a [f64; L],
    /// The drive at that time.
    pub drive: &'a DriveAt<L>,
}

/// The drive at one time per lane.
#[derive(Clone)]
pub(crate) struct DriveAt<const L: usize> {
    /// Film coefficient [W/(m²·K)].
    pub h: [f64; L],
    /// Radiation that enters the chain [W/m²].
    q_rad: [f64; L],
    /// Temperature of the gas behind the film [K].
    pub temp_gas: [f64; L],
    /// Pressure of the vapour in the gas [Pa].
    pub p_vapour: [f64; L],
}

/// What gathers at one node while the chain is walked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Node<const L: usize, const W: bool> {
    /// Heat content per area [J/m²], up to a constant.
    pub heat: Pack<L, W>,
    /// Its derivative [J/(m²·K)].
    pub cap: Pack<L, W>,
    /// Net heat rate per area [W/m²].
    pub rate: Pack<L, W>,
    /// Derivative of the rate by the node's own temperature [W/(m²·K)].
    pub diag: Pack<L, W>,
}

/// Takes the nodes of a chain in order.
pub(crate) trait Rows<const L: usize, const W: bool> {
    /// A finished node; `lower` and `upper` are the derivatives of its rate by the temperatures
    /// before and after it [W/(m²·K)].
    fn row(&mut self, i: usize, node: &Node<L, W>, lower: Pack<L, W>, upper: Pack<L, W>);
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
    /// Nothing passes; there is room for slopes where anything may leave.
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

    /// Takes over what passes, without the derivatives, in one lane.
    pub fn take(&mut self, other: &Ends<L>, l: usize) {
        self.q_in[l] = other.q_in[l];
        self.q_out[l] = other.q_out[l];
        self.q_source[l] = other.q_source[l];
    }
}

impl<const L: usize, const W: bool> Node<L, W> {
    /// A flux leaves towards the next node.
    #[inline(always)]
    fn give(&mut self, flux: &Flux<L, W>) {
        self.rate -= flux.q;
        self.diag -= flux.by_before;
    }

    /// A flux arrives from the node before.
    #[inline(always)]
    fn take(&mut self, flux: &Flux<L, W>) {
        self.rate += flux.q;
        self.diag -= flux.by_after;
    }
}

impl<const L: usize> Lanes<L> {
    /// The drive at the times `t`, each in its piece.
    pub(crate) fn drive_at(&self, t: &[f64; L], piece: &[usize; L]) -> DriveAt<L> {
        let zero = [0.0; L];
        let mut drive = DriveAt { h: zero, q_rad: zero, temp_gas: zero, p_vapour: zero };
        for l in 0..L {
            let pieces = &self.pieces[l];
            let Piece { t_end, h, temp_gas, q_rad, p_vapour } = pieces[piece[l]];
            let start = if piece[l] == 0 { 0.0 } else { pieces[piece[l] - 1].t_end };
            let share = (t[l] - start) / (t_end - start);
            drive.h[l] = h.0 + (h.1 - h.0) * share;
            drive.q_rad[l] = q_rad.0 + (q_rad.1 - q_rad.0) * share;
            drive.temp_gas[l] = temp_gas;
            drive.p_vapour[l] = p_vapour;
        }
        drive
    }

    /// Evaluates everything at `at`, handing each node to `rows`; `points` is room for a slab's
    /// nodes.
    ///
    /// Each slab is looked at as a whole first: what goes on at once then is little enough for the
    /// processor's registers.
    #[inline(always)]
    pub(crate) fn walk<const W: bool>(
        &self,
        at: &At<L>,
        rows: &mut impl Rows<L, W>,
        (ends, points): (&mut Ends<L>, &mut [Point<L>]),
    ) {
        let n = self.n;
        assert!(at.temps.len() == n && at.peaks.len() == n, "one entry a node");
        ends.q_out = [0.0; L];
        ends.q_source = [0.0; L];
        ends.q_out_slope.fill([0.0; L]);
        let (q_rad, mut node) = self.driven(at, ends);
        let mut lower = Pack::ZERO;
        let mut joints = self.joints.iter().peekable();
        for slab in &self.slabs {
            slab.look::<W>(&at.temps[slab.first..], &at.peaks[slab.first..], points);
            self.hold(slab, 0, &points[0], at, (&mut node, ends));
            for c in 0..slab.per_dx.len() {
                let j = slab.first + c + 1;
                let temps = [&at.temps[j - 1], &at.temps[j]];
                let (before, after) = (&points[c], &points[c + 1]);
                let flux = slab.flux(c, [before, after], temps);
                node.give(&flux);
                rows.row(j - 1, &node, lower, flux.by_after);
                lower = flux.by_before;
                node = self.irradiated(j, q_rad);
                self.hold(slab, c + 1, after, at, (&mut node, ends));
                node.take(&flux);
            }
            let last = slab.first + slab.per_dx.len();
            self.add_lump(last, &at.temps[last], &mut node);
            if let Some(joint) = joints.next_if(|joint| joint.node() == last) {
                let flux = joint.flux(&at.temps[last], &at.temps[last + 1]);
                node.give(&flux);
                rows.row(last, &node, lower, flux.by_after);
                lower = flux.by_before;
                node = self.irradiated(last + 1, q_rad);
                self.add_lump(last + 1, &at.temps[last + 1], &mut node);
                node.take(&flux);
            }
        }
        if self.held {
            Self::let_out(n - 1, &mut node, &mut lower, ends);
        }
        rows.row(n - 1, &node, lower, Pack::ZERO);
    }

    /// The outer face under its drive, and the radiation that enters the chain [W/m²].
    #[inline(always)]
    pub(super) fn driven<const W: bool>(
        &self,
        at: &At<L>,
        ends: &mut Ends<L>,
    ) -> (Pack<L, W>, Node<L, W>) {
        let DriveAt { h, q_rad, temp_gas, .. } = at.drive;
        let (h, q_rad, temp_gas) = (Pack(*h), Pack(*q_rad), Pack(*temp_gas));
        let mut node = self.irradiated(0, q_rad);
        self.add_lump(0, &at.temps[0], &mut node);
        let face = Pack(at.temps[0]);
        let sent = STEFAN_BOLTZMANN * Pack(self.emissivity);
        let square = face * face;
        let surround = Pack(self.temp_surround) * Pack(self.temp_surround);
        let film = h * (temp_gas - face) - sent * (square * square - surround * surround);
        let slope = -(h + 4.0 * sent * square * face);
        node.rate += film;
        node.diag += slope;
        ends.q_in_slope = slope.0;
        ends.q_in = (film + q_rad).0;
        (q_rad, node)
    }

    /// A node that holds nothing yet and absorbs its share of radiation.
    #[inline(always)]
    pub(super) fn irradiated<const W: bool>(&self, i: usize, q_rad: Pack<L, W>) -> Node<L, W> {
        let rate = Pack(self.absorbed[i]) * q_rad;
        Node { heat: Pack::ZERO, cap: Pack::ZERO, rate, diag: Pack::ZERO }
    }

    /// Adds to a node what it holds besides the slabs' at `temps` [K].
    #[inline(always)]
    pub(super) fn add_lump<const W: bool>(
        &self,
        i: usize,
        temps: &[f64; L],
        node: &mut Node<L, W>,
    ) {
        let lump = Pack(self.lumps[i]);
        node.heat += lump * Pack(*temps);
        node.cap += lump;
    }

    /// Adds what a slab holds at its node `c`: heat, and where there are any, sink and source.
    #[inline(always)]
    pub(super) fn hold<const W: bool>(
        &self,
        slab: &LaneSlab<L>,
        c: usize,
        point: &Point<L>,
        at: &At<L>,
        (node, ends): (&mut Node<L, W>, &mut Ends<L>),
    ) {
        node.heat += Pack(point.heat);
        node.cap += Pack(point.cap);
        if slab.sink.is_some() || self.source.is_some() {
            let (rate, slope) = self.exchange(slab, c, at, ends);
            node.rate += Pack(rate);
            node.diag += Pack(slope);
        }
    }

    /// Rate of sink and source at node `c` of a slab and its derivative: absent in most problems.
    #[inline(never)]
    fn exchange(
        &self,
        slab: &LaneSlab<L>,
        c: usize,
        at: &At<L>,
        ends: &mut Ends<L>,
    ) -> ([f64; L], [f64; L]) {
        let i = slab.first + c;
        let mut rate = [0.0; L];
        let mut by_temp = [0.0; L];
        if let Some((sink, temp_sink)) = &slab.sink {
            for l in 0..L {
                let slope = slab.shares[c][l] * sink[l];
                let q = slope * (at.temps[i][l] - temp_sink[l]);
                rate[l] -= q;
                by_temp[l] -= slope;
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
                rate[l] += q;
                ends.q_source[l] += q;
            }
        }
        (rate, by_temp)
    }

    /// A held last face: what reaches it leaves the chain.
    pub(super) fn let_out<const W: bool>(
        last: usize,
        node: &mut Node<L, W>,
        lower: &mut Pack<L, W>,
        ends: &mut Ends<L>,
    ) {
        for l in 0..L {
            ends.q_out[l] += node.rate.0[l];
            ends.q_out_slope[last - 1][l] += lower.0[l];
            ends.q_out_slope[last][l] += node.diag.0[l];
        }
        node.rate = Pack::ZERO;
        node.diag = Pack::ZERO;
        *lower = Pack::ZERO;
    }
}

impl<const L: usize> LaneJoint<L> {
    /// The node before the joint.
    #[inline(always)]
    pub fn node(&self) -> usize {
        match self {
            LaneJoint::Conductance { node, .. } | LaneJoint::Air { node, .. } => *node,
        }
    }

    /// Flux between the faces at the given temperatures.
    #[inline(always)]
    pub fn flux<const W: bool>(&self, before: &[f64; L], after: &[f64; L]) -> Flux<L, W> {
        let (hot, cold) = (Pack(*before), Pack(*after));
        let diff = hot - cold;
        match self {
            LaneJoint::Conductance { h, .. } => {
                let h = Pack(*h);
                Flux { q: h * diff, by_before: h, by_after: h }
            }
            LaneJoint::Air { thickness, exchange, .. } => {
                let (value, slope_outer, slope_inner) = self.film(thickness, before, after);
                let (value, slopes) = (Pack(value), (Pack(slope_outer), Pack(slope_inner)));
                let sent = STEFAN_BOLTZMANN * Pack(*exchange);
                let (hot2, cold2) = (hot * hot, cold * cold);
                Flux {
                    q: value * diff + sent * (hot2 * hot2 - cold2 * cold2),
                    by_before: value + slopes.0 * diff + 4.0 * sent * hot2 * hot,
                    by_after: value - slopes.1 * diff + 4.0 * sent * cold2 * cold,
                }
            }
        }
    }

    /// Conductance of the air and its derivatives: at rest in all lanes at once, then in motion
    /// where it moves.
    #[inline(always)]
    pub fn film(
        &self,
        thickness: &[f64; L],
        before: &[f64; L],
        after: &[f64; L],
    ) -> ([f64; L], [f64; L], [f64; L]) {
        let mut film = ([0.0; L], [0.0; L], [0.0; L]);
        for l in 0..L {
            let Between { value, slope_outer, slope_inner } =
                conductance_still(before[l], after[l], thickness[l]);
            film.0[l] = value;
            film.1[l] = slope_outer;
            film.2[l] = slope_inner;
        }
        if let LaneJoint::Air { convection, moves: true, .. } = self {
            for l in 0..L {
                if !stays_still(before[l] - after[l], thickness[l], convection[l]) {
                    let moving = conductance(before[l], after[l], thickness[l], convection[l]);
                    film.0[l] = moving.value;
                    film.1[l] = moving.slope_outer;
                    film.2[l] = moving.slope_inner;
                }
            }
        }
        film
    }
}
