//! The keys of every kind of record: unit, range and a typical value.

use crate::shelf::key::field::{Companions, Field, Keys, Range};

const TEMP_C: Range = Range::from(-100.0, 2500.0);

pub(crate) const AREAL_DENSITY: Field =
    Field::new("areal_density_g_m2", "areal_density", "g/m²", Range::from(1.0, 5000.0), "195");
pub(crate) const THICKNESS: Field =
    Field::new("thickness_mm", "thickness", "mm", Range::from(0.005, 50.0), "0.42")
        .because("membranes have 0.01 mm, the loftiest battings 30")
        .usually(0.01, 30.0);
pub(crate) const THICKNESS_PRESSURE: Field = Field::new(
    "thickness_pressure_kPa",
    "thickness_pressure",
    "kPa",
    Range::above(0.0, 1000.0),
    "1",
);
pub(crate) const CONDUCTIVITY: Field =
    Field::new("conductivity_W_mK", "conductivity", "W/(m·K)", Range::from(0.005, 5.0), "0.045");
pub(crate) const CONDUCTIVITY_TEMP: Field =
    Field::new("conductivity_temp_C", "conductivity_temp", "°C", TEMP_C, "25");
pub(crate) const CONDUCTIVITY_SLOPE: Field = Field::new(
    "conductivity_slope_W_mK2",
    "conductivity_slope",
    "W/(m·K²)",
    Range::from(-0.01, 0.01),
    "0.0001",
);
pub(crate) const CONDUCTIVITY_TO: Field =
    Field::new("conductivity_to_C", "conductivity_to", "°C", TEMP_C, "400");
pub(crate) const SPECIFIC_HEAT: Field = Field::new(
    "specific_heat_J_kgK",
    "specific_heat",
    "J/(kg·K)",
    Range::from(200.0, 10000.0),
    "1300",
);
pub(crate) const SPECIFIC_HEAT_TEMP: Field =
    Field::new("specific_heat_temp_C", "specific_heat_temp", "°C", TEMP_C, "25");
pub(crate) const SPECIFIC_HEAT_SLOPE: Field = Field::new(
    "specific_heat_slope_J_kgK2",
    "specific_heat_slope",
    "J/(kg·K²)",
    Range::from(-20.0, 50.0),
    "1.6",
);
pub(crate) const SPECIFIC_HEAT_TO: Field =
    Field::new("specific_heat_to_C", "specific_heat_to", "°C", TEMP_C, "400");
pub(crate) const FACE_VOID: Field =
    Field::new("face_void_um", "face_void", "µm", Range::from(0.0, 1000.0), "30")
        .because("the unevenness of a face, a part of the cloth's thickness")
        .usually(0.0, 500.0);
pub(crate) const EMISSIVITY: Field =
    Field::new("emissivity", "emissivity", "", Range::from(0.01, 1.0), "0.9")
        .because("polished metal has 0.02, aluminised cloth 0.05, any other 0.8 to 0.95")
        .usually(0.04, 1.0);
pub(crate) const TRANSMISSIVITY: Field =
    Field::new("transmissivity", "transmissivity", "", Range::below(0.0, 1.0), "0.02");
pub(crate) const REGAIN: Field =
    Field::new("regain_pct", "regain", "%", Range::from(0.0, 300.0), "4.5");
/// Up to that of a film that lets next to nothing through.
pub(crate) const VAPOUR_RESISTANCE: Field = Field::new(
    "vapour_resistance_m2Pa_W",
    "vapour_resistance",
    "m²Pa/W",
    Range::from(0.0, 10_000.0),
    "20",
);
pub(crate) const FIBRE_DENSITY: Field =
    Field::new("fibre_density_kg_m3", "fibre_density", "kg/m³", Range::from(500.0, 8000.0), "1380");
pub(crate) const DECOMPOSITION: Field = Field::new(
    "decomposition_kJ_kg",
    "decomposition",
    "kJ/kg",
    Range::from(-5000.0, 5000.0),
    "200",
);
pub(crate) const DECOMPOSITION_FROM: Field = Field::new(
    "decomposition_from_C",
    "decomposition_from",
    "°C",
    Range::from(100.0, 2000.0),
    "425",
);
pub(crate) const DECOMPOSITION_TO: Field =
    Field::new("decomposition_to_C", "decomposition_to", "°C", Range::from(100.0, 2000.0), "625");
