//! How much alike two layups are, as far as their errors of prediction go.

use crate::garment::fabric::{Fabric, Role};
use crate::garment::layup::{Entry, Layup, Quilting};

/// Share of the error's variance that is a layup's own: no other layup tells of it [–].
///
/// A choice, no source. Nominally equal felts of one maker read up to 23 % apart
/// (Fibres & Textiles in Eastern Europe 2023), so that a good part of an error is nobody else's.
const OWN_SHARE: f64 = 0.3;

/// Distance at which what is left of likeness falls to e^(−1/2), along each measure.
///
/// Choices, no source: half as much again of mass or thickness, a ply and a half, a third of the
/// thickness in air, five points of regain.
mod scale {
    pub const LN_MASS: f64 = 0.4;
    pub const LN_THICKNESS: f64 = 0.4;
    pub const PLIES: f64 = 1.5;
    pub const GAP_SHARE: f64 = 0.33;
    pub const REGAIN: f64 = 0.05;
    /// Between a layup whose bulk is felt and one whose bulk is cloth.
    pub const STRUCTURE: f64 = 1.5;
}

/// The measures by which layups are compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Likeness {
    /// ln of the areal density in kg/m².
    pub ln_mass: f64,
    /// ln of the thickness with gaps in m.
    pub ln_thickness: f64,
    /// Number of plies.
    pub n_plies: f64,
    /// Share of the thickness that is air between plies [–].
    pub gap_share: f64,
    /// Mean regain of the plies by mass [kg/kg].
    pub regain: f64,
    /// Share of the plies' thickness that is felt [–].
    pub felt_share: f64,
}

/// What tells one layup from another: its fabrics with mass and thickness, gaps, pressure, quilting.
///
/// Names of layups and how values are known do not count; lengths and masses do to four digits.
pub fn key(layup: &Layup) -> String {
    let mut key = String::new();
    for entry in &layup.stack {
        key.push_str(&match entry {
            Entry::Ply(ply) => {
                let Fabric { name, areal_density, thickness, .. } = &ply.fabric;
                format!("{name} {:.3e} {:.3e};", areal_density.value, thickness.value)
            }
            Entry::Gap(gap) => format!("air {:.3e};", gap.thickness.value),
        });
    }
    if let Some(pressure) = &layup.pressure {
        key.push_str(&format!("under {:.3e};", pressure.value));
    }
    if let Some(Quilting { pattern, pitch, stitch_width, loft, pressed, .. }) = &layup.quilting {
        key.push_str(pattern.word());
        for length in [pitch, stitch_width, loft, pressed] {
            key.push_str(&format!(" {:.3e}", length.value));
        }
    }
    key
}

impl Likeness {
    /// The measures of a layup, flat.
    pub fn of(layup: &Layup) -> Likeness {
        let (mut mass, mut plies, mut gaps, mut water, mut felt) = (0.0, 0.0, 0.0, 0.0, 0.0);
        let mut n_plies = 0;
        for entry in &layup.stack {
            match entry {
                Entry::Ply(ply) => {
                    let fabric = &ply.fabric;
                    n_plies += 1;
                    mass += fabric.areal_density.value;
                    plies += fabric.thickness.value;
                    water += fabric.areal_density.value * fabric.regain.value;
                    if fabric.role == Role::Felt {
                        felt += fabric.thickness.value;
                    }
                }
                Entry::Gap(gap) => gaps += gap.thickness.value,
            }
        }
        Likeness {
            ln_mass: libm::log(mass),
            ln_thickness: libm::log(plies + gaps),
            n_plies: f64::from(n_plies),
            gap_share: gaps / (plies + gaps),
            regain: water / mass,
            felt_share: felt / plies,
        }
    }

    /// Squared distance in units of the scales [–].
    pub fn distance_squared(&self, other: &Likeness) -> f64 {
        let parts = [
            (self.ln_mass - other.ln_mass) / scale::LN_MASS,
            (self.ln_thickness - other.ln_thickness) / scale::LN_THICKNESS,
            (self.n_plies - other.n_plies) / scale::PLIES,
            (self.gap_share - other.gap_share) / scale::GAP_SHARE,
            (self.regain - other.regain) / scale::REGAIN,
            (self.felt_share - other.felt_share) / scale::STRUCTURE,
        ];
        parts.iter().map(|part| part * part).sum()
    }

    /// Correlation of the errors of two layups that are not one and the same [–].
    pub fn correlation(&self, other: &Likeness) -> f64 {
        (1.0 - OWN_SHARE) * libm::exp(-0.5 * self.distance_squared(other))
    }
}
