//! Claim: fibres, blends and fabrics carry the kinetics of charring that the shelf gives.
//! Source: `materials/fibres.csv`, whose values name theirs.
//! Tolerance: rounding.

use approx::assert_relative_eq;
use stillair::garment::known::Provenance;
use stillair::shelf::materials::Shelf;

fn shelf() -> Shelf {
    Shelf::built_in().unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn every_value_of_charring_has_a_source_that_is_listed() {
    let shelf = shelf();
    let chars: Vec<_> = shelf.fibres().flat_map(|fibre| &fibre.charring).collect();
    assert_eq!(chars.len(), 3);
    for part in chars {
        let all = &part.charring;
        for value in [&all.energy, &all.temp_peak, &all.residue, &all.heat, &all.water_share] {
            assert!(shelf.source(&value.source).is_ok(), "{}: {}", part.fibre, value.source);
        }
    }
}

/// Antal, Varhegyi, Jakab 1998: cellulose, 228 kJ/mol; peak below 300 °C with a phosphate.
#[test]
fn viscose_chars_as_cellulose_does() {
    let shelf = shelf();
    let viscose = &shelf.fibre("FR viscose").unwrap().charring[0];
    assert_eq!((viscose.fibre.as_str(), viscose.share), ("FR viscose", 1.0));
    assert_relative_eq!(viscose.charring.energy.value, 228e3, max_relative = 1e-12);
    assert_eq!(viscose.charring.energy.provenance, Provenance::Published);
    assert!(viscose.charring.temp_peak.value < 573.15);
    // C6H10O5 = 6 C + 5 H2O: no more water than 90 of 162 parts of the fibre
    let water = (1.0 - viscose.charring.residue.value) * viscose.charring.water_share.value;
    assert!(water > 0.0 && water < 90.0 / 162.0, "{water}");
}

#[test]
fn a_fabric_of_a_blend_carries_what_chars_of_it() {
    let shelf = shelf();
    let parts = |name: &str| -> Vec<(String, f64)> {
        let fabric = shelf.fabric(name).unwrap();
        fabric.charring.iter().map(|part| (part.fibre.clone(), part.share)).collect()
    };
    // meta-aramid/FR viscose/melamine/para-aramid 39.6/29.3/20.7/10.4
    let lined = parts("felt-lined-205");
    let names: Vec<&str> = lined.iter().map(|part| part.0.as_str()).collect();
    assert_eq!(names, ["meta-aramid", "FR viscose", "para-aramid"]);
    for (part, share) in lined.iter().zip([0.396, 0.293, 0.104]) {
        assert_relative_eq!(part.1, share, max_relative = 1e-12);
    }
    assert!(parts("outer-wool-270").is_empty());
}

/// EN 469 level 2 asks at most 30 m²Pa/W of a garment: a barrier alone lies below.
#[test]
fn barriers_and_they_alone_resist_vapour() {
    for fabric in shelf().fabrics() {
        let resists = fabric.vapour_resistance.value > 0.0;
        assert_eq!(resists, fabric.name.starts_with("barrier-"), "{}", fabric.name);
        assert!(fabric.vapour_resistance.value < 30.0, "{}", fabric.name);
    }
}
