//! Which candidate to test next, in text and CSV.

use crate::bench::figure::{Found, figure_name, filed, shown};
use crate::garment::exposure::Exposure;
use crate::garment::target::Target;
use crate::physics::units::{BARE, KILOJOULES_PER_AREA, PERCENT, Quantity, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::figures::in_words;
use crate::report::form::column::Column;
use crate::report::form::rows::csv;
use crate::report::form::value::{Held, Value};
use crate::report::number::{Shown, fixed, significant};
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice};
use crate::report::verdict::threshold;
use crate::report::words::{count, list};
use crate::study::book::next::{Advice, Candidate, Worth};

/// Fewer wrong calls settled than this are none [–].
const WORTH_TELLING: f64 = 0.005;
/// A second test is named when it settles at least this share of what the first does [–].
const SECOND_FROM: f64 = 0.5;
/// Candidates that are more alike than this to the one tested are named [–].
const ALIKE_FROM: f64 = 0.3;

/// Candidates against a target, with what a test of each would settle.
pub struct NextOf<'a> {
    /// The target.
    pub target: &'a Target,
    /// Its exposure.
    pub exposure: &'a Exposure,
    /// The candidates.
    pub candidates: &'a [Candidate],
    /// What is known of each one's figure, in their order.
    pub found: &'a [Found],
    /// The advice.
    pub advice: &'a Advice,
    /// Own tests of the figure.
    pub n_tests: usize,
}

impl NextOf<'_> {
    /// Name of the figure.
    pub fn figure(&self) -> &'static str {
        figure_name(self.target.figure, self.exposure)
    }

    /// What a test is expected to settle of the wrong calls.
    pub fn settles(&self, worth: &Worth) -> f64 {
        self.advice.wrong_now - worth.wrong_after
    }

    /// The one or two candidates whose test is worth most; none when no test would settle anything.
    pub fn chosen(&self) -> Vec<&Worth> {
        let Some(first) = self.advice.worth.first().filter(|w| self.settles(w) >= WORTH_TELLING)
        else {
            return Vec::new();
        };
        let enough = SECOND_FROM * self.settles(first);
        let second = self
            .advice
            .worth
            .get(1)
            .filter(|w| self.settles(w) >= enough && self.settles(w) >= WORTH_TELLING);
        std::iter::once(first).chain(second).collect()
    }

    /// Why this one, in a sentence.
    pub fn why(&self, worth: &Worth) -> String {
        let one = &self.candidates[worth.candidate];
        let below = self.advice.below[worth.candidate];
        let alike: Vec<&str> = self
            .candidates
            .iter()
            .enumerate()
            .filter(|(i, other)| {
                *i != worth.candidate && one.likeness.correlation(&other.likeness) > ALIKE_FROM
            })
            .map(|(_, other)| other.name.as_str())
            .collect();
        let tells = match alike.is_empty() {
            true => "no other candidate is enough like it to learn from it".to_owned(),
            false => format!("it also tells of {}, which are like it", list(&alike)),
        };
        let tells = if alike.len() == 1 { tells.replace("which are", "which is") } else { tells };
        format!(
            "Test {}: its chance to lie below {} is {}, and a test is expected to bring {} wrong calls \
             among the {} down to {}, and the chance that what is kept holds one below from {} to {}; \
             {tells}.",
            one.name,
            threshold(self.target),
            percent(below),
            fixed(self.advice.wrong_now, 2),
            count(self.candidates.len(), "candidate", "candidates"),
            fixed(worth.wrong_after, 2),
            percent(self.advice.holds_now),
            percent(worth.holds_after),
        )
    }
}

fn percent(share: f64) -> String {
    match share {
        share if share < 0.005 => "under 1 %".to_owned(),
        share if share > 0.995 => "over 99 %".to_owned(),
        share => format!("{} %", PERCENT.fixed(share, 0)),
    }
}

