//! Layups against gaps: a table of one figure, its sentences and its files.

use crate::bench::figure::{Found, figure_name};
use crate::bench::lies::Stack;
use crate::bench::outcome::Valued;
use crate::garment::brief::Minimise;
use crate::garment::suit::sewn_density;
use crate::garment::target::Figure;
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::figures::BEYOND_MARK;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::gap::beside::letter;
use crate::report::gap::words::{mm, swept};
use crate::report::json::study::envelope;
use crate::report::number::{Shown, fixed, short};
use crate::report::seek::words as say;
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, notice};
use crate::report::words::list;
use crate::report::{exposure, lies};
use crate::study::gap::GapSweep;
use crate::study::gap_map::{GapMap, Spot};

/// Most layups down: as many as have a letter.
pub const MOST_LAYUPS: usize = 20;
/// Most gaps across, for their numbers to have room.
pub const MOST_GAPS: usize = 12;
/// Gaps in one table of a terminal.
const ACROSS: usize = 8;

/// Name of the figure of a map.
pub fn name(map: &GapMap) -> &'static str {
    map.sweeps.first().map_or("", |sweep| figure_name(map.figure, &sweep.exposure))
}

/// A cell's number as tables and the drawing have it.
pub fn cell(found: &Found) -> String {
    match found {
        Found::Value { valued, beyond, .. } => {
            format!("{}{}", fixed(valued.value, 1), if *beyond { BEYOND_MARK } else { "" })
        }
        Found::AtLeast { least, .. } => format!(">{}", short(*least, 1)),
        Found::Unsettled { .. } => "?".to_string(),
        Found::NotAsked => "–".to_string(),
    }
}

/// The map in text.
pub fn map_text(map: &GapMap) -> String {
    let Some(first) = map.sweeps.first() else { return notice() };
    let mut out = lies::first_line(map.sweeps.iter().map(GapSweep::stack));
    out.push_str(&heading(&format!("{} of layups against gaps", name(map))));
    for line in of_brief(map).into_iter().chain(sentences(map)) {
        out.push_str(&paragraph(&line, 2));
    }
    out.push('\n');
    let rows: Vec<usize> = (0..map.sweeps.len()).collect();
    let columns: Vec<usize> = (0..map.gaps().len()).collect();
    for across in columns.chunks(ACROSS) {
        out.push_str(&table(&numbers(map, across), &rows));
        out.push('\n');
    }
    out.push_str(&table(&layups(map), &rows));
    out.push('\n');
    for line in opened(map).into_iter().chain(left(map)) {
        out.push_str(&paragraph(&line, 2));
    }
    out.push_str(&paragraph(&exposure::sentence(&first.exposure), 2));
    out.push_str(&paragraph(&remarks(map), 2));
    closed(out)
}

/// Which gaps were opened, once where they are the same in all.
pub fn opened(map: &GapMap) -> Vec<String> {
    if let (Some(asked), [first, .., last]) = (&map.asked, map.gaps().as_slice()) {
        let places: Vec<&str> = asked.swept.iter().map(|place| place.words()).collect();
        let (gaps, each) = match places.len() {
            1 => ("gap", ""),
            _ => ("gaps", "together, each "),
        };
        let (places, first, last) = (list(&places), mm(*first), mm(*last));
        return vec![format!("Opened: the {gaps} {places}, {each}from {first} to {last} mm.")];
    }
    let all: Vec<String> = map.sweeps.iter().map(swept).collect();
    if all.windows(2).all(|pair| pair[0] == pair[1]) {
        return all.first().map(|one| format!("Opened: {one}.")).into_iter().collect();
    }
    let line = |(row, one): (usize, &String)| format!("{}: {one}.", letter(row));
    all.iter().enumerate().map(line).collect()
}

/// A row a layup, a column a gap.
fn numbers<'a>(map: &'a GapMap, across: &[usize]) -> Vec<Column<'a, usize>> {
    let mut all = vec![
        Column::text("", BARE, |row: &usize| letter(*row).to_string()),
        Column::new("areal_density", GRAMS_PER_AREA, |row: &usize| grams(map, *row))
            .headed("mass")
            .digits(Digits::Fixed(0)),
    ];
    let gaps = map.gaps();
    for column in across.iter().copied() {
        let text = move |row: &usize| cell(&map.found(Spot { row: *row, column }));
        all.push(Column::text(&format!("{} mm", mm(gaps[column])), SECONDS, text));
    }
    all
}

