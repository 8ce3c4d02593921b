//! The bench book in text and CSV.

use crate::bench::figure::filed;
use crate::garment::book::{Book, Test, unit_of};
use crate::garment::book_cases::Tested;
use crate::report::columns::{Cell, Columns};
use crate::report::csv::CurvesError;
use crate::report::number::significant;
use crate::report::table::{Align, Table, paragraph};
use crate::report::text::{heading, notice};
use crate::report::words::{count, list};

/// The book's rows, newest last.
pub fn book_text(book: &Book) -> String {
    let mut out = heading(&format!("Bench book: {}", book.path.display()));
    out.push_str(&paragraph(&format!("{}.", count(book.tests.len(), "test", "tests")), 2));
    if book.tests.is_empty() {
        out.push_str(&paragraph("Add one with: stillair book add LAYUP …", 2));
    } else {
        let mut table =
            Table::new(&[Align::Left, Align::Left, Align::Left, Align::Left, Align::Left]);
        table.row(["date", "layup", "exposure", "figure", "specimens"]);
        for test in &book.tests {
            let date = test.date.to_string();
            let figure = test.figure_name.clone();
            table.row([date, test.layup.clone(), test.exposure.clone(), figure, specimens(test)]);
        }
        out.push_str(&table.render());
    }
    out.push('\n');
    out.push_str(&notice());
    out
}

/// The book's rows as CSV, each specimen's values between blanks.
///
/// Errors: none that a book without faults can have.
pub fn book_csv(book: &Book) -> Result<String, CurvesError> {
    let mut columns = Columns::new(
        ["date", "report", "layup", "layup_digest", "exposure", "figure", "specimens", "mean_s"]
            .into_iter()
            .chain(["mean_kJ_m2", "values", "conditioning", "washed", "note"]),
    );
    for test in &book.tests {
        let unit = filed(test.figure);
        let mean = test.values.iter().sum::<f64>() / test.values.len() as f64;
        let mean = Cell::Number(unit.outside(mean));
        let (seconds, heat) =
            if unit.suffix == "s" { (mean, Cell::Blank) } else { (Cell::Blank, mean) };
        let values: Vec<String> =
            test.values.iter().map(|value| unit.outside(*value).to_string()).collect();
        columns.rows.push(vec![
            Cell::Word(test.date.to_string()),
            Cell::word(&test.report),
            Cell::word(&test.layup),
            Cell::word(&test.layup_digest),
            Cell::word(&test.exposure),
            Cell::word(&test.figure_name),
            Cell::Number(test.values.len() as f64),
            seconds,
            heat,
            Cell::Word(values.join(" ")),
            Cell::word(&test.conditioning),
            Cell::Number(f64::from(test.washed)),
            Cell::word(&test.note),
        ]);
    }
    columns.csv()
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
