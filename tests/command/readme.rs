//! Claim: the commands that the README and the guide show run, and what they print is what the program says.

use std::fs;

use crate::command::program::{folder, stillair, stillair_once};
use crate::flat::flat;

/// A fenced block with the word after its fence.
struct Block {
    kind: String,
    text: String,
}

fn blocks(text: &str) -> Vec<Block> {
    let mut found = Vec::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        if let Some(kind) = line.strip_prefix("```") {
            let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
            found.push(Block { kind: kind.to_string(), text: body.join("\n") });
        }
    }
    found
}

fn page(name: &str) -> Vec<Block> {
    blocks(&fs::read_to_string(name).unwrap())
}

/// Arguments of a command line, quotes taken off; outputs go to the test's own folder.
fn arguments(line: &str, folder: &std::path::Path) -> Option<Vec<String>> {
    let line = line.trim().trim_start_matches("$ ");
    let rest = line.strip_prefix("stillair ")?;
    let rest = rest.split(" > ").next().unwrap_or(rest);
    // what stands between quotes is one word
    let pieces = rest.split('"').enumerate().flat_map(|(i, piece)| match i % 2 {
        0 => piece.split_whitespace().collect(),
        _ => vec![piece],
    });
    let words = pieces.map(|word| {
        let is_output =
            [".csv", ".svg", ".png", ".html", ".toml", ".md"].iter().any(|e| word.ends_with(e));
        let exists = std::path::Path::new(word).exists();
        if is_output && !exists {
            folder.join(word).display().to_string()
        } else {
            word.to_string()
        }
    });
    let mut words: Vec<String> = words.collect();
    if let [command, made] = words.as_mut_slice() {
        if command == "new" {
            *made = folder.join(&*made).display().to_string();
        }
    }
    Some(words)
}

/// Each line of an excerpt stands in what the commands shown before it say.
#[track_caller]
fn current(name: &str, excerpt: &str, said: &str) {
    for line in excerpt.lines().filter(|line| !line.trim().is_empty()) {
        assert!(said.lines().any(|one| one == line), "out of date in {name}: {line}");
    }
}

/// Runs every command of a page and looks for its excerpts in what they say.
#[track_caller]
fn runs(name: &str) {
    let folder = folder(&name.replace('/', "-"));
    let mut n_run = 0;
    let mut said_last = String::new();
    for block in page(name) {
        match block.kind.as_str() {
            "sh" => said_last.clear(),
            "text" if !block.text.starts_with("$ ") => current(name, &block.text, &said_last),
            _ => {}
        }
        let lines = block.text.lines().filter(|_| block.kind == "sh");
        for line in lines.filter_map(|line| arguments(line, &folder)) {
            let words: Vec<&str> = line.iter().map(String::as_str).collect();
            let writes = words.iter().any(|word| word.starts_with(&*folder.to_string_lossy()));
            let said = if writes { stillair(&words) } else { stillair_once(&words) };
            assert_eq!(said.code, 0, "{words:?}\n{}", said.err);
            said_last += &said.out;
            n_run += 1;
        }
    }
    let told = page(name).iter().any(|block| block.kind == "text");
    assert!(n_run > 0 || !told, "no command found: the test would check nothing");
}

/// One test a page, so that they run side by side.
macro_rules! pages {
    ($($test:ident: $name:literal,)*) => {
        const PAGES: &[&str] = &[$($name),*];

        $(
            #[test]
            fn $test() {
                runs($name);
            }
        )*
    };
}

pages! {
    the_readme_runs: "README.md",
    the_body_runs: "guide/body.md",
    commands_run: "guide/commands.md",
    the_day_runs: "guide/day.md",
    the_desk_runs: "guide/desk.md",
    gaps_run: "guide/gaps.md",
    the_laboratory_runs: "guide/laboratory.md",
    odds_run: "guide/odds.md",
    quilting_runs: "guide/quilting.md",
    reading_runs: "guide/reading.md",
    the_search_runs: "guide/search.md",
    speed_runs: "guide/speed.md",
    the_suit_runs: "guide/suit.md",
    trust_runs: "guide/trust.md",
    words_run: "guide/words.md",
}

