//! The properties of a layup and its exposure, each of which can be scaled alone.

use crate::garment::exposure::{Exposure, Flux};
use crate::garment::known::Known;
use crate::garment::layup::{Entry, Layup, Quilting};
use crate::garment::property::OfPly;
use crate::physics::units::{
    AREAL_HEAT_CAPACITY, BARE, CELSIUS, KILOWATTS_PER_AREA, MILLIMETRES, Quantity, celsius, kelvin,
};
use crate::study::quilt::lay::press_in_proportion;

/// A length of the quilting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfQuilting {
    /// Distance between neighbouring stitch lines.
    Pitch,
    /// Width over which a stitch line presses the plies.
    StitchWidth,
    /// Air between the plies at the middle of a cell.
    Loft,
    /// Thickness of the plies at a stitch line.
    Pressed,
}

impl OfQuilting {
    /// All of them.
    pub const ALL: [OfQuilting; 4] =
        [OfQuilting::Pitch, OfQuilting::StitchWidth, OfQuilting::Loft, OfQuilting::Pressed];

    /// Its name in words.
    pub fn word(self) -> &'static str {
        match self {
            OfQuilting::Pitch => "pitch of stitch lines",
            OfQuilting::StitchWidth => "width of stitch lines",
            OfQuilting::Loft => "loft",
            OfQuilting::Pressed => "pressed thickness",
        }
    }

    fn of(self, quilting: &mut Quilting) -> &mut Known {
        match self {
            OfQuilting::Pitch => &mut quilting.pitch,
            OfQuilting::StitchWidth => &mut quilting.stitch_width,
            OfQuilting::Loft => &mut quilting.loft,
            OfQuilting::Pressed => &mut quilting.pressed,
        }
    }
}

/// Something that can be scaled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    /// A property of ply `j`, 0 outermost.
    Ply(usize, OfPly),
    /// Thickness of gap `j`, 0 outermost.
    Gap(usize),
    /// A length of the quilting.
    Quilting(OfQuilting),
    /// Flux of the exposure.
    Flux,
    /// Radiant share of it.
    RadiantShare,
    /// Temperature of the flame's gas, per percent of its value in °C; the flux stays.
    FlameTemperature,
    /// Heat capacity of the disc.
    DiscHeatCapacity,
}

/// The properties that are not zero, in the order of the stack; those of a quilting if the layup has one.
pub fn properties(layup: &Layup, exposure: &Exposure) -> Vec<Property> {
    let of_plies = (0..layup.plies().count())
        .flat_map(|j| OfPly::MOVED.into_iter().map(move |of| Property::Ply(j, of)));
    let of_gaps = (0..layup.gaps().count()).map(Property::Gap);
    let others = [
        Property::Flux,
        Property::RadiantShare,
        Property::FlameTemperature,
        Property::DiscHeatCapacity,
    ];
    let of_quilting = OfQuilting::ALL.map(Property::Quilting);
    let all = of_plies.chain(of_gaps).chain(of_quilting).chain(others);
    // a purely radiant source has no gas, and the first gas would be another kind of exposure
    let of_gas = [Property::FlameTemperature, Property::RadiantShare];
    all.filter(|property| {
        let gas = exposure.radiant_share < 1.0 || !of_gas.contains(property);
        gas && property.value(layup, exposure) != 0.0
    })
    .collect()
}

impl Property {
    /// The unit of its value outside.
    pub fn quantity(self) -> Quantity {
        match self {
            Property::Ply(_, of) => of.quantity(),
            Property::Gap(_) | Property::Quilting(_) => MILLIMETRES,
            Property::Flux => KILOWATTS_PER_AREA,
            Property::RadiantShare => BARE,
            Property::FlameTemperature => CELSIUS,
            Property::DiscHeatCapacity => AREAL_HEAT_CAPACITY,
        }
    }

    /// The key that files have for it.
    pub fn key(self) -> String {
        self.quantity().key(match self {
            Property::Ply(_, of) => of.name(),
            Property::Gap(_) => "gap",
            Property::Quilting(of) => of.word(),
            Property::Flux => "flux",
            Property::RadiantShare => "radiant_share",
            Property::FlameTemperature => "flame_temperature",
            Property::DiscHeatCapacity => "disc_heat_capacity",
        })
    }

    /// Its value, SI; a property that varies with temperature at 25 °C, a varying flux at its most.
    pub fn value(self, layup: &Layup, exposure: &Exposure) -> f64 {
        match self {
            Property::Ply(j, of) => layup.plies().nth(j).map_or(0.0, |ply| of.value(&ply.fabric)),
            Property::Gap(j) => layup.gaps().nth(j).map_or(0.0, |gap| gap.thickness.value),
            Property::Quilting(of) => {
                layup.quilting.clone().map_or(0.0, |mut quilting| of.of(&mut quilting).value)
            }
            Property::Flux => match &exposure.flux {
                Flux::Steady(flux) => *flux,
                Flux::Series(points) => points.iter().map(|point| point.1).fold(0.0, f64::max),
            },
            Property::RadiantShare => exposure.radiant_share,
            Property::FlameTemperature => exposure.temp_flame,
            Property::DiscHeatCapacity => exposure.disc.cap_area(),
        }
    }

    /// The largest factor that leaves the property admissible; none when there is nothing to scale.
    pub fn factor_most(self, layup: &Layup, exposure: &Exposure) -> Option<f64> {
        let value = self.value(layup, exposure);
        if value == 0.0 {
            return None;
        }
        match self {
            Property::RadiantShare => Some(1.0 / value),
            Property::Ply(_, of) if of.is_share() => Some(1.0 / value),
            Property::Quilting(OfQuilting::StitchWidth) => {
                Some(Property::Quilting(OfQuilting::Pitch).value(layup, exposure) / value)
            }
            Property::Quilting(OfQuilting::Pressed) => Some(layup.plies_thickness() / value),
            _ => Some(f64::INFINITY),
        }
    }

    /// Multiplies the property by `factor`; stitch lines press a ply of another thickness in proportion.
    pub fn scale(self, layup: &mut Layup, exposure: &mut Exposure, factor: f64) {
        match self {
            Property::Ply(j, of) => {
                let before = layup.plies_thickness();
                if let Some(ply) = layup.plies_mut().nth(j) {
                    of.scale(&mut ply.fabric, factor);
                }
                press_in_proportion(layup, before);
            }
            Property::Gap(j) => {
                let mut gaps = layup.stack.iter_mut().filter_map(|entry| match entry {
                    Entry::Gap(gap) => Some(gap),
                    Entry::Ply(_) => None,
                });
                if let Some(gap) = gaps.nth(j) {
                    gap.thickness.value *= factor;
                }
            }
            Property::Quilting(of) => {
                if let Some(quilting) = &mut layup.quilting {
                    of.of(quilting).value *= factor;
                }
            }
            Property::Flux => match &mut exposure.flux {
                Flux::Steady(flux) => *flux *= factor,
                Flux::Series(points) => points.iter_mut().for_each(|point| point.1 *= factor),
            },
            Property::RadiantShare => exposure.radiant_share *= factor,
            Property::FlameTemperature => {
                exposure.temp_flame = kelvin(factor * celsius(exposure.temp_flame));
            }
            Property::DiscHeatCapacity => exposure.disc.cp *= factor,
        }
    }
}
