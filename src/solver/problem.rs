//! The plain description of a problem: slabs in order, what joins them, what drives them.

use crate::physics::gap::Convection;
use crate::physics::law::Law;
use crate::solver::reaction::Reacting;
use crate::solver::sorbent::Sorbent;
pub use crate::solver::sorbent::Source;

/// Heat taken up or given off once, while the temperature first passes through a window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// Heat per volume taken up over the whole window [J/m³]; negative when given off.
    pub heat: f64,
    /// Heat capacity per volume that is lost with the change [J/(m³·K)].
    pub rho_cp_lost: f64,
    /// Conductivity that comes on top of the medium's law and is lost with the change [W/(m·K)].
    pub k_lost: f64,
    /// Start of the window [K].
    pub temp_lo: f64,
    /// End of the window [K].
    pub temp_hi: f64,
}

/// Heat carried off in proportion to the excess temperature (perfusion).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sink {
    /// Per volume and kelvin [W/(m³·K)].
    pub rate: f64,
    /// Temperature at which nothing is carried off [K].
    pub temp: f64,
}

/// What a slab is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Medium {
    /// Thermal conductivity, without what `changes` add [W/(m·K)].
    pub k: Law,
    /// Heat capacity per volume [J/(m³·K)], without what `changes` add.
    pub rho_cp: Law,
    /// One-way changes.
    pub changes: Vec<Change>,
    /// Perfusion, if any.
    pub sink: Option<Sink>,
}

impl Medium {
    /// Heat per volume at `temp` [K], up to a constant, where `temp_peak` is the highest temperature seen [J/m³].
    pub fn heat(&self, temp: f64, temp_peak: f64) -> f64 {
        let changes: f64 =
            self.changes.iter().map(|change| change.heat_taken(temp, temp_peak)).sum();
        self.rho_cp.integral(temp) + changes
    }

    /// Conductivity at `temp` [K] where `temp_peak` is the highest temperature seen [W/(m·K)].
    pub fn conductivity(&self, temp: f64, temp_peak: f64) -> f64 {
        let held = self.changes.iter().map(|change| change.k_left(temp.max(temp_peak)));
        self.k.at(temp) + held.sum::<f64>()
    }

    /// Most that the changes can bend the heat over the temperature, per heat capacity [1/K].
    ///
    /// Half of the largest second derivative of the heat, 6 H/w² at the ends of a window of width
    /// w, over the least heat capacity: what a Newton correction leaves over its own square.
    pub fn curvature_most(&self) -> f64 {
        let curvature = |change: &Change| {
            let per_width = 1.0 / (change.temp_hi - change.temp_lo);
            3.0 * per_width * (change.heat.abs() * per_width + change.rho_cp_lost.abs())
        };
        let lost: f64 = self.changes.iter().map(|change| change.rho_cp_lost).sum();
        let windows = self.changes.iter().map(|change| self.rho_cp.at(change.temp_lo));
        let least = windows.fold(f64::INFINITY, f64::min) - lost;
        match self.changes.is_empty() {
            true => 0.0,
            // a heat capacity that could vanish foretells nothing
            false if least.is_nan() || least <= 0.0 => f64::INFINITY,
            false => self.changes.iter().map(curvature).sum::<f64>() / least,
        }
    }
}

impl Change {
    /// Conductivity that is left of what the change takes away, once `temp_peak` [K] was reached [W/(m·K)].
    pub fn k_left(&self, temp_peak: f64) -> f64 {
        self.k_lost * (1.0 - self.share_done(temp_peak))
    }

    /// Share of the change that has happened once `temp` [K] was reached [–]: 3u² − 2u³ over the window.
    pub fn share_done(&self, temp: f64) -> f64 {
        let u = ((temp - self.temp_lo) / (self.temp_hi - self.temp_lo)).clamp(0.0, 1.0);
        u * u * (3.0 - 2.0 * u)
    }

    /// Heat per volume beyond the unchanged heat capacity's, on the way to `temp` [K] and back from `temp_peak` [J/m³].
    fn heat_taken(&self, temp: f64, temp_peak: f64) -> f64 {
        let top = temp.max(temp_peak);
        let width = self.temp_hi - self.temp_lo;
        let u = ((top - self.temp_lo) / width).clamp(0.0, 1.0);
        // integral of the share done from the start of the window to `top`
        let passed = width * u * u * u * (1.0 - 0.5 * u) + (top - self.temp_hi).max(0.0);
        let lost = passed + self.share_done(top) * (temp - top);
        self.heat * self.share_done(top) - self.rho_cp_lost * lost
    }
}

/// A slab with its mesh.
#[derive(Debug, Clone, PartialEq)]
pub struct Slab {
    /// What it is made of.
    pub medium: Medium,
    /// Cell sizes from the outer face inwards [m].
    pub cells: Vec<f64>,
    /// Extinction coefficient for the driving radiation [1/m]; none for an opaque slab.
    pub extinction: Option<f64>,
    /// How it binds vapour and lets it through; none when it is closed to it.
    pub sorbent: Option<Sorbent>,
    /// What of it reacts; only where it has a sorbent, which takes up the vapour that is set free.
    pub reacting: Option<Reacting>,
    /// Temperature at the start, at the outer and at the inner face, straight between [K].
    pub temps_start: (f64, f64),
}

