//! The properties of a fabric: the one table that whoever reads, writes, lists, moves or prints them asks.

use crate::garment::charring::CharringPart;
use crate::garment::fabric::Fabric;
use crate::garment::known::{Known, Provenance};
use crate::physics::law::Law;
use crate::physics::units::{
    BARE, CELSIUS, CONDUCTIVITY, CONDUCTIVITY_RISE, GRAMS_PER_AREA, KILOGRAMS_PER_VOLUME,
    KILOJOULES_PER_MASS, MICROMETRES, MILLIMETRES, PERCENT, Quantity, SPECIFIC_HEAT,
    VAPOUR_RESISTANCE, kelvin,
};

/// Temperature at which a property stands that varies with it, and about which its rise turns [°C].
pub const TEMP_REF_C: f64 = 25.0;

/// A property of a ply, which it has from its fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfPly {
    /// Areal density; moved at fixed thickness.
    ArealDensity,
    /// Thickness; moved at fixed areal density, conductivity and face void held.
    Thickness,
    /// Conductivity, at all temperatures alike.
    Conductivity,
    /// Rise of conductivity with temperature, its value at 25 °C held.
    ConductivityRise,
    /// Specific heat of the dry fibre, at all temperatures alike.
    SpecificHeat,
    /// Void of both faces.
    FaceVoid,
    /// Emissivity of both faces.
    Emissivity,
    /// Transmissivity.
    Transmissivity,
    /// Regain; moved at fixed areal density.
    Regain,
    /// Resistance to water vapour beyond that of the fibres.
    VapourResistance,
    /// Density of the fibre substance.
    FibreDensity,
    /// Onset of decomposition or melting.
    Limit,
    /// Heat that charring takes up, of all fibres alike.
    CharHeat,
    /// Share of a loss of mass by which the ply gets thinner.
    Thinning,
}

use OfPly::*;

/// Where a fabric has a property, borrowed to be read or to be moved.
enum Held<N, L> {
    /// A number.
    Number(N),
    /// A law of temperature.
    Law(L),
    /// The rise of a law.
    Rise(L),
    /// A number of each fibre that chars.
    Each(Vec<N>),
}

/// The table's column of places, once for both ways of borrowing.
macro_rules! held {
    ($property:expr, $fabric:ident, $iter:ident, $($borrow:tt)+) => {{
        let parts = $fabric.charring.$iter().map(|part| $($borrow)+ part.charring);
        match $property {
            ArealDensity => Held::Number($($borrow)+ $fabric.areal_density),
            Thickness => Held::Number($($borrow)+ $fabric.thickness),
            Conductivity => Held::Law($($borrow)+ $fabric.conductivity),
            ConductivityRise => Held::Rise($($borrow)+ $fabric.conductivity),
            SpecificHeat => Held::Law($($borrow)+ $fabric.specific_heat),
            FaceVoid => Held::Number($($borrow)+ $fabric.face_void),
            Emissivity => Held::Number($($borrow)+ $fabric.emissivity),
            Transmissivity => Held::Number($($borrow)+ $fabric.transmissivity),
            Regain => Held::Number($($borrow)+ $fabric.regain),
            VapourResistance => Held::Number($($borrow)+ $fabric.vapour_resistance),
            FibreDensity => Held::Number($($borrow)+ $fabric.fibre_density),
            Limit => Held::Number($($borrow)+ $fabric.temp_limit),
            CharHeat => Held::Each(parts.map(|of| $($borrow)+ of.heat).collect()),
            Thinning => Held::Each(parts.map(|of| $($borrow)+ of.thinning).collect()),
        }
    }};
}

impl OfPly {
    /// What a fabric itself has, in the order in which its row is written.
    pub const OF_FABRIC: [OfPly; 11] = [
        ArealDensity,
        Thickness,
        Conductivity,
        SpecificHeat,
        FaceVoid,
        Emissivity,
        Transmissivity,
        Regain,
        VapourResistance,
        FibreDensity,
        Limit,
    ];

    /// What can be moved alone, in the order in which it is told.
    pub const MOVED: [OfPly; 11] = [
        Conductivity,
        ConductivityRise,
        SpecificHeat,
        ArealDensity,
        Thickness,
        Emissivity,
        Transmissivity,
        Regain,
        FaceVoid,
        CharHeat,
        Thinning,
    ];

