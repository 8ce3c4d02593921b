//! A description laid out for computing: `L` problems of the same shape side by side.

use crate::physics::gap::Convection;
use crate::physics::law::Law;
use crate::solver::error::SolverError;
use crate::solver::problem::{Back, Joint, Piece, Problem, Slab, Source};

/// A law with one coefficient set per lane; lanes with fewer ramps carry ramps of slope 0.
#[derive(Debug, Clone)]
pub(crate) struct LaneLaw<const L: usize> {
    pub base: [f64; L],
    pub ramps: Vec<LaneRamp<L>>,
}

/// One clamped ramp per lane.
#[derive(Debug, Clone)]
pub(crate) struct LaneRamp<const L: usize> {
    pub slope: [f64; L],
    pub lo: [f64; L],
    pub hi: [f64; L],
}

/// One-way change per lane; see [`crate::solver::problem::Change`].
#[derive(Debug, Clone)]
pub(crate) struct LaneChange<const L: usize> {
    pub heat: [f64; L],
    pub rho_cp_lost: [f64; L],
    pub temp_lo: [f64; L],
    pub width: [f64; L],
}

/// A slab per lane.
#[derive(Debug, Clone)]
pub(crate) struct LaneSlab<const L: usize> {
    pub first: usize,
    pub dx: Vec<[f64; L]>,
    pub k: LaneLaw<L>,
    pub rho_cp: LaneLaw<L>,
    pub changes: Vec<LaneChange<L>>,
    pub sink: Option<([f64; L], [f64; L])>,
}

/// A joint per lane, between node `node` and the next.
#[derive(Debug, Clone)]
pub(crate) enum LaneJoint<const L: usize> {
    Conductance { node: usize, h: [f64; L] },
    Air { node: usize, thickness: [f64; L], exchange: [f64; L], convection: [Convection; L] },
}

/// `L` problems of one shape, ready to advance.
#[derive(Debug, Clone)]
pub struct Lanes<const L: usize> {
    pub(crate) n: usize,
    pub(crate) slabs: Vec<LaneSlab<L>>,
    pub(crate) joints: Vec<LaneJoint<L>>,
    /// Heat capacity per area that sits on a node besides the slabs' [J/(m²·K)].
    pub(crate) lumps: Vec<[f64; L]>,
    /// Share of the entering radiation that is absorbed at each node [–].
    pub(crate) deposit: Vec<[f64; L]>,
    pub(crate) emissivity: [f64; L],
    pub(crate) temp_surround: [f64; L],
    pub(crate) held: bool,
    pub(crate) pieces: Vec<Vec<Piece>>,
    pub(crate) temps_start: Vec<[f64; L]>,
    pub(crate) source: Option<Source>,
    /// Place of each node from the outer face, air spaces left out [m].
    pub(crate) places: Vec<[f64; L]>,
}

impl<const L: usize> Lanes<L> {
    /// Lays out `problems`, one per lane.
    ///
    /// Errors: [`SolverError::Description`] when one is unusable or their shapes differ
    /// (number of cells, kinds of joint, kind of back, presence of a sink, number of changes).
    pub fn new(problems: &[&Problem; L]) -> Result<Lanes<L>, SolverError> {
        let lead = problems[0];
        for problem in problems {
            problem.check()?;
            if !same_shape(lead, problem) {
                return Err(SolverError::Description { what: "lanes of different shape".into() });
            }
        }
        let n = lead.n_nodes();
        let spans = lead.spans();
        let mut lanes = Lanes {
            n,
            slabs: Vec::with_capacity(spans.len()),
            joints: Vec::new(),
            lumps: vec![[0.0; L]; n],
            deposit: vec![[0.0; L]; n],
            emissivity: each(problems, |p| p.drive.emissivity),
            temp_surround: each(problems, |p| p.drive.temp_surround),
            held: lead.back == Back::Held,
            pieces: problems.iter().map(|p| p.drive.pieces.clone()).collect(),
            temps_start: vec![[0.0; L]; n],
            source: lead.source,
            places: vec![[0.0; L]; n],
        };
        for (j, (first, _)) in spans.iter().enumerate() {
            lanes.slabs.push(lane_slab(*first, &each_ref(problems, |p| &p.slabs[j])));
        }
        for (j, (_, last)) in spans.iter().enumerate().take(spans.len() - 1) {
            lanes.push_joint(*last, each(problems, |p| p.joints[j]));
        }
        if let Back::Lump { .. } = lead.back {
            lanes.push_joint(spans[spans.len() - 1].1, each(problems, |p| lump_of(p).0));
        }
        for (l, problem) in problems.iter().enumerate() {
            lanes.fill_nodes(l, problem, &spans);
        }
        Ok(lanes)
    }

    /// Number of nodes.
    pub fn n_nodes(&self) -> usize {
        self.n
    }

