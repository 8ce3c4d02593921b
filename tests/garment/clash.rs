//! Claim: a name on two shelves is said with both places, and the later one is used.

use std::path::PathBuf;

use stillair::shelf::materials::Shelf;

const HEAD: &str = "name,role,fibre,areal_density_g_m2,thickness_mm,from\n";

/// A folder that is removed when the test ends.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str, files: &[(&str, &str)]) -> Folder {
        let dir = std::env::temp_dir().join(format!("stillair-{name}-{}", std::process::id()));
        std::fs::create_dir_all(dir.join("layups")).unwrap();
        for (file, text) in files {
            std::fs::write(dir.join(file), text).unwrap();
        }
        Folder(dir)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

#[test]
fn the_built_in_shelf_has_no_clash() {
    assert!(Shelf::built_in().unwrap().clashes().is_empty());
}

#[test]
fn the_later_shelf_wins_and_both_places_are_said() {
    let one = format!(
        "{HEAD}outer-wool-270,outer,wool,280,0.8,measured\nmine,outer,wool,300,0.9,measured\n"
    );
    let two = format!("{HEAD}mine,outer,wool,310,0.95,measured\n");
    let blank = "name = \"mine\"\n[[stack]]\nply = \"mine\"\n";
    let first = Folder::new("clash-1", &[("fabrics.csv", &one)]);
    let second = Folder::new(
        "clash-2",
        &[("fabrics.csv", &two), ("layups/three-ply-quilted-blank.toml", blank)],
    );
    let shelf = Shelf::with_dirs(&[first.0.clone(), second.0.clone()]).unwrap();
    assert!((shelf.fabric("outer-wool-270").unwrap().areal_density.value - 0.280).abs() < 1e-12);
    assert!((shelf.fabric("mine").unwrap().areal_density.value - 0.310).abs() < 1e-12);
    assert_eq!(shelf.layup_text("three-ply-quilted-blank").unwrap(), blank);
    let said: Vec<String> = shelf.clashes().iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 3, "{said:?}");
    let (first, second) = (first.0.display(), second.0.display());
    assert!(said[0].starts_with(&format!(
        "fabric `outer-wool-270` is defined twice: {first}/fabrics.csv:2 is used, \
         materials/fabrics.csv:"
    )));
    assert_eq!(
        said[1],
        format!(
            "fabric `mine` is defined twice: {second}/fabrics.csv:2 is used, \
             {first}/fabrics.csv:3 is not"
        )
    );
    assert!(said[2].contains("layup `three-ply-quilted-blank` is defined twice"));
}

#[test]
fn a_replaced_fibre_changes_the_fabrics_made_of_it() {
    let fibres = "name,density_kg_m3,conductivity_W_mK,specific_heat_J_kgK,\
                  specific_heat_slope_J_kgK2,regain_pct,limit_C,limit_event,from\n\
                  wool,1310,0.165,1500,2,15,240,chars,measured\n";
    let folder = Folder::new("clash-3", &[("fibres.csv", fibres)]);
    let shelf = Shelf::with_dirs(std::slice::from_ref(&folder.0)).unwrap();
    let cloth = shelf.fabric("outer-wool-270").unwrap();
    assert!((cloth.specific_heat.value.at(298.15) - 1500.0).abs() < 1e-9);
    assert_eq!(cloth.limit_event, "chars");
    assert_eq!(shelf.clashes().len(), 1);
}

#[test]
fn a_folder_without_shelf_files_is_refused() {
    let folder = Folder::new("clash-4", &[("fabric.csv", HEAD)]);
    std::fs::remove_dir(folder.0.join("layups")).unwrap();
    let faults = Shelf::with_dirs(std::slice::from_ref(&folder.0)).unwrap_err();
    assert!(faults.to_string().contains("holds no file of a shelf"), "{faults}");
    let faults = Shelf::with_dirs(&[folder.0.join("nowhere")]).unwrap_err();
    assert!(faults.to_string().contains("is not a directory"), "{faults}");
}
