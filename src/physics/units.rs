//! Conversions between the units of files and output and the SI used inside.

/// Ice point on the kelvin scale [K]. Source: definition of the degree Celsius, SI brochure, 9th edition.
pub const ICE_POINT: f64 = 273.15;
/// Stefan–Boltzmann constant [W/(m²·K⁴)]. Source: CODATA 2018.
pub const STEFAN_BOLTZMANN: f64 = 5.670374419e-8;
/// Molar gas constant [J/(mol·K)]. Source: CODATA 2018.
pub const GAS_CONSTANT: f64 = 8.314462618;
/// Standard gravity [m/s²]. Source: CGPM 1901.
pub const GRAVITY: f64 = 9.80665;
/// Standard atmosphere [Pa]. Source: 10th CGPM 1954.
pub const ATMOSPHERE: f64 = 101_325.0;
/// Joules in one International Table calorie [J]. Source: 5th International Conference on Properties of Steam, 1956.
pub const JOULE_PER_CALORIE: f64 = 4.1868;

/// Temperature in kelvin from degrees Celsius [K]. Source: definition of the degree Celsius.
pub fn kelvin(temp_celsius: f64) -> f64 {
    temp_celsius + ICE_POINT
}

/// Temperature in degrees Celsius from kelvin [°C]. Source: definition of the degree Celsius.
pub fn celsius(temp: f64) -> f64 {
    temp - ICE_POINT
}

/// Heat per area in cal/cm² from J/m² [cal/cm²]. Source: International Table calorie.
pub fn cal_cm2(heat: f64) -> f64 {
    heat / from_cal_cm2(1.0)
}

/// Heat per area in J/m² from cal/cm² [J/m²]. Source: International Table calorie; 1e4 cm² in a m².
pub fn from_cal_cm2(heat_cal_cm2: f64) -> f64 {
    heat_cal_cm2 * (JOULE_PER_CALORIE * 1e4)
}

/// A unit of files and output, and what turns SI into it: the only place where that factor stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// What a key, header or option that holds it ends in, such as "kW_m2"; empty for a bare number.
    pub suffix: &'static str,
    /// The unit as people read it, such as "kW/m²"; empty for a bare number.
    pub unit: &'static str,
    /// How many of it make one of SI.
    per_si: f64,
    /// How many of SI make one of it; beside `per_si`, as neither is the other's exact inverse.
    in_si: f64,
    /// Its zero in SI.
    zero: f64,
}

impl Quantity {
    /// A unit that is a multiple of SI.
    const fn scaled(suffix: &'static str, unit: &'static str, per_si: f64, in_si: f64) -> Quantity {
        Quantity { suffix, unit, per_si, in_si, zero: 0.0 }
    }

    /// The value in this unit of one in SI. Source: definition of the unit.
    pub fn outside(&self, si: f64) -> f64 {
        self.per_si * (si - self.zero)
    }

    /// A difference or an error in this unit of one in SI. Source: definition of the unit.
    pub fn apart(&self, si: f64) -> f64 {
        self.per_si * si
    }

    /// The value in SI of one in this unit. Source: definition of the unit.
    pub fn inside(&self, value: f64) -> f64 {
        self.in_si * value + self.zero
    }

    /// The key of a thing of that name, such as `flux_kW_m2`. Source: the convention of this program's files.
    pub fn key(&self, name: &str) -> String {
        match self.suffix {
            "" => name.to_string(),
            suffix => format!("{name}_{suffix}"),
        }
    }

    /// The unit without raised digits, as files hold it, such as "kJ/m2". Source: the convention of this program's files.
    pub fn plain_unit(&self) -> String {
        self.unit.replace('²', "2")
    }
}

