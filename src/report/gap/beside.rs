//! The same gap in several layups: its columns, sentences, text and files.

use crate::bench::outcome::When;
use crate::garment::suit::sewn_density;
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, table};
use crate::report::form::value::{Digits, Object};
use crate::report::gap::columns::sweep_object;
use crate::report::gap::text::thinned;
use crate::report::gap::words::{mm, rise_name, swept};
use crate::report::json::study::envelope;
use crate::report::number::{Shown, fixed};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, notice};
use crate::report::{exposure, lies};
use crate::study::gap::GapSweep;
use crate::study::gap_beside::{Beside, Crossing};
use crate::study::gap_point::GapPoint;

/// Most layups that a terminal's table and a chart's looks have room for.
pub const MOST: usize = 7;

/// A layup's letter: A for the first.
pub fn letter(place: usize) -> char {
    char::from(b'A' + (place % 26) as u8)
}

/// The layups in text.
pub fn beside_text(beside: &Beside) -> String {
    let sweeps = &beside.sweeps[..];
    let Some(first) = sweeps.first() else { return notice() };
    let mut out = lies::first_line(sweeps.iter().map(GapSweep::stack));
    out.push_str(&heading(&format!("Air gaps: {} layups", sweeps.len())));
    out.push_str(&paragraph(&exposure::sentence(&first.exposure), 2));
    out.push('\n');
    out.push_str(&table(&of_layups(sweeps), &(0..sweeps.len()).collect::<Vec<usize>>()));
    opened(sweeps).iter().for_each(|line| out.push_str(&paragraph(line, 2)));
    out.push('\n');
    out.push_str(&heading(&format!("{} [s] against the gap", rise_name(first))));
    let n = first.points.len();
    let shown = thinned(n, None);
    out.push_str(&table(&times(sweeps), &shown));
    out.push_str(&paragraph(&remarks(sweeps, shown.len() < n), 2));
    out.push('\n');
    out.push_str(&heading("Which is longer where"));
    for line in orders(beside) {
        out.push_str(&paragraph(&line, 2));
    }
    closed(out)
}

/// A row a layup.
pub fn of_layups(sweeps: &[GapSweep]) -> Vec<Column<'_, usize>> {
    let best = |place: &usize| sweeps[*place].longest();
    vec![
        Column::text("", BARE, |place: &usize| letter(*place).to_string()),
        Column::text("layup", BARE, |place: &usize| sweeps[*place].layup.name.clone()),
        Column::new("areal_density", GRAMS_PER_AREA, |place: &usize| {
            sewn_density(&sweeps[*place].layup)
        })
        .headed("mass")
        .digits(Digits::Fixed(0)),
        Column::new("best_gap", MILLIMETRES, move |place: &usize| best(place).map(|p| p.gap))
            .headed("longest at")
            .digits(Digits::Fixed(2)),
        Column::new("best", SECONDS, move |place: &usize| {
            best(place).map(|point| point.disc.rise24)
        })
        .headed(sweeps.first().map_or("", |sweep| rise_name(sweep))),
    ]
}

/// A row a thickness, a column a layup.
fn times(sweeps: &[GapSweep]) -> Vec<Column<'_, usize>> {
    let gap = |i: &usize| sweeps.first().map(|sweep| sweep.points[*i].gap);
    let mut all = vec![Column::new("gap", MILLIMETRES, gap).headed("gap").digits(Digits::Fixed(2))];
    for (place, sweep) in sweeps.iter().enumerate() {
        let time = move |i: &usize| match sweep.points[*i].disc.rise24 {
            When::At { t, .. } => fixed(t, 2),
            When::Unsettled { .. } => "unsettled".to_string(),
            _ => "–".to_string(),
        };
        all.push(Column::text(&letter(place).to_string(), SECONDS, time));
    }
    all
}

/// Which gap is opened in each.
pub fn opened(sweeps: &[GapSweep]) -> Vec<String> {
    let line = |(place, sweep)| format!("{}: {}.", letter(place), swept(sweep));
    sweeps.iter().enumerate().map(line).collect()
}

