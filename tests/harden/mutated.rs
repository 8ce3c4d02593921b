//! Claim: a shipped file with one field changed is rejected with place and rule, or accepted and then what
//! is read, and what is computed from it, lies within what is possible.
//! Source: common practice, no source; bounds of what is possible beside each.

use std::fs;
use std::path::{Path, PathBuf};

use stillair::bench::outcome::{Figures, When};
use stillair::bench::{Behind, Question};
use stillair::garment::exposure::{Exposure, Flux};
use stillair::garment::layup::Layup;
use stillair::shelf::fault::Faults;
use stillair::shelf::layup::read::read_layup;
use stillair::shelf::materials::Shelf;
use stillair::shelf::stock::exposure_file::read_exposure;
use stillair::study::answer::{Quilts, answer};

use crate::harden::commands::folder;
use crate::harden::numbers::Numbers;

/// What stands in a field's place.
const VALUES: [&str; 20] = [
    "0",
    "-1",
    "1e300",
    "1e-300",
    "nan",
    "inf",
    "1,5",
    "12 mm",
    "",
    "x",
    "0.000001",
    "1000000",
    "0x10",
    "true",
    "2026-11-26",
    "[1, 2]",
    "{}",
    "a\"b",
    "\\u001b[2J",
    "\u{202e}",
];
/// A number of the file is multiplied by these: slips of a unit.
const FACTORS: [f64; 8] = [1e-6, 1e-3, 0.1, 0.5, 2.0, 10.0, 1e3, 1e6];

/// Each shipped file that a user writes like, from the project's folder.
fn shipped() -> Vec<PathBuf> {
    let mut all = Vec::new();
    for folder in ["materials", "materials/layups", "materials/suits", "materials/briefs"] {
        let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        all.extend(entries.filter(|path| {
            path.extension().is_some_and(|ending| ending == "csv" || ending == "toml")
        }));
    }
    all.extend(["materials/curves/demo-specimen-1.csv", "examples/rolls.csv"].map(PathBuf::from));
    all.sort();
    all
}

/// Places of values in a text: the cells of a table, what stands behind `=` in the lines of the rest.
fn fields(text: &str, is_table: bool) -> Vec<(usize, usize)> {
    let (mut all, mut start) = (Vec::new(), 0);
    for line in text.split_inclusive('\n') {
        let (bare, at) = (line.trim_end_matches('\n'), start);
        start += line.len();
        if bare.starts_with('#') || bare.is_empty() {
            continue;
        }
        if is_table && !bare.contains('"') {
            let mut from = at;
            for cell in bare.split(',') {
                all.push((from, from + cell.len()));
                from += cell.len() + 1;
            }
        } else if let (false, Some(sign)) = (is_table, bare.find('=')) {
            let value = bare[sign + 1..].trim_start();
            let from = at + bare.len() - value.len();
            all.push((from, at + bare.len()));
        }
    }
    all
}

/// The text with one field changed.
fn changed(text: &str, (from, to): (usize, usize), numbers: &mut Numbers) -> String {
    let old = &text[from..to];
    let new = match old.trim().parse::<f64>() {
        Ok(value) if numbers.below(2) == 0 => {
            (value * FACTORS[numbers.below(FACTORS.len())]).to_string()
        }
        _ => numbers.of(&VALUES).to_owned(),
    };
    format!("{}{new}{}", &text[..from], &text[to..])
}

/// Every fault says what, where, the rule and the next thing to do.
fn well_said(faults: &Faults, of: &str) {
    assert!(!faults.0.is_empty(), "{of}: rejected without a word");
    for fault in &faults.0 {
        let whole = !fault.what.is_empty() && !fault.expected.is_empty() && !fault.mend.is_empty();
        assert!(whole && !fault.places.is_empty(), "{of}: {fault}");
        assert!(fault.places.iter().all(|place| !place.path.is_empty()), "{of}: {fault}");
        let said = fault.to_string();
        let steers = |c: char| (c.is_control() && !"\n\t".contains(c)) || c == '\u{202e}';
        assert!(!said.contains(steers), "{of}: {said:?}");
    }
}