    fn push_joint(&mut self, node: usize, joints: [Joint; L]) {
        match joints[0] {
            Joint::Shared => {}
            Joint::Conductance(_) => self.joints.push(LaneJoint::Conductance {
                node,
                h: joints.map(|joint| match joint {
                    Joint::Conductance(h) => h,
                    _ => unreachable!("shapes were compared"),
                }),
            }),
            Joint::Air { .. } => {
                let part = |joint| match joint {
                    Joint::Air { thickness, exchange, convection, cap_area } => {
                        (thickness, exchange, convection, cap_area)
                    }
                    _ => unreachable!("shapes were compared"),
                };
                let parts = joints.map(part);
                for l in 0..L {
                    self.lumps[node][l] += 0.5 * parts[l].3;
                    self.lumps[node + 1][l] += 0.5 * parts[l].3;
                }
                self.joints.push(LaneJoint::Air {
                    node,
                    thickness: parts.map(|p| p.0),
                    exchange: parts.map(|p| p.1),
                    convection: parts.map(|p| p.2),
                });
            }
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
            left = self.deposit_in(l, slab, *first, left);
            place += thickness;
        }
        let last = self.n - 1;
        self.deposit[last][l] += left;
        if let Back::Lump { cap_area, temp_start, .. } = problem.back {
            self.lumps[last][l] += cap_area;
            self.temps_start[last][l] = temp_start;
            self.places[last][l] = place;
        }
    }

    /// Spreads the radiation that reaches a slab over its nodes by Beer's law; returns what is left behind it.
    fn deposit_in(&mut self, l: usize, slab: &Slab, first: usize, reaching: f64) -> f64 {
        let Some(extinction) = slab.extinction else {
            self.deposit[first][l] += reaching;
            return 0.0;
        };
        let mut left = reaching;
        let mut depth = 0.0;
        for (c, dx) in slab.cells.iter().enumerate() {
            let middle = reaching * (-extinction * (depth + 0.5 * dx)).exp();
            depth += dx;
            let behind = reaching * (-extinction * depth).exp();
            self.deposit[first + c][l] += left - middle;
            self.deposit[first + c + 1][l] += middle - behind;
            left = behind;
        }
        left
    }
}

fn lump_of(problem: &Problem) -> (Joint, f64) {
    match problem.back {
        Back::Lump { joint, cap_area, .. } => (joint, cap_area),
        _ => unreachable!("shapes were compared"),
    }
}

fn each<T: Copy, const L: usize>(problems: &[&Problem; L], f: impl Fn(&Problem) -> T) -> [T; L] {
    std::array::from_fn(|l| f(problems[l]))
}

fn each_ref<'a, T, const L: usize>(
    problems: &[&'a Problem; L],
    f: impl Fn(&'a Problem) -> &'a T,
) -> [&'a T; L] {
    std::array::from_fn(|l| f(problems[l]))
}

fn lane_slab<const L: usize>(first: usize, slabs: &[&Slab; L]) -> LaneSlab<L> {
    let lead = slabs[0];
    LaneSlab {
        first,
        dx: (0..lead.cells.len()).map(|c| std::array::from_fn(|l| slabs[l].cells[c])).collect(),
        k: lane_law(&std::array::from_fn(|l| &slabs[l].medium.k)),
        rho_cp: lane_law(&std::array::from_fn(|l| &slabs[l].medium.rho_cp)),
        changes: (0..lead.medium.changes.len())
            .map(|m| {
                let change = |l: usize| slabs[l].medium.changes[m];
                LaneChange {
                    heat: std::array::from_fn(|l| change(l).heat),
                    rho_cp_lost: std::array::from_fn(|l| change(l).rho_cp_lost),
                    temp_lo: std::array::from_fn(|l| change(l).temp_lo),
                    width: std::array::from_fn(|l| change(l).temp_hi - change(l).temp_lo),
                }
            })
            .collect(),
        sink: lead.medium.sink.map(|_| {
            let sink = |l: usize| slabs[l].medium.sink.expect("shapes were compared");
            (std::array::from_fn(|l| sink(l).rate), std::array::from_fn(|l| sink(l).temp))
        }),
    }
}

fn lane_law<const L: usize>(laws: &[&Law; L]) -> LaneLaw<L> {
    let most = laws.iter().map(|law| law.ramps.len()).max().unwrap_or(0);
    let ramp = |l: usize, m: usize| laws[l].ramps.get(m);
    LaneLaw {
        base: std::array::from_fn(|l| laws[l].base),
        ramps: (0..most)
            .map(|m| LaneRamp {
                slope: std::array::from_fn(|l| ramp(l, m).map_or(0.0, |r| r.slope)),
                lo: std::array::from_fn(|l| ramp(l, m).map_or(0.0, |r| r.lo)),
                hi: std::array::from_fn(|l| ramp(l, m).map_or(0.0, |r| r.hi)),
            })
            .collect(),
    }
}

fn same_shape(a: &Problem, b: &Problem) -> bool {
    use std::mem::discriminant as kind;
    a.slabs.len() == b.slabs.len()
        && kind(&a.back) == kind(&b.back)
        && match (&a.back, &b.back) {
            (Back::Lump { joint: one, .. }, Back::Lump { joint: other, .. }) => {
                kind(one) == kind(other)
            }
            _ => true,
        }
        && a.joints.iter().zip(&b.joints).all(|(one, other)| kind(one) == kind(other))
        && a.slabs.iter().zip(&b.slabs).all(|(one, other)| {
            one.cells.len() == other.cells.len()
                && one.medium.changes.len() == other.medium.changes.len()
                && one.medium.sink.is_some() == other.medium.sink.is_some()
        })
}
