//! Skin as the burn models of the standards see it.

/// One layer of skin.
#[derive(Debug, Clone, PartialEq)]
pub struct SkinLayer {
    /// Name, such as "epidermis".
    pub name: String,
    /// Thickness [m].
    pub thickness: f64,
    /// Thermal conductivity [W/(m·K)].
    pub k: f64,
    /// Heat capacity per volume [J/(m³·K)].
    pub rho_cp: f64,
    /// Perfusion: heat taken by blood per volume and kelvin [W/(m³·K)], 0 for none.
    pub perfusion: f64,
}

/// Damage rate P·exp(−ΔE/(R·T)) over one range of temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DamageRange {
    /// Lower end, included for the lowest range only [K].
    pub temp_from: f64,
    /// Natural logarithm of the frequency factor P [ln(1/s)].
    pub ln_rate: f64,
    /// Activation energy over the gas constant, ΔE/R [K].
    pub temp_activation: f64,
}

/// The burn integral's coefficients at one depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Damage {
    /// Ranges in order of temperature; no damage below the first.
    pub ranges: Vec<DamageRange>,
}

/// A skin model.
#[derive(Debug, Clone, PartialEq)]
pub struct Skin {
    /// Unique name on the shelf.
    pub name: String,
    /// What it is, in words.
    pub description: String,
    /// Layers, outermost first: epidermis, dermis, subcutaneous tissue.
    pub layers: Vec<SkinLayer>,
    /// Temperature of the surface at the start [K].
    pub temp_surface: f64,
    /// Temperature held at the back of the last layer [K].
    pub temp_core: f64,
    /// Damage at the base of the epidermis.
    pub basal: Damage,
    /// Damage at the base of the dermis.
    pub dermal: Damage,
    /// Key of the source in the shelf's list.
    pub source: String,
}
