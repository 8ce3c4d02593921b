//! Lessons as JSON, texts with their numbers in place.

use super::seen::Seen;
use super::{Question, lessons, place};
use crate::physics::units::BARE;
use crate::report::form::value::{Object, Value};
use crate::report::json::study::envelope;

/// Names, titles and minutes of all lessons.
///
/// Errors: none that a text can cause.
pub fn lessons_json() -> Result<String, serde_json::Error> {
    let of = |lesson: &super::Lesson| {
        Object::new()
            .with("name", lesson.name.as_str())
            .with("title", lesson.title.as_str())
            .with("minutes", lesson.minutes)
    };
    let all: Vec<Object> = lessons().iter().map(of).collect();
    envelope("stillair/lessons", &Object::new().with("lessons", all))
}

/// One lesson with its numbers.
///
/// Errors: none that a text can cause.
pub fn lesson_json(seen: &Seen, commands: &[String]) -> Result<String, serde_json::Error> {
    let lesson = seen.lesson;
    let (columns, rows) = seen.cells(true);
    let columns: Vec<Object> = columns
        .iter()
        .map(|column| {
            Object::new()
                .with("heading", column.heading.as_str())
                .with("unit", column.unit.as_str())
                .with("later", column.later)
        })
        .collect();
    let row = |((look, cells), command): ((&super::Look, Vec<String>), &String)| {
        Object::new()
            .with("says", look.says.as_str())
            .with("command", command.as_str())
            .with("later", look.later)
            .with("cells", &cells[..])
    };
    let rows: Vec<Object> = rows.into_iter().zip(commands).map(row).collect();
    let object = Object::new()
        .with("place", place(lesson))
        .with("name", lesson.name.as_str())
        .with("title", lesson.title.as_str())
        .with("minutes", lesson.minutes)
        .with("opens", seen.told(&lesson.opens))
        .with("guess", question(seen, &lesson.guess))
        .with("columns", columns)
        .with("looks", rows)
        .with("explains", seen.told(&lesson.explains))
        .with("holds", seen.holds())
        .with("closing", question(seen, &lesson.closing))
        .with("see", &lesson.see[..]);
    envelope("stillair/lesson", &object)
}

fn question(seen: &Seen, question: &Question) -> Object {
    let choices: Vec<String> = question.choices.iter().map(|one| one.says.clone()).collect();
    let mut object =
        Object::new().with("asks", seen.told(&question.asks)).with("choices", &choices[..]);
    // counted from 0; left out where the program comes to no answer
    if let Some(right) = seen.answer(question) {
        object.put("answer", BARE, Value::Count(right));
    }
    if let Some(value) = seen.of(&question.of) {
        object.put("value", BARE, Value::Number(value));
    }
    object
}
