//! The bench book, how far its tests lie, and what to test next, as JSON.

use crate::bench::figure::{Told, filed};
use crate::garment::book::{Book, Test};
use crate::physics::units::PERCENT;
use crate::report::book_far::Far;
use crate::report::book_next::NextOf;
use crate::report::form::value::Object;
use crate::report::json::anchored;
use crate::report::json::study::envelope;
use crate::report::sensitivity;
use crate::study::book::drift::{Drift, Told as DriftTold};
use crate::study::book::explain::Explanation;
use crate::study::book::how_far::{Group, Row};
use crate::study::book::next::Worth;

fn test(test: &Test) -> Object {
    Object::new()
        .with("date", test.date.to_string())
        .with("report", test.report.as_str())
        .with("layup", test.layup.as_str())
        .with("layup_digest", test.layup_digest.as_str())
        .with("exposure", test.exposure.as_str())
        .with("figure", test.figure_name.as_str())
        .with_unit("values", filed(test.figure), test.values.clone())
        .with("conditioning", test.conditioning.as_str())
        .with("washed", test.washed)
        .with("note", test.note.as_str())
}

/// The book as JSON.
///
/// Errors: a value that is not a finite number.
pub fn book_json(book: &Book) -> Result<String, serde_json::Error> {
    let body = Object::new()
        .with("book", book.path.display().to_string())
        .with("tests", book.tests.iter().map(test).collect::<Vec<_>>());
    envelope("stillair/book", &body)
}

/// How far the tests lie from their predictions as JSON.
///
/// Errors: a value that is not a finite number.
pub fn far_json(of: &Far<'_>) -> Result<String, serde_json::Error> {
    let rows = of.far.rows.iter().zip(of.explained);
    let body = Object::new()
        .with("tests", rows.map(|(one, explained)| row(one, explained)).collect::<Vec<_>>())
        .with("groups", of.far.groups.iter().map(group).collect::<Vec<_>>())
        .with("drift", of.far.drifts.iter().map(drift).collect::<Vec<_>>());
    envelope("stillair/book-how-far", &body)
}

fn row(row: &Row<'_>, explained: &[Explanation]) -> Object {
    let unit = filed(row.tested.test.figure);
    let explained = explained.iter().map(|one| {
        Object::new()
            .with("property", sensitivity::name(one.property))
            .with_unit("change", PERCENT, one.change)
            .with_unit("tolerance", PERCENT, one.tolerance)
    });
    test(row.tested.test)
        .with("class", row.class.as_str())
        .with("state", row.found.state())
        .with_unit("measured", unit, row.measured)
        .with_unit("predicted", unit, row.found.valued().map(|valued| valued.value))
        .with("ratio", row.ratio())
        .with_unit("scatter", PERCENT, row.scatter)
        .with("within_band", row.within())
        .with("file_changed_since", row.tested.has_changed())
        .with("explained_by", explained.collect::<Vec<_>>())
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
            .with("candidates", advice.worth.iter().map(|w| candidate(of, w)).collect::<Vec<_>>())
            .with("advice", why.collect::<Vec<_>>())
    });
    envelope("stillair/book-next", &Object::new().with("targets", targets.collect::<Vec<_>>()))
}

fn candidate(of: &NextOf<'_>, worth: &Worth) -> Object {
    let (i, unit) = (worth.candidate, filed(of.target.figure));
    Object::new()
        .with("candidate", of.candidates[i].name.as_str())
        .with_unit("model", unit, of.found[i].valued().map(|valued| valued.value))
        .with_unit("below", PERCENT, of.advice.below[i])
        .with("wrong_calls_after", worth.wrong_after)
        .with_unit("holds_below_after", PERCENT, worth.holds_after)
}

/// One anchored figure as JSON.
///
/// Errors: a value that is not a finite number.
pub fn anchor_json(told: &Told) -> Result<String, serde_json::Error> {
    envelope("stillair/book-anchor", &Object::new().with("anchored", anchored::told(told)))
}
