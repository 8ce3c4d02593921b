//! A fabric as it lies on the shelf: everything a ply takes from it, in SI.

use crate::garment::charring::CharringPart;
use crate::garment::fibre::Limit;
use crate::garment::known::Known;
use crate::physics::law::Law;

/// What a fabric is for in a garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// Woven outer fabric.
    Outer,
    /// Felt, batting or other nonwoven that holds air.
    Felt,
    /// Moisture barrier or other membrane laminate.
    Barrier,
    /// Lining woven or ripstop.
    Lining,
    /// Inner knit next to the skin.
    Inner,
    /// Embroidery, patch or trim.
    Embroidery,
}

impl Role {
    /// All of them, outermost first.
    pub const ALL: [Role; 6] =
        [Role::Outer, Role::Felt, Role::Barrier, Role::Lining, Role::Inner, Role::Embroidery];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Role::Outer => "outer",
            Role::Felt => "felt",
            Role::Barrier => "barrier",
            Role::Lining => "lining",
            Role::Inner => "inner",
            Role::Embroidery => "embroidery",
        }
    }
}

/// Heat taken up once while a fabric is heated through a window of temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Decomposition {
    /// Heat per mass of dry fibre [J/kg], positive when taken up.
    pub heat: Known,
    /// Start of the window [K].
    pub temp_from: f64,
    /// End of the window [K].
    pub temp_to: f64,
}

/// A fabric, every value with its provenance; blanks of the file are already estimated.
#[derive(Debug, Clone, PartialEq)]
pub struct Fabric {
    /// Unique name on the shelf, lower case with hyphens.
    pub name: String,
    /// What it is, in words.
    pub description: String,
    /// What it is for.
    pub role: Role,
    /// Name of the fibre on the shelf.
    pub fibre: String,
    /// Areal density, conditioned, moisture included [kg/m²].
    pub areal_density: Known,
    /// Thickness at `thickness_pressure` [m].
    pub thickness: Known,
    /// Pressure at which the thickness holds [Pa]; none when not stated.
    pub thickness_pressure: Option<f64>,
    /// Measured thickness at other pressures, `(pressure [Pa], thickness [m])`, pressure increasing.
    pub compression: Vec<(f64, f64)>,
    /// Thermal conductivity by temperature [W/(m·K)].
    pub conductivity: Known<Law>,
    /// Specific heat of the dry fibre by temperature [J/(kg·K)].
    pub specific_heat: Known<Law>,
    /// Mean depth of air between the crowns of a face and a plane laid on it at bench pressure,
    /// beyond what the thickness contains [m].
    pub face_void: Known,
    /// Emissivity of either face, equal to the share of radiation not reflected [–].
    pub emissivity: Known,
    /// Share of the radiation that enters which crosses the whole ply [–], 0 for an opaque ply.
    pub transmissivity: Known,
    /// Water per dry fibre at the conditioning climate [kg/kg].
    pub regain: Known,
    /// Regain at which mass, thickness and conductivity hold [kg/kg]; what a layup's own `regain`
    /// exceeds it by is water that was added.
    pub regain_conditioned: f64,
    /// Regain of its fibre as the shelf has it [kg/kg]: what the fibre itself takes up.
    pub fibre_regain: f64,
    /// Resistance to water vapour of what is laid on the fabric, such as a membrane, beyond that of
    /// its fibres [m²·Pa/W]; 0 for none.
    pub vapour_resistance: Known,
    /// Density of the fibre substance [kg/m³].
    pub fibre_density: Known,
    /// Conductivity of the fibre substance [W/(m·K)].
    pub fibre_conductivity: Known,
    /// Heat that the dry fibre takes up while it decomposes; none where it is not known.
    pub decomposition: Option<Decomposition>,
    /// What of its fibres chars, with its share of the dry mass; empty where no kinetics are known
    /// or where `decomposition` speaks for it.
    pub charring: Vec<CharringPart>,
    /// Onset of decomposition or melting [K].
    pub temp_limit: Known,
    /// What happens at the limit, for the reader ("decomposes", "melts").
    pub limit_event: String,
    /// The limit of what has no kinetics of charring, or the fabric's own; none where all of it has.
    pub limit_unfollowed: Option<Limit>,
}

impl Fabric {
    /// Areal density without its water [kg/m²].
    pub fn dry_density(&self) -> f64 {
        self.areal_density.value / (1.0 + self.regain.value)
    }
}
