//! The bench book, how far its tests lie, and what to test next, as JSON.

use crate::bench::figure::Told;
use crate::physics::units::PERCENT;
use crate::report::book::of_tests;
use crate::report::book_far::{Far, FarRow, of_rows};
use crate::report::book_next::{NextOf, of_candidates, rows};
use crate::report::form::rows::{object, objects};
use crate::report::form::value::Object;
use crate::report::json::anchored;
use crate::report::json::study::envelope;
use crate::shelf::lab::book::Book;
use crate::study::book::drift::{Drift, Told as DriftTold};
use crate::study::book::how_far::Group;

/// The book as JSON.
///
/// Errors: a value that is not a finite number.
pub fn book_json(book: &Book) -> Result<String, serde_json::Error> {
    let body = Object::new()
        .with("book", book.path.display().to_string())
        .with("tests", objects(&of_tests(), &book.tests));
    envelope("stillair/book", &body)
}

/// How far the tests lie from their predictions as JSON.
///
/// Errors: a value that is not a finite number.
pub fn far_json(of: &Far<'_>) -> Result<String, serde_json::Error> {
    let body = Object::new()
        .with("tests", of.rows().iter().map(row).collect::<Vec<_>>())
        .with("groups", of.far.groups.iter().map(group).collect::<Vec<_>>())
        .with("drift", of.far.drifts.iter().map(drift).collect::<Vec<_>>());
    envelope("stillair/book-how-far", &body)
}

fn row(row: &FarRow<'_>) -> Object {
    object(&of_tests(), row.row.tested.test).and(Some(object(&of_rows(), row)))
}

fn group(group: &Group) -> Object {
    let [least, mean, most] = group.ratios;
    Object::new()
        .with("class", group.class.as_str())
        .with("exposure", group.exposure.as_str())
        .with("figure", group.figure.as_str())
        .with("tests", group.n)
        .with("ratio_least", least)
        .with("ratio_mean", mean)
        .with("ratio_most", most)
}

fn drift(drift: &Drift) -> Object {
    let (told, correlation) = match drift.told {
        DriftTold::TooFew => ("too few cases", None),
        DriftTold::Chance { correlation } => ("nothing beyond chance", Some(correlation)),
        DriftTold::Drift { correlation } => ("beyond chance", Some(correlation)),
    };
    Object::new()
        .with("along", drift.along)
        .with("cases", drift.n_cases)
        .with("different_values", drift.n_values)
        .with("told", told)
        .with("correlation", correlation)
}

/// What to test next as JSON.
///
/// Errors: a value that is not a finite number.
pub fn next_json(all: &[NextOf<'_>]) -> Result<String, serde_json::Error> {
    let targets = all.iter().map(|of| {
        let advice = &of.advice;
        let why = of.chosen().into_iter().map(|worth| of.why(worth));
        Object::new()
            .with("target", of.target.name.as_str())
            .with("figure", of.figure())
            .with("own_tests", of.n_tests)
            .with("wrong_calls_now", advice.wrong_now)
            .with_unit("holds_below_now", PERCENT, advice.holds_now)
            .with("candidates", objects(&of_candidates(), &rows(of)))
            .with("advice", why.collect::<Vec<_>>())
    });
    envelope("stillair/book-next", &Object::new().with("targets", targets.collect::<Vec<_>>()))
}

/// One anchored figure as JSON.
///
/// Errors: a value that is not a finite number.
pub fn anchor_json(told: &Told) -> Result<String, serde_json::Error> {
    envelope("stillair/book-anchor", &Object::new().with("anchored", anchored::told(told)))
}
