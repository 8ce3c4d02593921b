//! What a ply does that chars: its fibres' reactions, and what is left of it.

use crate::bench::effects::{Effect, Without};
use crate::garment::charring::CharringPart;
use crate::garment::fabric::Fabric;
use crate::garment::property::OfPly;
use crate::garment::wet::fibres;
use crate::physics::char::{WARMING, ln_rate_kissinger, temp_activation};
use crate::physics::fibre;
use crate::solver::reaction::{Reacting, Reaction};

/// The reactions of a fabric's fibres; none where nothing of it chars.
pub fn reacting(fabric: &Fabric, without: Without) -> Option<Reacting> {
    if fabric.charring.is_empty() || !without.keeps(Effect::Charring) {
        return None;
    }
    let dry = fabric.dry_density();
    let rho = dry / fabric.thickness.value;
    let reaction = |part: &CharringPart| {
        let charring = &part.charring;
        let temp_activation = temp_activation(charring.energy.value);
        Reaction {
            rho: rho * part.share,
            ln_rate: ln_rate_kissinger(temp_activation, charring.temp_peak.value, WARMING),
            temp_activation,
            residue: charring.residue.value,
            heat: charring.heat.value,
            vapour_share: charring.water_share.value,
        }
    };
    Some(Reacting {
        reactions: fabric.charring.iter().map(reaction).collect(),
        rho,
        thinning: OfPly::Thinning.value(fabric),
        // a cube of the temperature: its factor is what 1 K gives
        k_radiation: fibre::radiation(&fibres(fabric), 1.0).value,
    })
}
