//! The keys of every kind of record: unit, range and a typical value.

use crate::garment::property::OfPly;
use crate::physics::units::{
    self, BARE, CALORIES_PER_AREA, CELSIUS, CONDUCTANCE, DEGREES_APART, GRAMS, GRAMS_PER_LENGTH,
    KELVINS, KILOGRAMS_PER_VOLUME, KILOJOULES_PER_MASS, KILOJOULES_PER_MOLE, KILOPASCALS,
    KILOWATTS_PER_AREA, MILLIMETRES, PERCENT, RATE, SECONDS, SQUARE_CENTIMETRES,
    VOLUMETRIC_HEAT_CAPACITY,
};
use crate::shelf::key::field::{Companions, Field, Keys, Range, field, joined};

const TEMP_C: Range = Range::from(-100.0, 2500.0);

pub(crate) const AREAL_DENSITY: Field =
    field!(OfPly::ArealDensity, Range::from(1.0, 5000.0), "195");
pub(crate) const THICKNESS: Field = field!(OfPly::Thickness, Range::from(0.005, 50.0), "0.42")
    .because("membranes have 0.01 mm, the loftiest battings 30")
    .usually(0.01, 30.0);
pub(crate) const THICKNESS_PRESSURE: Field =
    field!("thickness_pressure", KILOPASCALS, Range::above(0.0, 1000.0), "1");
pub(crate) const CONDUCTIVITY: Field =
    field!(OfPly::Conductivity, Range::from(0.005, 5.0), "0.045");
pub(crate) const CONDUCTIVITY_TEMP: Field = field!("conductivity_temp", CELSIUS, TEMP_C, "25");
pub(crate) const CONDUCTIVITY_SLOPE: Field =
    field!("conductivity_slope", units::CONDUCTIVITY_SLOPE, Range::from(-0.01, 0.01), "0.0001");
pub(crate) const CONDUCTIVITY_TO: Field = field!("conductivity_to", CELSIUS, TEMP_C, "400");
pub(crate) const SPECIFIC_HEAT: Field =
    field!(OfPly::SpecificHeat, Range::from(200.0, 10000.0), "1300");
pub(crate) const SPECIFIC_HEAT_TEMP: Field = field!("specific_heat_temp", CELSIUS, TEMP_C, "25");
pub(crate) const SPECIFIC_HEAT_SLOPE: Field =
    field!("specific_heat_slope", units::SPECIFIC_HEAT_SLOPE, Range::from(-20.0, 50.0), "1.6");
pub(crate) const SPECIFIC_HEAT_TO: Field = field!("specific_heat_to", CELSIUS, TEMP_C, "400");
pub(crate) const FACE_VOID: Field = field!(OfPly::FaceVoid, Range::from(0.0, 1000.0), "30")
    .because("the unevenness of a face, a part of the cloth's thickness")
    .usually(0.0, 500.0);
pub(crate) const EMISSIVITY: Field = field!(OfPly::Emissivity, Range::from(0.01, 1.0), "0.9")
    .because("polished metal has 0.02, aluminised cloth 0.05, any other 0.8 to 0.95")
    .usually(0.04, 1.0);
pub(crate) const TRANSMISSIVITY: Field =
    field!(OfPly::Transmissivity, Range::below(0.0, 1.0), "0.02");
pub(crate) const REGAIN: Field = field!(OfPly::Regain, Range::from(0.0, 300.0), "4.5");
/// Up to that of a film that lets next to nothing through.
pub(crate) const VAPOUR_RESISTANCE: Field =
    field!(OfPly::VapourResistance, Range::from(0.0, 10_000.0), "20");
pub(crate) const FIBRE_DENSITY: Field =
    field!(OfPly::FibreDensity, Range::from(500.0, 8000.0), "1380");
pub(crate) const DECOMPOSITION: Field =
    field!("decomposition", KILOJOULES_PER_MASS, Range::from(-5000.0, 5000.0), "200");
pub(crate) const DECOMPOSITION_FROM: Field =
    field!("decomposition_from", CELSIUS, Range::from(100.0, 2000.0), "425");
