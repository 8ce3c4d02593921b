//! `stillair lesson`: a question, what the program answers, why.

use std::io::{self, BufRead, IsTerminal};

use serde_json::Value;

use super::error::{BadOption, CliError};
use super::output;
use super::typed::as_typed;
use crate::report::lesson::seen::seen;
use crate::report::lesson::text::{closes, lessons_text, letter, opens, shows, told};
use crate::report::lesson::{Lesson, Look, Question, find, json, lessons};
use crate::shelf::wording::suggested;

/// Arguments of `lesson`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Name or number of a lesson [default: the names of all]
    #[arg(value_name = "NAME")]
    lesson: Option<String>,
    /// Tell the whole lesson with its answers, without asking
    #[arg(long)]
    told: bool,
    /// Print JSON instead of text, answers included
    #[arg(long)]
    json: bool,
}

/// What a command of the program writes to standard output.
type Ask<'a> = &'a dyn Fn(&[String]) -> Result<String, CliError>;

/// Gives the lesson, or lists all; `ask` answers its commands.
pub fn run(args: &Args, ask: Ask<'_>) -> Result<(), CliError> {
    let Some(word) = &args.lesson else {
        return match args.json {
            true => output::print_raw(json::lessons_json().map_err(CliError::Json)?.as_bytes()),
            false => output::print(&lessons_text()),
        };
    };
    let lesson = found(word)?;
    let answers = answers(lesson, ask)?;
    let seen = seen(lesson, &answers);
    let look = |look: &Look| format!("stillair {}", as_typed(&look.command));
    let commands: Vec<String> = lesson.look.iter().map(look).collect();
    if args.json {
        let json = json::lesson_json(&seen, &commands).map_err(CliError::Json)?;
        return output::print_raw(json.as_bytes());
    }
    if args.told {
        return output::print(&told(&seen, &commands));
    }
    output::print(&opens(&seen))?;
    let said = said(&lesson.guess)?;
    output::print(&shows(&seen, said, &commands))?;
    let said = self::said(&lesson.closing)?;
    output::print(&closes(&seen, said))
}

/// What each look's command answers; a command that several look at is run once.
fn answers(lesson: &Lesson, ask: Ask<'_>) -> Result<Vec<Value>, CliError> {
    let mut run: Vec<(&[String], Value)> = Vec::new();
    for look in &lesson.look {
        if run.iter().all(|(words, _)| *words != look.command) {
            let mut words = look.command.clone();
            words.push("--json".to_owned());
            let heard = ask(&words)?;
            let answer = serde_json::from_str(&heard).map_err(CliError::Json)?;
            run.push((&look.command, answer));
        }
    }
    let answer = |words: &[String]| {
        let found = run.iter().find(|(run, _)| *run == words);
        found.map_or(Value::Null, |(_, answer)| answer.clone())
    };
    Ok(lesson.look.iter().map(|look| answer(&look.command)).collect())
}

/// The choice that the reader makes; none for one who wants to be told.
fn said(question: &Question) -> Result<Option<usize>, CliError> {
    let n = question.choices.len();
    let letters: Vec<String> = (0..n).map(|i| letter(i).to_string()).collect();
    let last = letter(n.saturating_sub(1));
    let asks = format!("  Your guess, a to {last} (Enter to be told): ");
    loop {
        output::print(&asks)?;
        let mut line = String::new();
        let read = io::stdin().lock().read_line(&mut line).map_err(CliError::Stdin)?;
        // what is typed shows itself and ends its line; what comes through a pipe does neither
        if read == 0 || !io::stdin().is_terminal() {
            output::print(&format!("{}\n", line.trim()))?;
        }
        let word = line.trim().to_lowercase();
        if word.is_empty() {
            return Ok(None);
        }
        match letters.iter().position(|letter| *letter == word) {
            Some(choice) => return Ok(Some(choice)),
            None => output::print("  One letter is enough.\n")?,
        }
    }
}

fn found(word: &str) -> Result<&'static Lesson, CliError> {
    find(word).map_err(|nearest| {
        CliError::Option(BadOption {
            what: "no such lesson is given".to_owned(),
            given: word.to_owned(),
            expected: format!("the name of one of the {0} lessons, or 1 to {0}", lessons().len()),
            mend: suggested(&nearest, "see `stillair lesson` for all of them"),
        })
    })
}
