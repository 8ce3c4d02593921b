//! A description laid out for computing: `L` problems of the same shape side by side.

use crate::physics::gap::Convection;
use crate::physics::law::{Law, Ramp};
use crate::solver::fault::Fault;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::problem::{Back, Joint, Piece, Problem, Slab, Source};
use crate::solver::shape::Shape;

/// A law per lane: a straight line that bends at breakpoints.
///
/// `p(T) = base + slope·T + Σ bend·max(T − temp, 0)`, the breakpoints of each lane in order of
/// temperature: one beyond a lane's temperature adds nothing, nor do those after it.
#[derive(Debug, Clone)]
pub(crate) struct LaneLaw<const L: usize> {
    /// Value at 0 K of the line before the first breakpoint.
    pub base: [f64; L],
    /// Slope of that line, per kelvin.
    pub slope: [f64; L],
    /// Where it bends, in order of temperature.
    pub breakpoints: Vec<LaneBreakpoint<L>>,
}

/// One breakpoint per lane; at an infinite temperature where a lane has fewer than others.
#[derive(Debug, Clone)]
pub(crate) struct LaneBreakpoint<const L: usize> {
    /// Where the law bends [K].
    pub temp: [f64; L],
    /// What the slope gains there, per kelvin.
    pub bend: [f64; L],
}

/// One-way change per lane; see [`crate::solver::problem::Change`].
#[derive(Debug, Clone)]
pub(crate) struct LaneChange<const L: usize> {
    /// Heat per volume taken up over the window [J/m³].
    pub heat: [f64; L],
    /// Heat capacity per volume lost [J/(m³·K)].
    pub rho_cp_lost: [f64; L],
    /// Conductivity lost [W/(m·K)].
    pub k_lost: [f64; L],
    /// Start of the window [K].
    pub temp_lo: [f64; L],
    /// Width of the window [K].
    pub width: [f64; L],
    /// One over it [1/K].
    pub per_width: [f64; L],
}

/// A slab per lane.
#[derive(Debug, Clone)]
pub(crate) struct LaneSlab<const L: usize> {
    /// Its first node.
    pub first: usize,
    /// One over the size of each cell [1/m].
    pub per_dx: Vec<[f64; L]>,
    /// What of the cells belongs to each node [m].
    pub shares: Vec<[f64; L]>,
    /// Conductivity without what changes add [W/(m·K)].
    pub k: LaneLaw<L>,
    /// Heat capacity per volume without what changes add [J/(m³·K)].
    pub rho_cp: LaneLaw<L>,
    /// One-way changes.
    pub changes: Vec<LaneChange<L>>,
    /// Perfusion, if any: rate [W/(m³·K)] and temperature [K].
    pub sink: Option<([f64; L], [f64; L])>,
    /// Whether a change takes conductivity away in any lane.
    pub drains: bool,
}

/// A joint per lane, between node `node` and the next.
#[derive(Debug, Clone)]
pub(crate) enum LaneJoint<const L: usize> {
    Conductance {
        node: usize,
        h: [f64; L],
    },
    Air {
        node: usize,
        thickness: [f64; L],
        exchange: [f64; L],
        convection: [Convection; L],
        /// Whether the air may move in any lane.
        moves: bool,
    },
}

