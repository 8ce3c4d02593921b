//! Claim: odds are the same bits however they are run: any number of threads, in one go, stopped and
//! taken up again, or ended by Ctrl-C.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::command::program::{command, done, fits_80_columns, folder, run, stillair};
use crate::flat::flat;

/// Tolerances of a ply that a layup's file may name.
pub const OF_PLY: [&str; 8] = [
    "areal_density",
    "thickness",
    "conductivity",
    "specific_heat",
    "face_void",
    "emissivity",
    "transmissivity",
    "regain",
];

const ODDS: [&str; 4] = ["odds", "single-outer-195", "--against", "iso-11612-b1"];
const NOTICE: &str = stillair::NOTICE;

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    ODDS.into_iter().chain(more.iter().copied()).collect()
}

const SMALL: [&str; 4] = ["--sets", "64", "--rows", "32"];

fn small<'a>(more: &[&'a str]) -> Vec<&'a str> {
    with(&[&SMALL, more].concat())
}

#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let on =
        |threads: &str| run(command(&small(&["--json"])).env("RAYON_NUM_THREADS", threads)).out;
    let one = on("1");
    assert!(one.contains("stillair/odds"), "{one}");
    assert_eq!(one, on("2"));
    assert_eq!(one, on("5"));
}

#[test]
fn another_seed_gives_other_points_and_close_odds() {
    let at = |seed: &str| -> Value {
        serde_json::from_str(&done(&with(&[
            "--sets", "256", "--rows", "0", "--seed", seed, "--json",
        ])))
        .unwrap()
    };
    let (one, other) = (at("1"), at("2"));
    assert_ne!(one["with_model"], other["with_model"]);
    let odds = |found: &Value, end: &str| found["with_model"]["set"][end].as_f64().unwrap();
    assert!(odds(&one, "low_pct") <= odds(&other, "high_pct"));
    assert!(odds(&other, "low_pct") <= odds(&one, "high_pct"));
}

/// Stopped by the program's own count, then taken up: the answer and the file are those of one go.
#[test]
fn what_was_stopped_goes_on_to_the_identical_result() {
    let folder = folder("odds_resume");
    let (kept, straight) = (folder.join("kept"), folder.join("straight"));
    let (kept, straight) = (kept.to_str().unwrap(), straight.to_str().unwrap());
    let whole = done(&small(&["--json", "--checkpoint", straight]));
    let part = stillair(&small(&["--json", "--checkpoint", kept, "--stop-after", "5"]));
    assert_eq!(part.code, 1);
    assert!(part.err.contains("stopped after 5 of 16 blocks"), "{}", part.err);
    assert!(flat(&part.err).contains(&format!("--checkpoint {kept} --resume")), "{}", part.err);
    let partial: Value = serde_json::from_str(&part.out).unwrap();
    assert_eq!(partial["whole"], false);
    assert_eq!((&partial["n_sets"], &partial["n_rows"]), (&20.into(), &10.into()));
    let more =
        stillair(&small(&["--json", "--checkpoint", kept, "--resume", "--stop-after", "11"]));
    assert!(more.err.contains("stopped after 11 of 16 blocks"), "{}", more.err);
    assert_eq!(done(&small(&["--json", "--checkpoint", kept, "--resume"])), whole);
    assert_eq!(fs::read(kept).unwrap(), fs::read(straight).unwrap());
    assert_eq!(
        done(&small(&["--json", "--checkpoint", kept, "--resume"])),
        whole,
        "finished work is told again"
    );
}

/// The first sets of a larger number are those of a smaller one: a partial result is no other draw.
#[test]
fn a_partial_result_is_the_beginning_of_the_whole() {
    let part = stillair(&small(&["--json", "--stop-after", "4"])).out;
    let whole = done(&with(&["--sets", "16", "--rows", "8", "--json"]));
    let value = |text: &str| -> Value { serde_json::from_str(text).unwrap() };
    let (part, whole) = (value(&part), value(&whole));
    assert_eq!(part["with_model"], whole["with_model"]);
    assert_eq!(part["contributions"], whole["contributions"]);
}