/// What stands between one slab and the next, or the last slab and a lump behind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joint {
    /// The faces share one temperature.
    Shared,
    /// A conductance [W/(m²·K)].
    Conductance(f64),
    /// An air space.
    Air {
        /// Thickness [m].
        thickness: f64,
        /// Radiation exchange factor 1/(1/ε1 + 1/ε2 − 1) [–].
        exchange: f64,
        /// How the air moves.
        convection: Convection,
        /// Heat capacity of the air per area [J/(m²·K)], half on each face.
        cap_area: f64,
    },
}

/// What ends the chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Back {
    /// No heat leaves the last face.
    Insulated,
    /// The last face is held at its starting temperature.
    Held,
    /// A lump of one temperature behind a joint; nothing leaves it.
    Lump {
        /// What joins it to the last face.
        joint: Joint,
        /// Heat capacity per area [J/(m²·K)].
        cap_area: f64,
        /// Temperature at the start [K].
        temp_start: f64,
    },
}

/// What drives the outer face over one piece of time, straight between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// End of the piece [s]; it starts where the one before ends.
    pub t_end: f64,
    /// Film coefficient at start and end [W/(m²·K)].
    pub h: (f64, f64),
    /// Temperature of the gas behind the film [K].
    pub temp_gas: f64,
    /// Pressure of the vapour in it [Pa], below that of the air.
    pub p_vapour: f64,
    /// Radiant flux that enters the first slab, at start and end [W/m²].
    pub q_rad: (f64, f64),
}

/// The outer boundary: pieces in order of time, and what the face sends out.
#[derive(Debug, Clone, PartialEq)]
pub struct Drive {
    /// At least one piece.
    pub pieces: Vec<Piece>,
    /// Emissivity of the outer face [–].
    pub emissivity: f64,
    /// Temperature of the surroundings that the face radiates to [K].
    pub temp_surround: f64,
    /// Whether gas that leaves the face takes from its film coefficient.
    pub blown: bool,
}

/// The whole description.
#[derive(Debug, Clone)]
pub struct Problem {
    /// Slabs from the driven face inwards, at least one.
    pub slabs: Vec<Slab>,
    /// Joints between them, one fewer than slabs.
    pub joints: Vec<Joint>,
    /// What ends the chain.
    pub back: Back,
    /// What drives it.
    pub drive: Drive,
    /// A source within the slabs, if any.
    pub source: Option<Source>,
}

impl Drive {
    /// The same drive cut off at `t` [s], above 0; whole when it ends before.
    pub fn until(&self, t: f64) -> Drive {
        let mut pieces = Vec::new();
        let mut start = 0.0;
        for piece in &self.pieces {
            if piece.t_end >= t {
                let share = (t - start) / (piece.t_end - start);
                let cut = |(from, to): (f64, f64)| (from, from + (to - from) * share);
                pieces.push(Piece { t_end: t, h: cut(piece.h), q_rad: cut(piece.q_rad), ..*piece });
                break;
            }
            start = piece.t_end;
            pieces.push(*piece);
        }
        Drive { pieces, ..self.clone() }
    }
}

impl Problem {
    /// Where the shares converted of each slab's reactions begin among all, and how many there are:
    /// slab by slab, reaction by reaction, node by node.
    pub fn reaction_entries(&self) -> (Vec<usize>, usize) {
        let mut n = 0;
        let begin = |slab: &Slab| {
            let first = n;
            let n_reactions = slab.reacting.as_ref().map_or(0, |own| own.reactions.len());
            n += n_reactions * (slab.cells.len() + 1);
            first
        };
        let begins = self.slabs.iter().map(begin).collect();
        (begins, n)
    }

    /// Whether any slab binds vapour.
    pub fn has_sorbent(&self) -> bool {
        self.slabs.iter().any(|slab| slab.sorbent.is_some())
    }

    /// Nodes of the mesh: one on every face and cell edge, shared where faces share.
    pub fn n_nodes(&self) -> usize {
        let cells: usize = self.slabs.iter().map(|slab| slab.cells.len()).sum();
        let apart = self.joints.iter().filter(|joint| **joint != Joint::Shared).count();
        let lump = matches!(self.back, Back::Lump { joint, .. } if joint != Joint::Shared);
        cells + 1 + apart + usize::from(lump)
    }

    /// The joints that stand between two nodes, with the first of them.
    pub(crate) fn links(&self) -> impl Iterator<Item = (usize, Joint)> {
        let back = match self.back {
            Back::Lump { joint, .. } => Some(joint),
            _ => None,
        };
        let lasts = self.spans().into_iter().map(|(_, last)| last);
        let joints: Vec<Joint> = self.joints.iter().copied().chain(back).collect();
        lasts.zip(joints).filter(|(_, joint)| *joint != Joint::Shared)
    }

    /// First and last node of each slab.
    pub fn spans(&self) -> Vec<(usize, usize)> {
        let mut spans = Vec::with_capacity(self.slabs.len());
        let mut first = 0;
        for (j, slab) in self.slabs.iter().enumerate() {
            let last = first + slab.cells.len();
            spans.push((first, last));
            first = match self.joints.get(j) {
                Some(Joint::Shared) => last,
                _ => last + 1,
            };
        }
        spans
    }
}
