//! A lesson in text for a terminal, part by part: between them the reader answers.

use super::seen::Seen;
use super::{Question, lessons, place};
use crate::report::table::{Align, Table, hanging, paragraph};
use crate::report::text::{heading, notice, section};
use crate::report::words::list;

/// The names of all lessons.
pub fn lessons_text() -> String {
    let mut table = Table::new(&[Align::Right, Align::Left, Align::Left, Align::Right]);
    for (i, lesson) in lessons().iter().enumerate() {
        let minutes = format!("{} min", lesson.minutes);
        table.row([(i + 1).to_string(), lesson.name.clone(), lesson.title.clone(), minutes]);
    }
    heading("Lessons, each told by `stillair lesson NAME`") + &table.render() + "\n" + &notice()
}

/// How a lesson begins, up to its first question.
pub fn opens(seen: &Seen) -> String {
    let lesson = seen.lesson;
    let of = format!("lesson {} of {}, {} min", place(lesson), lessons().len(), lesson.minutes);
    let mut out = heading(&format!("{} ({of})", lesson.title));
    out.push_str(&paragraph(&seen.told(&lesson.opens), 2));
    out.push('\n');
    out.push_str(&heading("Guess first"));
    out + &asked(seen, &lesson.guess)
}

/// What was guessed about, why, and the question that closes the lesson.
pub fn shows(seen: &Seen, said: Option<usize>, commands: &[String]) -> String {
    let lesson = seen.lesson;
    let mut out = answered(seen, &lesson.guess, said);
    section(&mut out, "What the program answers", &table(seen, false));
    let mut told: Vec<&String> = Vec::new();
    for (look, command) in lesson.look.iter().zip(commands) {
        if !look.later && !told.contains(&command) {
            told.push(command);
            out.push_str(&hanging("try  ", command, 2));
        }
    }
    section(&mut out, "Why", &paragraph(&seen.told(&lesson.explains), 2));
    if !seen.holds() {
        out.push_str(&paragraph(
            "On this shelf the figures above do not bear this out: believe them, not the words.",
            2,
        ));
    }
    out.push('\n');
    out.push_str(&heading("And now"));
    out + &asked(seen, &lesson.closing)
}

/// The answer to the closing question, and what leads on.
pub fn closes(seen: &Seen, said: Option<usize>) -> String {
    let lesson = seen.lesson;
    let mut out = answered(seen, &lesson.closing, said);
    if lesson.look.iter().any(|look| look.later) || lesson.column.iter().any(|one| one.later) {
        out.push_str(&table(seen, true));
    }
    out.push('\n');
    let terms = lesson.see.iter().map(|term| format!("`stillair explain {term}`"));
    out.push_str(&hanging("words  ", &list(&terms.collect::<Vec<_>>()), 2));
    if let Some(next) = lessons().get(place(lesson)) {
        let next = format!("`stillair lesson {}`: {}", next.name, next.title);
        out.push_str(&hanging("next   ", &next, 2));
    }
    out.push('\n');
    out + &notice()
}

/// "a", "b", …: the letter of a choice.
pub fn letter(place: usize) -> char {
    ('a'..='z').nth(place).unwrap_or('z')
}

fn asked(seen: &Seen, question: &Question) -> String {
    let mut out = paragraph(&seen.told(&question.asks), 2);
    for (i, choice) in question.choices.iter().enumerate() {
        out.push_str(&hanging(&format!("{}  ", letter(i)), &choice.says, 4));
    }
    out
}

fn answered(seen: &Seen, question: &Question, said: Option<usize>) -> String {
    let Some(right) = seen.answer(question) else {
        return paragraph("On this shelf the program comes to no answer.", 2);
    };
    let told = format!("{}, {}.", letter(right), question.choices[right].says);
    let begins = match said {
        None => "It is",
        Some(said) if said == right => "So it is:",
        Some(_) => "Not so. It is",
    };
    paragraph(&format!("{begins} {told}"), 2)
}

fn table(seen: &Seen, end: bool) -> String {
    let (columns, rows) = seen.cells(end);
    let mut aligns = vec![Align::Left];
    aligns.extend(columns.iter().map(|_| Align::Right));
    let mut table = Table::new(&aligns);
    let blank = || std::iter::once(String::new());
    table.row(blank().chain(columns.iter().map(|column| column.heading.clone())));
    table.row(blank().chain(columns.iter().map(|column| column.unit.clone())));
    for (look, cells) in rows {
        table.row(std::iter::once(look.says.clone()).chain(cells));
    }
    table.render()
}

/// A whole lesson with its answers, for one who does not want to be asked.
pub fn told(seen: &Seen, commands: &[String]) -> String {
    let mut out = opens(seen);
    out.push('\n');
    out.push_str(&shows(seen, None, commands));
    out.push('\n');
    out + &closes(seen, None)
}
