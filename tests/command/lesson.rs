//! Claim: a lesson asks, shows what the program's own commands answer, and its words hold for its numbers.

use serde_json::Value;

use crate::command::program::{command, done, done_once, fits_80_columns, json, refused, run};

fn names() -> Vec<String> {
    let all = json(&["lesson", "--json"]);
    let name = |lesson: &Value| lesson["name"].as_str().unwrap().to_owned();
    all["lessons"].as_array().unwrap().iter().map(name).collect()
}

/// A lesson with what it computes.
fn lesson(name: &str) -> Value {
    serde_json::from_str(&done_once(&["lesson", name, "--json"])).unwrap()
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

#[test]
fn every_lesson_is_told_and_what_it_says_holds_for_its_numbers() {
    for name in names() {
        let text = done(&["lesson", &name, "--told"]);
        fits_80_columns(&text);
        assert!(text.contains("Screening model only."), "{text}");
        assert!(!text.contains('{') && !text.contains('–'), "a number is missing: {text}");
        let lesson = lesson(&name);
        assert_eq!(lesson["holds"], true, "{name}: the words do not hold for the numbers");
        for question in ["guess", "closing"] {
            let right = lesson[question]["answer"].as_u64().unwrap() as usize;
            assert!(right < list(&lesson[question]["choices"]).len());
        }
        for look in list(&lesson["looks"]) {
            assert!(list(&look["cells"]).iter().any(|cell| cell != ""), "{name}: {look}");
        }
    }
}

/// The words of a command as the lesson shows them, single quotes taken off.
fn words(command: &str) -> Vec<String> {
    let pieces = command.split('\'').enumerate().flat_map(|(i, piece)| match i % 2 {
        0 => piece.split_whitespace().map(str::to_owned).collect(),
        _ => vec![piece.to_owned()],
    });
    pieces.skip(1).collect()
}

/// Whether a word is the number, or what is left of it with fewer decimals: three digits at least.
fn is_rounded(number: &str, word: &str) -> bool {
    let decimals = word.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let digits = word.chars().filter(char::is_ascii_digit).count();
    let rounded = number.parse::<f64>().map(|number| format!("{number:.decimals$}"));
    number == word || (digits >= 3 && rounded.is_ok_and(|rounded| rounded == word))
}

#[test]
fn a_lessons_numbers_are_those_that_its_commands_print() {
    let mut n_seen = 0;
    for name in names() {
        let lesson = lesson(&name);
        for look in list(&lesson["looks"]) {
            let command = words(look["command"].as_str().unwrap());
            let command: Vec<&str> = command.iter().map(String::as_str).collect();
            let said = done(&command);
            let cells = list(&look["cells"]).iter().filter_map(|cell| cell.as_str());
            for number in cells.filter_map(|cell| Some(cell.split_once(" ± ")?.0)) {
                let mut words = said.split(|c: char| !(c.is_ascii_digit() || c == '.'));
                let whole = words.any(|word| is_rounded(number, word));
                // heat by its ways stands in the picture and the tables of `gap` alone
                assert!(whole || command[0] == "gap", "{name}: {number} is not in\n{said}");
                n_seen += usize::from(whole);
            }
        }
    }
    assert!(n_seen >= 25, "only {n_seen} numbers were looked at");
}

fn answered(lines: &str) -> String {
    let said = run(command(&["lesson", "still-air"]).write_stdin(lines));
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    said.out
}

#[test]
fn it_asks_before_it_shows_and_says_whether_the_guess_was_right() {
    let said = answered("x\nC\nb\n");
    let at = |words: &str| said.find(words).unwrap_or_else(|| panic!("no `{words}` in\n{said}"));
    assert!(at("Your guess, a to d") < at("What the program answers"));
    assert!(at("One letter is enough.") < at("So it is: c,"));
    assert!(at("And now") < at("Not so. It is a,"));
    // who says nothing is told
    let told = answered("");
    assert!(told.contains("It is c, ") && !told.contains("So it is"));
}

#[test]
fn lessons_are_listed_and_one_that_is_not_there_is_refused() {
    let all = done(&["lesson"]);
    fits_80_columns(&all);
    assert!(names().iter().all(|name| all.contains(name.as_str())), "{all}");
    assert_eq!(done(&["lesson", "1", "--told"]), done(&["lesson", "still-air", "--told"]));
    refused(&["lesson", "still-aire"], 1, &["no such lesson", "did you mean", "still-air"]);
    refused(&["lesson", "10"], 1, &["1 to 9", "see `stillair lesson`"]);
}
