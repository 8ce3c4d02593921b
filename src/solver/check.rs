//! Whether a description can be used.

use crate::physics::gap::Convection;
use crate::physics::law::Law;
use crate::solver::fault::{Fault, SlabFault};
use crate::solver::problem::{Back, Change, Drive, Joint, Problem, Slab};
use crate::solver::sorbent::is_vapour_pressure;

impl Problem {
    /// Checks the description: counts that agree, values that are finite and positive where they must be.
    ///
    /// Errors: the first fault found, slabs before joints, back and drive.
    pub fn check(&self) -> Result<(), Fault> {
        let (n_slabs, n_joints) = (self.slabs.len(), self.joints.len());
        if n_slabs == 0 || n_joints + 1 != n_slabs {
            return Err(Fault::Counts { n_slabs, n_joints });
        }
        for (j, slab) in self.slabs.iter().enumerate() {
            slab.fault().map_or(Ok(()), |fault| Err(Fault::Slab(j, fault)))?;
        }
        if let Some(j) = self.joints.iter().position(|joint| !joint.is_usable()) {
            return Err(Fault::Joint(j, self.joints[j]));
        }
        if let Back::Lump { joint, cap_area, temp_start } = self.back {
            if !joint.is_usable() {
                return Err(Fault::LumpJoint(joint));
            }
            if !(is_above_zero(cap_area) && is_above_zero(temp_start)) {
                return Err(Fault::Lump { cap_area, temp_start });
            }
        }
        let open = |slab: &Slab| slab.sorbent.is_some();
        if self.back == Back::Held && self.slabs.last().is_some_and(open) {
            return Err(Fault::HeldOpen);
        }
        self.drive.fault().map_or(Ok(()), Err)
    }
}

fn is_above_zero(value: f64) -> bool {
    value.is_finite() && value > 0.0
}

fn is_not_below_zero(value: f64) -> bool {
    value.is_finite() && value >= 0.0
}

impl Slab {
    /// What is wrong with it, if anything.
    fn fault(&self) -> Option<SlabFault> {
        if self.cells.is_empty() || !self.cells.iter().all(|dx| is_above_zero(*dx)) {
            return Some(SlabFault::Cells);
        }
        let (outer, inner) = self.temps_start;
        if let Some(temp) = [outer, inner].into_iter().find(|temp| !is_above_zero(*temp)) {
            return Some(SlabFault::TempStart(temp));
        }
        let medium = &self.medium;
        let least = |law: &Law| law.min_over(outer.min(inner), outer.max(inner));
        let (k, rho_cp) = (least(&medium.k), least(&medium.rho_cp));
        if !is_above_zero(k) {
            return Some(SlabFault::Conductivity(k));
        }
        if !is_above_zero(rho_cp) {
            return Some(SlabFault::HeatCapacity(rho_cp));
        }
        if let Some(extinction) = self.extinction.filter(|value| !is_not_below_zero(*value)) {
            return Some(SlabFault::Extinction(extinction));
        }
        if let Some(change) = medium.changes.iter().find(|change| !change.is_usable()) {
            return Some(SlabFault::Change(*change));
        }
        if let Some(sorbent) = self.sorbent.filter(|sorbent| !sorbent.is_usable()) {
            return Some(SlabFault::Sorbent(sorbent));
        }
        if let Some(reacting) = &self.reacting {
            if self.sorbent.is_none() {
                return Some(SlabFault::NoSorbent);
            }
            if !reacting.is_usable() {
                return Some(SlabFault::Reacting(reacting.clone()));
            }
        }
        let sink = medium.sink?;
        let usable = is_not_below_zero(sink.rate) && is_above_zero(sink.temp);
        (!usable).then_some(SlabFault::Sink(sink))
    }
}

impl Change {
    fn is_usable(&self) -> bool {
        let values = [self.heat, self.rho_cp_lost, self.k_lost, self.temp_lo, self.temp_hi];
        values.iter().all(|value| value.is_finite())
            && self.k_lost >= 0.0
            && self.temp_lo < self.temp_hi
    }
}

impl Joint {
    fn is_usable(&self) -> bool {
        match *self {
            Joint::Shared => true,
            Joint::Conductance(h) => is_above_zero(h),
            Joint::Air { thickness, exchange, convection, cap_area } => {
                let moves = match convection {
                    Convection::Vertical { aspect } => aspect.is_finite() && aspect >= 1.0,
                    Convection::HeatedFromBelow | Convection::Still => true,
                };
                let holds = is_not_below_zero(cap_area);
                is_above_zero(thickness) && (0.0..=1.0).contains(&exchange) && holds && moves
            }
        }
    }
}

impl Drive {
    /// What is wrong with the drive, if anything.
    fn fault(&self) -> Option<Fault> {
        let mut t = 0.0;
        for piece in &self.pieces {
            let values = [piece.h.0, piece.h.1, piece.temp_gas, piece.q_rad.0, piece.q_rad.1];
            if piece.t_end.is_nan() || piece.t_end <= t || values.iter().any(|v| !v.is_finite()) {
                return Some(Fault::Piece(t));
            }
            if !is_vapour_pressure(piece.p_vapour) {
                return Some(Fault::Vapour { t, p: piece.p_vapour });
            }
            if piece.h.0 < 0.0 || piece.h.1 < 0.0 {
                return Some(Fault::Film(t));
            }
            t = piece.t_end;
        }
        if self.pieces.is_empty() {
            return Some(Fault::NoPiece);
        }
        if !(0.0..=1.0).contains(&self.emissivity) {
            return Some(Fault::Emissivity(self.emissivity));
        }
        let surround = self.temp_surround;
        (!is_not_below_zero(surround)).then_some(Fault::Surroundings(surround))
    }
}
