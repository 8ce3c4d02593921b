//! What lies at the ends of a chain's links and needs no haste: the film before the outer face, air
//! that moves, and supplies.

use crate::physics::gap::conductance_still;
use crate::physics::{air, vapour};
use crate::solver::evaluate::DriveAt;
use crate::solver::lanes::{LaneJoint, Lanes};
use crate::solver::pack::Pack;
use crate::solver::pair::lanes::PairLanes;
use crate::solver::pair::link::{potential, transport};

/// The film before the outer face.
#[derive(Debug, Clone)]
pub(crate) struct Front<const L: usize> {
    /// What it lets through per potential [kg/(m²·s)], and the derivative by the face's temperature.
    pub value: [f64; L],
    pub by_t: [f64; L],
    /// Potential of the gas outside [–].
    pub outside: [f64; L],
}

impl<const L: usize> Front<L> {
    /// Lets nothing through.
    pub const CLOSED: Front<L> = Front { value: [0.0; L], by_t: [0.0; L], outside: [0.0; L] };

    /// The film as thick as still air of its conductance, both at its mean temperature (a Lewis
    /// number of 1).
    pub fn of(drive: &DriveAt<L>, temps: &[f64; L]) -> Front<L> {
        let mut front = Front::CLOSED;
        let none = Pack::ZERO;
        let outside = [Pack::<L, false>(drive.p_vapour), none, none];
        front.outside = potential(outside, Pack::all(vapour::CUT_OFF_OPEN)).value.0;
        let (through, by_either) = transport::<L, false>(Pack(drive.temp_gas), Pack(*temps));
        for l in 0..L {
            let k = air::conductivity(0.5 * (drive.temp_gas[l] + temps[l]));
            let per_length = drive.h[l] / k.value;
            front.value[l] = through.0[l] * per_length;
            front.by_t[l] = per_length * (by_either.0[l] - 0.5 * through.0[l] * k.slope / k.value);
        }
        front
    }
}

/// How much more a joint lets through because its air moves [–], and the derivatives by the
/// temperatures before and after it.
pub(crate) type Moving<const L: usize> = [[f64; L]; 3];

impl<const L: usize> LaneJoint<L> {
    /// Looks at how the joint's air moves between faces at the given temperatures.
    fn moving(&self, before: &[f64; L], after: &[f64; L]) -> Moving<L> {
        let mut moving = [[1.0; L], [0.0; L], [0.0; L]];
        if let LaneJoint::Air { thickness, moves: true, .. } = self {
            let film = self.film(thickness, before, after);
            for l in 0..L {
                let still = conductance_still(before[l], after[l], thickness[l]);
                let nusselt = film.0[l] / still.value;
                moving[0][l] = nusselt;
                moving[1][l] = (film.1[l] - nusselt * still.slope_outer) / still.value;
                moving[2][l] = (film.2[l] - nusselt * still.slope_inner) / still.value;
            }
        }
        moving
    }
}

impl<const L: usize> Lanes<L> {
    /// How the air of each joint moves, in their order.
    pub(crate) fn look_at_joints(&self, temps: &[[f64; L]], moving: &mut [Moving<L>]) {
        for (joint, moving) in self.joints.iter().zip(moving) {
            let i = joint.node();
            *moving = joint.moving(&temps[i], &temps[i + 1]);
        }
    }

    /// What supplies set free at each node [kg/(m²·s)]; returns false where there are none.
    pub(crate) fn look_at_supplies(
        &self,
        pair: &PairLanes<L>,
        t: &[f64; L],
        supplied: &mut [[f64; L]],
    ) {
        if pair.supplies.is_empty() {
            return;
        }
        supplied.fill([0.0; L]);
        for (slab, supply) in self.slabs.iter().zip(&pair.supplies) {
            let Some(supply) = supply else { continue };
            for (c, share) in slab.shares.iter().enumerate() {
                let i = slab.first + c;
                for l in 0..L {
                    supplied[i][l] += share[l] * (supply.0)(self.places[i][l], t[l]);
                }
            }
        }
    }
}