/// A count, a word, a number without unit.
pub const BARE: Quantity = Quantity::scaled("", "", 1.0, 1.0);
/// A share or ratio in hundredths.
pub const PERCENT: Quantity = Quantity::scaled("pct", "%", 100.0, 0.01);
/// Time.
pub const SECONDS: Quantity = Quantity::scaled("s", "s", 1.0, 1.0);
/// Thickness and other short lengths.
pub const MILLIMETRES: Quantity = Quantity::scaled("mm", "mm", 1e3, 1e-3);
/// A share for each millimetre, in hundredths.
pub const PERCENT_PER_MM: Quantity = Quantity::scaled("pct_per_mm", "%/mm", 0.1, 10.0);
/// A share for each gram, in hundredths.
pub const PERCENT_PER_GRAM: Quantity = Quantity::scaled("pct_per_g", "%/g", 0.1, 10.0);
/// Time for each gram.
pub const SECONDS_PER_GRAM: Quantity = Quantity::scaled("s_per_g", "s/g", 1e-3, 1e3);
/// Mass of an area of cloth.
pub const GRAMS_PER_AREA: Quantity = Quantity::scaled("g_m2", "g/m²", 1e3, 1e-3);
/// Mass of thread along a line.
pub const GRAMS_PER_LENGTH: Quantity = Quantity::scaled("g_m", "g/m", 1e3, 1e-3);
/// Mass.
pub const GRAMS: Quantity = Quantity::scaled("g", "g", 1e3, 1e-3);
/// Area.
pub const SQUARE_METRES: Quantity = Quantity::scaled("m2", "m²", 1.0, 1.0);
/// Pressure on cloth.
pub const KILOPASCALS: Quantity = Quantity::scaled("kPa", "kPa", 1e-3, 1e3);
/// Heat flux.
pub const KILOWATTS_PER_AREA: Quantity = Quantity::scaled("kW_m2", "kW/m²", 1e-3, 1e3);
/// Heat of an area.
pub const KILOJOULES_PER_AREA: Quantity = Quantity::scaled("kJ_m2", "kJ/m²", 1e-3, 1e3);
/// Heat of an area as the standards of protective clothing state it, in International Table calories.
pub const CALORIES_PER_AREA: Quantity = Quantity::scaled(
    "cal_cm2",
    "cal/cm²",
    1.0 / (JOULE_PER_CALORIE * 1e4),
    JOULE_PER_CALORIE * 1e4,
);
/// Where rows hold times or heat, each in its own unit already.
pub const SECONDS_OR_HEAT: Quantity = Quantity::scaled("s_or_kJ_m2", "s or kJ/m²", 1.0, 1.0);
/// Small areas.
pub const SQUARE_CENTIMETRES: Quantity = Quantity::scaled("cm2", "cm²", 1e4, 1e-4);
/// Height of a body.
pub const CENTIMETRES: Quantity = Quantity::scaled("cm", "cm", 100.0, 0.01);
/// Voids of a ply's face.
pub const MICROMETRES: Quantity = Quantity::scaled("um", "µm", 1e6, 1e-6);
/// Mass of a body.
pub const KILOGRAMS: Quantity = Quantity::scaled("kg", "kg", 1.0, 1.0);
/// Mass of an area, where it is that of an error.
pub const KILOGRAMS_PER_AREA: Quantity = Quantity::scaled("kg_m2", "kg/m²", 1.0, 1.0);
/// Density.
pub const KILOGRAMS_PER_VOLUME: Quantity = Quantity::scaled("kg_m3", "kg/m³", 1.0, 1.0);
/// Thermal conductivity.
pub const CONDUCTIVITY: Quantity = Quantity::scaled("W_mK", "W/(m·K)", 1.0, 1.0);
/// Rise of thermal conductivity with temperature.
pub const CONDUCTIVITY_RISE: Quantity = Quantity::scaled("mW_mK2", "mW/(m·K²)", 1e3, 1e-3);
/// The same, as files have it.
pub const CONDUCTIVITY_SLOPE: Quantity = Quantity::scaled("W_mK2", "W/(m·K²)", 1.0, 1.0);
/// Rise of specific heat with temperature.
pub const SPECIFIC_HEAT_SLOPE: Quantity = Quantity::scaled("J_kgK2", "J/(kg·K²)", 1.0, 1.0);
/// Specific heat.
pub const SPECIFIC_HEAT: Quantity = Quantity::scaled("J_kgK", "J/(kg·K)", 1.0, 1.0);
/// Heat of a change of a mass.
pub const KILOJOULES_PER_MASS: Quantity = Quantity::scaled("kJ_kg", "kJ/kg", 1e-3, 1e3);
/// Specific heat, in kilojoules.
pub const KILOJOULES_PER_MASS_KELVIN: Quantity = Quantity::scaled("kJ_kgK", "kJ/(kg·K)", 1e-3, 1e3);
/// Heat of a change of an amount of substance.
pub const KILOJOULES_PER_MOLE: Quantity = Quantity::scaled("kJ_mol", "kJ/mol", 1e-3, 1e3);
/// Heat capacity of a volume.
pub const VOLUMETRIC_HEAT_CAPACITY: Quantity = Quantity::scaled("MJ_m3K", "MJ/(m³·K)", 1e-6, 1e6);
/// Resistance of an area to water vapour.
pub const VAPOUR_RESISTANCE: Quantity = Quantity::scaled("m2Pa_W", "m²Pa/W", 1.0, 1.0);
/// Heat transfer coefficient, contact conductance.
pub const CONDUCTANCE: Quantity = Quantity::scaled("W_m2K", "W/(m²·K)", 1.0, 1.0);
/// Heat that blood carries off, of a volume.
pub const PERFUSION: Quantity = Quantity::scaled("W_m3K", "W/(m³·K)", 1.0, 1.0);
/// Rate of a reaction.
pub const RATE: Quantity = Quantity::scaled("per_s", "1/s", 1.0, 1.0);
/// Activation energy over the gas constant.
pub const KELVINS: Quantity = Quantity::scaled("K", "K", 1.0, 1.0);
/// Thermal resistance of an area.
pub const RESISTANCE: Quantity = Quantity::scaled("m2K_W", "m²·K/W", 1.0, 1.0);
/// Heat capacity of an area.
pub const AREAL_HEAT_CAPACITY: Quantity = Quantity::scaled("kJ_m2K", "kJ/(m²·K)", 1e-3, 1e3);
/// Temperature on the Celsius scale.
pub const CELSIUS: Quantity =
    Quantity { suffix: "C", unit: "°C", per_si: 1.0, in_si: 1.0, zero: ICE_POINT };
