//! Claim: every layup of the project can be read, from its file as by its name.

use std::path::Path;

use stillair::shelf::layup::read::{read_layup, read_layup_text};
use stillair::shelf::materials::Shelf;

fn tomls(folder: &str) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|err| panic!("{folder}: {err}"));
    let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

#[test]
fn every_layup_file_on_the_shelf_is_built_in_and_reads_the_same() {
    let shelf = Shelf::built_in().unwrap();
    let paths = tomls("materials/layups");
    assert_eq!(paths.len(), shelf.layup_names().count());
    for path in paths {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let from_file = read_layup(&path, &shelf).unwrap_or_else(|faults| panic!("{faults}"));
        let text = shelf.layup_text(name).unwrap();
        let by_name = read_layup_text(text, Path::new(name), &shelf).unwrap();
        assert_eq!(from_file, by_name, "{name}");
    }
}

/// The properties of the independent calculation: k and c at 25 and 125 °C, chosen, not measured.
#[test]
fn the_check_layups_hold_the_values_of_the_independent_calculation() {
    let shelf = Shelf::built_in().unwrap();
    for (file, n_gaps) in [("check-three-ply", 0), ("check-three-ply-gaps", 2)] {
        let path = format!("tests/reference/layups/{file}.toml");
        let layup =
            read_layup(Path::new(&path), &shelf).unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(layup.gaps().count(), n_gaps);
        let expected = [
            (0.180, 0.45e-3, 0.055, 0.065),
            (0.070, 1.2e-3, 0.038, 0.053),
            (0.130, 0.6e-3, 0.050, 0.060),
        ];
        for (ply, (mass, thickness, k25, k125)) in layup.plies().zip(expected) {
            let fabric = &ply.fabric;
            assert!((fabric.areal_density.value - mass).abs() < 1e-12);
            assert!((fabric.thickness.value - thickness).abs() < 1e-12);
            assert!((fabric.conductivity.value.at(298.15) - k25).abs() < 1e-12);
            assert!((fabric.conductivity.value.at(398.15) - k125).abs() < 1e-12);
            assert!((fabric.specific_heat.value.at(398.15) - 1400.0).abs() < 1e-9);
            assert_eq!((fabric.regain.value, fabric.transmissivity.value), (0.0, 0.0));
            assert_eq!(fabric.emissivity.value, 0.9);
        }
    }
}

#[test]
fn the_layup_of_the_guide_is_read() {
    let guide = std::fs::read_to_string("materials/README.md").unwrap();
    let block = guide.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let shelf = Shelf::built_in().unwrap();
    let layup = read_layup_text(block, Path::new("guide.toml"), &shelf);
    let layup = layup.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!((layup.plies().count(), layup.gaps().count()), (3, 1));
    assert!(layup.quilting.is_some());
}
