//! The substance that a fabric's fibres are made of.

use crate::garment::charring::CharringPart;
use crate::garment::known::Known;
use crate::physics::law::Law;

/// A temperature beyond which a fabric is no longer what its values say.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The temperature [K].
    pub temp: Known,
    /// What happens there ("decomposes", "melts").
    pub event: String,
}

/// A fibre, or a blend of fibres by mass, every value with its provenance.
#[derive(Debug, Clone, PartialEq)]
pub struct Fibre {
    /// Unique name on the shelf, such as "meta-aramid"; a blend's as written.
    pub name: String,
    /// What it is, in words.
    pub description: String,
    /// Density of the substance [kg/m³].
    pub density: Known,
    /// Thermal conductivity of the substance across the fibre at room temperature [W/(m·K)].
    pub conductivity: Known,
    /// Specific heat by temperature, dry [J/(kg·K)].
    pub specific_heat: Known<Law>,
    /// Water per dry fibre at the conditioning climate [kg/kg].
    pub regain: Known,
    /// Onset of decomposition or melting [K]; for a blend the lowest of its fibres.
    pub temp_limit: Known,
    /// What happens at the limit ("decomposes", "melts").
    pub limit_event: String,
    /// The same, of what has no kinetics of charring; none where all of it has.
    pub limit_unfollowed: Option<Limit>,
    /// What of it chars, with its share of the mass; empty where no kinetics are known.
    pub charring: Vec<CharringPart>,
}
