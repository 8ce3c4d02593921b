//! What a run did at every node: beside its record, which holds the faces alone, for whoever draws it.

use crate::bench::assemble::{Assembly, PartKind};
use crate::bench::trace::Trace;
use crate::solver::problem::{Back, Joint};

/// Where in a quilted layup's cell a path of heat lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InCell {
    /// The place in words.
    pub place: &'static str,
    /// Distance from the middle of the nearest stitch line [m].
    pub distance: f64,
    /// Air that the plies take in between them here [m].
    pub air: f64,
    /// Share of the cell's area that it stands for [–].
    pub share: f64,
}

/// The finest run of a question, as laid out and as it went.
#[derive(Debug, Clone)]
pub struct Seen {
    /// "disc" or "skin".
    pub behind: &'static str,
    /// Where in a cell it lies; none for a flat stack.
    pub in_cell: Option<InCell>,
    /// The chain of plies, gaps and what is behind.
    pub assembly: Assembly,
    /// Temperatures and water of all nodes at the accepted steps.
    pub trace: Trace,
}

impl Seen {
    /// The links of the chain in their order: one after each slab but the last, and the disc's.
    pub fn joints(&self) -> Vec<Joint> {
        let lump = match self.assembly.problem.back {
            Back::Lump { joint, .. } => Some(joint),
            _ => None,
        };
        self.assembly.problem.joints.iter().copied().chain(lump).collect()
    }

    /// The last node of each ply, outermost first.
    pub fn inner_nodes(&self) -> Vec<usize> {
        let plies = self.assembly.parts.iter().filter(|part| part.kind == PartKind::Ply);
        plies.map(|part| part.last).collect()
    }

    /// Depth of every node below the outer face [m]; `n_nodes` of them. The disc has none of its own: it
    /// stands at the end of its gap.
    pub fn depths(&self) -> Vec<f64> {
        let joints = self.joints();
        let n_nodes = self.assembly.problem.n_nodes();
        let (mut x, mut depths) = (0.0, vec![0.0]);
        for (j, slab) in self.assembly.problem.slabs.iter().enumerate() {
            for dx in &slab.cells {
                x += dx;
                depths.push(x);
            }
            match joints.get(j) {
                // the next slab begins with this node
                None | Some(Joint::Shared) => {}
                Some(joint) => {
                    x += thickness(joint);
                    depths.push(x);
                }
            }
        }
        debug_assert_eq!(depths.len(), n_nodes, "a depth for every node");
        depths
    }
}

/// Thickness of what lies in a link [m]; 0 where it is none of air.
pub fn thickness(joint: &Joint) -> f64 {
    match joint {
        Joint::Air { thickness, .. } => *thickness,
        _ => 0.0,
    }
}
