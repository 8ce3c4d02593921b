//! The bench book, how far its tests lie, and what to test next, as JSON.

use serde::Serialize;

use crate::garment::book::{Book, Test};
use crate::garment::target::Figure;
use crate::report::anchored::Told;
use crate::report::book_far::Far;
use crate::report::book_next::NextOf;
use crate::report::json::anchored::JsonTold;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{by_unit, envelope};
use crate::report::sensitivity;
use crate::study::book::drift::{Drift, Told as DriftTold};
use crate::study::book::explain::Explanation;
use crate::study::book::how_far::{Group, Row};

#[derive(Serialize)]
struct BookBody<'a> {
    book: String,
    tests: Vec<JsonTest<'a>>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonTest<'a> {
    date: String,
    report: &'a str,
    layup: &'a str,
    layup_digest: &'a str,
    exposure: &'a str,
    figure: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    values_s: Option<Vec<Finite>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    values_kJ_m2: Option<Vec<Finite>>,
    conditioning: &'a str,
    washed: u32,
    note: &'a str,
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn json_test(test: &Test) -> JsonTest<'_> {
    let all = |values: &[f64], scale: f64| values.iter().map(|v| rounded(scale * v)).collect();
    let [values_s, values_kJ_m2] = by_unit(test.figure, Some(test.values.as_slice()), all);
    JsonTest {
        date: test.date.to_string(),
        report: &test.report,
        layup: &test.layup,
        layup_digest: &test.layup_digest,
        exposure: &test.exposure,
        figure: &test.figure_name,
        values_s,
        values_kJ_m2,
        conditioning: &test.conditioning,
        washed: test.washed,
        note: &test.note,
    }
}

/// The book as JSON.
///
/// Errors: a value that is not a finite number.
pub fn book_json(book: &Book) -> Result<String, serde_json::Error> {
    let tests = book.tests.iter().map(json_test).collect();
    envelope("stillair/book", &BookBody { book: book.path.display().to_string(), tests })
}

#[derive(Serialize)]
struct FarBody<'a> {
    tests: Vec<JsonRow<'a>>,
    groups: Vec<JsonGroup<'a>>,
    drift: Vec<JsonDrift>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonRow<'a> {
    #[serde(flatten)]
    test: JsonTest<'a>,
    class: &'a str,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    predicted_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    predicted_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ratio: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    scatter_pct: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    within_band: Option<bool>,
    file_changed_since: bool,
    explained_by: Vec<JsonExplanation>,
}

#[derive(Serialize)]
struct JsonExplanation {
    property: String,
    change_pct: Finite,
    tolerance_pct: Finite,
}

#[derive(Serialize)]
struct JsonGroup<'a> {
    class: &'a str,
    exposure: &'a str,
    figure: &'a str,
    tests: usize,
    ratio_least: Finite,
    ratio_mean: Finite,
    ratio_most: Finite,
}

#[derive(Serialize)]
struct JsonDrift {
    along: &'static str,
    cases: usize,
    different_values: usize,
    told: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    correlation: Option<Finite>,
}