pub(crate) const DECOMPOSITION_TO: Field =
    field!("decomposition_to", CELSIUS, Range::from(100.0, 2000.0), "625");
pub(crate) const LIMIT: Field = field!(OfPly::Limit, Range::above(40.0, 2500.0), "370");

pub(crate) const GAP_TOLERANCE: Field = field!(tolerance of "gap");

/// What a fabric has, each with its key.
pub(crate) const OF_FABRIC: [(OfPly, Field); 11] = [
    (OfPly::ArealDensity, AREAL_DENSITY),
    (OfPly::Thickness, THICKNESS),
    (OfPly::Conductivity, CONDUCTIVITY),
    (OfPly::SpecificHeat, SPECIFIC_HEAT),
    (OfPly::FaceVoid, FACE_VOID),
    (OfPly::Emissivity, EMISSIVITY),
    (OfPly::Transmissivity, TRANSMISSIVITY),
    (OfPly::Regain, REGAIN),
    (OfPly::VapourResistance, VAPOUR_RESISTANCE),
    (OfPly::FibreDensity, FIBRE_DENSITY),
    (OfPly::Limit, LIMIT),
];

/// Keys of the tolerances that a fabric may give: of the first of [`OF_FABRIC`], in their order.
pub(crate) const TOLERANCES: [Field; 8] = [
    field!(tolerance of OfPly::ArealDensity.name()),
    field!(tolerance of OfPly::Thickness.name()),
    field!(tolerance of OfPly::Conductivity.name()),
    field!(tolerance of OfPly::SpecificHeat.name()),
    field!(tolerance of OfPly::FaceVoid.name()),
    field!(tolerance of OfPly::Emissivity.name()),
    field!(tolerance of OfPly::Transmissivity.name()),
    field!(tolerance of OfPly::Regain.name()),
];

/// Numeric keys that a fabric takes on the shelf, in a layup and in a stack entry alike.
pub(crate) const FABRIC_FIELDS: [Field; 29] = joined(&[
    &[
        AREAL_DENSITY,
        THICKNESS,
        THICKNESS_PRESSURE,
        CONDUCTIVITY,
        CONDUCTIVITY_TEMP,
        CONDUCTIVITY_SLOPE,
        CONDUCTIVITY_TO,
        SPECIFIC_HEAT,
        SPECIFIC_HEAT_TEMP,
        SPECIFIC_HEAT_SLOPE,
        SPECIFIC_HEAT_TO,
        FACE_VOID,
        EMISSIVITY,
        TRANSMISSIVITY,
        REGAIN,
        VAPOUR_RESISTANCE,
        FIBRE_DENSITY,
        DECOMPOSITION,
        DECOMPOSITION_FROM,
        DECOMPOSITION_TO,
        LIMIT,
    ],
    &TOLERANCES,
]);

pub(crate) const FABRIC: Keys<'_> = Keys {
    kind: "fabric",
    fields: &FABRIC_FIELDS,
    words: &["name", "description", "role", "fibre", "limit_event", "compression", "from"],
    provenance: Companions::Each,
};

pub(crate) const DENSITY: Field =
    field!("density", KILOGRAMS_PER_VOLUME, Range::from(500.0, 8000.0), "1380");

pub(crate) const CHAR_ENERGY: Field =
    field!("char_energy", KILOJOULES_PER_MOLE, Range::from(20.0, 600.0), "228");
pub(crate) const CHAR_PEAK: Field = field!("char_peak", CELSIUS, Range::from(100.0, 1500.0), "290");
pub(crate) const CHAR_RESIDUE: Field = field!("char_residue", BARE, Range::from(0.0, 1.0), "0.4");
pub(crate) const CHAR_HEAT: Field = field!(OfPly::CharHeat, Range::from(-200.0, 20_000.0), "-80");
pub(crate) const CHAR_WATER: Field =
    field!("char_water_share", BARE, Range::from(0.0, 1.0), "0.33");

