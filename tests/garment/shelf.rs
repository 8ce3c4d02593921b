//! Claim: the built-in shelf is whole: every value has its source, and estimates are plausible.

use stillair::garment::fabric::{Fabric, Role};
use stillair::garment::known::{Known, Provenance};
use stillair::garment::target::Figure;
use stillair::shelf::materials::Shelf;

fn shelf() -> Shelf {
    Shelf::built_in().unwrap_or_else(|faults| panic!("{faults}"))
}

/// Provenance and source of every value of a fabric.
fn origins(fabric: &Fabric) -> Vec<(&'static str, Provenance, &str)> {
    fn of<'k, T>(noun: &'static str, known: &'k Known<T>) -> (&'static str, Provenance, &'k str) {
        (noun, known.provenance, &known.source)
    }
    vec![
        of("areal density", &fabric.areal_density),
        of("thickness", &fabric.thickness),
        of("conductivity", &fabric.conductivity),
        of("specific heat", &fabric.specific_heat),
        of("emissivity", &fabric.emissivity),
        of("transmissivity", &fabric.transmissivity),
        of("regain", &fabric.regain),
        of("fibre density", &fabric.fibre_density),
        of("limit", &fabric.temp_limit),
    ]
}

#[test]
fn every_value_has_a_source_that_is_listed() {
    let shelf = shelf();
    for fabric in shelf.fabrics() {
        for (noun, provenance, source) in origins(fabric) {
            let by_rule = provenance == Provenance::Estimated
                && (source.starts_with("from areal density")
                    || source.starts_with("usual for")
                    || source.starts_with("taken as"));
            let keys = source.split("; ").next().unwrap_or_default();
            let listed = keys.split(" + ").all(|key| shelf.source(key).is_ok());
            assert!(by_rule || listed, "{noun} of {}: {provenance}, `{source}`", fabric.name);
        }
    }
    for exposure in shelf.exposures() {
        assert!(shelf.source(&exposure.source).is_ok(), "{}", exposure.name);
    }
    for target in shelf.targets() {
        assert!(shelf.source(&target.source).is_ok(), "{}", target.name);
    }
    for skin in shelf.skins() {
        assert!(shelf.source(&skin.source).is_ok(), "{}", skin.name);
    }
}

#[test]
fn the_shelf_covers_every_role_and_several_fibres() {
    let shelf = shelf();
    assert!(shelf.fabrics().count() >= 30);
    for role in Role::ALL {
        let n = shelf.fabrics().filter(|fabric| fabric.role == role).count();
        assert!(n >= 3, "{} fabrics for {}", n, role.word());
    }
    assert!(shelf.fibres().count() >= 12);
}

/// Band at 25 °C from the published range of nine fire-fighters' materials, 0.034 to 0.136 W/(m·K)
/// (NISTIR 6512, abstract), widened at the low end for the lightest laminates; estimates only.
#[test]
fn estimated_conductivities_are_plausible() {
    let mut n_estimated = 0;
    for fabric in shelf().fabrics() {
        let k = &fabric.conductivity;
        if k.source.starts_with("from areal density") {
            n_estimated += 1;
            let value = k.value.at(298.15);
            assert!((0.028..0.136).contains(&value), "{}: {value:.4} W/(m·K)", fabric.name);
        }
    }
    assert!(n_estimated >= 10);
}

/// Band of woven aramid of 200 g/m² at 25 °C: 0.042 to 0.052 W/(m·K); common practice, no source.
#[test]
fn estimates_for_published_wovens_lie_in_the_band_of_the_trade() {
    let shelf = shelf();
    for name in ["outer-aramid-195-a", "outer-aramid-195-b", "outer-pbi-195", "outer-aramid-200-e"]
    {
        let k = shelf.fabric(name).unwrap().conductivity.value.at(298.15);
        assert!((0.042..0.052).contains(&k), "{name}: {k:.4} W/(m·K)");
    }
}

/// NISTIR 6512 (abstract): conductivity rose with temperature for every material.
#[test]
fn every_conductivity_rises_with_temperature() {
    for fabric in shelf().fabrics() {
        let k = &fabric.conductivity.value;
        assert!(k.at(600.0) > 1.15 * k.at(298.15), "{}", fabric.name);
    }
}

