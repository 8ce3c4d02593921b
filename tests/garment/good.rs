//! Claim: what a sound file says arrives in SI, whatever the notation's habits.

use std::path::Path;

use approx::assert_relative_eq;
use stillair::garment::exposure::{Flux, Orientation};
use stillair::garment::known::Provenance;
use stillair::garment::layup::{Entry, Layup, Pattern, PlyJoint};
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::shelf::stock::exposure_file::read_exposure;

fn layup(text: &str) -> Layup {
    let shelf = Shelf::built_in().unwrap();
    read_layup_text(text, Path::new("here.toml"), &shelf)
        .unwrap_or_else(|faults| panic!("{faults}"))
}

/// A shelf in a folder of its own, removed afterwards.
fn with_shelf<T>(name: &str, files: &[(&str, &str)], run: impl FnOnce(Shelf) -> T) -> T {
    let dir = std::env::temp_dir().join(format!("stillair-{name}-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    for (file, text) in files {
        std::fs::write(dir.join(file), text).unwrap();
    }
    let shelf = Shelf::with_dirs(std::slice::from_ref(&dir));
    std::fs::remove_dir_all(&dir).unwrap();
    run(shelf.unwrap_or_else(|faults| panic!("{faults}")))
}

#[test]
fn every_value_of_a_row_arrives_in_si() {
    let head = "name,role,fibre,areal_density_g_m2,thickness_mm,thickness_pressure_kPa,\
                conductivity_W_mK,conductivity_temp_C,conductivity_slope_W_mK2,conductivity_to_C,\
                specific_heat_J_kgK,specific_heat_temp_C,specific_heat_slope_J_kgK2,emissivity,\
                transmissivity,regain_pct,limit_C,limit_event,compression,from,emissivity_from";
    let row = "mine,outer,wool,270,0.75,1,0.05,20,0.0001,420,1400,30,2,0.8,0.02,14,230,chars,\
               \"1:0.75 5:0.60\",measured,data sheet: analogy";
    let text = format!("{head}\n{row}\n");
    with_shelf("si", &[("fabrics.csv", &text)], |shelf| {
        let cloth = shelf.fabric("mine").unwrap();
        assert_relative_eq!(cloth.areal_density.value, 0.270, max_relative = 1e-12);
        assert_relative_eq!(cloth.thickness.value, 0.75e-3, max_relative = 1e-12);
        assert_eq!(cloth.thickness_pressure, Some(1000.0));
        assert_relative_eq!(cloth.conductivity.value.at(293.15), 0.05, max_relative = 1e-12);
        assert_relative_eq!(cloth.conductivity.value.at(393.15), 0.06, max_relative = 1e-12);
        assert_relative_eq!(cloth.conductivity.value.at(999.0), 0.09, max_relative = 1e-12);
        assert_relative_eq!(cloth.specific_heat.value.at(403.15), 1600.0, max_relative = 1e-12);
        assert_eq!(cloth.conductivity.provenance, Provenance::Measured);
        assert_eq!(cloth.emissivity.provenance, Provenance::DataSheet);
        assert_eq!((cloth.emissivity.value, cloth.transmissivity.value), (0.8, 0.02));
        assert_relative_eq!(cloth.regain.value, 0.14, max_relative = 1e-12);
        assert_relative_eq!(cloth.temp_limit.value, 503.15, max_relative = 1e-12);
        assert_eq!(cloth.limit_event, "chars");
        let compression = &cloth.compression;
        assert_eq!(compression.len(), 2);
        assert_relative_eq!(compression[1].0, 5000.0, max_relative = 1e-12);
        assert_relative_eq!(compression[1].1, 0.60e-3, max_relative = 1e-12);
    });
}

#[test]
fn blanks_come_from_the_fibre_or_an_estimate_and_say_so() {
    let text = "name,role,fibre,areal_density_g_m2,thickness_mm,conductivity_W_mK,from\n\
                bare,felt,wool,100,1.5,,measured\nhalf,felt,wool,100,1.5,0.04,measured\n";
    with_shelf("blank", &[("fabrics.csv", text)], |shelf| {
        let (bare, half) = (shelf.fabric("bare").unwrap(), shelf.fabric("half").unwrap());
        let wool = shelf.fibre("wool").unwrap();
        assert_eq!(bare.specific_heat, wool.specific_heat);
        assert_eq!((&bare.regain, &bare.temp_limit), (&wool.regain, &wool.temp_limit));
        assert_eq!(bare.conductivity.provenance, Provenance::Estimated);
        assert_eq!(bare.emissivity.provenance, Provenance::Estimated);
        let k = &half.conductivity;
        assert_relative_eq!(k.value.at(298.15), 0.04, max_relative = 1e-12);
        assert!(k.value.at(500.0) > 0.05, "the rise with temperature is left out");
        // the value keeps its own provenance, its rise has another
        assert_eq!(k.provenance, Provenance::Measured);
        assert_eq!(k.rise_provenance(), Provenance::Estimated);
        assert_eq!(k.told_source(), "measured; rise with temperature estimated");
    });
}

#[test]
fn byte_order_mark_and_carriage_returns_do_not_matter() {
    let text = "\u{feff}name,role,fibre,areal_density_g_m2,thickness_mm,from\r\n\
                spread,inner,cotton,150,0.5,measured\r\n\r\n";
    with_shelf("bom", &[("fabrics.csv", text)], |shelf| {
        assert_relative_eq!(shelf.fabric("spread").unwrap().thickness.value, 0.5e-3);
    });
    let toml = "\u{feff}name = \"x\"\r\n[[stack]]\r\nply = \"outer-wool-270\"\r\n";
    assert_eq!(layup(toml).plies().count(), 1);
}

#[test]
fn overrides_of_a_ply_count_as_measured_unless_said() {
    let shelf = Shelf::built_in().unwrap();
    let read = layup(
        "name = \"x\"\n[[stack]]\nply = \"outer-torvi-194\"\nthickness_mm = 0.5\n\
         conductivity_W_mK = 0.06\njoint_W_m2K = 500\n[[stack]]\nply = \"felt-needled-100\"\n\
         regain_pct = 0\nfrom = \"data sheet: mill\"\n[[stack]]\ngap_mm = 2\n",
    );
    let plies: Vec<_> = read.plies().collect();
    let thickness = &plies[0].fabric.thickness;
    assert_relative_eq!(thickness.value, 0.5e-3, max_relative = 1e-12);
    assert_eq!(thickness.provenance, Provenance::Measured);
    let k = &plies[0].fabric.conductivity.value;
    assert_relative_eq!(k.at(298.15), 0.06, max_relative = 1e-12);
    // the slope stays the shelf's: 0.8·0.000068 + 0.2·0.0018, Torvi and Dale 1999 from memory
    assert_relative_eq!(k.at(398.15) - k.at(298.15), 0.04144, max_relative = 1e-9);
    let PlyJoint::Conductance(joint) = &plies[0].joint else { panic!("a conductance") };
    assert_eq!(joint.value, 500.0);
    assert_eq!(plies[1].joint, PlyJoint::Faces);
    let regain = &plies[1].fabric.regain;
    assert_eq!((regain.value, regain.provenance), (0.0, Provenance::DataSheet));
    assert_eq!(&*regain.source, "mill");
    // mass and conductivity go on holding for the shelf's regain
    let shelved = shelf.fabric("felt-needled-100").unwrap().regain.value;
    assert!(shelved > 0.0);
    assert_eq!(plies[1].fabric.regain_conditioned, shelved);
    let untouched = &shelf.fabric("felt-needled-100").unwrap().thickness;
    assert_eq!(&plies[1].fabric.thickness, untouched);
    let Entry::Gap(gap) = &read.stack[2] else { panic!("the last entry is a gap") };
    assert_relative_eq!(gap.thickness.value, 2e-3, max_relative = 1e-12);
}

#[test]
fn quilting_arrives_in_si() {
    let shelf = Shelf::built_in().unwrap();
    let text = shelf.layup_text("three-ply-quilted-blank").unwrap();
    let quilting = layup(text).quilting.expect("the blank is quilted");
    assert_eq!(quilting.pattern, Pattern::Diamond);
    assert_relative_eq!(quilting.pitch.value, 0.040, max_relative = 1e-12);
    assert_relative_eq!(quilting.thread.unwrap().value, 1.2e-4, max_relative = 1e-12);
    assert_eq!(quilting.loft.provenance, Provenance::Invented);
}

#[test]
fn an_exposure_file_takes_its_flux_from_beside_it() {
    let dir = std::env::temp_dir().join(format!("stillair-flux-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    std::fs::write(dir.join("flux.csv"), "time_s,flux_kW_m2\n0,0\n2,84\n4,10\n").unwrap();
    let text = "name = \"burst\"\nflux_file = \"flux.csv\"\nradiant_share = 0.5\n\
                flame_temperature_C = 1500\nroom_temperature_C = 20\nduration_s = 4\nuntil_s = 60\n\
                cooling_W_m2K = 8\norientation = \"vertical\"\nspacer_mm = 6.4\n\
                disc = { mass_g = 18, specific_heat_J_kgK = 385, area_cm2 = 12.566, emissivity = 0.95 }\n";
    std::fs::write(dir.join("burst.toml"), text).unwrap();
    let exposure = read_exposure(&dir.join("burst.toml"));
    std::fs::remove_dir_all(&dir).unwrap();
    let exposure = exposure.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(exposure.flux, Flux::Series(vec![(0.0, 0.0), (2.0, 84e3), (4.0, 10e3)]));
    assert_eq!(exposure.orientation, Orientation::Vertical);
    assert_relative_eq!(exposure.temp_flame, 1773.15, max_relative = 1e-12);
    assert_relative_eq!(exposure.spacer, 6.4e-3, max_relative = 1e-12);
    assert_eq!(exposure.duration, Some(4.0));
    assert_relative_eq!(exposure.disc.cap_area(), 0.018 * 385.0 / 12.566e-4, max_relative = 1e-12);
}

#[test]
fn a_face_keeps_air_by_one_rule_unless_measured() {
    let shelf = Shelf::built_in().unwrap();
    // 8 % of the thickness for cloth, 5 % for felts, 3 % for barriers: no source
    for (name, share) in [
        ("outer-wool-270", 0.08),
        ("lining-viscose-120", 0.08),
        ("inner-jersey-140", 0.08),
        ("patch-aramid-400", 0.08),
        ("felt-needled-100", 0.05),
        ("barrier-spunlace-120", 0.03),
    ] {
        let fabric = shelf.fabric(name).unwrap();
        let void = &fabric.face_void;
        assert_relative_eq!(void.value, share * fabric.thickness.value, max_relative = 1e-12);
        assert_eq!(void.provenance, Provenance::Estimated);
    }
    let read = layup(
        "name = \"x\"\n[[stack]]\nply = \"felt-needled-100\"\nface_void_um = 40\njoint = \"shared\"\n\
         [[stack]]\nply = \"inner-wool-190\"\njoint = \"faces\"\n",
    );
    let plies: Vec<_> = read.plies().collect();
    let void = &plies[0].fabric.face_void;
    assert_relative_eq!(void.value, 40e-6, max_relative = 1e-12);
    assert_eq!(void.provenance, Provenance::Measured);
    assert_eq!((&plies[0].joint, &plies[1].joint), (&PlyJoint::Shared, &PlyJoint::Faces));
    // 40 µm and 8 % of 0.8 mm
    assert_relative_eq!(plies[0].face_air(Some(plies[1])), 104e-6, max_relative = 1e-12);
    assert_relative_eq!(plies[1].face_air(None), 64e-6, max_relative = 1e-12);
}
