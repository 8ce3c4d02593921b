//! The second quantity beside heat: a vapour that moves through slabs and air, and what binds it.
//!
//! Its physics is that of water ([`vapour`], [`sorption`]); how much a
//! slab binds and lets through is the description's business.

use crate::physics::{air, sorption, vapour};

/// How a slab binds vapour and lets it through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sorbent {
    /// What it binds per volume in balance with 65 % of saturation [kg/m³], above 0.
    pub bound_65: f64,
    /// What it holds per volume at the start, bound and liquid [kg/m³], 0 or more.
    pub held_start: f64,
    /// Share of its volume that is pores [–], 0 to 1.
    pub porosity: f64,
    /// Diffusion through it over that through still air [–], above 0 and at most 1.
    pub openness: f64,
    /// Share of air in its pores below which vapour flows rather than diffuses [–], above 0 and at most 1.
    pub cut_off: f64,
    /// Conductivity that each further `bound_65` beyond the first brings [W/(m·K)], 0 or more.
    pub k_wet: f64,
    /// What is set free in it, for manufactured solutions.
    pub supply: Option<Supply>,
}

/// What is set free per volume, as a function of place [m] and time [s], for manufactured solutions:
/// heat [W/m³] or vapour [kg/(m³·s)].
pub type Source = fn(x: f64, t: f64) -> f64;

/// Vapour set free per volume, as a function of place [m] and time [s] [kg/(m³·s)].
#[derive(Debug, Clone, Copy)]
pub struct Supply(pub Source);

impl PartialEq for Supply {
    fn eq(&self, other: &Supply) -> bool {
        std::ptr::fn_addr_eq(self.0, other.0)
    }
}

impl Sorbent {
    /// Whether all values are within their bounds.
    pub(crate) fn is_usable(&self) -> bool {
        let Sorbent { bound_65, held_start, porosity, openness, cut_off, k_wet, .. } = *self;
        let values = [bound_65, held_start, porosity, openness, cut_off, k_wet];
        let within = |value: f64| value > 0.0 && value <= 1.0;
        values.iter().all(|value| value.is_finite() && *value >= 0.0)
            && bound_65 > 0.0
            && porosity <= 1.0
            && within(openness)
            && within(cut_off)
    }

    /// Heat that what it holds at `temp` [K] keeps, per volume, beyond that of liquid at the datum [J/m³];
    /// `held` is what is bound or liquid [kg/m³].
    pub fn heat(&self, temp: f64, held: f64) -> f64 {
        let ratio = held / self.bound_65;
        let bound = self.bound_65 * sorption::heat_bound(ratio).value;
        let airborne = self.porosity * self.airborne(temp, held);
        held * vapour::enthalpy_liquid(temp) - bound + airborne * vapour::enthalpy_vapour(temp)
    }

    /// Vapour in its pores per volume of pores at `temp` [K] [kg/m³]; `held` is what is bound or liquid [kg/m³].
    pub fn airborne(&self, temp: f64, held: f64) -> f64 {
        airborne(held / self.bound_65, temp)
    }

    /// Conductivity that what it holds adds [W/(m·K)]; `held` is what is bound or liquid [kg/m³].
    pub fn conductivity(&self, held: f64) -> f64 {
        self.k_wet * (held / self.bound_65 - 1.0).max(0.0)
    }
}

/// Vapour per volume of air that stands in balance with what is bound [kg/m³].
///
/// - `ratio`: what is bound over that at 65 % of saturation [–], 0 or more
/// - `temp`: temperature [K]
pub fn airborne(ratio: f64, temp: f64) -> f64 {
    let p = sorption::activity(ratio, temp) * vapour::saturation_pressure(temp).value;
    p / (vapour::GAS_CONSTANT_VAPOUR * temp)
}

/// Whether vapour can stand at that pressure [Pa] in air.
pub(crate) fn is_vapour_pressure(p: f64) -> bool {
    p.is_finite() && (0.0..air::PRESSURE).contains(&p)
}
