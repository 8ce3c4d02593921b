//! Claim: how a value is known, where it is from and how far was looked is said as it is.
//! Source: the rules of `materials/README.md`; the shelf's own list of sources.

use std::fs;

use serde_json::Value;

use crate::command::program::{done, folder};
use crate::flat::flat;

#[test]
fn a_bare_gap_is_stated_and_not_measured() {
    let text = "name = \"told-gap\"\n[[stack]]\nply = \"outer-aramid-200\"\n[[stack]]\n\
                gap_mm = 1.0\n[[stack]]\nply = \"inner-jersey-140\"\n";
    let path = folder("told-gap").join("layup.toml");
    fs::write(&path, text).unwrap();
    let path = path.display().to_string();
    let text = done(&["expose", &path, "--full"]);
    let all = flat(&text);
    assert!(all.contains("air gaps: stated"), "{text}");
    let json: Value = serde_json::from_str(&done(&["expose", &path, "--json"])).unwrap();
    let stack = json["layup"]["stack"].as_array().expect("a stack");
    let gaps: Vec<&Value> = stack.iter().filter(|part| part["kind"] == "air_gap").collect();
    assert!(!gaps.is_empty());
    assert!(gaps.iter().all(|gap| gap["thickness_mm"]["provenance"] == "stated"), "{gaps:?}");
}

/// A layup of the given plies in a file of the test's own.
fn layup(name: &str, fabrics: &str, plies: &[&str]) -> String {
    let mut text = format!("name = \"{name}\"\n{fabrics}");
    for ply in plies {
        text += &format!("[[stack]]\nply = \"{ply}\"\n");
    }
    let path = folder(name).join("layup.toml");
    fs::write(&path, text).unwrap();
    path.display().to_string()
}

#[test]
fn a_data_sheet_s_conductivity_is_a_data_sheet_s_and_its_rise_an_estimate() {
    let own = "[[fabric]]\nname = \"own\"\nrole = \"felt\"\nfibre = \"meta-aramid\"\n\
               areal_density_g_m2 = 100\nthickness_mm = 1.3\nconductivity_W_mK = 0.04\n\
               from = \"data sheet: mill sheet\"\n";
    let path = layup("told-sheet", own, &["own"]);
    let text = done(&["expose", &path, "--full"]);
    let all = flat(&text);
    assert!(all.contains("data sheet: mass, thickness and conductivity"), "{all}");
    let json: Value = serde_json::from_str(&done(&["expose", &path, "--json"])).unwrap();
    let k = &json["layup"]["stack"][0]["conductivity_W_mK"];
    assert_eq!(k["provenance"], "data sheet");
    assert_eq!(k["source"], "mill sheet");
    assert_eq!(k["rise"]["provenance"], "estimated");
}

#[test]
fn every_source_that_a_report_names_is_listed() {
    let plies = ["outer-torvi-194", "felt-lined-205", "inner-jersey-140"];
    let path = layup("told-sources", "", &plies);
    let page = folder("told-page").join("page.md");
    done(&["report", &path, "--markdown", &page.display().to_string()]);
    let page = fs::read_to_string(page).unwrap();
    let (_, materials) = page.split_once("Materials and sources").expect("the block");
    let (above, listed) = materials.split_once("Sources named above").expect("the list");
    let shelf = fs::read_to_string("materials/sources.csv").unwrap();
    let keys = shelf.lines().filter(|line| !line.starts_with('#')).skip(1);
    let keys: Vec<&str> = keys.filter_map(|line| line.split(',').next()).collect();
    let is_part = |c: char| c.is_alphanumeric() || c == '-';
    let named: Vec<&&str> =
        keys.iter().filter(|key| above.split(|c| !is_part(c)).any(|word| word == **key)).collect();
    assert!(named.len() >= 8 && named.contains(&&"torvi-dale-1999"), "{named:?}");
    let missing: Vec<&&&str> =
        named.iter().filter(|key| !listed.contains(&format!("{key}: "))).collect();
    assert!(missing.is_empty(), "named and not listed: {missing:?}\n{listed}");
}

#[test]
fn what_does_not_come_is_said_with_the_time_looked_at() {
    let text = done(&["expose", "three-ply-loose", "--for", "8", "--behind", "skin"]);
    let all = flat(&text);
    // the run ends once all is cold; what was not reached by then is not reached in the 60 s
    assert!(all.contains("not reached within 60 s"), "{all}");
    assert_eq!(all.matches("within ").count(), all.matches("within 60 s").count(), "{all}");
}

#[test]
fn a_series_that_ends_early_is_held_and_said_where_the_user_looks_further() {
    let place = folder("told-flux");
    fs::write(place.join("flux.csv"), "time_s,flux_kW_m2\n0,0\n2,40\n30,38.5\n").unwrap();
    let exposure = "name = \"mine\"\nflux_file = \"flux.csv\"\nradiant_share = 1\n\
                    flame_temperature_C = 2000\nroom_temperature_C = 25\nuntil_s = 30\n\
                    cooling_W_m2K = 10\norientation = \"vertical\"\nspacer_mm = 0\n\
                    disc = { mass_g = 36, specific_heat_J_kgK = 385, area_cm2 = 25.15, emissivity = 0.95 }\n";
    let path = place.join("mine.toml");
    fs::write(&path, exposure).unwrap();
    let path = path.display().to_string();
    let say = |until: &str| {
        let text = done(&["expose", "single-outer-195", "--exposure", &path, "--until", until]);
        flat(&text)
    };
    assert!(!say("30").contains("held from then on"));
    let told = say("45");
    let part = "the series ends at 30 s: its last value, 38.5 kW/m², is held from then on";
    assert!(told.contains(part), "{told}");
    let json = ["expose", "single-outer-195", "--exposure", &path, "--until", "45", "--json"];
    let json: Value = serde_json::from_str(&done(&json)).unwrap();
    assert_eq!(json["exposure"]["flux_held_from_s"], 30.0);
}
