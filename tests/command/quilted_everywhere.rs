//! Claim: a quilted layup has one answer, whichever command is asked: the figure that `quilt` shows; with
//! `--flat` that of the same plies stitched by nothing, and the first line says so; a quilting that
//! cannot be is refused in the words of `quilt`.
//! Source: `quilt`, and the layup's own file without its `[quilting]`.
//! Tolerance: the error that `quilt` prints.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::command::program::{done, fits_80_columns, folder, stillair};
use crate::flat::flat;

const BLANK: &str = "three-ply-quilted-blank";
const FLAT_LINE: &str = "flat stack: quilting left out as asked (--flat)";
const TARGET: &str = "fia-8856-2018-overall";

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("no number: {value}"))
}

/// HTI24 of `quilt`, its errors of mesh and area together.
fn by_quilt(layup: &str) -> (f64, f64) {
    let disc = &json(&["quilt", layup])["disc"];
    let figure = &disc["quilted"]["HTI24_s"];
    (number(&figure["value"]), number(&figure["error"]) + number(&disc["rise_24_K_area_error_s"]))
}

/// Second-degree burn by `quilt` at the stitch line and at the cell's centre, each with its error.
fn skin_by_quilt(layup: &str) -> [(f64, f64); 2] {
    let skin = json(&["quilt", layup])["skin"].clone();
    let places = skin["places"].as_array().unwrap();
    [places.first(), places.last()].map(|place| {
        let time = &place.unwrap()["second_degree_s"];
        (number(&time["value"]), number(&time["error"]))
    })
}

#[track_caller]
fn same(what: &str, found: f64, (expected, error): (f64, f64)) {
    assert!((found - expected).abs() <= error, "{what}: {found}, by quilt {expected} ± {error}");
}

/// A file in a folder of the test's own.
fn file(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path.display().to_string()
}

