//! Claim: a cell of a map of layups against gaps has the figure that the layup with that gap has when it is
//! exposed alone; chart, CSV, JSON and text tell one table. Of a brief with gaps in one place the cells are the
//! combinations that a search of it looks at, so that as many keep its margin and the lightest is the same.
//! Source: `expose` of each cell's layup, written out in one line with its gap; `seek` of the brief.
//! Tolerance: the printed digits, a tenth of a second.

use serde_json::Value;

use crate::run::{done, folder, stillair};

const FELT: [&str; 2] = ["outer-aramid-150", "felt-needled-100 + inner-jersey-140"];
const KNIT: [&str; 2] = ["outer-aramid-200", "inner-jersey-140 + inner-jersey-140"];
const GAPS: [&str; 3] = ["0", "0.5", "3"];

fn touching([outer, rest]: [&str; 2]) -> String {
    format!("{outer} + {rest}")
}

fn with_gap([outer, rest]: [&str; 2], gap: &str) -> String {
    if gap == "0" { touching([outer, rest]) } else { format!("{outer} + {gap} mm + {rest}") }
}

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap()
}

fn map(by: &str) -> Value {
    let (felt, knit) = (touching(FELT), touching(KNIT));
    json(&["gap", &felt, &knit, "--gap", "1", "--gaps", &GAPS.join(","), "--map", "--by", by])
}

/// Times [s] and whether they lie beyond a ply's limit, layup by layup.
fn cells(map: &Value) -> Vec<(f64, bool)> {
    let cells = map["cells"].as_array().unwrap();
    let of = |cell: &Value| {
        (cell["value_s"]["value"].as_f64().unwrap(), cell["beyond_limit"].as_bool().unwrap())
    };
    cells.iter().map(of).collect()
}

#[test]
fn cells_are_what_expose_says_of_their_layups() {
    for (by, run, key) in [
        ("hti12", "disc", "HTI12_s"),
        ("hti24", "disc", "HTI24_s"),
        ("difference", "disc", "HTI24_less_HTI12_s"),
        ("stoll", "disc", "stoll_s"),
        ("second-degree", "skin", "second_degree_s"),
    ] {
        let found = cells(&map(by));
        let layups = [FELT, KNIT].into_iter().flat_map(|of| GAPS.map(|gap| with_gap(of, gap)));
        for (layup, (t, beyond)) in layups.zip(found) {
            let alone = json(&["expose", &layup]);
            let figure = &alone[run]["figures"][key];
            let expected = figure["value"].as_f64().unwrap();
            assert_eq!(format!("{t:.1}"), format!("{expected:.1}"), "{by} of {layup}");
            // the time between two rises is known when the later one is reached
            let at = if by == "difference" { "HTI24_s" } else { key };
            let t = alone[run]["figures"][at]["value"].as_f64().unwrap();
            let limit = alone[run]["valid_until_s"].as_f64();
            assert_eq!(beyond, limit.is_some_and(|limit| t > limit), "{by} of {layup}");
        }
    }
}

#[test]
fn a_quilted_layup_stays_quilted() {
    let name = "three-ply-quilted-blank";
    let map =
        json(&["gap", name, "--gap", "behind", "--gaps", "0", "--map", "--by", "second-degree"]);
    let alone = json(&["expose", name]);
    let expected = alone["skin"]["figures"]["second_degree_s"]["value"].as_f64().unwrap();
    assert_eq!(format!("{:.1}", cells(&map)[0].0), format!("{expected:.1}"));
    assert_eq!(map["cells"][0]["computed"], "quilted");
}

