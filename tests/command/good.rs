//! Claim: the commands do what their help says.

use serde_json::Value;
use stillair::NOTICE;

use crate::command::program::{command, done, fits_80_columns, run};
use crate::flat::flat;

const LAYUP: &str = "three-ply-loose";

#[test]
fn a_layup_is_exposed_before_disc_and_skin() {
    let text = done(&["expose", LAYUP, "--full", "--against", "en-469-xf1"]);
    fits_80_columns(&text);
    let text = flat(&text);
    for part in [
        "HTI12",
        "HTI24",
        "HTI24 − HTI12",
        "Stoll crossing",
        "TPP",
        "cal/cm²",
        "second degree",
        "Where the values come from",
        "Where the heat went",
        "Limits of the plies",
        "energy audit",
        "en-469-xf1",
        NOTICE,
    ] {
        assert!(text.contains(part), "{part} is missing:\n{text}");
    }
}

#[test]
fn every_layup_on_the_shelf_is_told_within_80_columns() {
    let list = done(&["materials", "list", "--kind", "layups"]);
    let names: Vec<&str> =
        list.lines().skip(1).filter_map(|line| line.split_whitespace().next()).collect();
    assert!(names.len() >= 3, "{list}");
    for name in names {
        for exposure in ["flame-80", "radiant-20"] {
            let brief = done(&["expose", name, "--exposure", exposure]);
            fits_80_columns(&brief);
            assert!(brief.lines().count() <= 40, "{brief}");
            assert!(brief.contains("What to know of it") && flat(&brief).contains(NOTICE));
            fits_80_columns(&done(&["expose", name, "--exposure", exposure, "--full"]));
        }
    }
}

#[test]
fn a_file_and_its_name_on_the_shelf_give_the_same() {
    let by_name = done(&["expose", LAYUP]);
    let by_file = done(&["expose", "materials/layups/three-ply-loose.toml"]);
    assert_eq!(by_name, by_file);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let arguments = ["expose", LAYUP, "--json", "--with-curves"];
    assert_eq!(done(&arguments), done(&arguments));
}

#[test]
fn json_holds_units_schema_notice_and_what_the_text_says() {
    let text = done(&["expose", LAYUP, "--json", "--against", "en-469-xf1"]);
    let json: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(
        (&json["schema"], &json["schema_version"]),
        (&"stillair/exposure".into(), &2.into())
    );
    assert_eq!(json["notice"], NOTICE);
    let hti24 = json["disc"]["figures"]["HTI24_s"]["value"].as_f64().unwrap();
    let hti12 = json["disc"]["figures"]["HTI12_s"]["value"].as_f64().unwrap();
    assert!(hti24 > hti12 && hti12 > 0.0);
    assert!(json["disc"].get("curves").is_none());
    let shown = done(&["expose", LAYUP, "--behind", "disc"]);
    let row = shown.lines().find(|line| line.trim().starts_with("HTI24 ")).unwrap();
    let printed = row.split_whitespace().find_map(|word| word.parse::<f64>().ok());
    // The row reads "HTI24 disc 24 K warmer VALUE ± ERROR s": the value stands before the sign.
    let value: f64 =
        row.split('±').next().unwrap().split_whitespace().last().unwrap().parse().unwrap();
    assert!(printed.is_some() && (value - hti24).abs() < 0.06, "{value} and {hti24}");
    assert!(json["layup"]["areal_density_g_m2"].as_f64().unwrap() > 100.0);
    assert!(
        ["above", "below", "too close to call"]
            .contains(&json["against"][0]["call"].as_str().unwrap())
    );
}

