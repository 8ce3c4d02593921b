//! What data sheets and people call the keys of a record, beside the keys themselves.

/// The first part of a key, and other words for it; common practice, no source.
const OTHER: [(&str, &[&str]); 13] = [
    (
        "areal_density",
        &[
            "mass",
            "weight",
            "grammage",
            "gsm",
            "areal_mass",
            "areal_weight",
            "area_weight",
            "surface_mass",
            "basis_weight",
            "mass_per_area",
            "mass_per_unit_area",
            "fabric_weight",
        ],
    ),
    ("thickness", &["thick", "gauge", "caliper", "calliper"]),
    ("conductivity", &["lambda", "k", "k_value", "thermal_conductivity", "heat_conductivity"]),
    ("specific_heat", &["cp", "heat_capacity", "specific_heat_capacity"]),
    ("regain", &["moisture", "moisture_regain", "moisture_content", "humidity", "water"]),
    ("emissivity", &["emittance", "emission", "epsilon"]),
    ("transmissivity", &["transmittance", "transmission", "tau"]),
    ("vapour_resistance", &["ret", "vapor_resistance", "water_vapour_resistance"]),
    ("limit", &["limit_temperature", "max_temperature", "decomposition_temperature"]),
    ("name", &["fabric", "article", "style", "designation", "id", "item", "product"]),
    ("fibre", &["fiber", "fibres", "fibers", "material", "composition", "blend"]),
    ("role", &["layer", "use", "kind", "type", "position"]),
    ("description", &["text", "remark", "remarks", "comment", "comments"]),
];

/// The first part of the key that a word of a sheet means, whatever its case, brackets and unit.
///
/// - `units`: endings that may follow the word
pub(crate) fn meant(written: &str, units: &[&str]) -> Option<&'static str> {
    let bare = written.split(['[', '(']).next().unwrap_or(written).trim().to_lowercase();
    let bare = bare.replace([' ', '-', '/'], "_");
    let found =
        |word: &str| OTHER.iter().find(|(_, others)| others.contains(&word)).map(|(base, _)| *base);
    let without = |unit: &&str| bare.strip_suffix(*unit)?.strip_suffix('_').and_then(found);
    found(&bare).or_else(|| units.iter().find_map(without))
}

#[cfg(test)]
mod tests {
    use super::{OTHER, meant};
    use crate::shelf::key::kinds::FABRIC;

    #[test]
    fn words_of_sheets_are_understood() {
        let units = ["g_m2", "gsm", "w_mk"];
        for (written, base) in [
            ("mass", "areal_density"),
            ("Mass [g/m²]", "areal_density"),
            ("weight_gsm", "areal_density"),
            ("Thermal conductivity (W/mK)", "conductivity"),
            ("lambda_W_mK", "conductivity"),
            ("Article", "name"),
            ("fiber", "fibre"),
        ] {
            assert_eq!(meant(written, &units), Some(base), "{written}");
        }
        for written in ["thickness_mm", "massive", "colour", "", "[g/m²]"] {
            assert_eq!(meant(written, &units), None, "{written}");
        }
    }

    /// Each is a key of a fabric, and none of the other words is one itself.
    #[test]
    fn other_words_are_no_keys() {
        let is_base = |word: &str| {
            FABRIC.fields.iter().any(|field| field.base == word) || FABRIC.words.contains(&word)
        };
        for (base, others) in OTHER {
            assert!(is_base(base), "{base}");
            assert!(!others.iter().any(|word| is_base(word)), "{base}");
        }
    }
}