pub(crate) const FIBRE: Keys<'_> = Keys {
    kind: "fibre",
    fields: &[
        DENSITY,
        CONDUCTIVITY,
        SPECIFIC_HEAT,
        SPECIFIC_HEAT_TEMP,
        SPECIFIC_HEAT_SLOPE,
        SPECIFIC_HEAT_TO,
        REGAIN,
        LIMIT,
        CHAR_ENERGY,
        CHAR_PEAK,
        CHAR_RESIDUE,
        CHAR_HEAT,
        CHAR_WATER,
    ],
    words: &["name", "description", "limit_event", "from"],
    provenance: Companions::Each,
};

pub(crate) const SOURCE: Keys<'_> = Keys {
    kind: "source",
    fields: &[],
    words: &["key", "citation", "provenance", "note"],
    provenance: Companions::Without,
};

pub(crate) const FLUX: Field = field!("flux", KILOWATTS_PER_AREA, Range::from(0.1, 500.0), "80")
    .because("the sun gives 1, engulfment in burning fuel 200")
    .usually(1.0, 200.0);
/// A flux within a series, where nothing at all is allowed.
pub(crate) const FLUX_IN_SERIES: Field =
    field!("flux", KILOWATTS_PER_AREA, Range::from(0.0, 500.0), "80");
pub(crate) const TIME: Field = field!("time", SECONDS, Range::from(0.0, 3600.0), "0");
/// Rise of the copper disc; which values make sense is for the curve as a whole to say.
pub(crate) const RISE: Field =
    field!("temperature_rise", DEGREES_APART, Range::from(-1e4, 1e4), "12.3");
pub(crate) const RADIANT_SHARE: Field = field!("radiant_share", BARE, Range::from(0.0, 1.0), "0.5");
pub(crate) const FLAME_TEMPERATURE: Field =
    field!("flame_temperature", CELSIUS, Range::above(100.0, 2500.0), "2000");
pub(crate) const GAS_VAPOUR: Field =
    field!("gas_vapour", KILOPASCALS, Range::below(0.0, 101.325), "10.7");
pub(crate) const RADIANT_SHARE_TOLERANCE: Field = field!(tolerance of "radiant_share");
pub(crate) const FLAME_TEMPERATURE_TOLERANCE: Field = field!(tolerance of "flame_temperature");
pub(crate) const GAS_VAPOUR_TOLERANCE: Field = field!(tolerance of "gas_vapour");
pub(crate) const ROOM_TEMPERATURE: Field =
    field!("room_temperature", CELSIUS, Range::from(-40.0, 43.0), "25");
pub(crate) const DURATION: Field = field!("duration", SECONDS, Range::from(0.01, 3600.0), "4")
    .because("no shutter is faster than 0.01 s");
pub(crate) const UNTIL: Field =
    field!("until", SECONDS, Range::from(0.1, 3600.0), "60").because("no bench stops within 0.1 s");
pub(crate) const COOLING: Field = field!("cooling", CONDUCTANCE, Range::from(0.0, 500.0), "8");
pub(crate) const SPACER: Field = field!("spacer", MILLIMETRES, Range::from(0.0, 100.0), "6.4");
pub(crate) const DISC_MASS: Field = field!("mass", GRAMS, Range::from(1.0, 1000.0), "18.00")
    .because("discs of the standards have 18 to 36 g")
    .usually(5.0, 100.0);
pub(crate) const DISC_AREA: Field =
    field!("area", SQUARE_CENTIMETRES, Range::from(1.0, 1000.0), "12.566")
        .because("discs of the standards have 12.6 to 25.2 cm²")
        .usually(3.0, 100.0);

