//! The properties of a layup and its exposure, each of which can be scaled alone.

use crate::garment::charring;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::fabric::Fabric;
use crate::garment::known::Known;
use crate::garment::layup::{Entry, Layup, Quilting};
use crate::physics::law::Law;
use crate::physics::units::{
    AREAL_HEAT_CAPACITY, BARE, CELSIUS, CONDUCTIVITY, CONDUCTIVITY_RISE, GRAMS_PER_AREA,
    KILOJOULES_PER_MASS, KILOWATTS_PER_AREA, MICROMETRES, MILLIMETRES, PERCENT, Quantity,
    SPECIFIC_HEAT, celsius, kelvin,
};
use crate::study::quilt::lay::press_in_proportion;

/// Temperature about which the rise of a property turns [°C].
const TEMP_REF_C: f64 = 25.0;

/// A property of a ply.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfPly {
    /// Conductivity, at all temperatures alike.
    Conductivity,
    /// Rise of conductivity with temperature, its value at 25 °C held.
    ConductivityRise,
    /// Specific heat of the dry fibre, at all temperatures alike.
    SpecificHeat,
    /// Areal density at fixed thickness.
    ArealDensity,
    /// Thickness at fixed areal density; conductivity and face void held.
    Thickness,
    /// Emissivity of both faces.
    Emissivity,
    /// Transmissivity.
    Transmissivity,
    /// Regain at fixed areal density.
    Regain,
    /// Void of both faces.
    FaceVoid,
    /// Heat that charring takes up, of all fibres alike.
    CharHeat,
    /// Share of a loss of mass by which the ply gets thinner.
    Thinning,
}

impl OfPly {
    /// All of them.
    pub const ALL: [OfPly; 11] = [
        OfPly::Conductivity,
        OfPly::ConductivityRise,
        OfPly::SpecificHeat,
        OfPly::ArealDensity,
        OfPly::Thickness,
        OfPly::Emissivity,
        OfPly::Transmissivity,
        OfPly::Regain,
        OfPly::FaceVoid,
        OfPly::CharHeat,
        OfPly::Thinning,
    ];

    /// Its name in words, that of its key without the unit, and its unit.
    fn named(self) -> (&'static str, &'static str, Quantity) {
        match self {
            OfPly::Conductivity => ("conductivity", "conductivity", CONDUCTIVITY),
            OfPly::ConductivityRise => {
                ("rise of conductivity", "conductivity_rise", CONDUCTIVITY_RISE)
            }
            OfPly::SpecificHeat => ("specific heat", "specific_heat", SPECIFIC_HEAT),
            OfPly::ArealDensity => ("areal density", "areal_density", GRAMS_PER_AREA),
            OfPly::Thickness => ("thickness", "thickness", MILLIMETRES),
            OfPly::Emissivity => ("emissivity", "emissivity", BARE),
            OfPly::Transmissivity => ("transmissivity", "transmissivity", BARE),
            OfPly::Regain => ("regain", "regain", PERCENT),
            OfPly::FaceVoid => ("face void", "face_void", MICROMETRES),
            OfPly::CharHeat => ("heat of charring", "char_heat", KILOJOULES_PER_MASS),
            OfPly::Thinning => ("thinning by charring", "char_thinning", BARE),
        }
    }

    /// Its name in words.
    pub fn word(self) -> &'static str {
        self.named().0
    }
}

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
        .flat_map(|j| OfPly::ALL.into_iter().map(move |of| Property::Ply(j, of)));
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
            Property::Ply(_, of) => of.named().2,
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
            Property::Ply(_, of) => of.named().1,
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
            Property::Ply(j, of) => layup.plies().nth(j).map_or(0.0, |ply| {
                let fabric = &ply.fabric;
                let temp = kelvin(TEMP_REF_C);
                match of {
                    OfPly::Conductivity => fabric.conductivity.value.at(temp),
                    OfPly::ConductivityRise => rise(&fabric.conductivity.value),
                    OfPly::SpecificHeat => fabric.specific_heat.value.at(temp),
                    OfPly::ArealDensity => fabric.areal_density.value,
                    OfPly::Thickness => fabric.thickness.value,
                    OfPly::Emissivity => fabric.emissivity.value,
                    OfPly::Transmissivity => fabric.transmissivity.value,
                    OfPly::Regain => fabric.regain.value,
                    OfPly::FaceVoid => fabric.face_void.value,
                    OfPly::CharHeat => charring::mean(&fabric.charring, |of| of.heat.value),
                    OfPly::Thinning => charring::mean(&fabric.charring, |of| of.thinning.value),
                }
            }),
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
            Property::RadiantShare
            | Property::Ply(_, OfPly::Emissivity | OfPly::Transmissivity | OfPly::Thinning) => {
                Some(1.0 / value)
            }
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
                    scale_fabric(&mut ply.fabric, of, factor);
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

fn scale_fabric(fabric: &mut Fabric, of: OfPly, factor: f64) {
    match of {
        OfPly::Conductivity => {
            fabric.conductivity.value = fabric.conductivity.value.scaled(factor);
        }
        OfPly::ConductivityRise => {
            // value at 25 °C held, all that lies above or below it scaled
            let law = fabric.conductivity.value.scaled(factor);
            let at = |law: &Law| law.at(kelvin(TEMP_REF_C));
            let base = law.base + at(&fabric.conductivity.value) - at(&law);
            fabric.conductivity.value = Law { base, ..law };
        }
        OfPly::SpecificHeat => {
            fabric.specific_heat.value = fabric.specific_heat.value.scaled(factor);
        }
        OfPly::ArealDensity => fabric.areal_density.value *= factor,
        OfPly::Thickness => fabric.thickness.value *= factor,
        OfPly::Emissivity => fabric.emissivity.value *= factor,
        OfPly::Transmissivity => fabric.transmissivity.value *= factor,
        OfPly::Regain => {
            fabric.regain.value *= factor;
            // a fabric of another regain is conditioned at that one, not wetted
            fabric.regain_conditioned *= factor;
        }
        OfPly::FaceVoid => fabric.face_void.value *= factor,
        OfPly::CharHeat => {
            fabric.charring.iter_mut().for_each(|part| part.charring.heat.value *= factor);
        }
        OfPly::Thinning => {
            fabric.charring.iter_mut().for_each(|part| part.charring.thinning.value *= factor);
        }
    }
}

/// Change of a law from 25 to 125 °C, per kelvin.
fn rise(law: &Law) -> f64 {
    (law.at(kelvin(TEMP_REF_C + 100.0)) - law.at(kelvin(TEMP_REF_C))) / 100.0
}
