//! What crosses a joint.

use crate::physics::gap::{conductance, conductance_still, stays_still};
use crate::physics::slope::Between;
use crate::physics::units::STEFAN_BOLTZMANN;
use crate::solver::lanes::LaneJoint;
use crate::solver::media::Flux;

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
    pub fn flux(&self, before: &[f64; L], after: &[f64; L]) -> Flux<L> {
        let mut flux = Flux { q: [0.0; L], by_before: [0.0; L], by_after: [0.0; L] };
        match self {
            LaneJoint::Conductance { h, .. } => {
                for l in 0..L {
                    flux.q[l] = h[l] * (before[l] - after[l]);
                    flux.by_before[l] = h[l];
                    flux.by_after[l] = h[l];
                }
            }
            LaneJoint::Air { thickness, exchange, .. } => {
                let (value, slope_outer, slope_inner) = self.film(thickness, before, after);
                for l in 0..L {
                    let (hot, cold) = (before[l], after[l]);
                    let sent = exchange[l] * STEFAN_BOLTZMANN;
                    let (hot2, cold2) = (hot * hot, cold * cold);
                    let diff = hot - cold;
                    flux.q[l] = value[l] * diff + sent * (hot2 * hot2 - cold2 * cold2);
                    flux.by_before[l] = value[l] + slope_outer[l] * diff + 4.0 * sent * hot2 * hot;
                    flux.by_after[l] = value[l] - slope_inner[l] * diff + 4.0 * sent * cold2 * cold;
                }
            }
        }
        flux
    }

    /// Conductance of the air and its derivatives: at rest in all lanes at once, then in motion
    /// where it moves.
    #[inline(always)]
    fn film(
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
