//! Claim: bad input never computes: the message names it and what to do, the status tells which kind.

use std::fs;

use crate::command::program::{done, folder, refused, stillair};

const LAYUP: &str = "three-ply-loose";

#[test]
fn wrong_usage_ends_with_status_2() {
    refused(&[], 2, &["Usage"]);
    refused(&["expose"], 2, &["<LAYUP>"]);
    refused(&["expose", LAYUP, "--behind", "wall"], 2, &["wall", "disc", "skin", "both"]);
    refused(&["expose", LAYUP, "--with-curves"], 2, &["--json"]);
    refused(&["expose", LAYUP, "--chart", "a.jpg"], 2, &[".svg or .png"]);
    refused(&["expose", LAYUP, "--curves", "a.xls"], 2, &[".csv"]);
    refused(&["materials", "list", "--kind", "buttons"], 2, &["fabrics"]);
    refused(&["completions", "cmd"], 2, &["bash"]);
    refused(&["expose", LAYUP, "--without", "wind"], 2, &["wind", "moisture", "gap-radiation"]);
    refused(&["burn", LAYUP], 2, &["burn"]);
}

#[test]
fn numbers_of_options_are_checked_one_by_one() {
    for bad in ["0", "nan", "inf", "-inf", "1e9", "3,5", "4s", ""] {
        refused(&["expose", LAYUP, &format!("--for={bad}")], 2, &["--for", "expected"]);
        refused(&["expose", LAYUP, &format!("--until={bad}")], 2, &["--until", "expected"]);
    }
    for bad in ["-1", "-0.5"] {
        refused(&["expose", LAYUP, &format!("--for={bad}")], 2, &["at least 0.01"]);
        refused(&["expose", LAYUP, &format!("--error={bad}")], 2, &["percent"]);
        refused(&["expose", LAYUP, "--for", bad], 2, &["at least 0.01"]);
        refused(&["gap", LAYUP, "--from", bad], 2, &["--from", "at most 100 mm"]);
    }
    for bad in ["0", "-2", "101", "nan", "2 kPa", "1,5"] {
        let pressure = format!("--pressure={bad}");
        refused(&["expose", "single-outer-195", &pressure], 2, &["--pressure", "expected"]);
    }
    for bad in ["0", "nan", "99", "0.5%"] {
        refused(&["expose", LAYUP, &format!("--error={bad}")], 2, &["--error", "expected"]);
    }
}

#[test]
fn unknown_names_come_with_the_nearest() {
    refused(&["expose", "three-ply-lose"], 1, &["no layup is called", "`three-ply-loose`"]);
    refused(&["expose", LAYUP, "--exposure", "flame-8"], 1, &["no exposure", "`flame-80`"]);
    refused(&["expose", LAYUP, "--against", "en-469-xf"], 1, &["no target", "en-469-xf1"]);
    refused(&["expose", LAYUP, "--skin", "f1930-iso1350"], 1, &["no skin", "f1930-iso13506"]);
    refused(
        &["materials", "show", "outer-aramid-20"],
        1,
        &["nothing on the shelf", "outer-aramid-20"],
    );
}

#[test]
fn all_that_is_wrong_with_names_is_told_at_once() {
    let arguments = ["expose", "nothing", "--exposure", "none", "--against", "no-target"];
    refused(&arguments, 1, &["no layup", "no exposure", "no target"]);
}

#[test]
fn a_flame_colder_than_the_ply_before_it_is_refused() {
    let file = folder("cold_flame").join("cold.toml");
    let text = "name = \"cold\"\nflux_kW_m2 = 80\nradiant_share = 0.3\nflame_temperature_C = 360\n\
                room_temperature_C = 25\nuntil_s = 60\ncooling_W_m2K = 10\norientation = \"vertical\"\n\
                spacer_mm = 0\ndisc = { mass_g = 18, specific_heat_J_kgK = 385, area_cm2 = 12.566, \
                emissivity = 0.95 }\n";
    fs::write(&file, text).unwrap();
    let exposure = file.to_str().unwrap();
    let said =
        ["no hotter than the limit", "370 °C", "expected: ", "mend: check `flame_temperature_C`"];
    refused(&["expose", LAYUP, "--exposure", exposure], 1, &said);
    refused(&["quilt", "three-ply-quilted-blank", "--exposure", exposure], 1, &said);
    // all of it radiant: the gas has no effect
    fs::write(&file, text.replace("radiant_share = 0.3", "radiant_share = 1.0")).unwrap();
    done(&["expose", LAYUP, "--exposure", exposure]);
}

#[test]
fn files_that_are_no_layup_are_refused() {
    let folder = folder("no_layup");
    refused(&["expose", folder.to_str().unwrap()], 1, &["error:", "mend:"]);
    refused(&["expose", "no/such/file.toml"], 1, &["no/such/file.toml", "mend:"]);
    let write = |name: &str, text: &[u8]| {
        let path = folder.join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_string()
    };
    let empty = write("empty.toml", b"");
    refused(&["expose", &empty], 1, &["empty"]);
    let bytes = write("bytes.toml", &[0xff, 0xfe, 0x00, 0x41]);
    refused(&["expose", &bytes], 1, &["error:"]);
    let negative = write(
        "negative.toml",
        b"name = \"a\"\n[[stack]]\nply = \"outer-aramid-200\"\nthickness_mm = -1.0\nfrom = \"measured\"\n",
    );
    refused(&["expose", &negative], 1, &["negative.toml:4", "expected:", "mend:"]);
    refused(&["materials", "check", &negative], 1, &["negative.toml:4", "expected:", "mend:"]);
    refused(&["materials", "check", folder.to_str().unwrap()], 1, &["error:", "mend:"]);
    let files = [
        (
            "brief.toml",
            &b"name = \"a\"\nouter = [\"outer-aramid-20\"]\ninner = []\n"[..],
            "brief.toml:2:10",
        ),
        ("rolls.csv", b"lot,ply,areal_density_g_m2,thickness_mm\nA,0,100,1\n", "rolls.csv:2:3"),
        ("rise.csv", b"time_s,temperature_rise_F\n0,0\n1,2\n", "rise.csv:1:8"),
        ("flux.csv", b"time_s,flux_kW_m2\n0,80\n0,81\n", "flux.csv:3"),
    ];
    for (name, text, place) in files {
        refused(&["materials", "check", &write(name, text)], 1, &[place, "expected:", "mend:"]);
    }
}

#[test]
fn a_shelf_that_is_none_is_refused() {
    refused(&["materials", "list", "--shelf", "no/such/shelf"], 1, &["no/such/shelf", "mend:"]);
}

#[test]
fn a_shelf_on_top_wins_and_the_clash_is_told() {
    let folder = folder("shelf");
    let built_in = fs::read_to_string("materials/targets.csv").unwrap();
    fs::write(folder.join("targets.csv"), built_in).unwrap();
    let said = stillair(&["materials", "list", "--shelf", folder.to_str().unwrap()]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.err.contains("is defined twice"), "{}", said.err);
}

#[test]
fn a_gap_bears_no_pressure() {
    refused(
        &["expose", LAYUP, "--pressure", "2"],
        1,
        &["has an air gap", "expected:", "mend: remove the gap or the pressure"],
    );
}
