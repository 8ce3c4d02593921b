//! What own tests make of a prediction, both numbers side by side.

use crate::bench::figure::{Found, Told, figure_name, of_outcome, shown};
use crate::bench::outcome::Outcome;
use crate::garment::band::{Bands, Factors};
use crate::garment::target::Figure;
use crate::physics::units::{BARE, Quantity};
use crate::report::document::Document;
use crate::report::form::column::Column;
use crate::report::number::significant;
use crate::report::table::paragraph;
use crate::report::words::list;

/// Title of the section.
pub const TITLE: &str = "Anchored to your own tests";

/// The figures told of a layup that own tests may speak of.
const FIGURES: [Figure; 6] = [
    Figure::Rise12,
    Figure::Rise24,
    Figure::Rise24Less12,
    Figure::Stoll,
    Figure::Tpp,
    Figure::SecondDegree,
];

/// "HTI24: model 18.2 s; anchored to 3 of your tests 15.1 s (13.6 to 16.8)".
fn sentence(told: &Told) -> String {
    let of = if told.of.is_empty() { String::new() } else { format!("{}, ", told.of) };
    let unit = shown(told.figure);
    let over = if told.found.valued().is_some() { "" } else { "over " };
    // the prediction, or what it is at least, times a factor
    let least = told.found.value_or_least().unwrap_or(0.0);
    let number = |factor: f64| significant(unit.outside(factor * least), 3);
    let Factors { lower, upper } = told.band.factors;
    let range = format!("({} to {})", number(lower), number(upper));
    let unit = unit.unit;
    let likeliest = format!("{over}{} {unit}", number(told.band.factor()));
    let said = match told.anchoring().map_or((0, 0), |a| (a.tests.len(), a.n_tests)) {
        (0, 0) => format!("no test of it in the book: by the shelf's band {likeliest} {range}"),
        (0, n) => format!(
            "{} near: by the shelf's band {likeliest} {range}",
            if n == 1 {
                "your one test of it is not".into()
            } else {
                format!("none of your {n} tests of it is")
            },
        ),
        (1, _) => format!("anchored to 1 of your tests {likeliest} {range}"),
        (n, _) => format!("anchored to {n} of your tests {likeliest} {range}"),
    };
    format!("{of}{}: model {over}{} {unit}; {said}", told.name, number(1.0))
}

/// What own tests make of the figures of an outcome that they were made of; empty where no tests were asked.
pub fn of_figures(outcome: &Outcome, bands: &Bands) -> Vec<Told> {
    let told = |figure: Figure| {
        let name = figure_name(figure, &outcome.exposure);
        let found = of_outcome(outcome, figure);
        if found == Found::NotAsked || !bands.is_anchored() {
            return None;
        }
        let band = bands.of(&outcome.computed(), figure, &outcome.exposure);
        Told::new("", name, (figure, found), &band)
    };
    let all: Vec<Told> = FIGURES.into_iter().filter_map(told).collect();
    let has_tests = |told: &&Told| told.anchoring().is_some_and(|a| a.n_tests > 0);
    let tested: Vec<Told> = all.iter().filter(has_tests).cloned().collect();
    // of a book that has none of these figures, the 24 K time says so
    if tested.is_empty() { all.into_iter().skip(1).take(1).collect() } else { tested }
}

/// What is told, in sentences: both numbers of each, the tests used, what they do not cover, what
/// contradicts; empty for nothing.
pub fn sentences(all: &[Told]) -> Vec<String> {
    let mut out: Vec<String> = all.iter().map(|told| format!("{}.", sentence(told))).collect();
    let mut add = |sentence: String| {
        if !out.contains(&sentence) {
            out.push(sentence);
        }
    };
    for told in all {
        let Some(anchoring) = told.anchoring() else { continue };
        let of = if told.of.is_empty() { String::new() } else { format!(" of {}", told.of) };
        if !anchoring.tests.is_empty() {
            add(format!("{}{of} rests on {}.", told.name, list(&anchoring.tests)));
        }
        if !anchoring.covered && anchoring.n_tests > 0 {
            let whose = if told.of.is_empty() { "The layup" } else { &told.of };
            let name = told.name;
            add(format!(
                "{whose} lies outside what your tests of {name} cover: none is of a layup much like it."
            ));
        }
        if !anchoring.fitted_to.is_empty() {
            add(format!(
                "{} {} not used{of}: a material in it is fitted to the very readings, and the fitted \
                 material stands for them; both would count one test twice.",
                list(&anchoring.fitted_to),
                if anchoring.fitted_to.len() == 1 { "is" } else { "are" },
            ));
        }
        for [one, other] in &anchoring.contradicting {
            add(format!(
                "Two tests of {} contradict each other by more than their scatter explains: {one} \
                 and {other}. The band is as wide as that leaves it.",
                told.name
            ));
        }
    }
    out
}

