//! What problems must have in common to stand side by side.

use crate::solver::problem::{Back, Joint, Problem, Slab};

/// Shape of a problem: what its description has, whatever the values.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Shape {
    /// Per slab: cells, one-way changes, whether it has a sink, whether it binds vapour, reactions.
    slabs: Vec<(usize, usize, bool, bool, usize)>,
    /// Kind of each joint, the lump's last.
    joints: Vec<u8>,
    held: bool,
}

impl Shape {
    /// The shape of a problem.
    pub fn of(problem: &Problem) -> Shape {
        let kind = |joint: &Joint| match joint {
            Joint::Shared => 0,
            Joint::Conductance(_) => 1,
            Joint::Air { .. } => 2,
        };
        let mut joints: Vec<u8> = problem.joints.iter().map(kind).collect();
        if let Back::Lump { joint, .. } = &problem.back {
            joints.push(kind(joint));
        }
        let slab = |slab: &Slab| {
            let medium = &slab.medium;
            let n_changes = medium.changes.len();
            let n_reactions = slab.reacting.as_ref().map_or(0, |own| own.reactions.len());
            let (sinks, binds) = (medium.sink.is_some(), slab.sorbent.is_some());
            (slab.cells.len(), n_changes, sinks, binds, n_reactions)
        };
        Shape {
            slabs: problem.slabs.iter().map(slab).collect(),
            joints,
            held: problem.back == Back::Held,
        }
    }
}