/// Difference of temperatures; its keys end as those of temperatures do.
pub const DEGREES_APART: Quantity = Quantity::scaled("C", "°C", 1.0, 1.0);

/// Every unit of files and output.
pub const QUANTITIES: [Quantity; 40] = [
    BARE,
    PERCENT,
    SECONDS,
    MILLIMETRES,
    PERCENT_PER_MM,
    PERCENT_PER_GRAM,
    SECONDS_PER_GRAM,
    GRAMS_PER_AREA,
    GRAMS,
    GRAMS_PER_LENGTH,
    SQUARE_METRES,
    KILOPASCALS,
    KILOWATTS_PER_AREA,
    KILOJOULES_PER_AREA,
    CALORIES_PER_AREA,
    SECONDS_OR_HEAT,
    SQUARE_CENTIMETRES,
    CENTIMETRES,
    MICROMETRES,
    KILOGRAMS,
    KILOGRAMS_PER_AREA,
    KILOGRAMS_PER_VOLUME,
    CONDUCTIVITY,
    CONDUCTIVITY_RISE,
    SPECIFIC_HEAT,
    KILOJOULES_PER_MASS,
    KILOJOULES_PER_MASS_KELVIN,
    KILOJOULES_PER_MOLE,
    VOLUMETRIC_HEAT_CAPACITY,
    VAPOUR_RESISTANCE,
    CONDUCTIVITY_SLOPE,
    SPECIFIC_HEAT_SLOPE,
    CONDUCTANCE,
    PERFUSION,
    RATE,
    KELVINS,
    RESISTANCE,
    AREAL_HEAT_CAPACITY,
    CELSIUS,
    DEGREES_APART,
];

#[cfg(test)]
mod tests {
    use super::{CALORIES_PER_AREA, CELSIUS, KILOWATTS_PER_AREA, QUANTITIES};

    #[test]
    fn what_goes_out_comes_in_again() {
        for quantity in QUANTITIES {
            for si in [0.0, 1.0, 273.15, -3.5, 6.02e7] {
                let back = quantity.inside(quantity.outside(si));
                assert!((back - si).abs() <= 1e-12 * si.abs().max(300.0), "{quantity:?}: {si}");
            }
            assert_eq!(quantity.suffix.is_empty(), quantity.unit.is_empty());
        }
    }

    /// 4.1868 J in an International Table calorie, 1e4 cm² in a m²; 273.15 K is 0 °C.
    #[test]
    fn units_are_what_their_definitions_say() {
        assert!((CALORIES_PER_AREA.inside(1.0) - 41_868.0).abs() < 1e-9);
        assert_eq!((CELSIUS.outside(273.15), CELSIUS.apart(24.0)), (0.0, 24.0));
        assert_eq!(KILOWATTS_PER_AREA.key("flux"), "flux_kW_m2");
        assert_eq!(KILOWATTS_PER_AREA.plain_unit(), "kW/m2");
    }
}