/// The section in text, without its title.
pub fn body(all: &[Told]) -> String {
    sentences(all).iter().map(|sentence| paragraph(sentence, 2)).collect()
}

/// The section in a report; nothing where no tests were asked.
pub fn block(document: &mut Document, all: &[Told]) {
    if all.is_empty() {
        return;
    }
    document.heading(TITLE);
    sentences(all).iter().for_each(|sentence| document.text(sentence));
    document.note(
        "Anchored: the prediction times the ratio that tests of layups like it showed; in brackets \
         where the bench may read. Calls against targets are held by these factors.",
    );
}

/// Anchored figure, ends of its band, tests used, whether it lies outside them, as columns of rows of which each
/// has what is told of one figure; blank without tests.
///
/// - `before`: what stands before each name
pub fn columns<'a, R>(
    before: &str,
    unit: Quantity,
    told: impl Fn(&R) -> Option<Told> + Copy + 'a,
) -> [Column<'a, R>; 5] {
    columns_of(before, unit, |_, si| si, told)
}

/// The same where rows have units of their own.
///
/// - `head`: unit of the headers
pub fn columns_in<'a, R>(
    head: Quantity,
    unit: impl Fn(&R) -> Quantity + Copy + 'a,
    told: impl Fn(&R) -> Option<Told> + Copy + 'a,
) -> [Column<'a, R>; 5] {
    columns_of("", head, move |row, si| unit(row).outside(si), told)
}

fn columns_of<'a, R>(
    before: &str,
    head: Quantity,
    turned: impl Fn(&R, f64) -> f64 + Copy + 'a,
    told: impl Fn(&R) -> Option<Told> + Copy + 'a,
) -> [Column<'a, R>; 5] {
    let known = move |row: &R| told(row).filter(|told| told.anchoring().is_some());
    let value =
        move |at: usize| move |row: &R| known(row)?.anchored().map(|all| turned(row, all[at]));
    let name = |word: &str| format!("{before}{word}");
    [
        Column::new(name("anchored"), head, value(0)),
        Column::new(name("anchored_low"), head, value(1)),
        Column::new(name("anchored_high"), head, value(2)),
        Column::new(name("anchored_to_tests"), BARE, move |row: &R| {
            known(row)?.anchoring().map(|anchoring| anchoring.tests.join("; "))
        }),
        Column::new(name("outside_tests"), BARE, move |row: &R| {
            known(row)?.anchoring().map(|anchoring| !anchoring.covered)
        }),
    ]
    .map(Column::not_in_json)
}

/// Tests whose own layup has a material fitted to them, in a sentence; none of none.
pub fn fitted_to(names: &[String]) -> Option<String> {
    (!names.is_empty()).then(|| {
        format!(
            "{} {} left out: a material of the tested layup is fitted to the very readings, so that \
             their ratio says nothing",
            list(names),
            if names.len() == 1 { "is" } else { "are" },
        )
    })
}

/// How many tests were left out as their layups' files have changed, in a sentence; none of none.
pub fn left_out(changed: &[String]) -> Option<String> {
    (!changed.is_empty()).then(|| {
        format!(
            "tests of {} are left out: {} changed since, and what is computed now is not what was \
             burnt",
            list(changed),
            if changed.len() == 1 { "its file has" } else { "their files have" },
        )
    })
}