#[test]
fn every_view_tells_one_table() {
    let folder = folder("map");
    let (csv, svg) = (folder.join("m.csv"), folder.join("m.svg"));
    let files = ["--csv", csv.to_str().unwrap(), "--chart", svg.to_str().unwrap()];
    let (felt, knit) = (touching(FELT), touching(KNIT));
    let of = ["gap", &felt, &knit, "--gap", "1", "--gaps", &GAPS.join(","), "--map"];
    let text = done(&[&of[..], &files].concat());
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.replace('\n', " ").contains(stillair::NOTICE));
    let svg = std::fs::read_to_string(svg).unwrap();
    let mut reader = csv::Reader::from_path(csv).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let found = cells(&map("hti24"));
    assert_eq!((rows.len(), found.len()), (6, 6));
    for (row, (t, beyond)) in rows.iter().zip(&found) {
        assert!((row[5].parse::<f64>().unwrap() - t).abs() < 1e-4, "{row:?}");
        let mark = if *beyond { "†" } else { "" };
        let shown = format!("{t:.1}{mark}");
        assert!(text.contains(&shown), "no {shown} in\n{text}");
        assert!(svg.contains(&format!("\n{shown}\n")), "no {shown} in the chart");
    }
    for grams in ["390", "480"] {
        assert!(text.contains(grams) && svg.contains(&format!("\n{grams}\n")), "{grams} g/m²");
    }
}

#[test]
fn more_than_there_is_room_for_is_told() {
    let felt = touching(FELT);
    for (more, what) in [
        (&["--points", "13"][..], "13 gaps"),
        (&["--gaps", "0,2,1"], "…2,1…"),
        (&["--gaps", "1,1"], "…1,1…"),
    ] {
        let (out, err, code) =
            stillair(&[&["gap", &felt, "--gap", "1", "--map"], more].concat(), "2");
        assert_eq!((code, out.as_str()), (1, ""), "{more:?}");
        assert!(err.contains(what) && err.contains("mend:"), "{err}");
    }
    let many = [&["gap", "--gap", "1", "--map"], &[felt.as_str(); 21][..]].concat();
    let (_, err, code) = stillair(&many, "2");
    assert!(code == 1 && err.contains("21 layups"), "{err}");
}

