//! Predictions beside measurements: the columns of a comparison and of what comparisons come to, and the CSV.

use crate::evidence::measured::{Basis, Class, Comparison, Kind, Measured, Summary};
use crate::physics::units::{BARE, PERCENT};
use crate::report::csv::CurvesError;
use crate::report::form::column::{Column, in_order};
use crate::report::form::rows::csv;
use crate::report::number::{fixed, short, significant};
use crate::report::verification::{digits, ends, percent};

/// A number that can be told; none of a run that failed or of what is not reached.
pub fn finite(value: f64) -> Option<f64> {
    Some(value).filter(|value| value.is_finite())
}

/// Whether anything of the case set the prediction, in words.
pub fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Uncalibrated => "uncalibrated",
        Basis::Scaled => "scaled to one measured figure",
    }
}

/// What files hold of a comparison.
pub fn of_comparisons() -> Vec<Column<'static, Comparison>> {
    let word = |name: &str, of: fn(&Comparison) -> &str| {
        Column::new(name, BARE, move |one: &Comparison| of(one).to_string())
    };
    let number = |name: &str, quantity, of: fn(&Comparison) -> f64| {
        Column::new(name, quantity, move |one: &Comparison| finite(of(one))).or_null()
    };
    let end = |name: &str, of: fn(&Comparison) -> f64| number(name, BARE, of).not_in_json();
    let both = |name: &str, of: fn(&Comparison) -> (f64, f64)| {
        let ends = move |one: &Comparison| vec![finite(of(one).0), finite(of(one).1)];
        Column::new(name, BARE, ends).not_in_csv()
    };
    vec![
        word("class", |one| one.class.word()),
        word("exposure", |one| one.kind.word()),
        word("layers", |one| one.subject.word()),
        word("figure", |one| &one.figure),
        word("basis", |one| basis(one.basis)),
        word("case", |one| &one.name),
        both("measured", |one| one.measured),
        end("measured_low", |one| one.measured.0),
        end("measured_high", |one| one.measured.1),
        number("predicted", BARE, |one| one.predicted),
        both("predicted_range", |one| one.range),
        end("predicted_low", |one| one.range.0),
        end("predicted_high", |one| one.range.1),
        word("unit", |one| &one.unit),
        number("difference", PERCENT, Comparison::difference),
        number("ratio", BARE, Comparison::ratio),
        word("ranges", |one| one.place().word()).not_in_csv(),
        word("source", |one| &one.source),
        word("known_by", |one| &one.provenance).named_in_json("provenance"),
        word("note", |one| &one.note).not_in_csv(),
    ]
}

/// Order of the columns in CSV.
const IN_CSV: &str = "case class exposure layers figure basis counted unit measured_low measured_high \
                      predicted predicted_low predicted_high difference ratio known_by source";

/// One row a comparison, then what is derived of the same measurements; what is not reached is blank, and so
/// is what failed, which the summary tells.
///
/// Errors: a value that is not a number.
pub fn comparisons_csv(measured: &Measured) -> Result<String, CurvesError> {
    let counted = measured.comparisons.iter().map(|one| (one, "yes"));
    let derived = measured.derived.iter().map(|one| (one, "no: derived"));
    let rows: Vec<(&Comparison, &str)> = counted.chain(derived).collect();
    let of_row =
        |column: Column<'static, Comparison>| column.of_part(|row: &(&Comparison, _)| row.0);
    let mut all: Vec<Column<(&Comparison, &str)>> =
        of_comparisons().into_iter().map(of_row).collect();
    all.push(Column::new("counted", BARE, |row: &(&Comparison, &str)| row.1.to_string()));
    csv(&in_order(all, IN_CSV), &rows)
}

/// What people read of a comparison of that class; whether ranges lie inside one another is no question of
/// complete cases.
pub fn shown<'c>(class: Class) -> Vec<Column<'c, &'c Comparison>> {
    let word =
        |of: fn(&Comparison) -> String| Column::new("", BARE, move |one: &&Comparison| of(one));
    let number = |of: fn(&Comparison) -> String| word(of).right();
    let (lies, ratio, off) = (
        word(|one| one.place().word().to_string()),
        number(ratio),
        number(|one| percent(one.difference())),
    );
    let is_interval = class == Class::Interval;
    let mut all = vec![
        word(named).headed("case").not_on_page(),
        word(|one| one.name.clone()).on_page("case"),
        word(|one| one.kind.word().to_string()).on_page("exposure"),
        number(measured_cell).headed("measured"),
        number(|one| digits(one.predicted, 3)).headed("predicted"),
        number(|one| ends(one.range, 3)).headed("range").on_page("predicted range"),
        word(|one| one.unit.clone()).on_page("unit"),
        if is_interval { ratio.headed("ratio") } else { ratio.on_page("ratio") },
        if is_interval { off } else { off.headed("off %") }.on_page("off [%]"),
    ];
    if class != Class::Complete {
        all.push(lies.headed("lies").on_page("range lies"));
    }
    all
}

/// What the cases of a class and exposure come to together.
pub fn of_summaries() -> Vec<Column<'static, Summary>> {
    let share = |name: &str, of: fn(&Summary) -> f64| {
        Column::new(name, PERCENT, move |one: &Summary| finite(of(one)))
            .or_null()
            .under("")
            .written(move |one: &Summary| percent(of(one)))
    };
    let in_text = |one: &Summary| match one.basis {
        Basis::Uncalibrated => one.class.word().to_string(),
        Basis::Scaled => format!("{}, scaled", one.class.word()),
    };
    // ranges were measured there
    let size =
        |one: &Summary| match one.class == Class::Band || one.kind == Some(Kind::Conductivity) {
            true => "–".to_string(),
            false => percent(one.median_absolute).replace('+', ""),
        };
    vec![
        Column::new("class", BARE, |one: &Summary| one.class.word())
            .headed("class")
            .written(in_text),
        Column::new("exposure", BARE, |one: &Summary| one.kind.map_or("all", Kind::word))
            .headed("exposure"),
        Column::new("basis", BARE, |one: &Summary| basis(one.basis)),
        Column::new("n", BARE, |one: &Summary| one.n).headed("cases"),
        Column::new("n_agreeing", BARE, |one: &Summary| one.n_agreeing).headed("agree"),
        share("median", |one| one.median).headed("median %").on_page("median"),
        share("median_absolute", |one| one.median_absolute)
            .headed("of sizes %")
            .on_page("median of sizes")
            .written(size),
        share("largest", |one| one.largest).headed("largest %").on_page("largest"),
    ]
}

/// A case's name with its unit; times, which nearly all are, without.
fn named(c: &Comparison) -> String {
    match c.unit.as_str() {
        "" | "s" => c.name.clone(),
        unit => format!("{} [{unit}]", c.name),
    }
}

/// Measured over predicted; nothing to divide where a range was measured.
fn ratio(c: &Comparison) -> String {
    let is_told = !c.is_range() && c.ratio().is_finite();
    if is_told { fixed(c.ratio(), 2) } else { "–".to_string() }
}

/// A measured value as printed, or the band.
fn measured_cell(c: &Comparison) -> String {
    let (low, high) = c.measured;
    match c.is_range() {
        true => format!("{} to {}", short(low, 3), short(high, 3)),
        false => significant(c.measured_middle(), 3),
    }
}
