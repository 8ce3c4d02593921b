//! When a ply passes its limit where it lies in the chain.

use crate::bench::assemble::{Assembly, Part, PartKind};
use crate::bench::limit::Limit;
use crate::bench::rise::rise_through;
use crate::solver::problem::{Problem, Slab};
use crate::solver::watch::Step;

/// Share of each fibre that is char at every place of a ply when it counts as charred through [–].
///
/// Source: our choice; cloth whose fibres are half char throughout has little left to hold it
/// together, and no measurement of when it opens was found.
const THROUGH: f64 = 0.5;

/// The limit of a ply where it lies in the chain.
#[derive(Debug, Clone, PartialEq)]
pub struct PlyLimit {
    /// The limit.
    pub limit: Limit,
    nodes: (usize, usize),
    /// The shares converted of its fibres, slab by slab and reaction by reaction.
    shares: Vec<std::ops::Range<usize>>,
}

impl PlyLimit {
    /// Those of all plies, outermost first.
    pub fn all(assembly: &Assembly) -> Vec<PlyLimit> {
        let plies = assembly.parts.iter().filter(|part| part.kind == PartKind::Ply);
        let one = |(part, limit): (&Part, &Limit)| PlyLimit {
            limit: limit.clone(),
            nodes: (part.first, part.last),
            shares: shares(&assembly.problem, (part.first, part.last)),
        };
        plies.zip(&assembly.limits).map(one).collect()
    }

    /// The ply's nodes, outermost first.
    pub fn nodes(&self) -> std::ops::RangeInclusive<usize> {
        self.nodes.0..=self.nodes.1
    }

    /// When the ply passes its limit in a step, if it does [s].
    pub fn passed(&self, step: &Step) -> Option<f64> {
        let hot = self.limit.temp.and_then(|temp| {
            self.nodes().filter_map(|node| rise_through(step, node, temp)).min_by(f64::total_cmp)
        });
        hot.into_iter().chain(self.charred_through(step)).min_by(f64::total_cmp)
    }

    /// When the last of its fibres is char at its last place.
    fn charred_through(&self, step: &Step) -> Option<f64> {
        let mut latest = f64::NEG_INFINITY;
        for e in self.shares.iter().cloned().flatten() {
            let (from, to) = (step.converted0(e), step.converted1(e));
            if to < THROUGH {
                return None;
            }
            if from < THROUGH {
                // within a step conversion goes on evenly
                let share = (THROUGH - from) / (to - from);
                latest = latest.max(step.t0 + share * (step.t1 - step.t0));
            }
        }
        latest.is_finite().then_some(latest)
    }
}

/// When each ply passes its limit.
#[derive(Debug, Clone)]
pub struct LimitWatch {
    /// The plies' limits, outermost first.
    pub limits: Vec<PlyLimit>,
    /// When each ply passed its limit [s].
    pub passed: Vec<Option<f64>>,
}

impl LimitWatch {
    /// Of an assembly.
    pub fn new(assembly: &Assembly) -> LimitWatch {
        let limits = PlyLimit::all(assembly);
        LimitWatch { passed: vec![None; limits.len()], limits }
    }

    /// Looks for what passes its limit in a step.
    pub fn note(&mut self, step: &Step) {
        for (limit, passed) in self.limits.iter().zip(&mut self.passed) {
            *passed = passed.or_else(|| limit.passed(step));
        }
    }
}

/// Where the shares converted of what lies between two nodes stand among all, of reactions that act
/// on anything.
fn shares(problem: &Problem, (first, last): (usize, usize)) -> Vec<std::ops::Range<usize>> {
    let (begins, _) = problem.reaction_entries();
    let slabs = problem.slabs.iter().zip(problem.spans()).zip(begins);
    let within = slabs.filter(|((_, span), _)| first <= span.0 && span.1 <= last);
    let of_slab = |((slab, span), begin): ((&Slab, (usize, usize)), usize)| {
        let n_nodes = span.1 - span.0 + 1;
        let reactions = slab.reacting.iter().flat_map(|own| &own.reactions).enumerate();
        let acts = reactions.filter(|(_, reaction)| reaction.rho > 0.0);
        let share = |(r, _): (usize, _)| begin + r * n_nodes..begin + (r + 1) * n_nodes;
        acts.map(share).collect::<Vec<_>>()
    };
    within.flat_map(of_slab).collect()
}