/// `L` problems of one shape, ready to advance.
#[derive(Debug, Clone)]
pub struct Lanes<const L: usize> {
    /// Number of nodes.
    pub(crate) n: usize,
    /// Slabs from the driven face inwards.
    pub(crate) slabs: Vec<LaneSlab<L>>,
    /// Joints between two nodes, the lump's last.
    pub(crate) joints: Vec<LaneJoint<L>>,
    /// Heat capacity per area that sits on a node besides the slabs' [J/(m²·K)].
    pub(crate) lumps: Vec<[f64; L]>,
    /// Share of the entering radiation that is absorbed at each node [–].
    pub(crate) absorbed: Vec<[f64; L]>,
    /// Emissivity of the outer face [–].
    pub(crate) emissivity: [f64; L],
    /// Temperature of what it radiates to [K].
    pub(crate) temp_surround: [f64; L],
    /// Most that one-way changes can bend the equations [1/K]; 0 without any.
    pub(crate) curvature_most: [f64; L],
    /// Whether the last face is held at its starting temperature.
    pub(crate) held: bool,
    /// Whether a lump ends the chain.
    pub(crate) lump: bool,
    /// Pieces of the drive.
    pub(crate) pieces: [Vec<Piece>; L],
    /// Temperatures at the start [K].
    pub(crate) temps_start: Vec<[f64; L]>,
    /// A source within the slabs, the same in all lanes.
    pub(crate) source: Option<Source>,
    /// Vapour beside heat, where anything binds it.
    pub(crate) pair: Option<PairLanes<L>>,
    /// The problem that gave the lanes their shape.
    shape: Shape,
    /// Place of each node from the outer face, air spaces left out [m].
    pub(crate) places: Vec<[f64; L]>,
}

impl<const L: usize> Lanes<L> {
    /// Lays out `problems`, one per lane.
    ///
    /// Errors: the fault of one that is unusable, [`Fault::Shape`] when their shapes differ (number of cells, kinds of joint, kind of back, presence of a sink, number of changes and reactions) or their sources do.
    pub fn new(problems: &[&Problem; L]) -> Result<Lanes<L>, Fault> {
        let lead = problems[0];
        lead.check()?;
        let mut lanes = Lanes::empty(lead);
        for (l, problem) in problems.iter().enumerate() {
            lanes.load(l, problem)?;
        }
        Ok(lanes)
    }

    /// Number of nodes.
    pub fn n_nodes(&self) -> usize {
        self.n
    }

    /// Whether any slab has a one-way change.
    pub(crate) fn has_changes(&self) -> bool {
        self.slabs.iter().any(|slab| !slab.changes.is_empty())
    }

    /// Puts a problem into a lane.
    ///
    /// Errors: its fault when it is unusable, [`Fault::Shape`] when it is not of the lanes' shape. The lane then holds what it held.
    pub fn load(&mut self, l: usize, problem: &Problem) -> Result<(), Fault> {
        problem.check()?;
        if Shape::of(problem) != self.shape || !same_source(self.source, problem.source) {
            return Err(Fault::Shape);
        }
        let spans = problem.spans();
        self.emissivity[l] = problem.drive.emissivity;
        self.temp_surround[l] = problem.drive.temp_surround;
        let curvatures = problem.slabs.iter().map(|slab| slab.medium.curvature_most());
        self.curvature_most[l] = curvatures.fold(0.0, f64::max);
        self.pieces[l].clone_from(&problem.drive.pieces);
        for i in 0..self.n {
            self.lumps[i][l] = 0.0;
            self.absorbed[i][l] = 0.0;
        }
        for (lane_slab, slab) in self.slabs.iter_mut().zip(&problem.slabs) {
            lane_slab.load(l, slab);
        }
        for (lane_joint, (_, joint)) in self.joints.iter_mut().zip(problem.links()) {
            lane_joint.load(l, joint);
            if let (Joint::Air { cap_area, .. }, LaneJoint::Air { node, .. }) = (joint, lane_joint)
            {
                self.lumps[*node][l] += 0.5 * cap_area;
                self.lumps[*node + 1][l] += 0.5 * cap_area;
            }
        }
        self.fill_nodes(l, problem, &spans);
        if let Some(pair) = &mut self.pair {
            pair.load(l, problem, &self.lumps);
        }
        Ok(())
    }