pub(crate) const LIMIT: Field =
    Field::new("limit_C", "limit", "°C", Range::above(40.0, 2500.0), "370");

/// A tolerance in percent of the value it belongs to.
const fn tolerance(key: &'static str, base: &'static str) -> Field {
    Field::new(key, base, "%", Range::from(0.0, 100.0), "5")
}
pub(crate) const AREAL_DENSITY_TOLERANCE: Field =
    tolerance("areal_density_tolerance_pct", "areal_density_tolerance");
pub(crate) const THICKNESS_TOLERANCE: Field =
    tolerance("thickness_tolerance_pct", "thickness_tolerance");
pub(crate) const CONDUCTIVITY_TOLERANCE: Field =
    tolerance("conductivity_tolerance_pct", "conductivity_tolerance");
pub(crate) const SPECIFIC_HEAT_TOLERANCE: Field =
    tolerance("specific_heat_tolerance_pct", "specific_heat_tolerance");
pub(crate) const FACE_VOID_TOLERANCE: Field =
    tolerance("face_void_tolerance_pct", "face_void_tolerance");
pub(crate) const EMISSIVITY_TOLERANCE: Field =
    tolerance("emissivity_tolerance_pct", "emissivity_tolerance");
pub(crate) const TRANSMISSIVITY_TOLERANCE: Field =
    tolerance("transmissivity_tolerance_pct", "transmissivity_tolerance");
pub(crate) const REGAIN_TOLERANCE: Field = tolerance("regain_tolerance_pct", "regain_tolerance");
pub(crate) const GAP_TOLERANCE: Field = tolerance("gap_tolerance_pct", "gap_tolerance");

/// Numeric keys that a fabric takes on the shelf, in a layup and in a stack entry alike.
pub(crate) const FABRIC_FIELDS: [Field; 29] = [
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
    AREAL_DENSITY_TOLERANCE,
    THICKNESS_TOLERANCE,
    CONDUCTIVITY_TOLERANCE,
    SPECIFIC_HEAT_TOLERANCE,
    FACE_VOID_TOLERANCE,
    EMISSIVITY_TOLERANCE,
    TRANSMISSIVITY_TOLERANCE,
    REGAIN_TOLERANCE,
];

pub(crate) const FABRIC: Keys<'_> = Keys {
    kind: "fabric",
    fields: &FABRIC_FIELDS,
    words: &["name", "description", "role", "fibre", "limit_event", "compression", "from"],
    provenance: Companions::Each,
};

pub(crate) const DENSITY: Field =
    Field::new("density_kg_m3", "density", "kg/m³", Range::from(500.0, 8000.0), "1380");

pub(crate) const CHAR_ENERGY: Field =
    Field::new("char_energy_kJ_mol", "char_energy", "kJ/mol", Range::from(20.0, 600.0), "228");
pub(crate) const CHAR_PEAK: Field =
    Field::new("char_peak_C", "char_peak", "°C", Range::from(100.0, 1500.0), "290");
pub(crate) const CHAR_RESIDUE: Field =
    Field::new("char_residue", "char_residue", "", Range::from(0.0, 1.0), "0.4");
pub(crate) const CHAR_HEAT: Field =
    Field::new("char_heat_kJ_kg", "char_heat", "kJ/kg", Range::from(-200.0, 20_000.0), "-80");
pub(crate) const CHAR_WATER: Field =
    Field::new("char_water_share", "char_water_share", "", Range::from(0.0, 1.0), "0.33");

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

pub(crate) const FLUX: Field =
    Field::new("flux_kW_m2", "flux", "kW/m²", Range::from(0.1, 500.0), "80")
        .because("the sun gives 1, engulfment in burning fuel 200")
        .usually(1.0, 200.0);
/// A flux within a series, where nothing at all is allowed.
pub(crate) const FLUX_IN_SERIES: Field =
    Field::new("flux_kW_m2", "flux", "kW/m²", Range::from(0.0, 500.0), "80");
