//! The bench book in text and CSV.

use crate::bench::figure::filed;
use crate::physics::units::{BARE, KILOJOULES_PER_AREA, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, table};
use crate::report::number::significant;
use crate::report::table::paragraph;
use crate::report::text::{closed, heading};
use crate::report::words::{count, list};
use crate::shelf::lab::book::{Book, Test, unit_of};
use crate::shelf::lab::cases::Tested;

/// The book's rows, newest last.
pub fn book_text(book: &Book) -> String {
    let mut out = heading(&format!("Bench book: {}", book.path.display()));
    out.push_str(&paragraph(&format!("{}.", count(book.tests.len(), "test", "tests")), 2));
    if book.tests.is_empty() {
        out.push_str(&paragraph("Add one with: stillair book add LAYUP …", 2));
    } else {
        out.push_str(&table(&of_tests(), &book.tests));
    }
    closed(out)
}

/// What is told of a test; in CSV each specimen's values between blanks.
pub fn of_tests<'a>() -> Vec<Column<'a, Test>> {
    let word = |name: &str, of: fn(&Test) -> &str| {
        Column::new(name, BARE, move |test: &Test| of(test).to_string())
    };
    let mean = |unit| {
        let mean = |test: &Test| test.values.iter().sum::<f64>() / test.values.len() as f64;
        let mean = move |test: &Test| (filed(test.figure) == unit).then(|| mean(test));
        Column::new("mean", unit, mean).not_in_json()
    };
    let values = |unit| {
        let values = move |test: &Test| (filed(test.figure) == unit).then(|| test.values.clone());
        Column::new("values", unit, values).not_in_csv()
    };
    let together = |test: &Test| {
        let unit = filed(test.figure);
        test.values.iter().map(|si| unit.outside(*si).to_string()).collect::<Vec<_>>().join(" ")
    };
    vec![
        Column::new("date", BARE, |test: &Test| test.date.to_string()).headed("date"),
        word("report", |test| &test.report),
        word("layup", |test| &test.layup).headed("layup"),
        word("layup_digest", |test| &test.layup_digest),
        word("exposure", |test| &test.exposure).headed("exposure"),
        word("figure", |test| &test.figure_name).headed("figure"),
        Column::text("specimens", BARE, specimens),
        Column::new("specimens", BARE, |test: &Test| test.values.len()).not_in_json(),
        mean(SECONDS),
        mean(KILOJOULES_PER_AREA),
        Column::new("values", BARE, together).not_in_json(),
        values(SECONDS),
        values(KILOJOULES_PER_AREA),
        word("conditioning", |test| &test.conditioning),
        Column::new("washed", BARE, |test: &Test| test.washed),
        word("note", |test| &test.note),
    ]
}

/// The book's rows as CSV.
///
/// Errors: none that a book without faults can have.
pub fn book_csv(book: &Book) -> Result<String, CurvesError> {
    csv(&of_tests(), &book.tests)
}

/// Each specimen's value with the unit, and what else decides.
fn specimens(test: &Test) -> String {
    let (unit, scale, _) = unit_of(test.figure);
    let values: Vec<String> = test.values.iter().map(|v| significant(v / scale, 3)).collect();
    let washed = match test.washed {
        0 => String::new(),
        n => format!(", washed {}", count(n as usize, "time", "times")),
    };
    format!("{} {unit}{washed}", values.join(", "))
}

/// That nothing is wrong with a book, and which layups have changed since they were tested.
pub fn checked_text(book: &Book, tested: &[Tested<'_>]) -> String {
    let n = count(book.tests.len(), "test", "tests");
    let mut out = paragraph(&format!("{}: nothing wrong; {n}", book.path.display()), 0);
    out.push_str(&changed_text(tested));
    out
}

/// Layups whose files have changed since they were tested; empty when there are none.
pub fn changed_text(tested: &[Tested<'_>]) -> String {
    let changed = tested.iter().filter(|one| one.has_changed());
    let mut names: Vec<&str> = changed.map(|one| one.test.layup.as_str()).collect();
    names.dedup();
    match names.is_empty() {
        true => String::new(),
        false => paragraph(
            &format!(
                "Changed since the test: the file of {}. What is computed now is not what was burnt.",
                list(&names)
            ),
            0,
        ),
    }
}

/// Which rows were added.
pub fn added_text(book: &Book, n_added: usize) -> String {
    let from = book.tests.len().saturating_sub(n_added);
    let added: Vec<String> = book.tests[from..]
        .iter()
        .map(|test| format!("{} {}", test.figure_name, specimens(test)))
        .collect();
    let path = book.path.display();
    paragraph(&format!("{path}: added {}; {} in all", added.join("; "), book.tests.len()), 0)
}