#[test]
fn a_radiant_exposure_bears_the_radiant_names() {
    let text = done(&["expose", LAYUP, "--exposure", "radiant-40", "--behind", "disc"]);
    assert!(text.contains("RHTI24") && text.contains("transmission factor"), "{text}");
    assert!(!text.contains(" HTI24"), "{text}");
    let json = done(&["expose", LAYUP, "--exposure", "radiant-40", "--behind", "disc", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert!(json["disc"]["figures"]["RHTI24_s"]["value"].is_f64());
    assert!(json.get("skin").is_none());
}

#[test]
fn what_is_not_reached_is_said_with_the_time_looked_at() {
    let asked = ["expose", LAYUP, "--full", "--for", "1", "--until", "20", "--behind", "skin"];
    let text = flat(&done(&asked));
    assert!(text.contains("not reached within 20 s"), "{text}");
    assert!(text.contains("flame taken away after 1 s"), "{text}");
}

#[test]
fn a_target_is_not_held_against_another_exposure() {
    let arguments = ["expose", LAYUP, "--exposure", "radiant-20", "--against", "en-469-xf1"];
    let text = flat(&done(&arguments));
    assert!(text.contains("not judged: meant for flame-80"), "{text}");
}

#[test]
fn colour_goes_with_no_color_and_with_a_pipe() {
    let plain = done(&["expose", LAYUP]);
    assert!(!plain.contains('\u{1b}'), "a pipe gets no escape codes");
    let forced = run(command(&["expose", LAYUP]).env("CLICOLOR_FORCE", "1"));
    assert!(forced.out.contains('\u{1b}'), "the test would not notice colour");
    let not = run(command(&["expose", LAYUP]).env("CLICOLOR_FORCE", "1").env("NO_COLOR", "1"));
    assert_eq!(not.out, plain);
}

#[test]
fn the_shelf_is_listed_and_shown() {
    let list = done(&["materials", "list"]);
    fits_80_columns(&list);
    for kind in ["Fabrics", "Fibres", "Exposures", "Targets", "Skins", "Layups"] {
        assert!(list.contains(kind), "{kind}");
    }
    for name in ["outer-aramid-200", "meta-aramid", "flame-80", "en-469-xf1", LAYUP] {
        let shown = done(&["materials", "show", name]);
        fits_80_columns(&shown);
        assert!(shown.contains(name));
    }
    for (file, kind) in [
        ("materials/layups/three-ply-loose.toml", "layup"),
        ("materials/suits/refuelling-coverall.toml", "suit"),
        ("materials/briefs/hill-climb-refuelling-coverall.toml", "brief"),
        ("materials/briefs/quilted-front-panel.toml", "brief"),
        ("materials/curves/demo-specimen-1.csv", "curve of the bench"),
        ("examples/rolls.csv", "list of rolls"),
    ] {
        let checked = flat(&done(&["materials", "check", file]));
        let expected = format!("nothing wrong; 1 of kind {kind}:");
        let many = kind == "list of rolls" && checked.contains("of kind list of rolls: F-2401");
        assert!(checked.contains(&expected) || many, "{checked}");
    }
}

#[test]
fn completions_and_manual_come_from_the_same_definition() {
    let man = done(&["man"]);
    assert!(man.starts_with(".ie") || man.contains(".TH stillair"), "{man}");
    for option in ["with\\-curves", "against", "behind", "completions", "materials list"] {
        let found = man.to_lowercase().contains(option);
        assert!(found, "the manual lacks {option}");
    }
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = done(&["completions", shell]);
        assert!(script.contains("with-curves"), "{shell}");
    }
}

#[test]
fn help_fits_and_names_every_option() {
    for command in [&["--help"][..], &["expose", "--help"], &["materials", "check", "--help"]] {
        fits_80_columns(&done(command));
    }
    assert!(done(&["--help"]).contains("Screening model only."));
    assert!(done(&["--version"]).starts_with("stillair "));
}

#[test]
fn each_effect_left_out_is_told_with_its_change() {
    let arguments = [
        "expose",
        LAYUP,
        "--without",
        "gap-radiation",
        "--without",
        "moisture",
        "--behind",
        "disc",
    ];
    let text = done(&arguments);
    fits_80_columns(&text);
    let start = text.find("What each effect is worth").expect("a section of its own");
    for row in ["with everything", "without radiation across gaps", "without water in the plies"] {
        assert!(text[start..].contains(row), "{row}:\n{text}");
    }
    assert!(text.contains("without all of these"), "{text}");
    let json = done(&[&arguments[..], &["--json"]].concat());
    let json: Value = serde_json::from_str(&json).unwrap();
    let all = json["disc"]["figures"]["HTI24_s"]["value"].as_f64().unwrap();
    let effects = json["effects"].as_array().unwrap();
    assert_eq!(effects.len(), 3);
    assert_eq!(effects[2]["without"], serde_json::json!(["gap-radiation", "moisture"]));
    for effect in effects {
        let without = effect["rise_24_K_s"]["value"].as_f64().unwrap();
        let change = effect["rise_24_K_change_s"]["value"].as_f64().unwrap();
        assert!((without - all - change).abs() < 2e-4 * all, "{effect}");
    }
    assert!(effects[0]["rise_24_K_change_s"]["value"].as_f64().unwrap() > 0.0);
    assert!(effects[1]["rise_24_K_change_s"]["value"].as_f64().unwrap() < 0.0);
    let plain: Value = serde_json::from_str(&done(&["expose", LAYUP, "--json"])).unwrap();
    assert!(plain.get("effects").is_none() && plain.get("sensitivity").is_none());
}

#[test]
fn sensitivities_are_told_largest_first() {
    let text = done(&["expose", "single-outer-195", "--sensitivity"]);
    fits_80_columns(&text);
    for part in ["What moves the times", "s per %", "face void, ply 1", "keeps its areal density"] {
        assert!(flat(&text).contains(part), "{part}:\n{text}");
    }
    let json = done(&["expose", "single-outer-195", "--sensitivity", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    let rows = json["sensitivity"].as_array().unwrap();
    let sizes: Vec<f64> = rows
        .iter()
        .filter_map(|row| row["rise_24_K_s_per_pct"]["value"].as_f64().map(f64::abs))
        .collect();
    assert!(sizes.len() > 8 && sizes.windows(2).all(|pair| pair[0] >= pair[1]), "{sizes:?}");
    assert!(rows.iter().any(|row| row["second_degree_s_per_pct"]["settled"] == true));
}

#[test]
fn a_pressure_is_told_in_the_layup() {
    let blank = "three-ply-quilted-blank";
    let text = done(&["expose", blank, "--pressure", "10", "--behind", "disc", "--full"]);
    fits_80_columns(&text);
    assert!(text.contains("Under 10 kPa"), "{text}");
    let arguments = ["expose", "three-ply-quilted-blank", "--pressure", "10", "--json"];
    let json: Value = serde_json::from_str(&done(&arguments)).unwrap();
    assert_eq!(json["layup"]["pressure_kPa"], 10.0);
    let felt = &json["layup"]["stack"][1];
    assert_eq!(felt["thickness_mm"]["provenance"], "estimated");
    assert!(felt["thickness_mm"]["value"].as_f64().unwrap() < 1.3);
}