#[test]
fn every_page_is_run_and_linked_from_the_readme() {
    let there = fs::read_dir("guide").unwrap().map(|entry| entry.unwrap().path());
    let mut there: Vec<String> = there.map(|path| path.display().to_string()).collect();
    there.push("README.md".to_owned());
    there.sort();
    let mut run = PAGES.to_vec();
    run.sort_unstable();
    assert_eq!(run, there);
    let readme = fs::read_to_string("README.md").unwrap();
    assert!(
        readme.lines().count() <= 250,
        "the README grows: it is the first screen, not the guide"
    );
    for page in run.iter().filter(|page| **page != "README.md") {
        assert!(readme.contains(&format!("]({page})")), "{page} is not in the README's contents");
    }
}

#[test]
fn links_between_pages_lead_somewhere() {
    let mut n_links = 0;
    for page in PAGES {
        let text = fs::read_to_string(page).unwrap();
        let folder = std::path::Path::new(page).parent().unwrap();
        for link in text.split("](").skip(1).filter_map(|rest| Some(rest.split_once(')')?.0)) {
            let file = link.split('#').next().unwrap();
            if !file.is_empty() {
                assert!(folder.join(file).exists(), "{page}: {link}");
                n_links += 1;
            }
        }
    }
    assert!(n_links > 30, "{n_links}");
}

#[test]
fn the_transcript_is_what_the_program_says() {
    let all = page("README.md");
    let transcripts: Vec<&Block> = all.iter().filter(|block| block.kind == "text").collect();
    let block = transcripts.first().expect("the README holds a transcript");
    let (line, shown) = block.text.split_once('\n').unwrap();
    let words = arguments(line, &folder("transcript")).expect("it starts with its command");
    let said = stillair(&words.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(said.out.trim_end(), shown.trim_end(), "the README's transcript is out of date");
}

#[test]
fn the_test_command_is_the_one_that_ci_runs() {
    let ci = fs::read_to_string(".ci/run").unwrap();
    let tests = page("README.md")
        .iter()
        .any(|b| b.kind == "sh" && b.text.lines().any(|l| l == "cargo test"));
    assert!(tests, "the README gives the test command");
    assert!(ci.lines().any(|line| line.trim() == "cargo test"), "CI runs it as it stands there");
}

/// The figures stand in `bands.csv`, with what was seen; the README repeats those of felts and suit.
#[test]
fn the_first_screen_says_how_far_measured_layers_lay_from_the_prediction() {
    let first = include_str!("../../README.md").split("\n## ").next().unwrap();
    let first = flat(first);
    let bands = include_str!("../../materials/bands.csv");
    let row = |class: &str, reading: &str| {
        let start = format!("{class},{reading},");
        bands.lines().find(|line| line.starts_with(&start)).unwrap()
    };
    for class in ["one felt or batting", "three and more"] {
        for (reading, figure) in [("flame", "HTI24"), ("radiant", "RHTI24")] {
            let row = row(class, reading);
            let (before, _) =
                row.split_once(&format!(" of {figure} predicted")).expect("what was seen");
            let range = before.split(" at ").last().unwrap();
            let said = format!("{range} of the {figure} predicted");
            assert!(first.contains(&said), "the README's first screen does not say `{said}`");
        }
    }
    assert!(first.contains("too long"), "it says on which side");
    let lower: f64 = row("three and more", "flame").split(',').nth(2).unwrap().parse().unwrap();
    // rounded up as the program prints it
    let needed =
        format!("three plies need {:.1} s predicted", (120.0 / lower - 1e-9).ceil() / 10.0);
    assert!(first.contains(&needed), "the README's first screen does not say `{needed}`");
}