/// A brief with gaps in one place; `further` goes to its end.
pub fn brief(folder: &str, further: &str) -> String {
    let text = format!(
        r#"# Invented for the demo: a search with gaps in one place.
name = "one gap"
outer = ["outer-aramid-150", "outer-aramid-200"]
felts = ["felt-spunlace-60", "felt-needled-100"]
felts_most = 1
felts_least = 0
inner = ["inner-jersey-140"]
minimise = "mass"

[[target]]
target = "fia-8856-2018-overall"
margin_pct = 5

[[gap]]
place = "before inner"
least_mm = 0
most_mm = 1
step_mm = 0.5

[limits]
areal_density_g_m2 = 430
thickness_mm = 3
{further}"#
    );
    let path = crate::run::folder(folder).join("brief.toml");
    std::fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_briefs_map_keeps_what_its_search_keeps() {
    let path = brief("map-brief", "");
    let (map, search) = (json(&["gap", &path, "--map"]), json(&["seek", &path]));
    let cells = map["cells"].as_array().unwrap();
    let kept: Vec<&Value> = cells.iter().filter(|cell| cell["keeps_margin"] == true).collect();
    assert_eq!(kept.len() as u64, search["search"]["keeping_margin"].as_u64().unwrap());
    let least = kept.iter().map(|cell| cell["areal_density_g_m2"].as_f64().unwrap());
    let lightest = &search["shortlist"][0];
    assert_eq!(
        least.fold(f64::INFINITY, f64::min),
        lightest["areal_density_g_m2"].as_f64().unwrap()
    );
    let plies: Vec<&str> =
        lightest["plies"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert!(kept.iter().any(|cell| cell["layup"] == plies.join(" + ")), "{plies:?}");
    // a needled felt of 1.3 mm with 1 mm of air is above 3 mm, whatever its figure
    let thick = |cell: &&Value| cell["thickness_mm"].as_f64().unwrap() > 3.0;
    assert!(cells.iter().any(|cell| thick(&cell)) && !kept.iter().any(thick));
    let text = done(&["gap", &path, "--map"]);
    assert!(
        text.contains(
            "Left out of the brief's stacks: 1 beyond its limits and 2 without such a gap."
        ),
        "{text}"
    );
}

/// EN 469 asks for the time between the two rises (`materials/targets.csv`), NFPA 2112 for a heat.
#[test]
fn a_map_is_of_any_time_that_a_target_asks_for() {
    let asking = |target: &str| {
        let path = brief(&format!("map-brief-{target}"), "");
        let text = std::fs::read_to_string(&path).unwrap();
        std::fs::write(&path, text.replace("fia-8856-2018-overall", target)).unwrap();
        path
    };
    let path = asking("en-469-xf2-rise");
    let (map, search) = (json(&["gap", &path, "--map"]), json(&["seek", &path]));
    assert_eq!(map["figure"], "HTI24 − HTI12");
    let kept = map["cells"].as_array().unwrap().iter().filter(|cell| cell["keeps_margin"] == true);
    let n_kept = kept.count() as u64;
    assert!(n_kept > 0 && n_kept < cells(&map).len() as u64, "{n_kept}");
    assert_eq!(n_kept, search["search"]["keeping_margin"].as_u64().unwrap());
    let (_, err, code) = stillair(&["gap", &asking("nfpa-2112-contact"), "--map"], "2");
    assert!(code == 1 && err.contains("TPP is a heat") && err.contains("mend:"), "{err}");
}

#[test]
fn a_brief_that_is_no_map_says_what_to_choose() {
    let two = "\n[[target]]\ntarget = \"iso-11612-b1\"\nmargin_pct = 5\n\n[[gap]]\nplace = \"behind outer\"\n\
               least_mm = 0\nmost_mm = 2\nstep_mm = 1\n";
    let path = brief("map-brief-two", two);
    let one = ["--against", "iso-11612-b1"];
    for (more, what) in [
        (&[][..], "--map"),
        (&["--map"], "--against fia-8856-2018-overall"),
        (&["--map", "--against", "iso-11612-c1"], "no such target"),
        (&["--map", one[0], one[1]], "differ from place to place"),
        (&["--map", one[0], one[1], "--gap", "between felts"], "no gap there"),
        (&["--map", one[0], one[1], "--gap", "2"], "\"before inner\""),
        (&["--map", one[0], one[1], "--only", "felt-novoloid-100"], "no such fabric"),
        (&["--map", one[0], one[1], "--by", "stoll"], "--by"),
        (&["--map", "--exposure", "flame-80"], "--exposure"),
    ] {
        let (out, err, code) = stillair(&[&["gap", &path], more].concat(), "2");
        assert_eq!((code, out.as_str()), (1, ""), "{more:?}");
        assert!(err.contains(what) && err.contains("mend:"), "{more:?}: {err}");
    }
    let chosen = ["--map", one[0], one[1], "--only", "outer-aramid-150", "--gap", "behind outer"];
    let text = done(&[&["gap", &path], &chosen[..]].concat());
    assert!(text.contains("Gaps before inner stay as narrow as the brief allows."), "{text}");
    let many = ["gap", "materials/briefs/hill-climb-refuelling-coverall.toml", "--map"];
    let (_, err, code) = stillair(&many, "2");
    assert!(code == 1 && err.contains("620 stacks") && err.contains("--only"), "{err}");
    let (_, err, code) = stillair(&["gap", "three-ply-loose", "--map", one[0], one[1]], "2");
    assert!(code == 1 && err.contains("--against without a brief"), "{err}");
}

#[test]
fn a_place_of_a_brief_is_the_gap_behind_that_ply() {
    let layup = touching(FELT);
    let at = |gap: &str| {
        json(&["gap", &layup, "--gap", gap, "--gaps", "1", "--map"])["cells"][0]["value_s"]["value"]
            .clone()
    };
    assert_eq!(at("behind outer"), at("1"));
    assert_eq!(at("before inner"), at("2"));
    assert_eq!(at("behind inner"), at("behind"));
    let (_, err, code) = stillair(&["gap", &layup, "--gap", "between felts"], "2");
    assert!(code == 1 && err.contains("no such place") && err.contains("3 plies"), "{err}");
}
