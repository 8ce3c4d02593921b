//! What plies, air and skin are to heat that goes along them, for columns of one layup side by side.

use crate::bench::account::{Placed, State};
use crate::bench::assemble::{Assembly, PartKind};
use crate::physics::air;
use crate::solver::problem::Joint;
use crate::solver::strip::{Held, Row, Sideways};

/// Half of the difference of temperature over which a heat capacity is taken [K].
const APART: f64 = 0.05;

/// Columns as laid out.
#[derive(Debug, Clone, Copy)]
pub struct Columns<'a> {
    /// The columns.
    pub made: &'a [Assembly],
    /// Conductivity of plies along over that through them [–]; of all else it is the same both ways.
    pub along: f64,
}

impl Sideways for Columns<'_> {
    fn row(&self, column: usize, held: &Held) -> Row {
        let assembly = &self.made[column];
        let problem = &assembly.problem;
        let n = problem.n_nodes();
        let mut row = Row { cap: vec![0.0; n], along: vec![0.0; n] };
        let state = State::of(assembly, held.moment());
        let n_plies = assembly.parts.iter().filter(|part| part.kind == PartKind::Ply).count();
        let spans = problem.spans();
        let entries = problem.reaction_entries().0;
        for (j, ((slab, (first, _)), entry)) in
            problem.slabs.iter().zip(&spans).zip(entries).enumerate()
        {
            let placed = Placed { slab, first: *first, entry };
            let factor = if j < n_plies { self.along } else { 1.0 };
            for c in 0..=slab.cells.len() {
                let before = c.checked_sub(1).map_or(0.0, |before| slab.cells[before]);
                let half = 0.5 * (before + slab.cells.get(c).copied().unwrap_or(0.0));
                let (i, temp) = (first + c, held.temps[first + c]);
                let heat = |temp: f64| state.heat_at(&placed, c, temp);
                row.cap[i] += half * (heat(temp + APART) - heat(temp - APART)) / (2.0 * APART);
                row.along[i] += half * factor * state.conductivity(&placed, c);
            }
        }
        for (i, joint) in problem.links() {
            if let Joint::Air { thickness, cap_area, .. } = joint {
                let k = air::conductivity(0.5 * (held.temps[i] + held.temps[i + 1])).value;
                for node in [i, i + 1] {
                    row.cap[node] += 0.5 * cap_area;
                    row.along[node] += 0.5 * thickness * k;
                }
            }
        }
        row
    }
}