    /// Lanes of the shape of `lead`, without values.
    fn empty(lead: &Problem) -> Lanes<L> {
        let n = lead.n_nodes();
        let zeros = || vec![[0.0; L]; n];
        let slabs = lead.slabs.iter().zip(lead.spans());
        Lanes {
            n,
            slabs: slabs.map(|(slab, (first, _))| LaneSlab::empty(first, slab)).collect(),
            joints: lead.links().map(|(node, joint)| LaneJoint::empty(node, &joint)).collect(),
            lumps: zeros(),
            absorbed: zeros(),
            emissivity: [0.0; L],
            temp_surround: [0.0; L],
            curvature_most: [0.0; L],
            held: lead.back == Back::Held,
            lump: matches!(lead.back, Back::Lump { .. }),
            pieces: std::array::from_fn(|_| Vec::new()),
            temps_start: zeros(),
            source: lead.source,
            places: zeros(),
            pair: PairLanes::empty(lead),
            shape: Shape::of(lead),
        }
    }

    /// Starting temperatures, places, lumps and radiation shares of one lane.
    fn fill_nodes(&mut self, l: usize, problem: &Problem, spans: &[(usize, usize)]) {
        let mut place = 0.0;
        let mut left = 1.0;
        for (slab, (first, last)) in problem.slabs.iter().zip(spans) {
            let thickness: f64 = slab.cells.iter().sum();
            let mut depth = 0.0;
            for i in *first..=*last {
                let share = depth / thickness;
                let (outer, inner) = slab.temps_start;
                self.temps_start[i][l] = outer + (inner - outer) * share;
                self.places[i][l] = place + depth;
                depth += slab.cells.get(i - first).copied().unwrap_or(0.0);
            }
            left = self.absorb_in(l, slab, *first, left);
            place += thickness;
        }
        let last = self.n - 1;
        self.absorbed[last][l] += left;
        if let Back::Lump { cap_area, temp_start, .. } = problem.back {
            self.lumps[last][l] += cap_area;
            self.temps_start[last][l] = temp_start;
            self.places[last][l] = place;
        }
    }

    /// Spreads the radiation that reaches a slab over its nodes by Beer's law; returns what is left behind it.
    fn absorb_in(&mut self, l: usize, slab: &Slab, first: usize, reaching: f64) -> f64 {
        let Some(extinction) = slab.extinction else {
            self.absorbed[first][l] += reaching;
            return 0.0;
        };
        let mut left = reaching;
        let mut depth = 0.0;
        for (c, dx) in slab.cells.iter().enumerate() {
            let middle = reaching * libm::exp(-extinction * (depth + 0.5 * dx));
            depth += dx;
            let behind = reaching * libm::exp(-extinction * depth);
            self.absorbed[first + c][l] += left - middle;
            self.absorbed[first + c + 1][l] += middle - behind;
            left = behind;
        }
        left
    }
}

fn same_source(one: Option<Source>, other: Option<Source>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => std::ptr::fn_addr_eq(one, other),
        (one, other) => one.is_none() && other.is_none(),
    }
}

impl<const L: usize> LaneJoint<L> {
    fn empty(node: usize, kind: &Joint) -> LaneJoint<L> {
        match kind {
            Joint::Air { .. } => LaneJoint::Air {
                node,
                thickness: [1.0; L],
                exchange: [0.0; L],
                convection: [Convection::Still; L],
                moves: false,
            },
            _ => LaneJoint::Conductance { node, h: [0.0; L] },
        }
    }

    fn load(&mut self, l: usize, joint: Joint) {
        match (self, joint) {
            (LaneJoint::Conductance { h, .. }, Joint::Conductance(value)) => h[l] = value,
            (
                LaneJoint::Air { thickness, exchange, convection, moves, .. },
                Joint::Air { thickness: d, exchange: factor, convection: how, .. },
            ) => {
                thickness[l] = d;
                exchange[l] = factor;
                convection[l] = how;
                *moves = convection.iter().any(|how| *how != Convection::Still);
            }
            _ => unreachable!("shapes were compared"),
        }
    }
}