/// What a layup was read as, and what comes of it in front of the disc.
fn possible(layup: &Layup, exposure: &Exposure, shelf: &Shelf, of: &str) {
    for ply in layup.plies() {
        let fabric = &ply.fabric;
        let within = |value: f64, low: f64, high: f64, what: &str| {
            assert!((low..=high).contains(&value), "{of}: {what} of {} is {value}", fabric.name);
        };
        within(fabric.emissivity.value, 0.01, 1.0, "emissivity");
        within(fabric.thickness.value, 5e-6, 0.05, "thickness");
        within(fabric.face_void.value, 0.0, fabric.thickness.value, "face void");
        // half of still air's, and twice the substance of the best conducting fibre's
        within(fabric.conductivity.value.at(298.15), 0.012, 2.0, "conductivity");
        let rho = fabric.areal_density.value / fabric.thickness.value;
        within(rho, 0.0, fabric.fibre_density.value * 1.000_001, "density");
    }
    let question = Question::plain(Behind::Disc, shelf.skins().next().unwrap(), 0.1);
    let Ok(outcome) = answer(layup, exposure, &question, Quilts::Computed) else { return };
    let run = outcome.disc.unwrap();
    let Figures::Disc(figures) = &run.figures else { panic!("{of}: no disc") };
    for when in [figures.rise12, figures.rise24, figures.stoll] {
        if let When::At { t, error } = when {
            assert!(t > 0.0 && t <= exposure.t_end && error >= 0.0, "{of}: {when:?}");
        }
    }
    if let (Some(first), Some(second)) = (figures.rise12.t(), figures.rise24.t()) {
        assert!(first < second, "{of}: {first} s, {second} s");
    }
    // nothing is hotter than the flame, nor as hot as the flux alone could hold a black face
    let peak = match &exposure.flux {
        Flux::Steady(flux) => *flux,
        Flux::Series(points) => points.iter().fold(0.0, |most, (_, flux)| flux.max(most)),
    };
    let flux = 1.1 * peak;
    let most = exposure.temp_flame.max((flux / 5.670_374e-8 + 320f64.powi(4)).powf(0.25));
    for ply in &run.plies {
        let peak = ply.temp_peak;
        assert!(peak.is_finite() && peak > 200.0 && peak < 3.0 * most, "{of}: {peak} K");
    }
    assert!(run.numerics.audit < 1e-4, "{of}: audit {}", run.numerics.audit);
}

#[test]
fn every_shipped_file_field_by_field() {
    let shelf = Shelf::built_in().unwrap();
    let flame = shelf.exposure("flame-80").unwrap();
    let plain = read_layup(Path::new("materials/layups/single-outer-195.toml"), &shelf).unwrap();
    let place = folder("mutated");
    let mut numbers = Numbers(20_261_126);
    let (mut n_all, mut n_accepted, mut n_computed) = (0, 0, 0);
    for path in shipped() {
        let text = fs::read_to_string(&path).unwrap();
        let is_table = path.extension().is_some_and(|ending| ending == "csv");
        let is_layup = path.parent().is_some_and(|folder| folder.ends_with("layups"));
        let is_exposures = path.ends_with("exposures.toml");
        let fields = fields(&text, is_table);
        assert!(fields.len() > 2, "{}: {} fields", path.display(), fields.len());
        // more of what is computed from, too
        let n = if is_layup || is_exposures { 60 } else { 30 };
        for _ in 0..n {
            let field = fields[numbers.below(fields.len())];
            let new = changed(&text, field, &mut numbers);
            let file = place.join(path.file_name().unwrap());
            fs::write(&file, &new).unwrap();
            let line = new[..field.0].matches('\n').count() + 1;
            let of =
                format!("{}:{line}: {}", path.display(), new.lines().nth(line - 1).unwrap_or(""));
            n_all += 1;
            match shelf.check(&file) {
                Err(faults) => well_said(&faults, &of),
                Ok(_) => {
                    n_accepted += 1;
                    if is_layup {
                        if let Ok(layup) = read_layup(&file, &shelf) {
                            possible(&layup, flame, &shelf, &of);
                            n_computed += 1;
                        }
                    }
                    if is_exposures {
                        let tables: Vec<&str> = new.split("[[exposure]]").collect();
                        let at = new[..field.0].matches("[[exposure]]").count();
                        fs::write(place.join("one.toml"), tables[at]).unwrap();
                        if let Ok(exposure) = read_exposure(&place.join("one.toml")) {
                            possible(&plain, &exposure, &shelf, &of);
                            n_computed += 1;
                        }
                    }
                }
            }
        }
    }
    println!("{n_all} changed, {n_accepted} accepted, {n_computed} computed");
    assert!(n_all >= 600, "{n_all} cases");
    assert!(n_accepted > 60 && n_accepted < n_all * 2 / 3, "{n_accepted} of {n_all} accepted");
    assert!(n_computed > 20, "{n_computed} computed");
}
