//! Claim: nothing that is written falls on what the same command reads, and no two outputs fall on one
//! another, by whatever path they are named; refused before work, every file as it was.
//! Source: the data-loss reports that this test replays, each as a case.

use std::fs;
use std::path::{Path, PathBuf};

use crate::command::program::{folder, stillair};

/// A folder with one of each file, and the bytes of all.
fn laid_out(name: &str) -> PathBuf {
    let place = folder(name);
    let copy = |from: &str, to: &str| {
        fs::copy(from, place.join(to)).unwrap_or_else(|error| panic!("{from}: {error}"));
    };
    copy("materials/layups/three-ply-loose.toml", "layup.toml");
    copy("materials/curves/demo-specimen-1.csv", "curve.csv");
    copy("examples/rolls.csv", "rolls.csv");
    fs::create_dir(place.join("shelf")).unwrap();
    let fabrics =
        "name,role,fibre,areal_density_g_m2,thickness_mm,from\nmine,outer,wool,200,0.5,measured\n";
    fs::write(place.join("shelf/fabrics.csv"), fabrics).unwrap();
    fs::write(place.join("flux.csv"), "time_s,flux_kW_m2\n0,40\n60,40\n").unwrap();
    let exposure = "name = \"mine\"\nflux_file = \"flux.csv\"\nradiant_share = 1\n\
                    flame_temperature_C = 2000\nroom_temperature_C = 25\nuntil_s = 60\n\
                    cooling_W_m2K = 10\norientation = \"vertical\"\nspacer_mm = 0\n\
                    disc = { mass_g = 36, specific_heat_J_kgK = 385, area_cm2 = 25.15, emissivity = 0.95 }\n";
    fs::write(place.join("exposure.toml"), exposure).unwrap();
    fs::write(place.join("kept.bin"), "170 kB of work").unwrap();
    place
}

/// Every file below a folder with its bytes.
fn all(place: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(place).unwrap().map(|entry| entry.unwrap().path()) {
        match entry.is_dir() {
            true => found.extend(all(&entry)),
            // a link that leads nowhere yet has no bytes
            false => found.push((entry.clone(), fs::read(&entry).unwrap_or_default())),
        }
    }
    found.sort();
    found
}

/// The command is refused before work and leaves every file as it was.
#[track_caller]
fn refused(place: &Path, line: &str) -> String {
    let before = all(place);
    let at = place.display().to_string();
    let words: Vec<String> = line.split(' ').map(|word| word.replace('@', &at)).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let said = stillair(&words);
    assert_eq!(said.code, 1, "{line}: {}{}", said.out, said.err);
    for part in ["error: ", "expected: ", "mend: ", "nothing was written"] {
        assert!(said.err.contains(part), "{line}: {}", said.err);
    }
    assert!(all(place) == before, "{line}: a file is not as it was");
    said.err
}

#[test]
fn no_output_falls_on_an_input() {
    let place = laid_out("apart-inputs");
    for line in [
        "fit three-ply-loose @/curve.csv --free conductivity:2 --csv @/curve.csv",
        "fit @/layup.toml @/curve.csv --free conductivity:2 --out @/layup.toml",
        "lots three-ply-quilted-blank @/rolls.csv --against fia-8856-2018-overall --csv @/rolls.csv",
        "expose @/layup.toml --exposure @/exposure.toml --curves @/flux.csv",
        "expose @/layup.toml --shelf @/shelf --curves @/shelf/fabrics.csv",
        "odds @/layup.toml --against fia-8856-2018-overall --checkpoint @/layup.toml",
        "odds @/layup.toml --against fia-8856-2018-overall --checkpoint @/kept.bin",
    ] {
        refused(&place, line);
    }
}

#[cfg(unix)]
#[test]
fn links_of_either_kind_are_the_file_that_they_lead_to() {
    let place = laid_out("apart-links");
    fs::hard_link(place.join("layup.toml"), place.join("hard.csv")).unwrap();
    std::os::unix::fs::symlink(place.join("layup.toml"), place.join("soft.csv")).unwrap();
    std::os::unix::fs::symlink("new.csv", place.join("to-new.csv")).unwrap();
    for other in ["hard.csv", "soft.csv"] {
        let said = refused(&place, &format!("expose @/layup.toml --curves @/{other}"));
        assert!(said.contains("it is read") && said.contains("layup.toml"), "{said}");
    }
    refused(&place, "rank @/layup.toml three-ply-light --csv @/to-new.csv --curves @/new.csv");
}

#[test]
fn two_outputs_do_not_share_a_file() {
    let place = laid_out("apart-outputs");
    for line in [
        "rank @/layup.toml three-ply-light --csv @/out.csv --curves @/out.csv",
        "rank @/layup.toml three-ply-light --csv @/out.csv --curves @/./out.csv",
        "odds @/layup.toml --against fia-8856-2018-overall --checkpoint @/odds.csv --csv @/odds.csv",
    ] {
        let said = refused(&place, line);
        assert!(said.contains("another output goes there"), "{said}");
    }
}