/// Ctrl-C as the system sends it.
#[cfg(unix)]
#[test]
fn ctrl_c_leaves_a_partial_result_that_can_be_taken_up() {
    let folder = folder("odds_interrupt");
    let (kept, out) = (folder.join("kept"), folder.join("out"));
    let long = ["--sets", "1024", "--rows", "64", "--json"];
    let arguments = with(&[&long[..], &["--checkpoint", kept.to_str().unwrap()]].concat());
    let mut child = Command::new(env!("CARGO_BIN_EXE_stillair"))
        .args(&arguments)
        .stdout(fs::File::create(&out).unwrap())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let begun = Instant::now();
    while !kept.exists() && begun.elapsed() < Duration::from_secs(120) {
        std::thread::sleep(Duration::from_millis(5));
    }
    rustix::process::kill_process(
        rustix::process::Pid::from_child(&child),
        rustix::process::Signal::INT,
    )
    .unwrap();
    let status = child.wait().unwrap();
    assert_eq!(status.code(), Some(1), "ends by itself, with a word on what is missing");
    let partial: Value = serde_json::from_str(&fs::read_to_string(&out).unwrap()).unwrap();
    let n_sets = partial["n_sets"].as_u64().unwrap();
    assert!(partial["whole"] == false && (64..1024).contains(&n_sets), "{n_sets}");
    assert_eq!(partial["notice"], NOTICE);
    assert_eq!(lines_of(&kept, "specimens "), 3 * n_sets);
    let further = ["--checkpoint", kept.to_str().unwrap(), "--resume", "--stop-after", "16"];
    let whole = done(&with(&[&long[..], &further].concat()));
    assert_eq!(whole, done(&with(&long)));
}

/// The number behind a word of the checkpoint.
fn lines_of(kept: &Path, word: &str) -> u64 {
    let text = fs::read_to_string(kept).unwrap();
    let line = text.lines().find_map(|line| line.strip_prefix(word)).unwrap();
    line.parse().unwrap()
}

#[test]
fn a_checkpoint_of_something_else_is_refused() {
    let folder = folder("odds_refused");
    let kept = folder.join("kept");
    let kept = kept.to_str().unwrap();
    let refused = |arguments: &[&str], part: &str| {
        let said = stillair(arguments);
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{arguments:?}");
        assert!(said.err.contains(part) && said.err.contains("mend:"), "{}", said.err);
    };
    fs::write(kept, "work of another run").unwrap();
    refused(&small(&["--checkpoint", kept]), "is there already");
    fs::remove_file(kept).unwrap();
    // where there is none it is begun
    let began = stillair(&small(&["--checkpoint", kept, "--resume", "--stop-after", "3"]));
    assert!(began.err.contains("stopped after 3"), "{}", began.err);
    let good = fs::read_to_string(kept).unwrap();
    refused(
        &small(&["--checkpoint", kept, "--resume", "--seed", "2"]),
        "belongs to another question",
    );
    refused(
        &small(&["--checkpoint", kept, "--resume", "--model-band", "0.9:1.1"]),
        "belongs to another question",
    );
    let other = ["odds", "two-ply-outer-knit", "--against", "iso-11612-b1"];
    let kept_on = ["--checkpoint", kept, "--resume"];
    refused(&[&other[..], &kept_on, &SMALL].concat(), "belongs to another question");
    fs::write(kept, &good[..good.len() / 2]).unwrap();
    refused(&small(&["--checkpoint", kept, "--resume"]), "cut short or changed");
    let digit = good.find("rows").unwrap() - 2;
    let changed = if &good[digit..=digit] == "0" { "1" } else { "0" };
    fs::write(kept, format!("{}{changed}{}", &good[..digit], &good[digit + 1..])).unwrap();
    refused(&small(&["--checkpoint", kept, "--resume"]), "cut short or changed");
    fs::write(kept, "lot,ply\n").unwrap();
    refused(&small(&["--checkpoint", kept, "--resume"]), "holds no unfinished odds");
}

#[test]
fn options_out_of_range_are_wrong_usage() {
    for bad in [
        ["--sets", "15"],
        ["--sets", "65537"],
        ["--sets", "many"],
        ["--specimens", "0"],
        ["--specimens", "21"],
        ["--rows", "-1"],
        ["--flux-tolerance", "nan"],
        ["--flux-tolerance", "51"],
        ["--model-band", "-1:1"],
        ["--seed", "1.5"],
    ] {
        let said = stillair(&with(&[&format!("{}={}", bad[0], bad[1])]));
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{bad:?}");
    }
    let said = stillair(&["odds", "single-outer-195"]);
    assert!(said.code == 2 && said.err.contains("--against"), "{}", said.err);
    let said = stillair(&with(&["--for", "2"]));
    assert!(said.code == 1 && said.err.contains("leave --for out"), "{}", said.err);
}

