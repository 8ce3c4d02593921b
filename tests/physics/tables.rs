//! Claim: each computed table was made by the version that the requirements pin, and the
//! tables that other tests rest on agree with published answers.
//! Source: `requirements.txt`; `worked_examples.csv` rows slab_lumped_*, si_h_ees3, slab_flux.
//! Tolerance: that of each row.

use crate::close::within;
use crate::reference::{example, path, rows};
use std::fs;

const COMPUTED: [&str; 9] = [
    "burnt_propane.csv",
    "air_coolprop.csv",
    "vapour_coolprop.csv",
    "water_coolprop.csv",
    "gap_ht.csv",
    "moving_vapour.csv",
    "two_layer_wall.csv",
    "slab_and_disc.csv",
    "semi_infinite_convection.csv",
];

fn read(name: &str) -> String {
    fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[test]
fn versions_are_the_pinned_ones() {
    let pinned = read("requirements.txt");
    for name in COMPUTED {
        let table = read(name);
        let head = table.lines().next().expect("a first line");
        let made_by =
            head.strip_prefix("# Computed with ").unwrap_or_else(|| panic!("{name}: {head}"));
        let (program, rest) = made_by.split_once(' ').expect("program and version");
        let version = rest.split_once(". ").expect("version and description").0;
        let pin = format!("{program}=={version}");
        assert!(pinned.lines().any(|line| line == pin), "{name}: {pin} is not pinned");
    }
}

/// Tables of the folder and of the fits, with the lines that begin with `#`.
fn heads() -> Vec<(String, String)> {
    let folder = |name: &str| {
        let entries = fs::read_dir(path(name)).expect("folder").map(|entry| entry.expect("entry"));
        let names = entries.map(|entry| entry.file_name().into_string().expect("name"));
        let prefix = if name.is_empty() { String::new() } else { format!("{name}/") };
        names.map(|file| format!("{prefix}{file}")).collect::<Vec<_>>()
    };
    let all = [folder(""), folder("fits")].concat().into_iter();
    all.filter(|name| name.ends_with(".csv"))
        .map(|name| {
            let head: Vec<String> = read(&name)
                .lines()
                .filter(|line| line.starts_with('#'))
                .map(str::to_owned)
                .collect();
            (name, head.join(" "))
        })
        .collect()
}

/// Whatever program a table's head names beside a version, it is the pinned one; programs that help
/// another (mpmath in ht's table, numpy in scipy's) count too.
#[test]
fn every_version_named_is_the_pinned_one() {
    let pinned = read("requirements.txt");
    let pins: Vec<(&str, &str)> =
        pinned.lines().map(|line| line.split_once("==").expect("program==version")).collect();
    let mut n_named = 0;
    for (name, head) in heads() {
        let words: Vec<&str> = head.split_whitespace().collect();
        for pair in words.windows(2) {
            let version = pair[1].trim_end_matches(['.', ',', ':']);
            let is_version = version.starts_with(|c: char| c.is_ascii_digit());
            if let Some((_, pin)) = pins.iter().find(|(program, _)| *program == pair[0]) {
                if is_version {
                    assert_eq!(version, *pin, "{name}: {} {version}", pair[0]);
                    n_named += 1;
                }
            }
        }
    }
    // nine computed tables, mpmath a second voice in one of them, scipy and numpy of the
    // fit, scipy of the limits
    assert_eq!(n_named, COMPUTED.len() + 4);
}

/// No table says that it was computed without standing in the list, and the script writes each.
#[test]
fn the_script_writes_every_computed_table() {
    let script = read("regenerate.py");
    let mut computed: Vec<String> = heads()
        .into_iter()
        .filter(|(_, head)| head.contains("Computed with"))
        .map(|(name, _)| name)
        .collect();
    let mut listed = COMPUTED.map(String::from).to_vec();
    computed.sort();
    listed.sort();
    assert_eq!(computed, listed);
    for name in COMPUTED {
        assert!(script.contains(&format!("write(\"{name}\"")), "{name} is not in the script");
    }
}

#[test]
fn every_table_is_described() {
    let readme = read("README.md");
    for entry in fs::read_dir(path("")).expect("folder") {
        let name = entry.expect("entry").file_name().into_string().expect("name");
        if name.ends_with(".csv") || name.ends_with(".py") {
            assert!(readme.contains(&format!("`{name}`")), "{name} is not in README.md");
        }
    }
}

#[test]
fn sources_are_books_and_standards() {
    for entry in fs::read_dir(path("")).expect("folder") {
        let entry = entry.expect("entry");
        if entry.path().is_dir() {
            continue;
        }
        let name = entry.file_name().into_string().expect("name");
        let text = read(&name);
        for part in ["http", "www.", ".com/", ".org/"] {
            assert!(!text.contains(part), "{name} holds a web address: {part}");
        }
        let described = text.lines().find(|line| !line.starts_with('#')).unwrap_or_default();
        if name.ends_with(".csv") && !COMPUTED.contains(&name.as_str()) {
            assert!(described.contains("source,provenance"), "{name} has no source columns");
        }
    }
}

fn disc_rise(case: &str, t: f64) -> f64 {
    let table = rows("slab_and_disc.csv");
    let row = table.iter().find(|row| row.text("case") == case && row.number("time_s") == t);
    row.expect("a row at that time").number("rise_disc_K")
}

#[test]
fn slab_and_disc_reaches_12_and_24_kelvin_when_it_should() {
    for (id, case, slope) in
        [("slab_lumped_quasi", "slow", 1.75), ("slab_lumped_fast", "fast", 2.8)]
    {
        let row = example(id);
        for (t, rise) in row.expected.iter().zip([12.0, 24.0]) {
            // The row's tolerance in time, turned into one in temperature.
            within(disc_rise(case, *t), rise, row.tolerance * slope);
        }
    }
}

#[test]
fn semi_infinite_solid_with_convection() {
    let row = example("si_h_ees3");
    let table = rows("semi_infinite_convection.csv");
    let same = table.iter().find(|found| {
        found.text("case") == "help"
            && found.number("position_m") == row.input("x")
            && found.number("time_s") == row.input("t")
    });
    within(same.expect("the row").number("temperature_K"), row.expected[0], row.tolerance);
}

#[test]
fn two_layers_begin_as_a_semi_infinite_solid() {
    // Carslaw and Jaeger: 2 q √(α t / π) / k, while the interface has not felt anything.
    let table = rows("two_layer_wall.csv");
    let first = &table[0];
    let alpha = 0.05 / 4e5;
    let rise = 2.0 * 1e4 * (alpha * first.number("time_s") / std::f64::consts::PI).sqrt() / 0.05;
    within(first.number("rise_face_K"), rise, 1e-6);
}
