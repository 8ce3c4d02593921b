//! Tolerances taken where a value gives none of its own.
//!
//! A tolerance is the half width of the central 95 % of the values, as a share of the value. Every
//! number here is common practice without a source, but where a line says otherwise: give your
//! own `…_tolerance_pct` wherever you know better.

use crate::garment::known::Provenance;

/// Half width of the central 95 % of a standard normal variable.
pub const HALF_95: f64 = 1.959963984540054;

/// Which default a property goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Areal density.
    Mass,
    /// Thickness of a ply.
    Thickness,
    /// Emissivity of a face, a dark textile's being known well.
    Emissivity,
    /// Conductivity, specific heat, transmissivity, regain, void of a face, thickness of a gap.
    Other,
    /// Heat that charring takes up.
    CharHeat,
}

/// Tolerance by class, from how a value is known [–]; columns in the order of [`Class`].
///
/// Common practice, no source; ±25 % for an estimate is the estimate's own aim. Heats of charring are our
/// choice: what is given off and taken up nearly balances, so that small shifts between char and gas move
/// their sum by much of itself.
#[rustfmt::skip]
const BY_PROVENANCE: [(Provenance, [f64; 5]); 9] = [
    //                            mass  thickness emissivity other heat of charring
    (Provenance::Measured,       [0.02, 0.04, 0.02, 0.05, 0.10]),
    (Provenance::DataSheet,      [0.05, 0.10, 0.04, 0.10, 0.25]),
    (Provenance::Published,      [0.05, 0.08, 0.04, 0.10, 0.25]),
    (Provenance::Memory,         [0.05, 0.10, 0.05, 0.15, 0.50]),
    (Provenance::Stated,         [0.08, 0.15, 0.05, 0.20, 0.50]),
    (Provenance::CommonPractice, [0.08, 0.15, 0.05, 0.20, 0.50]),
    (Provenance::Estimated,      [0.15, 0.25, 0.08, 0.25, 0.50]),
    (Provenance::Fitted,         [0.05, 0.08, 0.05, 0.10, 0.25]),
    (Provenance::Invented,       [0.10, 0.20, 0.08, 0.25, 0.50]),
];

/// The default of a class for a provenance [–].
pub fn by_provenance(class: Class, provenance: Provenance) -> f64 {
    let row = BY_PROVENANCE.iter().find(|(of, _)| *of == provenance);
    row.map_or(0.25, |(_, columns)| columns[class as usize])
}

/// Mass of one delivered lot against the next [–]. Common practice, no source.
pub const LOT_MASS: f64 = 0.05;
/// Thickness of one delivered lot against the next [–]. Common practice, no source.
pub const LOT_THICKNESS: f64 = 0.08;
/// Mass of one specimen against the next out of a lot [–]. Common practice, no source.
pub const SPECIMEN_MASS: f64 = 0.02;
/// Thickness of one specimen against the next out of a lot [–]. Common practice, no source.
pub const SPECIMEN_THICKNESS: f64 = 0.03;
/// Correlation of mass and thickness, of lots and of specimens: more fibre stands higher [–].
/// Common practice, no source.
pub const MASS_WITH_THICKNESS: f64 = 0.6;
/// Thickness of a gap, or loft of a quilting, in one specimen against the next [–]. Common practice, no source.
pub const GAP_SCATTER: f64 = 0.20;

/// Flux of the method, a limit and not a spread: any value within is as likely [–]. Source: ISO 9151
/// sets the flux to 80 kW/m² within 5 %, from memory; taken for the other methods, too.
pub const FLUX: f64 = 0.05;
/// Radiant share of the flux [–]. Common practice, no source.
pub const RADIANT_SHARE: f64 = 0.20;
/// Temperature of the flame's gas in °C [–]. Common practice, no source.
pub const FLAME_TEMPERATURE: f64 = 0.05;
/// Heat capacity of the disc [–]. Common practice, no source.
pub const DISC_HEAT_CAPACITY: f64 = 0.01;

/// Specimens of a set where the user names no number: three in ISO 9151, ISO 6942 and ISO 17492,
/// from memory.
pub const N_SPECIMENS: usize = 3;

#[cfg(test)]
mod tests {
    use super::{Class, by_provenance};
    use crate::garment::known::Provenance;

    #[test]
    fn every_provenance_has_a_tolerance_and_an_estimate_has_25_percent() {
        assert_eq!(by_provenance(Class::Other, Provenance::Estimated), 0.25);
        for provenance in Provenance::ALL {
            let estimates = [Class::Mass, Class::Thickness, Class::Emissivity, Class::Other];
            for (class, most) in
                estimates.map(|class| (class, 0.25)).into_iter().chain([(Class::CharHeat, 0.5)])
            {
                let tolerance = by_provenance(class, provenance);
                let measured = by_provenance(class, Provenance::Measured);
                assert!(tolerance >= measured && tolerance <= most, "{class:?} {provenance}");
            }
        }
    }
}
