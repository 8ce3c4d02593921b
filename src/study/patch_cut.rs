//! The place beside a patch cut like the place under it, so that both can feed one disc.

use crate::bench::assemble::{Assembly, Backing, PartKind, Setup, assemble};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::physics::gap::Convection;
use crate::solver::grid;
use crate::solver::problem::{Change, Joint, Slab};
use crate::solver::reaction::{Reacting, Reaction};

/// How cells of the outer ply beside the patch grow from the face inwards [–].
const RATIO_BESIDE: f64 = 1.15;
/// Conductance of a cut that is none [W/(m²·K)].
const H_CUT: f64 = 1e7;
/// Air in a cut that is none [m]: it resists a hundred-thousandth of what a ply does.
const AIR_CUT: f64 = 1e-8;

/// How patch and outer ply are cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Cuts {
    /// Cells of the patch and of the outer ply at the coarsest level.
    coarsest: [usize; 2],
    /// How often each was halved since.
    n_halvings: usize,
}

impl Cuts {
    /// Those of a layup whose outermost ply is the patch.
    pub(crate) fn of(covered: &Layup, exposure: &Exposure, setup: &Setup) -> Cuts {
        let coarsest = Setup { without: setup.without, ..Setup::level(0) };
        let coarsest = assemble(covered, exposure, Backing::Disc, &coarsest);
        Cuts {
            coarsest: [0, 1].map(|j| coarsest.problem.slabs[j].cells.len()),
            n_halvings: setup.mesh.n_halvings,
        }
    }
}

/// Both places in one shape: beside the patch the outer ply is cut in two where the patch ends in the other.
pub(crate) fn in_one_shape(
    mut beside: Assembly,
    mut under: Assembly,
    cuts: &Cuts,
) -> (Assembly, Assembly) {
    let outer = beside.problem.slabs[0].clone();
    let thickness: f64 = outer.cells.iter().sum();
    let n_cells = cuts.coarsest.iter().sum();
    let mut cells = grid::graded_cells(thickness, n_cells, RATIO_BESIDE);
    for _ in 0..cuts.n_halvings {
        cells = grid::halved(&cells);
    }
    let inner_cells = cells.split_off(under.problem.slabs[0].cells.len());
    let inner = Slab { cells: inner_cells, ..outer.clone() };
    beside.problem.slabs[0] = Slab { cells, ..outer };
    beside.problem.slabs.insert(1, inner);
    // the cut through the ply is of the kind of the joint under the patch, and resists nothing
    let cut = match under.problem.joints[0] {
        Joint::Shared => Joint::Shared,
        Joint::Conductance(_) => Joint::Conductance(H_CUT),
        Joint::Air { .. } => Joint::Air {
            thickness: AIR_CUT,
            exchange: 1.0,
            convection: Convection::Still,
            cap_area: 0.0,
        },
    };
    beside.problem.joints.insert(0, cut);
    // thread changes how finely the plies under the patch are cut: both places take the same cells
    for (one, other) in beside.problem.slabs.iter_mut().zip(&under.problem.slabs).skip(2) {
        one.cells.clone_from(&other.cells);
    }
    even_changes(&mut beside.problem.slabs[0], &mut under.problem.slabs[0]);
    even_sorbents(&mut beside.problem.slabs, &under.problem.slabs);
    for (one, other) in beside.problem.slabs.iter_mut().zip(&mut under.problem.slabs) {
        even_reactions(one, other);
    }
    // the outer ply beside the patch spans what are two plies under it
    let plies: Vec<_> = under.parts.iter().filter(|p| p.kind == PartKind::Ply).collect();
    let whole = (plies[0].first, plies[1].last);
    let rest = under.parts.iter().skip_while(|part| part.first < plies[1].last).cloned();
    let mut outer_part = beside.parts[0].clone();
    (outer_part.first, outer_part.last) = whole;
    beside.parts = std::iter::once(outer_part).chain(rest).collect();
    beside.node_behind = under.node_behind;
    (beside, under)
}

/// Gives both slabs the same number of changes; those added do nothing.
fn even_changes(one: &mut Slab, other: &mut Slab) {
    let idle = Change { heat: 0.0, rho_cp_lost: 0.0, k_lost: 0.0, temp_lo: 373.0, temp_hi: 374.0 };
    let most = one.medium.changes.len().max(other.medium.changes.len());
    one.medium.changes.resize(most, idle);
    other.medium.changes.resize(most, idle);
}

/// Gives both slabs the same number of reactions; those added act on nothing.
fn even_reactions(one: &mut Slab, other: &mut Slab) {
    let idle = Reaction {
        rho: 0.0,
        ln_rate: -1e3,
        temp_activation: 1.0,
        residue: 1.0,
        heat: 0.0,
        vapour_share: 0.0,
    };
    let none = Reacting { reactions: Vec::new(), rho: 1.0, thinning: 0.0, k_radiation: 0.0 };
    let n = |slab: &Slab| slab.reacting.as_ref().map_or(0, |own| own.reactions.len());
    let most = n(one).max(n(other));
    if most > 0 {
        for slab in [one, other] {
            slab.reacting.get_or_insert_with(|| none.clone()).reactions.resize(most, idle);
        }
    }
}

/// Lets water move beside a patch too where it alone brings some: dry plies beside it bind as those
/// under it do.
fn even_sorbents(beside: &mut [Slab], under: &[Slab]) {
    for (j, slab) in beside.iter_mut().enumerate() {
        // beside the patch the outer ply takes the patch's place as well
        slab.sorbent = slab.sorbent.or(under[j.max(1)].sorbent);
    }
}
