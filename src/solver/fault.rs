//! What makes a description unusable: which part, and the value found there.

use std::fmt;

use crate::solver::problem::{Change, Joint, Sink};
use crate::solver::reaction::Reacting;
use crate::solver::sorbent::Sorbent;

/// What is wrong with a description; slabs and joints are counted from the outer face, from 0.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// No slab, or joints that are not one fewer than slabs.
    Counts {
        /// Slabs given.
        n_slabs: usize,
        /// Joints between them given.
        n_joints: usize,
    },
    /// A slab, by its place.
    Slab(usize, SlabFault),
    /// A joint between slabs, by its place.
    Joint(usize, Joint),
    /// The joint before the lump.
    LumpJoint(Joint),
    /// A lump without heat capacity, or not above 0 K.
    Lump {
        /// Heat capacity per area [J/(m²·K)].
        cap_area: f64,
        /// Temperature at the start [K].
        temp_start: f64,
    },
    /// A last face that is held, of a slab that binds vapour.
    HeldOpen,
    /// The piece of the drive that starts at a time [s] does not end after it, or holds what is no number.
    Piece(f64),
    /// A pressure that vapour cannot have.
    Vapour {
        /// Start of the piece of the drive [s].
        t: f64,
        /// The pressure [Pa].
        p: f64,
    },
    /// A film coefficient is below 0 in the piece of the drive that starts at a time [s].
    Film(f64),
    /// The drive has no piece.
    NoPiece,
    /// Emissivity of the driven face, outside 0 to 1 [–].
    Emissivity(f64),
    /// Temperature of the surroundings, below 0 or no number [K].
    Surroundings(f64),
    /// Problems that are to lie side by side are not of one shape.
    Shape,
    /// Number of paths that cannot lie side by side into one lump.
    Paths(usize),
    /// Number of columns that a strip cannot have, or does not describe.
    Columns(usize),
}

/// What is wrong with a slab.
#[derive(Debug, Clone, PartialEq)]
pub enum SlabFault {
    /// No cell, or one without size.
    Cells,
    /// Temperature of a face at the start [K].
    TempStart(f64),
    /// Least conductivity over the temperatures at the start [W/(m·K)].
    Conductivity(f64),
    /// Least heat capacity per volume over the temperatures at the start [J/(m³·K)].
    HeatCapacity(f64),
    /// Extinction coefficient [1/m].
    Extinction(f64),
    /// A one-way change.
    Change(Change),
    /// How it binds vapour.
    Sorbent(Sorbent),
    /// It reacts, and has no sorbent to take up the vapour set free.
    NoSorbent,
    /// What of it reacts.
    Reacting(Reacting),
    /// Perfusion.
    Sink(Sink),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Counts { n_slabs, n_joints } => write!(f, "{n_slabs} slabs, {n_joints} joints"),
            Fault::Slab(j, fault) => fault.tell(*j, f),
            Fault::Joint(j, joint) => write!(f, "joint {j}: {joint:?}"),
            Fault::LumpJoint(joint) => write!(f, "joint before the lump: {joint:?}"),
            Fault::Lump { cap_area, temp_start } => {
                write!(f, "lump of {cap_area} J/(m²·K) that starts at {temp_start} K")
            }
            Fault::HeldOpen => write!(f, "a held last face that is open to vapour"),
            Fault::Piece(t) => write!(f, "drive after t = {t} s"),
            Fault::Vapour { t, p } => write!(f, "vapour at {p} Pa after t = {t} s"),
            Fault::Film(t) => write!(f, "film coefficient below 0 after t = {t} s"),
            Fault::NoPiece => write!(f, "drive without pieces"),
            Fault::Emissivity(emissivity) => write!(f, "emissivity {emissivity} outside 0 to 1"),
            Fault::Surroundings(temp) => write!(f, "surroundings at {temp} K"),
            Fault::Shape => write!(f, "lanes of different shape"),
            Fault::Paths(n) => write!(f, "{n} paths side by side"),
            Fault::Columns(n) => write!(f, "a strip of {n} columns"),
        }
    }
}

impl std::error::Error for Fault {}

impl SlabFault {
    /// Tells it of the slab of index `j`.
    fn tell(&self, j: usize, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SlabFault::Cells => write!(f, "slab {j} has a cell without size"),
            SlabFault::TempStart(temp) => write!(f, "slab {j} starts at {temp} K"),
            SlabFault::Conductivity(k) => {
                write!(f, "conductivity of slab {j} is {k} at the start")
            }
            SlabFault::HeatCapacity(rho_cp) => {
                write!(f, "heat capacity of slab {j} is {rho_cp} at the start")
            }
            SlabFault::Extinction(extinction) => {
                write!(f, "extinction of slab {j} is {extinction}")
            }
            SlabFault::Change(change) => write!(f, "change in slab {j}: {change:?}"),
            SlabFault::Sorbent(sorbent) => write!(f, "sorbent of slab {j}: {sorbent:?}"),
            SlabFault::NoSorbent => write!(f, "slab {j} reacts but takes up no vapour"),
            SlabFault::Reacting(reacting) => write!(f, "reactions of slab {j}: {reacting:?}"),
            SlabFault::Sink(sink) => write!(f, "sink of slab {j}: {sink:?}"),
        }
    }
}
