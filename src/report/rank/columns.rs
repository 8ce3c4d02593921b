//! The columns of layups side by side, and their files.

use crate::bench::figure::{Verdict, figure_name, filed, shown};
use crate::bench::outcome::{ColumnKind, Outcome};
use crate::garment::suit::sewn_density;
use crate::garment::target::{Figure, Target};
use crate::physics::units::{BARE, DEGREES_APART, GRAMS_PER_AREA, MILLIMETRES, Quantity, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::figures::{BEYOND_MARK, cell};
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects};
use crate::report::form::value::{Digits, Object};
use crate::report::json::study::envelope;
use crate::report::json::{self, rule};
use crate::report::number::fixed;
use crate::report::verdict::answer;
use crate::report::{anchored, lies};
use crate::study::ordering::{Placed, Ranking};

/// Mass for each of which a figure is told, as its heading says [kg/m²].
const PER_AREA: f64 = 0.1;

/// A layup and its place, from 1.
pub struct Row<'a> {
    place: usize,
    placed: &'a Placed<'a>,
}

/// The rows of rankings, one behind another.
pub fn rows<'a>(rankings: impl IntoIterator<Item = &'a Ranking<'a>>) -> Vec<Row<'a>> {
    let numbered = rankings.into_iter().flat_map(|ranking| ranking.placed.iter().enumerate());
    numbered.map(|(i, placed)| Row { place: i + 1, placed }).collect()
}

/// "base" for the layup counted from, otherwise what it has more, with its sign.
fn more(row: &Row<'_>, quantity: Quantity, more: Option<f64>, decimals: usize) -> String {
    let Some(more) = more else { return "–".to_string() };
    let text = fixed(quantity.apart(more), decimals);
    let is_signed = text.starts_with('-') || text.trim_matches(['0', '.']).is_empty();
    let sign = if is_signed { "" } else { "+" };
    if row.placed.is_base { "base".to_string() } else { format!("{sign}{text}") }
}

/// A layup in its place: the figure, what it costs, what both differ by from the layup counted from.
pub fn places<'a>(ranking: &Ranking<'_>) -> Vec<Column<'a, Row<'a>>> {
    let figure = ranking.by.figure();
    let (unit, file) = (shown(figure), filed(figure));
    let named_under = move |placed: &Placed| figure_name(figure, &placed.outcome.exposure);
    let name = ranking.placed.first().map_or("", named_under);
    let short = if figure == Figure::SecondDegree { "2nd degree" } else { name };
    let in_text = move |row: &Row| cell(&row.placed.found, figure).0;
    let mark = |row: &Row| if row.placed.found.is_beyond() { BEYOND_MARK } else { "" };
    let named = |row: &Row| {
        let outcome = row.placed.outcome;
        outcome.layup.name.clone() + &lies::after_name(outcome.lies.stack())
    };
    let skin = |row: &Row, at: usize| row.placed.outcome.second_degrees().map(|both| both[at]);
    let per_mass = move |row: &Row| {
        let per = row.placed.per_mass().map(|per| PER_AREA * per);
        per.map_or("–".to_string(), |per| fixed(unit.apart(per), 2))
    };
    vec![
        Column::new("exposure", BARE, |row: &Row| row.placed.outcome.exposure.name.clone())
            .not_in_json(),
        Column::new("place", BARE, |row: &Row| row.place).headed("").on_page("place"),
        Column::new("layup", BARE, |row: &Row| row.placed.outcome.layup.name.clone())
            .headed("")
            .under("layup")
            .on_page("layup")
            .written(named),
        // "quilted" or "flat"; the stitch line's where the figure is skin's
        Column::new("computed", BARE, |row: &Row| lies::word(row.placed.outcome.lies.stack())),
        Column::new("why_flat", BARE, |row: &Row| lies::why_flat(row.placed.outcome.lies.stack()))
            .not_in_csv(),
        Column::new("stitch_line_second_degree", SECONDS, move |row: &Row| skin(row, 0))
            .not_in_csv(),
        Column::new("cell_centre_second_degree", SECONDS, move |row: &Row| skin(row, 1))
            .not_in_csv(),
        Column::new("figure", BARE, move |row: &Row| named_under(row.placed)).not_in_json(),
        Column::new("state", BARE, |row: &Row| row.placed.found.state()).not_in_csv(),
        Column::new("value", file, |row: &Row| row.placed.valued())
            .with_error_named("error")
            .headed(short)
            .on_page(name)
            .shown_in(unit)
            .written(in_text)
            .marked(mark),
        Column::new("more", file, |row: &Row| row.placed.gain)
            .headed("more")
            .shown_in(unit)
            .written(move |row: &Row| more(row, unit, row.placed.gain, 2))
            .late(),
        Column::new("anchored", BARE, |row: &Row| {
            row.placed.told.as_ref().map(json::anchored::told)
        })
        .not_in_csv(),
        Column::new("areal_density", GRAMS_PER_AREA, |row: &Row| {
            sewn_density(&row.placed.outcome.layup)
        })
        .headed("mass")
        .digits(Digits::Fixed(0)),
        Column::new("more", GRAMS_PER_AREA, |row: &Row| row.placed.added)
            .headed("more")
            .written(|row: &Row| more(row, GRAMS_PER_AREA, Some(row.placed.added), 0))
            .late(),
        Column::new("water", GRAMS_PER_AREA, |row: &Row| row.placed.water())
            .on_page("water")
            .digits(Digits::Fixed(0)),
        Column::new("thickness", MILLIMETRES, |row: &Row| row.placed.outcome.layup.thickness())
            .headed("thick")
            .on_page("thickness")
            .digits(Digits::Fixed(2)),
        Column::new("beyond_limit", BARE, |row: &Row| row.placed.found.is_beyond()),
        Column::text(&format!("{} per", unit.unit), unit, per_mass)
            .under("100 g/m²")
            .on_page("per 100 g/m²")
            .late(),
    ]
}

