//! Claim: a report is one valid page that needs nothing else, and holds what a report must.
//! Source: the HTML standard, as the parser html5ever reads it: a document without a parse error.

use std::fs;

use html5ever::tendril::TendrilSink;
use html5ever::{ParseOpts, parse_document};
use scraper::{Html, HtmlTreeSink, Selector};
use sha2::{Digest, Sha256};
use stillair::NOTICE;

use crate::flat::flat;
use crate::run::{done, folder};

const SUBJECTS: [(&str, &[&str]); 4] = [
    ("layup", &["three-ply-loose", "--against", "en-469-xf1"]),
    ("rank", &["three-ply-loose", "three-ply-light", "single-outer-195"]),
    ("suit", &["refuelling-coverall"]),
    ("seek", &["tests/study_suit/brief.toml"]),
];

/// The page of a subject, made in a folder of its own.
fn made(test: &str, subject: &[&str]) -> String {
    let file = folder(test).join("page.html");
    let word = file.display().to_string();
    let arguments: Vec<&str> =
        ["report"].iter().chain(subject).copied().chain(["--out", &word]).collect();
    assert_eq!(done(&arguments), format!("Wrote\n  {word}\n"), "the page goes into its file alone");
    fs::read_to_string(file).unwrap()
}

/// The parsed page; parse errors are in its list.
fn parsed(page: &str) -> Html {
    let sink = HtmlTreeSink::new(Html::new_document());
    let mut options = ParseOpts::default();
    options.tokenizer.exact_errors = true;
    options.tree_builder.exact_errors = true;
    parse_document(sink, options).one(page)
}

#[test]
fn pages_are_valid_and_whole() {
    for (name, subject) in SUBJECTS {
        let page = made(&format!("valid_{name}"), subject);
        let tree = parsed(&page);
        assert!(tree.errors.is_empty(), "{name}: {:?}", tree.errors);
        let texts = |css: &str| -> Vec<String> {
            let selector = Selector::parse(css).unwrap();
            tree.select(&selector).map(|found| found.text().collect()).collect()
        };
        assert_eq!(texts("p.notice"), [NOTICE, NOTICE], "{name}");
        let headings = texts("h2").join(" | ");
        for part in [
            "Question",
            "Results",
            "Layup",
            "Exposure",
            "Materials and sources",
            "Assumptions",
            "Validity flags",
            "To make this report again",
        ] {
            assert!(headings.contains(part), "{name} lacks {part}: {headings}");
        }
        // the first page: the answer and the chart that shows it, then the list of contents
        let front = texts("section.front p.answer");
        assert_eq!((front.len(), texts("section.front figure svg").len()), (1, 1), "{name}");
        assert_eq!(texts("nav li"), texts("h2"), "{name}");
        // a suit is drawn by what its panels have to spare, then on the body
        let (least, has_body) = if name == "suit" { (2, true) } else { (1, false) };
        let n_charts = texts("figure svg").len();
        assert!((least..=least + 1).contains(&n_charts), "{name}: {n_charts} charts");
        assert_eq!(headings.contains("On a body"), has_body, "{name}");
        assert!(texts("pre")[0].starts_with("stillair report "), "{name}");
    }
}

#[test]
fn pages_ask_nothing_of_the_network_and_run_nothing() {
    for (name, subject) in SUBJECTS {
        let page = made(&format!("alone_{name}"), subject);
        // the name of a notation in the first tag of a drawing is no request
        let page = page.replace("http://www.w3.org/2000/svg", "");
        for mark in ["http:", "https:", "url(", "@import", "<script", "<link", "<img", "<iframe"] {
            assert!(!page.contains(mark), "{name}: {mark}");
        }
    }
}

#[test]
fn the_parser_complains_of_a_broken_page() {
    assert!(
        !parsed("<!doctype html><title>a</title><p><table><p>b</table></div>").errors.is_empty()
    );
}

#[test]
fn the_same_command_writes_the_same_bytes() {
    let (_, subject) = SUBJECTS[2];
    assert_eq!(made("same", subject), made("same", subject));
}