/// A row a layup, with its best gap.
fn layups(map: &GapMap) -> Vec<Column<'_, usize>> {
    let named = |row: &usize| map.layup(*row).name.clone() + &lies::after_name(stack(map, *row));
    let best = |row: &usize| map.best(*row).map(|spot| map.gaps()[spot.column]);
    let time = |row: &usize| map.best(*row).and_then(|spot| map.found(spot).valued());
    vec![
        Column::text("", BARE, |row: &usize| letter(*row).to_string()),
        Column::text("layup", BARE, named),
        Column::new("best_gap", MILLIMETRES, best).headed("longest at").digits(Digits::Fixed(2)),
        Column::new("best", SECONDS, time).headed(name(map)),
    ]
}

fn stack(map: &GapMap, row: usize) -> Stack<'_> {
    map.sweeps[row].stack()
}

fn grams(map: &GapMap, row: usize) -> f64 {
    sewn_density(map.layup(row))
}

/// What a brief asks for, and which cells keep it; nothing of no brief.
pub fn of_brief(map: &GapMap) -> Vec<String> {
    let Some(asked) = &map.asked else { return Vec::new() };
    let at = |spot: Spot| {
        format!(
            "{} at {} mm, {} g/m² and {} mm thick",
            letter(spot.row),
            mm(map.gaps()[spot.column]),
            row_grams(map, spot.row),
            MILLIMETRES.fixed(map.thickness(spot), 2)
        )
    };
    let (n, all) = (map.spots().filter(|at| map.keeps(*at)).count(), map.spots().count());
    let within = asked
        .thickness
        .map_or(String::new(), |most| format!(" within {} mm", MILLIMETRES.short(most, 2)));
    let least = match asked.minimise {
        Minimise::Mass => "lightest",
        Minimise::Thickness => "thinnest",
    };
    let kept = match map.least_keeping() {
        Some(spot) => {
            format!("{n} of {all} cells keep the margin{within}; the {least} is {}.", at(spot))
        }
        None => format!("None of {all} cells keeps the margin{within}."),
    };
    let wanted = format!("Wanted: {}.", say::wanted(&asked.wanted));
    [wanted, kept].into_iter().chain(too_thick(map)).collect()
}

/// From which gap on layups are thicker than their brief allows.
fn too_thick(map: &GapMap) -> Option<String> {
    let most = map.asked.as_ref()?.thickness?;
    let from = |row: usize| {
        let at = map.spots().find(|at| at.row == row && map.is_too_thick(*at))?;
        Some(format!("{} from {} mm on", letter(row), mm(map.gaps()[at.column])))
    };
    let all: Vec<String> = (0..map.sweeps.len()).filter_map(from).collect();
    let most = MILLIMETRES.short(most, 2);
    (!all.is_empty()).then(|| format!("Thicker than {most} mm: {}.", list(&all)))
}

/// Which gaps of a brief's stay as they are, and which of its stacks are left out.
pub fn left(map: &GapMap) -> Vec<String> {
    let Some(asked) = &map.asked else { return Vec::new() };
    let mut all = Vec::new();
    if !asked.still.is_empty() {
        let still: Vec<&str> = asked.still.iter().map(|place| place.words()).collect();
        all.push(format!("Gaps {} stay as narrow as the brief allows.", list(&still)));
    }
    let out = [(asked.n_beyond, "beyond its limits"), (asked.n_without, "without such a gap")];
    let out = out.iter().filter(|(n, _)| *n > 0).map(|(n, why)| format!("{n} {why}"));
    let out: Vec<String> = out.collect();
    if !out.is_empty() {
        all.push(format!("Left out of the brief's stacks: {}.", list(&out)));
    }
    all
}

/// Where the figure is shortest and longest, and by how much plies and gap move it.
pub fn sentences(map: &GapMap) -> Vec<String> {
    let seconds = |spot: Spot| map.value(spot).map_or(String::new(), |t| fixed(t, 1));
    let gap = |spot: Spot| mm(map.gaps()[spot.column]);
    let Some(whole) = map.whole() else {
        return vec![format!("{} is reached nowhere; look further with --until.", name(map))];
    };
    let end =
        |spot: Spot| format!("{} s ({} at {} mm)", seconds(spot), letter(spot.row), gap(spot));
    let mut all =
        vec![format!("{} runs from {} to {}.", name(map), end(whole.low), end(whole.high))];
    let (plies, gaps) = (map.sweeps.len() > 1, map.gaps().len() > 1);
    if let (Some(span), true) = (map.by_plies(), plies) {
        all.push(format!(
            "The choice of plies moves it by up to {} s at one gap: at {} mm from {} s ({}) to {} s ({}).",
            fixed(span.by, 1),
            gap(span.low),
            seconds(span.low),
            letter(span.low.row),
            seconds(span.high),
            letter(span.high.row)
        ));
    }
    if let (Some(span), true) = (map.by_gap(), gaps) {
        all.push(format!(
            "The gap moves it by up to {} s in one layup: in {} from {} s at {} mm to {} s at {} mm.",
            fixed(span.by, 1),
            letter(span.low.row),
            seconds(span.low),
            gap(span.low),
            seconds(span.high),
            gap(span.high)
        ));
    }
    all
}

