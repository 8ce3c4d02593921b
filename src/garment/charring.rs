//! How a fibre turns to char and gas, as data.

use crate::garment::known::{Known, Provenance};
use crate::physics::char::THINNING_SHARE;

/// Kinetics of charring of a fibre, every value with its provenance.
#[derive(Debug, Clone, PartialEq)]
pub struct Charring {
    /// Activation energy [J/mol].
    pub energy: Known,
    /// Where conversion is fastest while warming at 10 K/min [K].
    pub temp_peak: Known,
    /// Mass of char over mass of fibre converted [–], 0 to 1.
    pub residue: Known,
    /// Heat taken up per mass of dry fibre, counted at 25 °C [J/kg]; negative when given off.
    pub heat: Known,
    /// Share of water vapour in the mass of the gas [–], 0 to 1.
    pub water_share: Known,
    /// Share of a loss of mass by which a ply gets thinner [–], 0 to 1; the rest of it opens the ply.
    pub thinning: Known,
}

impl Charring {
    /// How a ply gets thinner where nothing is known of it: half way between neither and all, any share
    /// being as likely.
    pub fn thinning() -> Known {
        Known { tolerance: Some(1.0), ..Known::new(THINNING_SHARE, Provenance::Stated, "") }
    }
}

/// A fibre that chars, in a fibre or blend.
#[derive(Debug, Clone, PartialEq)]
pub struct CharringPart {
    /// Name of the fibre on the shelf.
    pub fibre: String,
    /// Its share of the dry mass [–], above 0.
    pub share: f64,
    /// How it chars.
    pub charring: Charring,
}