pub(crate) const EXPOSURE: Keys<'_> = Keys {
    kind: "exposure",
    fields: &[
        FLUX,
        RADIANT_SHARE,
        RADIANT_SHARE_TOLERANCE,
        FLAME_TEMPERATURE,
        FLAME_TEMPERATURE_TOLERANCE,
        GAS_VAPOUR,
        GAS_VAPOUR_TOLERANCE,
        ROOM_TEMPERATURE,
        DURATION,
        UNTIL,
        COOLING,
        SPACER,
    ],
    words: &[
        "name",
        "description",
        "method",
        "flux_file",
        "radiant_share_from",
        "flame_temperature_from",
        "gas_vapour_from",
        "orientation",
        "disc",
        "source",
    ],
    provenance: Companions::Without,
};
pub(crate) const DISC: Keys<'_> = Keys {
    kind: "disc",
    fields: &[DISC_MASS, SPECIFIC_HEAT, DISC_AREA, EMISSIVITY],
    words: &[],
    provenance: Companions::Without,
};
pub(crate) const FLUX_SERIES: Keys<'_> = Keys {
    kind: "flux series",
    fields: &[TIME, FLUX_IN_SERIES],
    words: &[],
    provenance: Companions::Without,
};

pub(crate) const AT_LEAST_S: Field = field!("at_least", SECONDS, Range::from(0.1, 3600.0), "10")
    .because("no bench tells less than 0.1 s");
pub(crate) const AT_LEAST_CAL: Field =
    field!("at_least", CALORIES_PER_AREA, Range::from(0.1, 1000.0), "35")
        .because("bare skin stands 1 to 2");
pub(crate) const TARGET: Keys<'_> = Keys {
    kind: "target",
    fields: &[AT_LEAST_S, AT_LEAST_CAL],
    words: &["name", "description", "standard", "figure", "exposure", "judged_on", "source"],
    provenance: Companions::Without,
};

pub(crate) const LOWER_FACTOR: Field =
    Field::new("lower", "lower factor", BARE, Range::above(0.0, 10.0), "0.75");
pub(crate) const UPPER_FACTOR: Field =
    Field::new("upper", "upper factor", BARE, Range::above(0.0, 10.0), "1.15");
pub(crate) const CASES: Field = field!("cases", BARE, Range::from(0.0, 1e6), "6");
pub(crate) const BAND: Keys<'_> = Keys {
    kind: "band",
    fields: &[LOWER_FACTOR, UPPER_FACTOR, CASES],
    words: &["class", "figure", "basis", "source"],
    provenance: Companions::Without,
};

pub(crate) const SURFACE_TEMPERATURE: Field =
    field!("surface_temperature", CELSIUS, Range::from(0.0, 43.0), "32.5");
pub(crate) const CORE_TEMPERATURE: Field =
    field!("core_temperature", CELSIUS, Range::from(0.0, 43.0), "33.5");
pub(crate) const HEAT_CAPACITY: Field =
    field!("heat_capacity", VOLUMETRIC_HEAT_CAPACITY, Range::from(0.1, 20.0), "4.186");
pub(crate) const SKIN_THICKNESS: Field =
    field!("thickness", MILLIMETRES, Range::from(0.01, 100.0), "1.125")
        .because("epidermis has 0.05 to 0.1 mm, the tissue below it millimetres");
pub(crate) const SKIN_CONDUCTIVITY: Field =
    field!("conductivity", units::CONDUCTIVITY, Range::from(0.05, 2.0), "0.582")
        .because("fat has 0.2, water 0.6");
pub(crate) const PERFUSION: Field =
    field!("perfusion", units::PERFUSION, Range::from(0.0, 100_000.0), "0");
pub(crate) const DAMAGE_FROM: Field = field!("above", CELSIUS, Range::from(40.0, 100.0), "44");
pub(crate) const DAMAGE_RATE: Field = field!("rate", RATE, Range::above(0.0, 1e200), "2.185e124");
pub(crate) const DAMAGE_ACTIVATION: Field =
    field!("activation", KELVINS, Range::above(1000.0, 200_000.0), "93534.9");

pub(crate) const SKIN: Keys<'_> = Keys {
    kind: "skin",
    fields: &[SURFACE_TEMPERATURE, CORE_TEMPERATURE],
    words: &["name", "description", "layer", "basal", "dermal", "source"],
    provenance: Companions::Without,
};
pub(crate) const SKIN_LAYER: Keys<'_> = Keys {
    kind: "skin layer",
    fields: &[SKIN_THICKNESS, SKIN_CONDUCTIVITY, HEAT_CAPACITY, PERFUSION],
    words: &["name"],
    provenance: Companions::Without,
};
pub(crate) const DAMAGE: Keys<'_> = Keys {
    kind: "range of skin damage",
    fields: &[DAMAGE_FROM, DAMAGE_RATE, DAMAGE_ACTIVATION],
    words: &[],
    provenance: Companions::Without,
};