impl<const L: usize> LaneSlab<L> {
    fn empty(first: usize, slab: &Slab) -> LaneSlab<L> {
        let change = LaneChange {
            heat: [0.0; L],
            rho_cp_lost: [0.0; L],
            k_lost: [0.0; L],
            temp_lo: [0.0; L],
            width: [1.0; L],
            per_width: [1.0; L],
        };
        LaneSlab {
            first,
            per_dx: vec![[0.0; L]; slab.cells.len()],
            shares: vec![[0.0; L]; slab.cells.len() + 1],
            k: LaneLaw::empty(),
            rho_cp: LaneLaw::empty(),
            changes: vec![change; slab.medium.changes.len()],
            sink: slab.medium.sink.map(|_| ([0.0; L], [0.0; L])),
            drains: false,
        }
    }

    fn load(&mut self, l: usize, slab: &Slab) {
        let mut half_before = 0.0;
        for (c, size) in slab.cells.iter().enumerate() {
            self.per_dx[c][l] = 1.0 / size;
            self.shares[c][l] = half_before + 0.5 * size;
            half_before = 0.5 * size;
        }
        self.shares[slab.cells.len()][l] = half_before;
        self.k.load(l, &slab.medium.k);
        self.rho_cp.load(l, &slab.medium.rho_cp);
        for (lane, change) in self.changes.iter_mut().zip(&slab.medium.changes) {
            lane.heat[l] = change.heat;
            lane.rho_cp_lost[l] = change.rho_cp_lost;
            lane.k_lost[l] = change.k_lost;
            lane.temp_lo[l] = change.temp_lo;
            lane.width[l] = change.temp_hi - change.temp_lo;
            lane.per_width[l] = 1.0 / lane.width[l];
        }
        self.drains =
            self.changes.iter().any(|change| change.k_lost.iter().any(|lost| *lost > 0.0));
        if let (Some((rate, temp)), Some(sink)) = (&mut self.sink, &slab.medium.sink) {
            rate[l] = sink.rate;
            temp[l] = sink.temp;
        }
    }
}

impl<const L: usize> LaneLaw<L> {
    fn empty() -> LaneLaw<L> {
        LaneLaw { base: [0.0; L], slope: [0.0; L], breakpoints: Vec::new() }
    }

    /// Puts a law into a lane.
    fn load(&mut self, l: usize, law: &Law) {
        self.base[l] = law.base;
        self.slope[l] = 0.0;
        for breakpoint in &mut self.breakpoints {
            breakpoint.temp[l] = f64::INFINITY;
            breakpoint.bend[l] = 0.0;
        }
        let mut n_breakpoints = 0;
        for Ramp { slope, lo, hi } in &law.ramps {
            if lo.is_finite() {
                self.base[l] += slope * lo;
                self.bend(l, &mut n_breakpoints, *lo, *slope);
            } else {
                self.slope[l] += slope;
            }
            if hi.is_finite() {
                self.bend(l, &mut n_breakpoints, *hi, -slope);
            }
        }
    }

    /// Bends a lane's law at `temp`, where it has `n_breakpoints` so far.
    fn bend(&mut self, l: usize, n_breakpoints: &mut usize, temp: f64, bend: f64) {
        let place = self.breakpoints[..*n_breakpoints]
            .partition_point(|breakpoint| breakpoint.temp[l] < temp);
        if place < *n_breakpoints && self.breakpoints[place].temp[l] == temp {
            self.breakpoints[place].bend[l] += bend;
            return;
        }
        if *n_breakpoints == self.breakpoints.len() {
            self.breakpoints.push(LaneBreakpoint { temp: [f64::INFINITY; L], bend: [0.0; L] });
        }
        for i in (place..*n_breakpoints).rev() {
            self.breakpoints[i + 1].temp[l] = self.breakpoints[i].temp[l];
            self.breakpoints[i + 1].bend[l] = self.breakpoints[i].bend[l];
        }
        self.breakpoints[place].temp[l] = temp;
        self.breakpoints[place].bend[l] = bend;
        *n_breakpoints += 1;
    }
}