    /// Its plain name, that of its key without the unit.
    pub const fn name(self) -> &'static str {
        self.row().0
    }

    /// Its name in words.
    pub const fn word(self) -> &'static str {
        self.row().1
    }

    /// Its unit outside.
    pub const fn quantity(self) -> Quantity {
        self.row().2
    }

    const fn row(self) -> (&'static str, &'static str, Quantity) {
        match self {
            ArealDensity => ("areal_density", "areal density", GRAMS_PER_AREA),
            Thickness => ("thickness", "thickness", MILLIMETRES),
            Conductivity => ("conductivity", "conductivity", CONDUCTIVITY),
            ConductivityRise => ("conductivity_rise", "rise of conductivity", CONDUCTIVITY_RISE),
            SpecificHeat => ("specific_heat", "specific heat", SPECIFIC_HEAT),
            FaceVoid => ("face_void", "face void", MICROMETRES),
            Emissivity => ("emissivity", "emissivity", BARE),
            Transmissivity => ("transmissivity", "transmissivity", BARE),
            Regain => ("regain", "regain", PERCENT),
            VapourResistance => ("vapour_resistance", "vapour resistance", VAPOUR_RESISTANCE),
            FibreDensity => ("fibre_density", "fibre density", KILOGRAMS_PER_VOLUME),
            Limit => ("limit", "limit", CELSIUS),
            CharHeat => ("char_heat", "heat of charring", KILOJOULES_PER_MASS),
            Thinning => ("char_thinning", "thinning by charring", BARE),
        }
    }

    /// Whether it is a share, at most 1.
    pub fn is_share(self) -> bool {
        matches!(self, Emissivity | Transmissivity | Thinning)
    }

    fn held(self, fabric: &Fabric) -> Held<&Known, &Known<Law>> {
        held!(self, fabric, iter, &)
    }

    fn held_mut(self, fabric: &mut Fabric) -> Held<&mut Known, &mut Known<Law>> {
        held!(self, fabric, iter_mut, &mut)
    }

    /// What a fabric has of it at 25 °C, SI.
    pub fn value(self, fabric: &Fabric) -> f64 {
        self.known(fabric).value
    }

    /// The same with how it is known.
    pub fn known(self, fabric: &Fabric) -> Known {
        self.known_at(fabric, kelvin(TEMP_REF_C))
    }

    /// What a fabric has of it at `temp` [K], SI, and how that is known; of the fibres that
    /// char the mean over their dry mass, 0 where none does, as the least of them is known.
    pub fn known_at(self, fabric: &Fabric, temp: f64) -> Known {
        match self.held(fabric) {
            Held::Number(known) => known.clone(),
            Held::Law(known) => known.map(|law| law.at(temp)),
            Held::Rise(known) => {
                let source = known.rise.as_ref().map_or(&known.source, |rise| &rise.source);
                let rise = Known::new(rise(&known.value), known.rise_provenance(), source.clone());
                // a tolerance given beside the value holds for its rise, too
                Known { tolerance: known.tolerance, ..rise }
            }
            Held::Each(all) => {
                let mean = mean(&fabric.charring, all.iter().map(|known| known.value));
                let weakest = all.iter().map(|known| known.provenance).max();
                let wide = all.iter().map(|known| known.tolerance).reduce(|a, b| Some(a?.max(b?)));
                let known = Known::new(mean, weakest.unwrap_or(Provenance::Stated), "");
                Known { tolerance: wide.flatten(), ..known }
            }
        }
    }

    /// Multiplies it by `factor`.
    pub fn scale(self, fabric: &mut Fabric, factor: f64) {
        if self == Regain {
            // a fabric of another regain is conditioned at that one, not wetted
            fabric.regain_conditioned *= factor;
        }
        match self.held_mut(fabric) {
            Held::Number(known) => known.value *= factor,
            Held::Law(known) => known.value = known.value.scaled(factor),
            Held::Rise(known) => {
                // value at 25 °C held, all that lies above or below it scaled
                let law = known.value.scaled(factor);
                let at = |law: &Law| law.at(kelvin(TEMP_REF_C));
                let base = law.base + at(&known.value) - at(&law);
                known.value = Law { base, ..law };
            }
            Held::Each(all) => all.into_iter().for_each(|known| known.value *= factor),
        }
    }

    /// Gives it a tolerance of its own, or none.
    pub fn set_tolerance(self, fabric: &mut Fabric, tolerance: Option<f64>) {
        match self.held_mut(fabric) {
            Held::Number(known) => known.tolerance = tolerance,
            Held::Law(known) | Held::Rise(known) => known.tolerance = tolerance,
            Held::Each(all) => all.into_iter().for_each(|known| known.tolerance = tolerance),
        }
    }

    /// Marks it as fitted, with where that comes from.
    pub fn mark_fitted(self, fabric: &mut Fabric, source: &str) {
        match self.held_mut(fabric) {
            Held::Number(known) => known.mark_fitted(source),
            Held::Law(known) => known.mark_fitted(source),
            Held::Rise(known) => *known = known.clone().with_rise(Provenance::Fitted, source),
            Held::Each(all) => all.into_iter().for_each(|known| known.mark_fitted(source)),
        }
    }
}

/// Change of a law from 25 to 125 °C, per kelvin.
fn rise(law: &Law) -> f64 {
    (law.at(kelvin(TEMP_REF_C + 100.0)) - law.at(kelvin(TEMP_REF_C))) / 100.0
}

/// The mean of a value of charring over the dry mass of the fibres that char; 0 where none does.
///
/// - `values`: of each part
fn mean(parts: &[CharringPart], values: impl Iterator<Item = f64>) -> f64 {
    let whole: f64 = parts.iter().map(|part| part.share).sum();
    let sum: f64 = parts.iter().zip(values).map(|(part, value)| part.share * value).sum();
    if whole > 0.0 { sum / whole } else { 0.0 }
}