pub(crate) const GAP: Field = field!("gap", MILLIMETRES, Range::from(0.01, 100.0), "1.0")
    .because("plies closer than 0.01 mm touch; no garment stands off further than 50")
    .usually(0.01, 50.0);
pub(crate) const JOINT: Field = field!("joint", CONDUCTANCE, Range::from(1.0, 100_000.0), "500")
    .because("25 mm of still air conduct 1, and plies that touch more; a seamless bond has 10 000")
    .usually(20.0, 20_000.0);

pub(crate) const PRESSURE: Field = field!("pressure", KILOPASCALS, Range::above(0.0, 100.0), "2");

pub(crate) const LAYUP: Keys<'_> = Keys {
    kind: "layup",
    fields: &[PRESSURE],
    words: &["name", "note", "stack", "quilting", "fabric"],
    provenance: Companions::Each,
};
pub(crate) const GAP_ENTRY: Keys<'_> = Keys {
    kind: "gap",
    fields: &[GAP, GAP_TOLERANCE],
    words: &["from"],
    provenance: Companions::Without,
};

pub(crate) const PITCH: Field = field!("pitch", MILLIMETRES, Range::from(1.0, 1000.0), "40")
    .because("a needle and its thread take a millimetre")
    .usually(5.0, 300.0);
pub(crate) const STITCH_WIDTH: Field =
    field!("stitch_width", MILLIMETRES, Range::from(0.1, 100.0), "2")
        .because("sewing thread is 0.1 to 0.5 mm thick")
        .usually(0.2, 20.0);
pub(crate) const LOFT: Field = field!("loft", MILLIMETRES, Range::from(0.0, 100.0), "2")
    .because("the loftiest quilts stand 50 mm off")
    .usually(0.0, 50.0);
pub(crate) const PRESSED: Field = field!("pressed", MILLIMETRES, Range::from(0.01, 100.0), "1.2")
    .because("what is pressed is no thinner than a fibre, 0.01 mm");
pub(crate) const THREAD: Field = field!("thread", GRAMS_PER_LENGTH, Range::from(0.0, 10.0), "0.1")
    .because("sewing thread has 0.02 to 0.1 g/m, twice that in a stitch; cord has 10")
    .usually(0.0, 1.0);
pub(crate) const QUILTING: Keys<'_> = Keys {
    kind: "quilting",
    fields: &[PITCH, STITCH_WIDTH, LOFT, PRESSED, THREAD],
    words: &["pattern", "from"],
    provenance: Companions::Without,
};

pub(crate) const WASHED: Field =
    Field { unit: "times", ..field!("washed", BARE, Range::from(0.0, 1000.0), "5") };

#[cfg(test)]
mod tests {
    use super::{FABRIC_FIELDS, OF_FABRIC, TOLERANCES};
    use crate::garment::property::OfPly;

    /// What a fabric has is read under its name and unit, and each tolerance goes to the value it is named after.
    #[test]
    fn keys_of_a_fabric_follow_its_properties() {
        assert_eq!(OF_FABRIC.map(|(of, _)| of), OfPly::OF_FABRIC);
        for (of, field) in OF_FABRIC {
            assert_eq!((field.base, field.key), (of.name(), of.quantity().key(of.name()).as_str()));
            assert!(FABRIC_FIELDS.iter().any(|known| known.key == field.key), "{}", field.key);
        }
        for ((of, _), tolerance) in OF_FABRIC.iter().zip(TOLERANCES) {
            assert_eq!(tolerance.key, format!("{}_tolerance_pct", of.name()));
        }
        assert_eq!([OF_FABRIC[0].1.key, OF_FABRIC[5].1.key], ["areal_density_g_m2", "emissivity"]);
    }
}