/// Nothing varies: every specimen is the layup as it stands, and there are no shares.
#[test]
fn without_tolerances_there_is_no_spread() {
    let folder = folder("odds_held");
    let path = folder.join("held.toml");
    let held: String = OF_PLY.iter().map(|name| format!("{name}_tolerance_pct = 0\n")).collect();
    let text = format!("name = \"held\"\n[[stack]]\nply = \"outer-aramid-200\"\n{held}");
    fs::write(&path, text).unwrap();
    let bands = ["--flux-tolerance", "0", "--model-band", "1:1", "--json"];
    let arguments = ["odds", path.to_str().unwrap(), "--against", "iso-11612-b1"];
    let said = done(&[&arguments[..], &SMALL, &bands].concat());
    let found: Value = serde_json::from_str(&said).unwrap();
    // what is left: scatter of specimens, flame temperature, radiant share and disc, and how the fibre chars
    let inputs = found["contributions"].as_array().unwrap();
    let names: Vec<&str> = inputs.iter().map(|input| input["input"].as_str().unwrap()).collect();
    assert_eq!(inputs.len(), 7, "{names:?}");
    assert!(!said.contains("conductivity") && !said.contains("the model itself"));
    assert_eq!(found["tolerances"], found["with_model"]);
}

#[test]
fn an_own_tolerance_takes_the_place_of_the_default() {
    let folder = folder("odds_own");
    let path = folder.join("own.toml");
    let text = "name = \"own\"\n[[stack]]\nply = \"outer-aramid-200\"\n\
                conductivity_tolerance_pct = 40\n[[stack]]\ngap_mm = 2\ngap_tolerance_pct = 60\n\
                from = \"measured\"\n";
    fs::write(&path, text).unwrap();
    let arguments = ["odds", path.to_str().unwrap(), "--against", "iso-11612-b1", "--json"];
    let said = done(&[&arguments[..], &SMALL].concat());
    let found: Value = serde_json::from_str(&said).unwrap();
    let input = |start: &str| {
        let all = found["contributions"].as_array().unwrap();
        all.iter().find(|one| one["input"].as_str().unwrap().starts_with(start)).unwrap().clone()
    };
    let conductivity = input("conductivity");
    assert_eq!(
        (&conductivity["known_by"], &conductivity["of_set_pct"]),
        (&"own".into(), &40.0.into())
    );
    let gap = input("thickness, air gap 1");
    assert_eq!((&gap["known_by"], &gap["of_specimen_pct"]), (&"own".into(), &60.0.into()));
    // a wider gap and a worse conductor: the swing of each goes the way that physics says
    let end = |input: &Value, end: &str| input[end]["value"].as_f64().unwrap();
    assert!(end(&gap, "at_95_pct") > end(&gap, "at_5_pct"));
    assert!(end(&conductivity, "at_95_pct") < end(&conductivity, "at_5_pct"));
    fs::write(&path, text.replace("= 40", "= -4")).unwrap();
    let said = stillair(&arguments);
    let parts = ["conductivity tolerance", "negative", "own.toml:4", "at most 100 %"];
    assert!(said.code == 1 && parts.iter().all(|p| said.err.contains(p)), "{}", said.err);
}

#[test]
fn every_view_bears_the_notice() {
    let folder = folder("odds_views");
    let (csv, svg) = (folder.join("o.csv"), folder.join("o.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let text = done(&small(&files));
    fits_80_columns(&text);
    assert!(text.replace('\n', " ").contains(NOTICE), "{text}");
    assert!(fs::read_to_string(csv).unwrap().lines().next().unwrap().contains(NOTICE));
    assert!(fs::read_to_string(svg).unwrap().contains(NOTICE));
    let said = stillair(&small(&["--stop-after", "2"]));
    fits_80_columns(&said.out);
    assert!(said.out.contains("PARTIAL RESULT"), "{}", said.out);
    let said = stillair(&small(&["--stop-after", "0"]));
    assert_eq!((said.code, said.out.as_str()), (1, ""));
}

/// TPP and skin: the other figures of targets.
#[test]
fn targets_of_other_figures_have_their_odds() {
    let found = |arguments: &[&str]| -> Value {
        serde_json::from_str(&done(&[arguments, &SMALL, &["--json"]].concat())).unwrap()
    };
    let tpp = found(&["odds", "single-outer-195", "--against", "nfpa-2112-spaced"]);
    assert_eq!((&tpp["unit"], &tpp["judged_on"]), (&"kJ/m2".into(), &"mean".into()));
    let between = found(&["odds", "two-ply-outer-knit", "--against", "en-469-xf1-rise"]);
    let median = between["tolerances"]["median"]["value"].as_f64().unwrap();
    let nominal = between["nominal"]["value"].as_f64().unwrap();
    assert!((median / nominal - 1.0).abs() < 0.1, "{median} about {nominal}");
}