/// The blank as on the shelf with a line of it put in another's place.
fn blank(from: &str, to: &str) -> String {
    let path = format!("{}/materials/layups/{BLANK}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(path).unwrap();
    assert!(text.contains(from), "the blank has no `{from}`");
    text.replacen(from, to, 1)
}

/// The blank without its quilting.
fn loose(folder: &Path) -> String {
    let text = blank("[[stack]]", "[[stack]]");
    let (plies, _) = text.split_once("[quilting]").unwrap();
    file(folder, "loose.toml", plies)
}

#[test]
fn expose_rank_report_and_lots_show_the_figure_of_quilt() {
    let expected = by_quilt(BLANK);
    let [stitch, centre] = skin_by_quilt(BLANK);
    let exposed = json(&["expose", BLANK]);
    assert_eq!(exposed["computed"], "quilted");
    assert_eq!(exposed["layup"]["quilting"]["computed"], true);
    let disc = &exposed["disc"]["figures"]["HTI24_s"];
    same("expose", number(&disc["value"]), expected);
    assert!((number(&disc["error"]) - expected.1).abs() < 1e-6, "the errors hold the same");
    let burn = |run: &str| number(&exposed[run]["figures"]["second_degree_s"]["value"]);
    same("expose, stitch line", burn("skin"), stitch);
    same("expose, centre", burn("skin_at_cell_centre"), centre);

    let ranked = json(&["rank", "three-ply-loose", BLANK]);
    let layups = ranked["rankings"][0]["layups"].as_array().unwrap();
    let own = layups.iter().find(|one| one["layup"] == "three-ply quilted blank").unwrap();
    same("rank", number(&own["value_s"]["value"]), expected);
    same("rank, stitch", number(&own["stitch_line_second_degree_s"]["value"]), stitch);
    same("rank, centre", number(&own["cell_centre_second_degree_s"]["value"]), centre);
    assert_eq!(own["computed"], "quilted");

    let lots = json(&["lots", BLANK, "examples/rolls.csv"]);
    same("lots", number(&lots["nominal"]["value"]), expected);
    assert_eq!(lots["computed"], "quilted");

    let suit = json(&["suit", "refuelling-coverall"]);
    let panels = suit["panels"].as_array().unwrap();
    let thigh = panels.iter().find(|panel| panel["panel"] == "thigh").unwrap();
    same("suit", number(&thigh["own"]["figure_s"]["value"]), expected);

    let folder = folder("quilted_report");
    let page = folder.join("one.md").display().to_string();
    done(&["report", BLANK, "--markdown", &page]);
    let page = fs::read_to_string(page).unwrap();
    let figure = format!("{:.2} ±", expected.0);
    assert!(page.contains(&figure), "the report does not show {figure}");
    assert!(page.contains("quilted (diamond, 40 mm)"));
    assert!(page.contains("at a stitch line") && page.contains("at a cell's centre"));
}

#[test]
fn odds_are_drawn_around_the_figure_of_quilt() {
    let expected = by_quilt(BLANK);
    let few = ["--sets", "16", "--rows", "0"];
    let odds = json(&[&["odds", BLANK, "--against", TARGET][..], &few].concat());
    same("odds", number(&odds["nominal"]["value"]), expected);
    assert_eq!(odds["computed"], "quilted");
    // what few points over the cell cost is small beside the error of the mesh
    assert!(number(&odds["points_off"]).abs() < 0.5 * expected.1, "{}", odds["points_off"]);
    let inputs = odds["contributions"].as_array().unwrap();
    assert!(inputs.iter().any(|input| input["input"] == "loft"), "{inputs:?}");
    // a layup whose every value is held has but one figure
    let flat = json(&[&["odds", BLANK, "--against", TARGET, "--flat"][..], &few].concat());
    let inputs = flat["contributions"].as_array().unwrap();
    assert!(inputs.iter().all(|input| input["input"] != "loft"), "{inputs:?}");
}

#[test]
fn a_swept_gap_comes_on_top_of_the_quilting() {
    let folder = folder("quilted_gap");
    let behind_outer = "ply = \"outer-aramid-200\"\n\n[[stack]]\ngap_mm = 1.0\n";
    let with_gap = blank("ply = \"outer-aramid-200\"\n", behind_outer);
    let with_gap = file(&folder, "gap.toml", &with_gap);
    let sweep = ["--gap", "1", "--from", "1", "--points", "1"];
    let swept = json(&[&["gap", &with_gap][..], &sweep].concat());
    assert_eq!(swept["computed"], "quilted");
    let point = &swept["points"][0];
    same("gap", number(&point["rise_24_K_s"]["value"]), by_quilt(&with_gap));
    let [stitch, centre] = skin_by_quilt(&with_gap);
    same("gap, stitch line", number(&point["second_degree_s"]["value"]), stitch);
    same("gap, centre", number(&point["cell_centre_second_degree_s"]["value"]), centre);
    // the same gap opened in the blank itself
    let opened = json(&[&["gap", BLANK][..], &sweep].concat());
    assert_eq!(opened["points"], swept["points"]);
}

#[test]
fn a_patch_on_a_quilting_is_the_same_patch() {
    let patch = ["--patch", "patch-aramid-400", "--patch-share", "30"];
    let both = json(&[&["quilt", BLANK][..], &patch].concat())["patch"].clone();
    let own = json(&["patch", BLANK, "--ply", "patch-aramid-400", "--share", "30"]);
    assert_eq!(own["computed"], "quilted");
    let figures = own["figures"].as_array().unwrap();
    let row = |name: &str| figures.iter().find(|row| row["figure"] == name).unwrap();
    let rise = row("HTI24");
    same("patch, beside", number(&rise["beside_s"]["value"]), by_quilt(BLANK));
    let of = |figure: &Value| (number(&figure["value"]), number(&figure["error"]));
    let disc = of(&both["disc_behind_both"]["figures"]["HTI24_s"]);
    same("patch, disc", number(&rise["disc_behind_both_s"]["value"]), disc);
    same("patch, under", number(&rise["under_s"]["value"]), of(&both["disc_under"]["HTI24_s"]));
    let [stitch, centre] = skin_by_quilt(BLANK);
    same("patch, stitch", number(&row("second_degree")["beside_s"]["value"]), stitch);
    let middle = &row("cell_centre_second_degree")["beside_s"]["value"];
    same("patch, centre", number(middle), centre);
}

#[test]
fn pressed_plies_are_flat_beside_the_quilting_as_it_lies() {
    let study = json(&["pressed", BLANK, "--pressures", "2"]);
    let rows = study["rows"].as_array().unwrap();
    let stands: Vec<&Value> = rows.iter().map(|row| &row["stand"]).collect();
    assert_eq!(stands, ["as_it_lies", "touching", "pressed"]);
    let computed: Vec<&Value> = rows.iter().map(|row| &row["computed"]).collect();
    assert_eq!(computed, ["quilted", "flat", "flat"]);
    same("pressed", number(&rows[0]["rise_24_K_s"]["value"]), by_quilt(BLANK));
    let folder = folder("quilted_touching");
    let plies = json(&["expose", &loose(&folder)]);
    assert_eq!(rows[1]["rise_24_K_s"]["value"], plies["disc"]["figures"]["HTI24_s"]["value"]);
    let text = done(&["pressed", BLANK]);
    fits_80_columns(&text);
    let text = flat(&text);
    assert!(text.contains("pressure leaves no loft"), "{text}");
}

/// A time that `quilt` predicts must give back the conductivity that it was predicted with.
#[test]
#[cfg(feature = "lapack")]
fn a_fit_leaves_the_quilting_where_it_is() {
    let (t, error) = by_quilt(BLANK);
    let time = format!("--hti24={t:.4}");
    let fit = |more: &[&str]| {
        json(&[&["fit", BLANK, "--free", "conductivity:2", time.as_str()][..], more].concat())
    };
    let (quilted, flat) = (fit(&[]), fit(&["--flat"]));
    assert_eq!((&quilted["computed"], &flat["computed"]), (&"quilted".into(), &"flat".into()));
    let value = |fit: &Value, key: &str| number(&fit["values"][0][key]);
    let (before, own) = (value(&quilted, "before"), value(&quilted, "fitted"));
    // HTI24 moves by 0.25 % for each percent of that conductivity: see `expose --sensitivity`
    let allowed = before * (error / t) / 0.2;
    assert!((own - before).abs() < allowed, "{own} from {before} ± {allowed}");
    let pushed = value(&flat, "fitted");
    assert!(pushed < 0.85 * before, "the flat fit pushes the quilting into the felt: {pushed}");
}

#[test]
fn flat_is_what_the_plies_alone_read_and_stands_first() {
    let folder = folder("quilted_flat");
    let loose = loose(&folder);
    let figures = |layup: &str, flat: &[&str]| json(&[&["expose", layup][..], flat].concat());
    let (flat, plies) = (figures(BLANK, &["--flat"]), figures(&loose, &[]));
    assert_eq!(flat["computed"], "flat");
    assert_eq!(flat["why_flat"], FLAT_LINE);
    for run in ["disc", "skin"] {
        assert_eq!(flat[run]["figures"], plies[run]["figures"], "{run}");
    }
    assert!(flat["skin_at_cell_centre"].is_null());
    let target = ["--against", TARGET, "--sets", "16", "--rows", "0", "--flat"];
    let patch = ["patch", BLANK, "--ply", "patch-aramid-400", "--share", "30", "--flat"];
    let free = ["fit", BLANK, "--free", "conductivity:2", "--hti24", "15", "--flat"];
    let all: [&[&str]; 8] = [
        &["gap", BLANK, "--points", "3", "--flat"],
        &patch,
        &free,
        &["suit", "refuelling-coverall", "--flat"],
        &["expose", BLANK, "--flat"],
        &["rank", BLANK, "three-ply-loose", "--flat"],
        &["lots", BLANK, "examples/rolls.csv", "--flat"],
        &[&["odds", BLANK][..], &target].concat(),
    ];
    for arguments in all {
        let text = done(arguments);
        assert_eq!(text.lines().next(), Some(FLAT_LINE), "{arguments:?}");
        fits_80_columns(&text);
        let quilted: Vec<&str> = arguments.iter().copied().filter(|a| *a != "--flat").collect();
        let text = done(&quilted);
        assert!(!text.contains("flat stack"), "{quilted:?}");
        assert!(text.to_lowercase().contains("quilted"), "{quilted:?}");
        fits_80_columns(&text);
    }
    // nothing is left out of a loose layup
    assert!(!done(&["expose", &loose, "--flat"]).contains("left out"));
}

#[test]
fn pressure_leaves_no_loft_and_every_view_says_so() {
    let pressed = ["expose", BLANK, "--pressure", "2"];
    let text = flat(&done(&pressed));
    assert!(text.contains("pressure leaves no loft"), "{text}");
    assert_eq!(json(&pressed)["computed"], "flat");
    let folder = folder("quilted_pressed");
    let plies = json(&["expose", &loose(&folder), "--pressure", "2"]);
    assert_eq!(json(&pressed)["disc"]["figures"], plies["disc"]["figures"]);
}

#[test]
fn a_quilting_that_cannot_be_is_refused_in_the_same_words() {
    let folder = folder("quilted_impossible");
    let solid = file(&folder, "solid.toml", &blank("pressed_mm = 1.4", "pressed_mm = 0.2"));
    let said = stillair(&["quilt", &solid]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(said.err.contains("nothing but fibre is left"), "{}", said.err);
    assert!(said.err.contains("solid.toml:19:14, key pressed_mm"), "{}", said.err);
    let page = folder.join("page.html").display().to_string();
    let all: [&[&str]; 8] = [
        &["gap", &solid, "--points", "2"],
        &["patch", &solid, "--ply", "patch-aramid-400", "--share", "30"],
        &["fit", &solid, "--free", "conductivity:2", "--hti24", "14"],
        &["expose", &solid],
        &["rank", &solid, "three-ply-loose"],
        &["lots", &solid, "examples/rolls.csv"],
        &["odds", &solid, "--against", TARGET],
        &["report", &solid, "--out", &page],
    ];
    for arguments in all {
        let other = stillair(arguments);
        assert_eq!(other.err, said.err, "{arguments:?}");
        assert_eq!((other.code, other.out.as_str()), (1, ""), "{arguments:?}");
        let flat = stillair(&[arguments, &["--flat"]].concat());
        // what cannot be is refused wherever the file is read
        assert_eq!((flat.code, &flat.err), (1, &said.err), "{arguments:?}");
    }
}

/// Thread is carried, too: `rank` weighs a quilted layup as `quilt` and `suit` do.
#[test]
fn rank_weighs_the_thread_with_the_plies() {
    let folder = folder("thread");
    let loose = loose(&folder);
    let ranked = json(&["rank", BLANK, &loose, "--by", "mass"]);
    let placed = ranked["rankings"][0]["layups"].as_array().unwrap();
    let thread = number(&json(&["quilt", BLANK])["quilting"]["thread_g_m2"]);
    assert!(thread > 0.0, "the blank names its thread");
    let mass = |place: usize| number(&placed[place]["areal_density_g_m2"]);
    assert_eq!(placed[0]["computed"], "flat", "the loose plies are lighter");
    assert!((mass(1) - mass(0) - thread).abs() < 1e-6, "{} and {}", mass(0), mass(1));
    let text = done(&["rank", BLANK, &loose]);
    let words = flat(&text);
    assert!(words.contains("with their quilting thread"), "{text}");
}