/// The advice on each target in text.
pub fn next_text(all: &[NextOf<'_>]) -> String {
    let mut out = String::new();
    for of in all {
        let (name, target) = (of.figure(), &of.target.name);
        out.push_str(&heading(&format!("What to test next: {name} against {target}")));
        out.push_str(&table(of));
        let tests = match of.n_tests {
            0 => format!(
                "No own test of {name} is in the book: the shelf's bands are all that is known."
            ),
            n => format!(
                "The bands are anchored to {} of {name}.",
                count(n, "own test", "own tests")
            ),
        };
        out.push_str(&paragraph(&tests, 2));
        for worth in of.chosen() {
            out.push_str(&paragraph(&of.why(worth), 2));
        }
        if of.chosen().is_empty() {
            out.push_str(&paragraph(
                "No test would settle anything: each candidate lies above or below the target by \
                 what is known already.",
                2,
            ));
        }
        out.push_str(&paragraph(
            "Wrong calls: how many candidates one would be wrong about who calls each by what is \
             likelier, keeping those above; after a test, in the mean over what it may read.",
            2,
        ));
        out.push('\n');
    }
    out.push_str(&notice());
    out
}

fn table(of: &NextOf<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Right, Right]);
    let unit = shown(of.target.figure).unit;
    let predicted = format!("model {unit}");
    table.row(["candidate", &predicted, "below", "wrong calls after its test"]);
    for worth in &of.advice.worth {
        let i = worth.candidate;
        let value = match of.found[i] {
            Found::Value { valued, .. } => {
                significant(shown(of.target.figure).outside(valued.value), 3)
            }
            other => in_words(&other, of.target.figure),
        };
        table.row([
            of.candidates[i].name.clone(),
            value,
            percent(of.advice.below[i]),
            fixed(worth.wrong_after, 3),
        ]);
    }
    table.row(["now", "", "", &fixed(of.advice.wrong_now, 3)]);
    table.render()
}

/// A candidate with what a test of it would settle.
pub struct Row<'a> {
    of: &'a NextOf<'a>,
    /// Place by worth, from 1.
    place: usize,
    worth: &'a Worth,
}

impl Row<'_> {
    fn candidate(&self) -> &Candidate {
        &self.of.candidates[self.worth.candidate]
    }

    /// The prediction, if files have it in this unit.
    fn model(&self, unit: Quantity) -> Option<f64> {
        let valued = self.of.found[self.worth.candidate].valued()?;
        (filed(self.of.target.figure) == unit).then_some(valued.value)
    }

    fn is_advised(&self) -> bool {
        self.of.chosen().iter().any(|worth| worth.candidate == self.worth.candidate)
    }
}

/// The candidates, most worth first.
pub fn rows<'a>(of: &'a NextOf<'a>) -> Vec<Row<'a>> {
    let all = of.advice.worth.iter().zip(1..);
    all.map(|(worth, place)| Row { of, place, worth }).collect()
}

/// What is told of them.
pub fn of_candidates<'a>() -> Vec<Column<'a, Row<'a>>> {
    let model = |unit| Column::new("model", unit, move |row: &Row| row.model(unit)).not_in_csv();
    let in_csv =
        |name: &str, quantity, of: fn(&Row) -> Value| Column::new(name, quantity, of).not_in_json();
    vec![
        in_csv("target", BARE, |row| row.of.target.name.as_str().value()),
        in_csv("figure", BARE, |row| row.of.figure().value()),
        in_csv("place", BARE, |row| row.place.value()),
        Column::new("candidate", BARE, |row: &Row| row.candidate().name.clone()),
        model(SECONDS),
        model(KILOJOULES_PER_AREA),
        in_csv("over_target", BARE, |row| row.candidate().over_target.value()),
        Column::new("below", PERCENT, |row: &Row| row.of.advice.below[row.worth.candidate]),
        in_csv("wrong_calls_now", BARE, |row| row.of.advice.wrong_now.value()),
        Column::new("wrong_calls_after", BARE, |row: &Row| row.worth.wrong_after),
        in_csv("holds_below_now", PERCENT, |row| row.of.advice.holds_now.value()),
        Column::new("holds_below_after", PERCENT, |row: &Row| row.worth.holds_after),
        in_csv("own_tests", BARE, |row| row.of.n_tests.value()),
        in_csv("advised", BARE, |row| row.is_advised().value()),
    ]
}

/// The candidates as CSV, one row a target and candidate, most worth first.
///
/// Errors: a value that is not a finite number.
pub fn next_csv(all: &[NextOf<'_>]) -> Result<String, CurvesError> {
    let rows: Vec<Row> = all.iter().flat_map(rows).collect();
    csv(&of_candidates(), &rows)
}