/// The disc's rise over time of every layup and exposure as CSV, one row a time.
///
/// Errors: a value that is not a finite number.
pub fn rank_curves_csv(rankings: &[Ranking<'_>]) -> Result<String, CurvesError> {
    let mut rows: Vec<(&Outcome, f64, f64)> = Vec::new();
    for placed in rankings.iter().flat_map(|ranking| &ranking.placed) {
        for curves in placed.outcome.disc.iter().map(|run| &run.curves) {
            let rise = curves.columns.iter().find(|column| column.kind == ColumnKind::Rise);
            let rises = curves.t.iter().zip(rise.into_iter().flat_map(|column| &column.values));
            rows.extend(rises.map(|(t, rise)| (placed.outcome, *t, *rise)));
        }
    }
    let columns = [
        Column::new("exposure", BARE, |(of, ..): &(&Outcome, f64, f64)| of.exposure.name.clone()),
        Column::new("layup", BARE, |(of, ..): &(&Outcome, f64, f64)| of.layup.name.clone()),
        Column::new("time", SECONDS, |row: &(&Outcome, f64, f64)| row.1),
        Column::new("temperature_rise", DEGREES_APART, |row: &(&Outcome, f64, f64)| row.2),
    ];
    csv(&columns, &rows)
}

/// The rankings as CSV, one row a layup and exposure.
///
/// Errors: a value that is not a finite number.
pub fn rank_csv<'a>(
    rankings: &'a [Ranking<'a>],
    targets: &'a [&Target],
) -> Result<String, CurvesError> {
    let rows = rows(rankings);
    let Some(first) = rankings.first() else { return csv::<Row>(&[], []) };
    let mut all = places(first);
    for &target in targets {
        let name = format!("against {}", target.name);
        all.push(Column::new(name, BARE, |row: &Row| answer(&row.placed.held(target))));
    }
    if rows.iter().any(|row| row.placed.told.is_some()) {
        let told = |row: &Row| row.placed.told.clone();
        all.extend(anchored::columns("", filed(first.by.figure()), told));
    }
    csv(&all, &rows)
}

/// The rankings as JSON.
///
/// Errors: a value that is not a finite number.
pub fn rank_json(
    rankings: &[Ranking<'_>],
    targets: &[&Target],
) -> Result<String, serde_json::Error> {
    let list = rankings.iter().filter_map(|ranking| {
        let exposure = &ranking.placed.first()?.outcome.exposure;
        let against = |row: &Row| {
            let held = targets.iter().zip(row.placed.verdicts(targets));
            held.map(|(target, held)| called(target, &held)).collect::<Vec<_>>()
        };
        let mut all = places(ranking);
        all.push(Column::new("against", BARE, against));
        Some(
            Object::new()
                .with("exposure", exposure.name.as_str())
                .with("figure", figure_name(ranking.by.figure(), exposure))
                .with("layups", objects(&all, &rows([ranking]))),
        )
    });
    envelope("stillair/rank", &Object::new().with("rankings", list.collect::<Vec<_>>()))
}

fn called(target: &Target, verdict: &Verdict) -> Object {
    Object::new()
        .with("target", target.name.as_str())
        .with("answer", answer(verdict))
        .with("call", verdict.call.as_ref().ok().map(|call| call.words()))
        .with("rule", rule(&verdict.rule))
}
