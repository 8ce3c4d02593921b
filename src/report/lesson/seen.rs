//! What a lesson's looks came to.

use serde_json::Value;

use super::{Claim, Column, Lesson, Look, Of, Question};
use crate::report::number::{fixed, short, significant, with_error};

/// One number in the unit of its column.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Read {
    /// Without an error of its own.
    Number(f64),
    /// With its numerical error.
    Valued { value: f64, error: f64 },
    /// Not reached within this time.
    Beyond(f64),
}

/// A lesson with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// By look and column; none where a look has no such number.
    reads: Vec<Vec<Option<Read>>>,
}

/// Reads the numbers of a lesson off what its commands say, `answers` by look.
pub fn seen<'a>(lesson: &'a Lesson, answers: &[Value]) -> Seen<'a> {
    let row = |(look, answer): (&Look, &Value)| {
        lesson.column.iter().map(|column| read(look, column, answer)).collect()
    };
    Seen { lesson, reads: lesson.look.iter().zip(answers).map(row).collect() }
}

fn read(look: &Look, column: &Column, answer: &Value) -> Option<Read> {
    let mut paths = column.at.iter().map(|at| format!("{}{at}", look.within));
    let found = paths.find_map(|path| answer.pointer(&path))?;
    if let Some(number) = found.as_f64() {
        return Some(Read::Number(number));
    }
    let part = |key: &str| found.get(key).and_then(Value::as_f64);
    match (part("value"), part("error")) {
        (Some(value), Some(error)) => Some(Read::Valued { value, error }),
        (Some(value), None) => Some(Read::Number(value)),
        _ => part("within").map(Read::Beyond),
    }
}

impl Seen<'_> {
    fn get(&self, name: &str) -> Option<(&Column, Read)> {
        let (look, column) = name.split_once('.')?;
        let row = self.lesson.look.iter().position(|one| one.name == look)?;
        let at = self.lesson.column.iter().position(|one| one.name == column)?;
        Some((&self.lesson.column[at], self.reads.get(row)?.get(at).copied()??))
    }

    fn value(&self, name: &str) -> Option<f64> {
        match self.get(name)?.1 {
            Read::Number(value) | Read::Valued { value, .. } => Some(value),
            Read::Beyond(_) => None,
        }
    }

    /// The number that a question or a claim asks for; none where a look did not come to it.
    pub fn of(&self, of: &Of) -> Option<f64> {
        let less = |a: &str, b: &str| Some(self.value(a)? - self.value(b)?);
        let found = match of {
            Of::Value(name) => self.value(name)?,
            Of::Ratio([a, b]) => self.value(a)? / self.value(b)?,
            Of::Share([a, b, base]) => less(a, base)? / less(b, base)?,
            Of::Slopes([a, b, c, d, e, f, g, h]) => {
                (less(a, b)? / less(c, d)?) / (less(e, f)? / less(g, h)?)
            }
        };
        found.is_finite().then_some(found)
    }

    /// The place of the right choice; none where the number was not come to.
    pub fn answer(&self, question: &Question) -> Option<usize> {
        let value = self.of(&question.of)?;
        let lies_under = |below: Option<f64>| below.is_none_or(|below| value < below);
        question.choices.iter().position(|choice| lies_under(choice.below))
    }

    /// Whether what the explanation says is so.
    pub fn holds(&self) -> bool {
        let so = |claim: &Claim| {
            self.of(&claim.of).is_some_and(|value| {
                claim.above.is_none_or(|above| value > above)
                    && claim.below.is_none_or(|below| value < below)
            })
        };
        self.lesson.holds.iter().all(so)
    }

    /// A text with its numbers in their places.
    pub fn told(&self, text: &str) -> String {
        let mut told = text.to_owned();
        for name in names_in(text) {
            let number = self.get(&name).map_or("–".to_owned(), |(column, read)| {
                let unit = if column.unit.is_empty() { "" } else { " " };
                format!("{}{unit}{}", plain(read, column), column.unit)
            });
            told = told.replace(&format!("{{{name}}}"), &number);
        }
        told
    }

    /// The columns and looks that are shown, and their cells; those kept for the end only then.
    pub fn cells(&self, end: bool) -> (Vec<&Column>, Vec<(&Look, Vec<String>)>) {
        let looks = self.lesson.look.iter().zip(&self.reads);
        let looks: Vec<_> = looks.filter(|(look, _)| end || !look.later).collect();
        let columns = self.lesson.column.iter().enumerate();
        let columns: Vec<(usize, &Column)> = columns
            .filter(|(at, column)| {
                (end || !column.later) && looks.iter().any(|(_, reads)| reads[*at].is_some())
            })
            .collect();
        let cell = |(at, column): &(usize, &Column), reads: &[Option<Read>]| {
            reads[*at].map_or(String::new(), |read| shown(read, column))
        };
        let row = |(look, reads): (_, &Vec<Option<Read>>)| {
            (look, columns.iter().map(|column| cell(column, reads)).collect())
        };
        (columns.iter().map(|(_, column)| *column).collect(), looks.into_iter().map(row).collect())
    }
}

/// As it stands in a table.
fn shown(read: Read, column: &Column) -> String {
    match read {
        Read::Valued { value, error } => {
            let (value, error) = with_error(value, error);
            format!("{value} ± {error}")
        }
        _ => plain(read, column),
    }
}

/// As it stands in a sentence: three digits are enough there.
fn plain(read: Read, column: &Column) -> String {
    match read {
        Read::Number(value) => fixed(value, column.digits),
        Read::Valued { value, .. } => significant(value, 3),
        Read::Beyond(within) => format!("over {}", short(within, 1)),
    }
}

/// The numbers that a text names, `look.column` each.
pub(super) fn names_in(text: &str) -> Vec<String> {
    let parts = text.split('{').skip(1);
    parts.filter_map(|part| Some(part.split_once('}')?.0.to_owned())).collect()
}
