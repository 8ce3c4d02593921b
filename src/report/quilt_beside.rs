//! A layup unquilted and under several patterns: its columns, sentences, text and files.

use crate::bench::figure::{Found, Verdict, figure_name};
use crate::bench::outcome::When;
use crate::garment::layup::Quilting;
use crate::garment::target::{Figure, Target};
use crate::physics::units::{BARE, GRAMS_PER_AREA, PERCENT, SECONDS};
use crate::report::csv::CurvesError;
use crate::report::figures::BEYOND_MARK;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects, table};
use crate::report::form::value::{Digits, Object};
use crate::report::json::against;
use crate::report::json::study::envelope;
use crate::report::lies::quilting_lengths;
use crate::report::number::{Shown, fixed};
use crate::report::quilt::RESTS_ON;
use crate::report::quilt_sideways::{sideways_sentence, sideways_words};
use crate::report::quilt_words::{as_sentence_start, headline, what_they_mean};
use crate::report::table::paragraph;
use crate::report::text::{closed, heading, notice};
use crate::report::words::{list, when_short};
use crate::report::{exposure, verdict};
use crate::study::quilt::beside::Way;

/// A way's calls against the targets asked for.
pub type Held<'a> = Vec<(&'a Target, Verdict)>;

/// All ways in text; nothing to tell without one.
///
/// - `held`: the calls of each way, in their order; empty where no target was asked for
pub fn beside_text(ways: &[Way], like: &Quilting, held: &[Held]) -> String {
    let Some(first) = ways.first() else { return notice() };
    let mut out = heading(&format!("Quilting against quilting: {}", first.layup().name));
    out.push_str(&paragraph(&format!("Every stitch line alike: {}.", quilting_lengths(like)), 2));
    out.push_str(&paragraph(&exposure::sentence(first.exposure()), 2));
    out.push('\n');
    out.push_str(&table(&columns(ways), ways));
    if let Some(beyond) = beyond(ways) {
        out.push_str(&paragraph(&beyond, 2));
    }
    out.push('\n');
    out.push_str(&heading("What the disc does not show"));
    for sentence in sentences(ways) {
        out.push_str(&paragraph(&sentence, 2));
    }
    out.push('\n');
    if held.iter().any(|verdicts| !verdicts.is_empty()) {
        out.push_str(&heading("Against the targets"));
        let each: Vec<(&str, Held)> =
            ways.iter().zip(held).map(|(way, of)| (way.name(), of.clone())).collect();
        out.push_str(&verdict::section_of_each(&each));
        out.push('\n');
    }
    out.push_str(&heading("What the columns mean"));
    for sentence in what_they_mean(first.exposure()).into_iter().chain(sideways_words(ways)) {
        out.push_str(&paragraph(&sentence, 2));
    }
    out.push_str(&paragraph(
        &format!("{RESTS_ON} `stillair quilt` of one pattern tells each number's error."),
        2,
    ));
    closed(out)
}

/// One sentence a way; ways that are one to the model share theirs, with the reason.
pub fn sentences(ways: &[Way]) -> Vec<String> {
    let mut told = Vec::new();
    for (i, way) in ways.iter().enumerate() {
        if ways[..i].iter().any(|before| before.is_twin(way)) {
            continue;
        }
        let twins = ways.iter().filter(|other| way.is_twin(other) || *other == way);
        let names: Vec<&str> = twins.map(Way::name).collect();
        let Some(headline) = headline(way) else { continue };
        let why = if names.len() > 1 { WHY_ALIKE } else { "" };
        let sideways = sideways_sentence(way).unwrap_or_default();
        told.push(format!("{}: {headline}.{sideways}{why}", as_sentence_start(&list(&names))));
    }
    told
}

/// Why two patterns of one pitch come out equal.
const WHY_ALIKE: &str = " They come out equal: at one pitch both have as much stitch line per area, and \
places lie as far from the nearest one, at whatever angle the lines cross.";

/// That times lie beyond a ply's limit, where they do.
fn beyond(ways: &[Way]) -> Option<String> {
    let marked = ways.iter().any(|way| {
        let disc = [Figure::Rise24, Figure::Stoll].map(|of| way.figure(of));
        let disc = disc.iter().any(|found| matches!(found, Found::Value { beyond: true, .. }));
        disc || way.at_centre().is_some_and(|when| is_beyond(way, &when))
    });
    marked.then(|| format!("{BEYOND_MARK} after a ply's limit, outside the model's validity."))
}

fn is_beyond(way: &Way, when: &When) -> bool {
    when.t().zip(way.skin_valid_until()).is_some_and(|(t, limit)| t > limit)
}

/// The time a figure tells.
fn disc_time(way: &Way, figure: Figure) -> Option<When> {
    match way.figure(figure) {
        Found::Value { valued, .. } => Some(When::At { t: valued.value, error: valued.error }),
        Found::AtLeast { t_end, .. } => Some(When::NotWithin { t_end }),
        Found::Unsettled { low, .. } => Some(When::Unsettled { t: low }),
        Found::NotAsked => None,
    }
}