/// How exact the times are, and which lie beyond a limit.
pub fn remarks(sweeps: &[GapSweep], is_thinned: bool) -> String {
    let points = || sweeps.iter().flat_map(|sweep| &sweep.points);
    let error = |point: &GapPoint| match point.disc.rise24 {
        When::At { t, error } => error / t,
        _ => 0.0,
    };
    let worst = points().map(error).fold(0.0, f64::max);
    let beyond = points()
        .filter(|p| p.disc.rise24.t().zip(p.t_valid).is_some_and(|(t, limit)| limit < t))
        .count();
    let thinned = if is_thinned { "Some points are shown; --csv has all. " } else { "" };
    let limits = if beyond > 0 {
        format!(
            " {beyond} of {} times lie beyond a ply's limit, outside the model's validity.",
            points().count()
        )
    } else {
        String::new()
    };
    format!(
        "{thinned}Each time has a numerical error of at most {} %; an order of two layups is told where \
         they lie apart by more than both errors. The bench may lie elsewhere (`stillair expose`).{limits}",
        PERCENT.significant(worst, 2)
    )
}

/// Where two layups change places, or that none do.
pub fn orders(beside: &Beside) -> Vec<String> {
    let Beside { sweeps, crossings } = beside;
    if crossings.is_empty() {
        let all = "No two change their order within the gaps looked at.".to_string();
        return vec![all];
    }
    crossings.iter().map(|one| crossing(sweeps, one)).collect()
}

fn crossing(sweeps: &[GapSweep], crossing: &Crossing) -> String {
    let Crossing { narrower, wider, gap } = *crossing;
    let name = |place: usize| format!("{} ({})", letter(place), sweeps[place].layup.name);
    let grams = |place: usize| GRAMS_PER_AREA.outside(sewn_density(&sweeps[place].layup));
    let more = grams(wider) - grams(narrower);
    let heavier = match more {
        _ if more.abs() < 0.5 => "of the same mass".to_string(),
        _ if more > 0.0 => format!("{} g/m² heavier", fixed(more, 0)),
        _ => format!("{} g/m² lighter", fixed(-more, 0)),
    };
    format!(
        "Below {} mm {} lasts longer, above it {}, which is {heavier}.",
        MILLIMETRES.short(gap, 2),
        name(narrower),
        name(wider)
    )
}

/// A thickness in one layup.
struct Row<'a> {
    layup: &'a str,
    point: &'a GapPoint,
}

/// One row a layup and thickness, as CSV.
///
/// Errors: a value that is not a finite number.
pub fn beside_csv(sweeps: &[GapSweep]) -> Result<String, CurvesError> {
    let rise = sweeps.first().map_or("", |sweep| rise_name(sweep));
    let columns: Vec<Column<Row>> = vec![
        Column::new("layup", BARE, |row: &Row| row.layup.to_string()),
        Column::new("gap", MILLIMETRES, |row: &Row| row.point.gap),
        Column::new(rise, SECONDS, |row: &Row| row.point.disc.rise24),
        Column::new("stoll", SECONDS, |row: &Row| row.point.disc.stoll),
        Column::new("second_degree", SECONDS, |row: &Row| row.point.second_degree),
        Column::new("limit_passed", SECONDS, |row: &Row| row.point.t_valid),
    ];
    let rows: Vec<Row> = sweeps
        .iter()
        .flat_map(|sweep| {
            let layup = sweep.layup.name.as_str();
            sweep.points.iter().map(move |point| Row { layup, point })
        })
        .collect();
    csv(&columns, &rows)
}

/// Sweeps and crossings as JSON.
///
/// Errors: a value that is not a finite number.
pub fn beside_json(beside: &Beside) -> Result<String, serde_json::Error> {
    let sweeps = &beside.sweeps;
    let layups: Vec<Object> = sweeps
        .iter()
        .map(|sweep| {
            sweep_object(sweep).with_unit(
                "areal_density",
                GRAMS_PER_AREA,
                sewn_density(&sweep.layup),
            )
        })
        .collect();
    let name = |place: usize| sweeps[place].layup.name.as_str();
    let crossings: Vec<Object> = beside
        .crossings
        .iter()
        .map(|one| {
            Object::new()
                .with("longer_below", name(one.narrower))
                .with("longer_above", name(one.wider))
                .with_unit("gap", MILLIMETRES, one.gap)
        })
        .collect();
    let body = Object::new()
        .with("layups", layups)
        .with("crossings", crossings)
        .with("sentences", orders(beside));
    envelope("stillair/gaps-beside", &body)
}

/// The label at a line's end: letter, name, grams, and the gap at which the layup lasts longest where that is known.
pub fn end_label(place: usize, sweep: &GapSweep, longest: Option<&GapPoint>) -> String {
    let grams = GRAMS_PER_AREA.outside(sewn_density(&sweep.layup));
    let best = longest.map_or(String::new(), |point| format!(", longest at {} mm", mm(point.gap)));
    format!("{} {}, {} g/m²{best}", letter(place), sweep.layup.name, fixed(grams, 0))
}
