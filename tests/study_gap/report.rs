//! Claim: a report of several layups opens the same gap in each as `gap` does, and that of a search holds its
//! shortlist's plies against the brief's gaps.
//! Source: `gap` of the same layups and gaps; `expose` of a layup of the shortlist, written out with its gap.
//! Tolerance: the printed digits.

use serde_json::Value;

use crate::run::{done, folder, stillair};
use crate::study_gap::map::brief;

const FELT: &str = "outer-aramid-150 + felt-needled-100 + inner-jersey-140";
const KNIT: &str = "outer-aramid-200 + inner-jersey-140 + inner-jersey-140";

fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&done(&[arguments, &["--json"]].concat())).unwrap()
}

/// The report in Markdown without marks of the notation, its first and its last chart.
fn report(name: &str, words: &[&str]) -> (String, String, String) {
    let folder = folder(name);
    let page = folder.join("r.md");
    done(&[&["report"], words, &["--markdown", page.to_str().unwrap()]].concat());
    let text = std::fs::read_to_string(page).unwrap().replace('\\', "");
    let charts = (1..).map(|n| folder.join(format!("r-{n}.svg"))).take_while(|file| file.exists());
    let charts: Vec<String> = charts.map(|file| std::fs::read_to_string(file).unwrap()).collect();
    (text, charts[0].clone(), charts[charts.len() - 1].clone())
}

#[test]
fn several_layups_have_the_same_gap_opened_in_each() {
    let (text, first, chart) = report("report-gap", &[FELT, KNIT, "--gap", "1"]);
    let alone = json(&["gap", FELT, KNIT, "--gap", "1", "--points", "31"]);
    let sentence = alone["sentences"][0].as_str().unwrap();
    assert!(sentence.contains("lasts longer") && text.contains(sentence), "{sentence}\n{text}");
    assert!(text.contains("## The same gap in each") && text.contains("--gap 1"), "{text}");
    assert!(chart.contains("against the same gap in 2 layups") && chart.contains(stillair::NOTICE));
    // the layup that lasts longest is drawn beside its curve
    for part in ["outside", "felt-needled-", "copper disc"] {
        assert!(first.contains(&format!("\n{part}\n")), "no {part} in the first chart");
    }
    // where the plies touch nothing is opened unasked, where all have gaps it is
    let (touching, ..) = report("report-touching", &[FELT, KNIT, "--error", "2"]);
    assert!(!touching.contains("The same gap"), "{touching}");
    let (open, ..) = report("report-open", &["three-ply-loose", "two-ply-outer-knit"]);
    assert!(open.contains("The same gap in each") && open.contains("all gaps together"), "{open}");
    for words in [&["three-ply-loose"][..], &["refuelling-coverall"], &[FELT, "single-outer-195"]] {
        let words = [&["report"], words, &["--gap", "2", "--out", "never.html"]].concat();
        let (out, err, code) = stillair(&words, "2");
        assert_eq!((code, out.as_str()), (1, ""), "{words:?}");
        assert!(err.contains("--gap") && err.contains("mend:"), "{err}");
    }
}

#[test]
fn a_search_holds_its_shortlist_against_the_gaps() {
    let (text, front, chart) = report("report-search", &[&brief("report-brief", "")]);
    assert!(
        text.contains("## Plies against gaps") && text.contains("cells keep the margin"),
        "{text}"
    );
    let first = text.lines().find(|line| line.starts_with("**The lightest is S1")).unwrap();
    for part in ["S1, the lightest", "outside", "felt-needled-", "copper disc or skin"] {
        assert!(front.contains(&format!("\n{part}\n")), "no {part} in the first chart");
    }
    let plies = "outer-aramid-150 + felt-needled-100 + inner-jersey-140";
    assert!(first.contains(plies), "{first}");
    let with_gap = plies.replace("100 + ", "100 + 0.5 mm + ");
    let alone = json(&["expose", &with_gap]);
    let t = alone["disc"]["figures"]["HTI24_s"]["value"].as_f64().unwrap();
    assert!(chart.contains(&format!("\n{t:.1}†\n")), "no {t:.1} in the map");
    assert!(chart.contains("(S1)") && chart.contains("brief one gap"));
    let (text, ..) = report("report-closed", &["tests/harden/brief.toml", "--error", "5"]);
    assert!(!text.contains("Plies against gaps"), "it opens no gaps: {text}");
}