/// A row a way.
fn columns(ways: &[Way]) -> Vec<Column<'_, Way>> {
    let exposure = ways.first().map(Way::exposure);
    let name = |figure| exposure.map_or("", |exposure| figure_name(figure, exposure));
    let disc = |figure: Figure, key: &str, head: &str| {
        let written = move |way: &Way| {
            let beyond = matches!(way.figure(figure), Found::Value { beyond: true, .. });
            let time = disc_time(way, figure).map_or("–".to_string(), |when| when_short(&when));
            format!("{time}{}", if beyond { BEYOND_MARK } else { "" })
        };
        Column::new(key, SECONDS, move |way: &Way| disc_time(way, figure))
            .headed(head)
            .written(written)
    };
    let place = |of: fn(&Way) -> Option<When>, key: &str, head: &str| {
        let written = move |way: &Way| match of(way) {
            Some(when) => {
                let mark = if is_beyond(way, &when) { BEYOND_MARK } else { "" };
                format!("{}{mark}", when_short(&when))
            }
            None => "–".to_string(),
        };
        Column::new(key, SECONDS, of).headed(head).written(written)
    };
    vec![
        Column::new("quilting", BARE, |way: &Way| way.name()).headed(""),
        Column::new("mass", GRAMS_PER_AREA, Way::mass).headed("mass").digits(Digits::Fixed(0)),
        Column::new("stitch_line_area", PERCENT, |way: &Way| {
            way.quilted().map(|quilted| quilted.stitch_share)
        })
        .headed("lines")
        .under("% of area")
        .digits(Digits::Fixed(1)),
        disc(Figure::Rise24, name(Figure::Rise24), name(Figure::Rise24)),
        disc(Figure::Stoll, "stoll", "Stoll"),
        place(Way::at_stitch_line, "second_degree_at_stitch_line", "stitch line"),
        place(Way::at_centre, "second_degree_at_centre", "centre"),
        Column::new("area_burnt_at_stoll", PERCENT, |way: &Way| {
            way.noticed().map(|t| way.burnt_by(t))
        })
        .headed("burnt then")
        .under("% of area")
        .digits(Digits::Fixed(0)),
    ]
}

/// The same with what only sentences tell in text.
fn filed(ways: &[Way]) -> Vec<Column<'_, Way>> {
    let place = |i: usize| move |way: &Way| Some(way.sideways()?.skin?[i]);
    let mut all = columns(ways);
    if ways.iter().any(|way| way.sideways().is_some()) {
        all.push(Column::new("second_degree_at_stitch_line_sideways", SECONDS, place(0)));
        all.push(Column::new("second_degree_at_centre_sideways", SECONDS, place(1)));
    }
    all
}

/// One row a way, as CSV.
///
/// Errors: a value that is not a finite number.
pub fn beside_csv(ways: &[Way]) -> Result<String, CurvesError> {
    csv(&filed(ways), ways)
}

/// All ways with the area burnt over time, as JSON.
///
/// Errors: a value that is not a finite number.
pub fn beside_json(ways: &[Way], held: &[Held]) -> Result<String, serde_json::Error> {
    let curve = |way: &Way| -> Vec<Object> {
        let point = |(t, share): (f64, f64)| {
            Object::new().with_unit("time", SECONDS, t).with_unit("area", PERCENT, share)
        };
        way.burnt_curve().into_iter().map(point).collect()
    };
    let rows = objects(&filed(ways), ways).into_iter().zip(ways);
    let calls = |place: usize| {
        let of = held.get(place).filter(|of| !of.is_empty())?;
        let all: Vec<Object> = of.iter().map(|(target, held)| against(target, held)).collect();
        Some(Object::new().with("against", all))
    };
    let rows: Vec<Object> = rows
        .enumerate()
        .map(|(place, (row, way))| row.and(calls(place)).with("area_burnt", curve(way)))
        .collect();
    let body = Object::new()
        .with("rests_on", RESTS_ON)
        .with("layup", ways.first().map(|way| way.layup().name.as_str()))
        .with("exposure", ways.first().map(exposure_object))
        .with("ways", rows)
        .with("sentences", sentences(ways));
    envelope("stillair/quiltings-beside", &body)
}

fn exposure_object(way: &Way) -> Object {
    crate::report::json::exposure::exposure(way.exposure())
}

/// The calls in a sentence a target, for a picture: "fia-8856-2018-overall (HTI24 ≥ 12 s): channels above (+27 %)".
pub fn calls(ways: &[Way], held: &[Held]) -> String {
    let Some(first) = held.first() else { return String::new() };
    let sentence = |(place, (target, verdict)): (usize, &(&Target, Verdict))| {
        let call = |(way, of): (&Way, &Held)| {
            format!("{} {}", way.name(), verdict::in_short(&of[place].1))
        };
        let calls: Vec<String> = ways.iter().zip(held).map(call).collect();
        format!(" {} ({}): {}.", target.name, verdict::asks(&verdict.rule), calls.join(", "))
    };
    first.iter().enumerate().map(sentence).collect()
}

/// What stands under a way's picture: its times and its mass.
pub fn caption(way: &Way) -> Vec<String> {
    let time = |when: Option<When>| when.map_or("–".to_string(), |when| seconds(&when));
    let places = match way.at_stitch_line() {
        Some(stitch) => format!("stitch line {}", seconds(&stitch)),
        None => "no stitch line".to_string(),
    };
    let whole = if way.quilted().is_some() { "centre" } else { "everywhere" };
    let sideways = way.sideways().and_then(|sideways| sideways.skin);
    let sideways = sideways.map(|[stitch, _]| format!("heat sideways {}", seconds(&stitch)));
    let centre = format!("{whole} {}", time(way.at_centre()));
    let mass = format!("{} g/m²", GRAMS_PER_AREA.fixed(way.mass(), 0));
    [places].into_iter().chain(sideways).chain([centre, mass]).collect()
}

fn seconds(when: &When) -> String {
    match when {
        When::At { t, .. } => format!("{} s", fixed(*t, 1)),
        _ => when_short(when),
    }
}
