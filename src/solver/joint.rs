//! What crosses a joint.

use crate::physics::gap::{conductance, conductance_still, stays_still};
use crate::physics::slope::Between;
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::LaneJoint;
use crate::solver::media::Flux;
use crate::solver::pack::Pack;

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