/// How far the tests lie from their predictions as JSON.
///
/// Errors: a value that is not a finite number.
pub fn far_json(of: &Far<'_>) -> Result<String, serde_json::Error> {
    let rows = of.far.rows.iter().zip(of.explained);
    let body = FarBody {
        tests: rows.map(|(row, explained)| json_row(row, explained)).collect(),
        groups: of.far.groups.iter().map(json_group).collect(),
        drift: of.far.drifts.iter().map(json_drift).collect(),
    };
    envelope("stillair/book-how-far", &body)
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn json_row<'a>(row: &'a Row<'_>, explained: &[Explanation]) -> JsonRow<'a> {
    let figure: Figure = row.tested.test.figure;
    let of = |x: Option<f64>| by_unit(figure, x, |x, scale| rounded(scale * x));
    let [measured_s, measured_kJ_m2] = of(Some(row.measured));
    let [predicted_s, predicted_kJ_m2] = of(row.found.valued().map(|valued| valued.value));
    JsonRow {
        test: json_test(row.tested.test),
        class: &row.class,
        state: row.found.state(),
        measured_s,
        measured_kJ_m2,
        predicted_s,
        predicted_kJ_m2,
        ratio: row.ratio().map(rounded),
        scatter_pct: row.scatter.map(|scatter| rounded(100.0 * scatter)),
        within_band: row.within(),
        file_changed_since: row.tested.has_changed(),
        explained_by: explained
            .iter()
            .map(|one| JsonExplanation {
                property: sensitivity::name(one.property),
                change_pct: rounded(100.0 * one.change),
                tolerance_pct: rounded(100.0 * one.tolerance),
            })
            .collect(),
    }
}

fn json_group(group: &Group) -> JsonGroup<'_> {
    let [least, mean, most] = group.ratios.map(rounded);
    JsonGroup {
        class: &group.class,
        exposure: &group.exposure,
        figure: &group.figure,
        tests: group.n,
        ratio_least: least,
        ratio_mean: mean,
        ratio_most: most,
    }
}

fn json_drift(drift: &Drift) -> JsonDrift {
    let (told, correlation) = match drift.told {
        DriftTold::TooFew => ("too few cases", None),
        DriftTold::Chance { correlation } => ("nothing beyond chance", Some(correlation)),
        DriftTold::Drift { correlation } => ("beyond chance", Some(correlation)),
    };
    JsonDrift {
        along: drift.along,
        cases: drift.n_cases,
        different_values: drift.n_values,
        told,
        correlation: correlation.map(rounded),
    }
}

#[derive(Serialize)]
struct NextBody<'a> {
    targets: Vec<JsonNext<'a>>,
}

#[derive(Serialize)]
struct JsonNext<'a> {
    target: &'a str,
    figure: &'static str,
    own_tests: usize,
    wrong_calls_now: Finite,
    holds_below_now_pct: Finite,
    candidates: Vec<JsonCandidate<'a>>,
    advice: Vec<String>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonCandidate<'a> {
    candidate: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    model_kJ_m2: Option<Finite>,
    below_pct: Finite,
    wrong_calls_after: Finite,
    holds_below_after_pct: Finite,
}

/// What to test next as JSON.
///
/// Errors: a value that is not a finite number.
pub fn next_json(all: &[NextOf<'_>]) -> Result<String, serde_json::Error> {
    let targets = all.iter().map(|of| JsonNext {
        target: &of.target.name,
        figure: of.figure(),
        own_tests: of.n_tests,
        wrong_calls_now: rounded(of.advice.wrong_now),
        holds_below_now_pct: rounded(100.0 * of.advice.holds_now),
        candidates: of.advice.worth.iter().map(|worth| json_candidate(of, worth)).collect(),
        advice: of.chosen().into_iter().map(|worth| of.why(worth)).collect(),
    });
    envelope("stillair/book-next", &NextBody { targets: targets.collect() })
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn json_candidate<'a>(
    of: &NextOf<'a>,
    worth: &crate::study::book::next::Worth,
) -> JsonCandidate<'a> {
    let (i, figure) = (worth.candidate, of.target.figure);
    let value = of.found[i].valued().map(|valued| valued.value);
    let [model_s, model_kJ_m2] = by_unit(figure, value, |x, scale| rounded(scale * x));
    JsonCandidate {
        candidate: &of.candidates[i].name,
        model_s,
        model_kJ_m2,
        below_pct: rounded(100.0 * of.advice.below[i]),
        wrong_calls_after: rounded(worth.wrong_after),
        holds_below_after_pct: rounded(100.0 * worth.holds_after),
    }
}

#[derive(Serialize)]
struct AnchorBody {
    anchored: JsonTold,
}

/// One anchored figure as JSON.
///
/// Errors: a value that is not a finite number.
pub fn anchor_json(told: &Told) -> Result<String, serde_json::Error> {
    envelope("stillair/book-anchor", &AnchorBody { anchored: JsonTold::new(told) })
}