/// Torvi and Dale, Fire Technology 35 (1999) 210, laws from memory:
/// k = 0.8 k_air + 0.2 k_fibre, c = 1300 + 1.6 (T − 300), table to four digits of k in mW/(m·K).
#[test]
fn the_torvi_dale_ply_follows_its_published_law() {
    let shelf = shelf();
    let ply = shelf.fabric("outer-torvi-194").unwrap();
    for (celsius, k, c) in [
        (27.0, 0.047, 1300.0),
        (127.0, 0.088, 1460.0),
        (227.0, 0.130, 1620.0),
        (327.0, 0.171, 1780.0),
        (427.0, 0.213, 1940.0),
    ] {
        let temp = celsius + 273.15;
        assert!((ply.conductivity.value.at(temp) - k).abs() < 6e-4, "k at {celsius} °C");
        assert!((ply.specific_heat.value.at(temp) - c).abs() < 0.5, "c at {celsius} °C");
    }
}

#[test]
fn masses_and_thicknesses_of_the_published_assemblies_add_up() {
    // Atalay, Kursun Bahadir, Kalaoglu 2015, Table 2: whole assemblies, sums of separate layers
    use stillair::shelf::layup::read::read_layup_text;
    let shelf = shelf();
    for (n, mass, thickness) in
        [(1, 520.0, 2.33), (2, 520.0, 2.38), (3, 465.0, 2.0), (4, 460.0, 2.11), (5, 540.0, 2.66)]
    {
        let name = format!("published-assembly-{n}");
        let text = shelf.layup_text(&name).unwrap();
        let layup = read_layup_text(text, shelf.layup_path(&name).unwrap(), &shelf).unwrap();
        assert!((layup.areal_density() * 1e3 - mass).abs() < 1e-6, "{name}");
        assert!((layup.thickness() * 1e3 - thickness).abs() < 1e-6, "{name}");
    }
}

/// Sources in `materials/sources.csv` under the keys of the targets.
#[test]
fn targets_arrive_in_si_with_their_exposure() {
    let shelf = shelf();
    for target in shelf.targets() {
        assert!(target.suits(shelf.exposure(&target.exposure).unwrap()));
    }
    let target = shelf.target("nfpa-1971-tpp").unwrap();
    assert_eq!(target.figure, Figure::Tpp);
    // 35 cal/cm² at 4.1868 J/cal
    assert!((target.at_least - 35.0 * 4.1868e4).abs() < 1e-6);
    let target = shelf.target("fia-8856-2018-overall").unwrap();
    assert_eq!((target.figure, target.at_least), (Figure::Rise24, 12.0));
}

/// ISO 9151 disc: 18.00 g, 0.385 J/(g·K), 40 mm, so 80 kW/m² give about 14.5 K/s.
#[test]
fn the_flame_exposure_carries_the_disc_of_its_method() {
    let shelf = shelf();
    let exposure = shelf.exposure("flame-80").unwrap();
    let rate = 80e3 / exposure.disc.cap_area();
    assert!((rate - 14.5).abs() < 0.05, "{rate} K/s");
}

/// Weaver and Stoll 1969 in the standards' skin: burn in 349.8 s at 47 °C and 3.159 s at 55 °C.
#[test]
fn damage_coefficients_give_the_known_times() {
    let shelf = shelf();
    let ranges = &shelf.skin("f1930-iso13506").unwrap().basal.ranges;
    for (celsius, i, seconds) in [(47.0, 0, 349.829), (55.0, 1, 3.15935)] {
        let rate = (ranges[i].ln_rate - ranges[i].temp_activation / (celsius + 273.15_f64)).exp();
        assert!((1.0 / rate / seconds - 1.0).abs() < 1e-4, "{} s at {celsius} °C", 1.0 / rate);
    }
}

#[test]
fn unknown_names_come_with_the_nearest() {
    let shelf = shelf();
    let unknown = shelf.fabric("felt-needle-100").unwrap_err();
    assert_eq!(unknown.nearest[0], "felt-needled-100");
    assert!(shelf.exposure("flame80").unwrap_err().to_string().contains("`flame-80`"));
    assert!(shelf.skin("xyz").unwrap_err().nearest.is_empty());
}