pub(crate) const TIME: Field = Field::new("time_s", "time", "s", Range::from(0.0, 3600.0), "0");
/// Rise of the copper disc; which values make sense is for the curve as a whole to say.
pub(crate) const RISE: Field =
    Field::new("temperature_rise_C", "temperature_rise", "°C", Range::from(-1e4, 1e4), "12.3");
pub(crate) const RADIANT_SHARE: Field =
    Field::new("radiant_share", "radiant_share", "", Range::from(0.0, 1.0), "0.5");
pub(crate) const FLAME_TEMPERATURE: Field = Field::new(
    "flame_temperature_C",
    "flame_temperature",
    "°C",
    Range::above(100.0, 2500.0),
    "2000",
);
pub(crate) const GAS_VAPOUR: Field =
    Field::new("gas_vapour_kPa", "gas_vapour", "kPa", Range::below(0.0, 101.325), "10.7");
pub(crate) const RADIANT_SHARE_TOLERANCE: Field =
    tolerance("radiant_share_tolerance_pct", "radiant_share_tolerance");
pub(crate) const FLAME_TEMPERATURE_TOLERANCE: Field =
    tolerance("flame_temperature_tolerance_pct", "flame_temperature_tolerance");
pub(crate) const GAS_VAPOUR_TOLERANCE: Field =
    tolerance("gas_vapour_tolerance_pct", "gas_vapour_tolerance");
pub(crate) const ROOM_TEMPERATURE: Field =
    Field::new("room_temperature_C", "room_temperature", "°C", Range::from(-40.0, 43.0), "25");
pub(crate) const DURATION: Field =
    Field::new("duration_s", "duration", "s", Range::from(0.01, 3600.0), "4")
        .because("no shutter is faster than 0.01 s");
pub(crate) const UNTIL: Field = Field::new("until_s", "until", "s", Range::from(0.1, 3600.0), "60")
    .because("no bench stops within 0.1 s");
pub(crate) const COOLING: Field =
    Field::new("cooling_W_m2K", "cooling", "W/(m²·K)", Range::from(0.0, 500.0), "8");
pub(crate) const SPACER: Field =
    Field::new("spacer_mm", "spacer", "mm", Range::from(0.0, 100.0), "6.4");
pub(crate) const DISC_MASS: Field =
    Field::new("mass_g", "mass", "g", Range::from(1.0, 1000.0), "18.00")
        .because("discs of the standards have 18 to 36 g")
        .usually(5.0, 100.0);
pub(crate) const DISC_AREA: Field =
    Field::new("area_cm2", "area", "cm²", Range::from(1.0, 1000.0), "12.566")
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

pub(crate) const AT_LEAST_S: Field =
    Field::new("at_least_s", "at_least", "s", Range::from(0.1, 3600.0), "10")
        .because("no bench tells less than 0.1 s");
pub(crate) const AT_LEAST_CAL: Field =
    Field::new("at_least_cal_cm2", "at_least", "cal/cm²", Range::from(0.1, 1000.0), "35")
        .because("bare skin stands 1 to 2");
pub(crate) const TARGET: Keys<'_> = Keys {
    kind: "target",
    fields: &[AT_LEAST_S, AT_LEAST_CAL],
    words: &["name", "description", "standard", "figure", "exposure", "judged_on", "source"],
    provenance: Companions::Without,
};

pub(crate) const LOWER_FACTOR: Field =
    Field::new("lower", "lower factor", "", Range::above(0.0, 10.0), "0.75");
pub(crate) const UPPER_FACTOR: Field =
    Field::new("upper", "upper factor", "", Range::above(0.0, 10.0), "1.15");
pub(crate) const CASES: Field = Field::new("cases", "cases", "", Range::from(0.0, 1e6), "6");
pub(crate) const BAND: Keys<'_> = Keys {
    kind: "band",
    fields: &[LOWER_FACTOR, UPPER_FACTOR, CASES],
    words: &["class", "figure", "basis", "source"],
    provenance: Companions::Without,
};