#[test]
fn hashes_are_those_of_the_files() {
    let page = made("hashes", SUBJECTS[0].1);
    for file in ["materials/fabrics.csv", "materials/layups/three-ply-loose.toml"] {
        let bytes = Sha256::digest(fs::read(file).unwrap());
        let hash: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        assert!(page.contains(file) && page.contains(&hash), "{file}: {hash}");
    }
    // NIST FIPS 180-4 example: SHA-256 of "abc" begins and ends so
    let abc: String = Sha256::digest(b"abc").iter().map(|byte| format!("{byte:02x}")).collect();
    assert!(abc.starts_with("ba7816bf") && abc.ends_with("f20015ad"), "{abc}");
}

#[test]
fn words_of_the_user_are_text_and_never_markup() {
    let question = "is <b>this</b> & \"that\" enough?";
    let page = made("words", &["single-outer-195", "--question", question, "--date", "a <day>"]);
    let tree = parsed(&page);
    assert!(tree.errors.is_empty(), "{:?}", tree.errors);
    assert_eq!(tree.select(&Selector::parse("b, day").unwrap()).count(), 0);
    assert!(tree.root_element().text().any(|text| text == question));
}

#[test]
fn markdown_names_the_charts_that_lie_beside_it() {
    let folder = folder("markdown");
    let file = folder.join("suit.md");
    done(&["report", "refuelling-coverall", "--markdown", &file.display().to_string()]);
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("(suit-1.svg)") && folder.join("suit-1.svg").exists());
    assert_eq!(text.matches(NOTICE).count(), 2);
}

/// What the page says in words stands on the terminal, too, as do its numbers, all within 80 columns.
#[test]
fn without_a_file_the_report_is_told_on_the_terminal() {
    for (name, subject) in SUBJECTS {
        let told = done(&[&["report"], subject].concat());
        let (lines, words) = (told.lines(), flat(&told));
        let command = format!("  stillair report {}", subject.join(" "));
        let wide = lines.clone().filter(|line| line.chars().count() > 80 && *line != command);
        assert_eq!(wide.collect::<Vec<_>>(), [""; 0], "{name}");
        assert!(lines.clone().any(|line| line == command), "{name}: {command}");
        assert_eq!(words.matches(NOTICE).count(), 2, "{name}");
        let tree = parsed(&made(&format!("told_{name}"), subject));
        let texts = |css: &str| -> Vec<String> {
            let selector = Selector::parse(css).unwrap();
            tree.select(&selector).map(|found| flat(&found.text().collect::<String>())).collect()
        };
        let said = texts("h1, h2, h3, main > p, main > section > p, main > ul > li");
        assert!(said.len() > 20, "{name}: {said:?}");
        for text in said {
            assert!(words.contains(&text), "{name} lacks: {text}");
        }
        for cell in texts("td.n") {
            let all = cell.split(' ').all(|word| words.contains(word));
            assert!(all, "{name} lacks: {cell}");
        }
    }
}

#[test]
fn a_search_is_told_from_its_checkpoints_as_from_its_brief() {
    let folder = folder("checkpoint");
    let brief = SUBJECTS[3].1[0];
    let path = |name: &str| folder.join(name).display().to_string();
    done(&["seek", brief, "--checkpoint", &path("whole")]);
    let page = path("page.html");
    done(&["report", &path("whole"), "--out", &page]);
    let told = fs::read_to_string(&page).unwrap();
    let body = |page: &str| page.split("To make this report again").next().unwrap().to_owned();
    assert_eq!(body(&told), body(&made("from_brief", &[brief])));
    // a part alone is no search
    done(&["seek", brief, "--part", "1/2", "--checkpoint", &path("half")]);
    let (out, err, code) = crate::run::stillair(&["report", &path("half"), "--out", &page], "2");
    assert_eq!((code, out.as_str()), (1, ""));
    assert!(err.contains("part 2 of 2 is missing"), "{err}");
}

#[test]
fn a_search_tells_limits_odds_and_what_binds() {
    let page = made("sought", SUBJECTS[3].1);
    for part in [
        "What is wanted",
        "at least 80 % odds",
        "Shortlist",
        "Frontier",
        "How it was searched",
        "none left out for its mass",
        "what binds it",
        "what more buys",
        "odds, set",
        "diamond, pitch 40 mm",
    ] {
        assert!(page.contains(part), "{part}");
    }
}
