//! Lessons for trainees: a question, what the program answers to some commands, why, and a question to close.
//!
//! A lesson holds no number. It names commands and where their JSON holds what it shows, so that its numbers are
//! the commands' own, whatever the shelf.

pub mod json;
pub mod seen;
pub mod text;

use std::sync::OnceLock;

use serde::Deserialize;

use crate::shelf::wording::near;

/// One lesson.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Its name.
    pub name: String,
    /// What it is about.
    pub title: String,
    /// How long it takes [min].
    pub minutes: u32,
    /// What there is to be seen; `{look.column}` is a number.
    pub opens: String,
    /// Asked before anything is shown.
    pub guess: Question,
    /// What is shown, in two sentences.
    pub explains: String,
    /// Asked at the end.
    pub closing: Question,
    /// Terms that lead on.
    pub see: Vec<String>,
    /// What is read off every look.
    pub column: Vec<Column>,
    /// The commands.
    pub look: Vec<Look>,
    /// What the explanation says, in numbers.
    #[serde(default)]
    pub holds: Vec<Claim>,
}

/// One number of every look.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// By which texts and questions name it.
    pub name: String,
    /// In words.
    pub heading: String,
    /// Its unit, as printed.
    pub unit: String,
    /// Decimals of a number that has no error of its own.
    #[serde(default = "one")]
    pub digits: usize,
    /// Where the JSON may hold it, as paths of keys; the first that is there counts.
    pub at: Vec<String>,
    /// Whether it is shown with the answer to the closing question only.
    #[serde(default)]
    pub later: bool,
}

fn one() -> usize {
    1
}

/// A command and the part of its JSON that is looked at.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Look {
    /// By which texts and questions name it.
    pub name: String,
    /// In words.
    pub says: String,
    /// Words behind the program's name.
    pub command: Vec<String>,
    /// The path that stands before those of the columns.
    #[serde(default)]
    pub within: String,
    /// Whether it is shown with the answer to the closing question only.
    #[serde(default)]
    pub later: bool,
}

/// A question with one right choice.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// The question.
    pub asks: String,
    /// The number that answers it.
    pub of: Of,
    /// What may be answered, from small to large.
    pub choices: Vec<Choice>,
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// In words.
    pub says: String,
    /// The number that the question's lies under; none of the last.
    pub below: Option<f64>,
}

/// A number made of those that were seen, each named as `look.column`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Of {
    /// It itself.
    Value(String),
    /// The first over the second.
    Ratio([String; 2]),
    /// What the first is more than the third, over what the second is.
    Share([String; 3]),
    /// (1st − 2nd) / (3rd − 4th), over (5th − 6th) / (7th − 8th): what a gram brings here against there.
    Slopes([String; 8]),
}

/// What an explanation rests on.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claim {
    /// The number.
    pub of: Of,
    /// It is above this.
    pub above: Option<f64>,
    /// It is below this.
    pub below: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lessons {
    lesson: Vec<Lesson>,
}

/// All lessons, in the order in which they build on each other.
pub fn lessons() -> &'static [Lesson] {
    static LESSONS: OnceLock<Vec<Lesson>> = OnceLock::new();
    LESSONS.get_or_init(|| {
        let text = include_str!("lessons.toml");
        // the text is a part of the program, and the tests below read it
        let Lessons { lesson } = toml::from_str(text).expect("the lessons are well-formed");
        lesson
    })
}

/// The lesson of that name or number.
///
/// Errors: no such lesson; the nearest names, which may be none.
pub fn find(word: &str) -> Result<&'static Lesson, Vec<&'static str>> {
    let word = word.trim();
    let place = word.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let numbered = place.and_then(|place| lessons().get(place));
    let found = numbered.or_else(|| lessons().iter().find(|lesson| lesson.name == word));
    found.ok_or_else(|| {
        let names: Vec<&str> = lessons().iter().map(|lesson| lesson.name.as_str()).collect();
        near(word, &names)
    })
}

/// A lesson's place among all, counted from 1.
pub fn place(lesson: &Lesson) -> usize {
    lessons().iter().take_while(|other| other.name != lesson.name).count() + 1
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{Claim, Of, Question, find, lessons};
    use crate::report::glossary;
    use crate::report::lesson::seen::names_in;

    fn named(of: &Of) -> Vec<&str> {
        match of {
            Of::Value(name) => vec![name],
            Of::Ratio(names) => names.iter().map(String::as_str).collect(),
            Of::Share(names) => names.iter().map(String::as_str).collect(),
            Of::Slopes(names) => names.iter().map(String::as_str).collect(),
        }
    }

    #[test]
    fn every_name_leads_to_a_look_and_a_column() {
        for lesson in lessons() {
            let known: BTreeSet<String> = lesson
                .look
                .iter()
                .flat_map(|look| {
                    lesson.column.iter().map(|column| format!("{}.{}", look.name, column.name))
                })
                .collect();
            let asked = [&lesson.guess, &lesson.closing];
            let texts = [&lesson.opens, &lesson.explains, &asked[0].asks, &asked[1].asks];
            let mut names: Vec<String> = texts.iter().flat_map(|text| names_in(text)).collect();
            let all = asked.iter().map(|Question { of, .. }| of);
            let all = all.chain(lesson.holds.iter().map(|Claim { of, .. }| of));
            names.extend(all.flat_map(named).map(str::to_owned));
            for name in names {
                assert!(known.contains(&name), "{}: `{name}`", lesson.name);
            }
            for term in &lesson.see {
                assert!(glossary::find(term).is_ok(), "{}: `{term}`", lesson.name);
            }
        }
    }

    #[test]
    fn none_takes_longer_than_ten_minutes_and_each_explains_in_two_sentences() {
        assert_eq!(lessons().len(), 9);
        for lesson in lessons() {
            assert!((1..=10).contains(&lesson.minutes), "{}", lesson.name);
            let ends = lesson.explains.split_inclusive(". ").count();
            assert_eq!(ends, 2, "{}: {}", lesson.name, lesson.explains);
            assert!(lesson.explains.ends_with('.') && lesson.opens.ends_with('.'));
            assert_eq!(find(&lesson.name).unwrap().name, lesson.name);
        }
    }

    #[test]
    fn choices_go_from_small_to_large_and_the_last_takes_the_rest() {
        for lesson in lessons() {
            for question in [&lesson.guess, &lesson.closing] {
                let (last, before) = question.choices.split_last().unwrap();
                assert!(last.below.is_none() && (1..=3).contains(&before.len()));
                let bounds: Vec<f64> = before.iter().map(|choice| choice.below.unwrap()).collect();
                assert!(bounds.windows(2).all(|pair| pair[0] < pair[1]), "{bounds:?}");
                assert!(question.asks.ends_with('?'), "{}", question.asks);
            }
        }
    }
}