pub(crate) const SURFACE_TEMPERATURE: Field = Field::new(
    "surface_temperature_C",
    "surface_temperature",
    "°C",
    Range::from(0.0, 43.0),
    "32.5",
);
pub(crate) const CORE_TEMPERATURE: Field =
    Field::new("core_temperature_C", "core_temperature", "°C", Range::from(0.0, 43.0), "33.5");
pub(crate) const HEAT_CAPACITY: Field = Field::new(
    "heat_capacity_MJ_m3K",
    "heat_capacity",
    "MJ/(m³·K)",
    Range::from(0.1, 20.0),
    "4.186",
);
pub(crate) const SKIN_THICKNESS: Field =
    Field::new("thickness_mm", "thickness", "mm", Range::from(0.01, 100.0), "1.125")
        .because("epidermis has 0.05 to 0.1 mm, the tissue below it millimetres");
pub(crate) const SKIN_CONDUCTIVITY: Field =
    Field::new("conductivity_W_mK", "conductivity", "W/(m·K)", Range::from(0.05, 2.0), "0.582")
        .because("fat has 0.2, water 0.6");
pub(crate) const PERFUSION: Field =
    Field::new("perfusion_W_m3K", "perfusion", "W/(m³·K)", Range::from(0.0, 100_000.0), "0");
pub(crate) const DAMAGE_FROM: Field =
    Field::new("above_C", "above", "°C", Range::from(40.0, 100.0), "44");
pub(crate) const DAMAGE_RATE: Field =
    Field::new("rate_per_s", "rate", "1/s", Range::above(0.0, 1e200), "2.185e124");
pub(crate) const DAMAGE_ACTIVATION: Field =
    Field::new("activation_K", "activation", "K", Range::above(1000.0, 200_000.0), "93534.9");

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

pub(crate) const GAP: Field = Field::new("gap_mm", "gap", "mm", Range::from(0.01, 100.0), "1.0")
    .because("plies closer than 0.01 mm touch; no garment stands off further than 50")
    .usually(0.01, 50.0);
pub(crate) const JOINT: Field =
    Field::new("joint_W_m2K", "joint", "W/(m²·K)", Range::from(1.0, 100_000.0), "500")
        .because(
            "25 mm of still air conduct 1, and plies that touch more; a seamless bond has 10 000",
        )
        .usually(20.0, 20_000.0);

pub(crate) const PRESSURE: Field =
    Field::new("pressure_kPa", "pressure", "kPa", Range::above(0.0, 100.0), "2");

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

pub(crate) const PITCH: Field =
    Field::new("pitch_mm", "pitch", "mm", Range::from(1.0, 1000.0), "40")
        .because("a needle and its thread take a millimetre")
        .usually(5.0, 300.0);
pub(crate) const STITCH_WIDTH: Field =
    Field::new("stitch_width_mm", "stitch_width", "mm", Range::from(0.1, 100.0), "2")
        .because("sewing thread is 0.1 to 0.5 mm thick")
        .usually(0.2, 20.0);
pub(crate) const LOFT: Field = Field::new("loft_mm", "loft", "mm", Range::from(0.0, 100.0), "2")
    .because("the loftiest quilts stand 50 mm off")
    .usually(0.0, 50.0);
pub(crate) const PRESSED: Field =
    Field::new("pressed_mm", "pressed", "mm", Range::from(0.01, 100.0), "1.2")
        .because("what is pressed is no thinner than a fibre, 0.01 mm");
pub(crate) const THREAD: Field =
    Field::new("thread_g_m", "thread", "g/m", Range::from(0.0, 10.0), "0.1")
        .because("sewing thread has 0.02 to 0.1 g/m, twice that in a stitch; cord has 10")
        .usually(0.0, 1.0);
pub(crate) const QUILTING: Keys<'_> = Keys {
    kind: "quilting",
    fields: &[PITCH, STITCH_WIDTH, LOFT, PRESSED, THREAD],
    words: &["pattern", "from"],
    provenance: Companions::Without,
};

pub(crate) const WASHED: Field =
    Field::new("washed", "washed", "times", Range::from(0.0, 1000.0), "5");