/// What marks mean, and how exact the numbers are.
pub fn remarks(map: &GapMap) -> String {
    let found = || map.spots().map(|spot| map.found(spot));
    let relative = |valued: Valued| valued.error.abs() / valued.value;
    let worst = found().filter_map(|found| found.valued()).map(relative).fold(0.0, f64::max);
    let has = |is: fn(&Found) -> bool| found().any(|found| is(&found));
    let mut text = format!(
        "Numerical error of each time: at most {} %; the bench may lie elsewhere (`stillair expose`).",
        PERCENT.significant(worst, 2)
    );
    if has(Found::is_beyond) {
        text += &format!(
            " {BEYOND_MARK}: a ply is past its limit by then, outside the model's validity."
        );
    }
    if has(|found| matches!(found, Found::AtLeast { .. })) {
        text += " >: not reached within the time looked at.";
    }
    if has(|found| matches!(found, Found::Unsettled { .. })) {
        text += " ?: one mesh reaches it and another does not.";
    }
    if map.figure == Figure::SecondDegree
        && map.sweeps.iter().any(|one| matches!(one.stack(), Stack::Quilted(_)))
    {
        text += " Of a quilted layup it is the stitch line's.";
    }
    text
}

/// A layup's label at the map's edge: letter and name.
pub fn row_label(map: &GapMap, row: usize) -> String {
    format!("{} {}{}", letter(row), map.layup(row).name, lies::after_name(stack(map, row)))
}

/// A layup's grams at the map's edge.
pub fn row_grams(map: &GapMap, row: usize) -> String {
    GRAMS_PER_AREA.fixed(grams(map, row), 0)
}

/// A cell's columns: its layup, its gap, what is known of the figure.
fn cells(map: &GapMap) -> Vec<Column<'_, Spot>> {
    let mut all = vec![
        Column::new("layup", BARE, |at: &Spot| map.layup(at.row).name.clone()),
        Column::new("computed", BARE, |at: &Spot| lies::word(stack(map, at.row))),
        Column::new("areal_density", GRAMS_PER_AREA, |at: &Spot| grams(map, at.row)),
        Column::new("gap", MILLIMETRES, |at: &Spot| map.gaps()[at.column]),
        Column::new("figure", BARE, |_: &Spot| name(map)),
        Column::new("value", SECONDS, |at: &Spot| map.found(*at).valued())
            .with_error_named("error"),
        Column::new("state", BARE, |at: &Spot| map.found(*at).state()),
        Column::new("beyond_limit", BARE, |at: &Spot| map.found(*at).is_beyond()),
    ];
    if map.asked.is_some() {
        all.push(Column::new("thickness", MILLIMETRES, |at: &Spot| map.thickness(*at)));
        all.push(Column::new("keeps_margin", BARE, |at: &Spot| map.keeps(*at)));
    }
    all
}

/// One row a cell, layup by layup, as CSV.
///
/// Errors: a value that is not a finite number.
pub fn map_csv(map: &GapMap) -> Result<String, CurvesError> {
    csv(&cells(map), &map.spots().collect::<Vec<Spot>>())
}

/// The map as JSON.
///
/// Errors: a value that is not a finite number.
pub fn map_json(map: &GapMap) -> Result<String, serde_json::Error> {
    let spots: Vec<Spot> = map.spots().collect();
    let best = |row: usize| {
        let gap = map.best(row).map(|spot| map.gaps()[spot.column]);
        Object::new()
            .with("layup", map.layup(row).name.as_str())
            .with("swept", swept(&map.sweeps[row]))
            .with_unit("areal_density", GRAMS_PER_AREA, grams(map, row))
            .with_unit("longest_at", MILLIMETRES, gap)
    };
    let layups: Vec<Object> = (0..map.sweeps.len()).map(best).collect();
    let exposure = map.sweeps.first().map_or("", |sweep| sweep.exposure.name.as_str());
    let body = Object::new()
        .with("exposure", exposure)
        .with("figure", name(map))
        .with("layups", layups)
        .with("cells", objects(&cells(map), &spots))
        .with("sentences", [of_brief(map), sentences(map)].concat());
    envelope("stillair/gap-map", &body)
}
