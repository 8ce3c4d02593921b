//! What turns a part of a slab into residue and gas, once and for all, and what the gas does.

use crate::physics::law::Law;
use crate::physics::{char, vapour};

/// Most of a slab's mass that is reckoned as lost where its thickness and openness are looked at [–]:
/// what is left of a slab that is consumed has no thickness that could be told.
const LOST_MOST: f64 = 0.9;

/// A reaction of first order: at the rate exp(ln A − E/(R T)) what is left of its mass turns into
/// residue, which stays, gas, which leaves outwards, and vapour, which the slab takes up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reaction {
    /// Mass per volume that it acts on [kg/m³].
    pub rho: f64,
    /// ln A [ln(1/s)].
    pub ln_rate: f64,
    /// E/R [K].
    pub temp_activation: f64,
    /// Residue over the mass converted [–], 0 to 1.
    pub residue: f64,
    /// Heat taken up per mass, counted at [`char::TEMP_REF`] with all that leaves as gas [J/kg].
    pub heat: f64,
    /// Share of vapour in the mass that does not stay [–], 0 to 1.
    pub vapour_share: f64,
}

/// The reactions of a slab.
#[derive(Debug, Clone, PartialEq)]
pub struct Reacting {
    /// Its reactions, at least one.
    pub reactions: Vec<Reaction>,
    /// Mass per volume that the medium's heat capacity belongs to [kg/m³], above 0.
    pub rho: f64,
    /// Share of a loss of mass by which the slab gets thinner [–], 0 to 1.
    pub thinning: f64,
    /// Conductivity by radiation within it, over the cube of the temperature [W/(m·K⁴)]; it grows as
    /// what is left stands apart.
    pub k_radiation: f64,
}

impl Reaction {
    /// Mass per volume that leaves as gas when all is converted [kg/m³].
    pub fn gas(&self) -> f64 {
        self.rho * (1.0 - self.residue) * (1.0 - self.vapour_share)
    }

    /// Mass per volume that the slab takes up as vapour when all is converted [kg/m³].
    pub fn vapour(&self) -> f64 {
        self.rho * (1.0 - self.residue) * self.vapour_share
    }

    /// Heat per volume that conversion keeps, whatever the temperature [J/m³]. What the vapour brings
    /// to the account of vapour, whose datum is another, is taken from it.
    pub fn heat_kept(&self) -> f64 {
        self.rho * self.heat - self.vapour() * vapour::enthalpy_vapour(char::TEMP_REF)
    }
}

impl Reacting {
    /// Whether all values are within their bounds.
    pub(crate) fn is_usable(&self) -> bool {
        let share = |value: f64| (0.0..=1.0).contains(&value);
        let of_slab = self.rho.is_finite() && self.rho > 0.0 && share(self.thinning);
        let usable = |reaction: &Reaction| {
            let Reaction { rho, ln_rate, temp_activation, residue, heat, vapour_share } = *reaction;
            let finite = [rho, ln_rate, temp_activation, heat].iter().all(|v| v.is_finite());
            finite && rho >= 0.0 && temp_activation > 0.0 && share(residue) && share(vapour_share)
        };
        let held = self.reactions.iter().map(|reaction| reaction.rho).sum::<f64>() / self.rho;
        let radiates = self.k_radiation.is_finite() && self.k_radiation >= 0.0;
        let all = of_slab && radiates && held <= 1.0 + 1e-9 && !self.reactions.is_empty();
        all && self.reactions.iter().all(usable)
    }

    /// Heat that conversion adds at `temp` [K] per volume, beyond that of the unconverted slab whose
    /// heat capacity per volume is `rho_cp` [J/m³]; `converted` holds each reaction's share.
    pub fn heat(&self, temp: f64, rho_cp: &Law, converted: &[f64]) -> f64 {
        let unconverted = (rho_cp.integral(temp) - rho_cp.integral(char::TEMP_REF)) / self.rho;
        let residue = char::char_enthalpy(temp).value;
        let of = |(reaction, share): (&Reaction, &f64)| {
            let warmed = reaction.residue * residue - unconverted;
            share * (reaction.rho * warmed + reaction.heat_kept())
        };
        self.reactions.iter().zip(converted).map(of).sum()
    }

    /// Conductivity over the thickness at the start, of a slab that has `k` unconverted
    /// [W/(m·K)]: what is left is thinner and open to radiation.
    pub fn conductivity(&self, k: f64, temp: f64, converted: &[f64]) -> f64 {
        let [thinner, opener] = opened(self.lost(converted), self.thinning);
        thinner * (k + opener * self.k_radiation * temp.powi(3))
    }

    /// Share of the slab's mass that is lost once `converted` of each reaction's are [–].
    pub fn lost(&self, converted: &[f64]) -> f64 {
        let of = |(reaction, share): (&Reaction, &f64)| {
            share * reaction.rho * (1.0 - reaction.residue) / self.rho
        };
        self.reactions.iter().zip(converted).map(of).sum::<f64>().min(LOST_MOST)
    }
}

/// How many times better a slab passes heat because it is thinner, and by how much its openness to
/// radiation has grown, once the share `lost` of its mass is gone [–].
#[inline(always)]
pub(crate) fn opened(lost: f64, thinning: f64) -> [f64; 2] {
    let lost = lost.min(LOST_MOST);
    [1.0 / (1.0 - thinning * lost), (1.0 - thinning) * lost / (1.0 - lost)]
}
