//! The columns of a suit on a body, and its files.

use crate::bench::outcome::Valued;
use crate::physics::units::{
    BARE, CENTIMETRES, KILOGRAMS, MILLIMETRES, PERCENT, PERCENT_PER_GRAM, SECONDS, SECONDS_PER_GRAM,
};
use crate::report::body::words::{self, EVIDENCE};
use crate::report::body::{Beside, keep, odds};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects};
use crate::report::form::value::{Digits, Object};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::number::{Shown, short};
use crate::study::body::odds::FireOdds;
use crate::study::body::record::{BodyStudy, Fire, Gram, PanelAir, Shares};

/// Names of the degrees in files.
pub(super) const DEGREES: [&str; 3] = ["first_degree", "second_degree", "third_degree"];
/// Headings of the degrees in text.
const HEADS: [&str; 3] = ["1st degree", "2nd degree", "3rd degree"];

/// The body after a fire.
pub struct FireRow<'a> {
    study: &'a BodyStudy,
    fire: &'a Fire,
}

/// The fires as rows.
pub fn fire_rows(study: &BodyStudy) -> Vec<FireRow<'_>> {
    study.fires.iter().map(|fire| FireRow { study, fire }).collect()
}

/// A fire: shares of what is covered, then of the whole body.
pub fn fires<'a>() -> Vec<Column<'a, FireRow<'a>>> {
    let mut all = vec![
        Column::new("for", SECONDS, |row: &FireRow| row.fire.duration)
            .headed("flame")
            .digits(Digits::Short(2)),
    ];
    for (d, (name, head)) in DEGREES.into_iter().zip(HEADS).enumerate() {
        let valued =
            move |row: &FireRow| Valued { value: row.fire.covered[d], error: row.fire.error[d] };
        let written =
            move |row: &FireRow| words::percent_with_error(row.fire.covered[d], row.fire.error[d]);
        all.push(
            Column::new(format!("{name}_of_covered"), PERCENT, valued)
                .headed(head)
                .written(written),
        );
    }
    for (d, name) in DEGREES.into_iter().enumerate() {
        let whole = move |row: &FireRow| row.study.whole(&row.fire.covered)[d];
        let bare = move |row: &FireRow| row.study.whole_with_bare(&row.fire.covered)[d];
        let mut columns = [
            Column::new(format!("{name}_of_body"), PERCENT, whole).digits(Digits::Fixed(1)),
            Column::new(format!("{name}_of_body_bare_burnt"), PERCENT, bare)
                .digits(Digits::Fixed(1)),
        ];
        if d == 1 {
            let [one, two] = columns;
            columns = [one.headed("2nd of body"), two.headed("bare burnt")];
        }
        all.extend(columns);
    }
    all
}

/// A panel on the body.
pub struct PanelRow<'a> {
    study: &'a BodyStudy,
    i: usize,
    on: &'a PanelAir,
}

/// The panels as rows.
pub fn panel_rows(study: &BodyStudy) -> Vec<PanelRow<'_>> {
    let airs = study.airs.iter().enumerate();
    airs.map(|(i, on)| PanelRow { study, i, on }).collect()
}

/// A panel: where it lies, its air, and in text its second degree after each fire.
pub fn panels<'a>(study: &'a BodyStudy) -> Vec<Column<'a, PanelRow<'a>>> {
    let panel = |row: &PanelRow| row.study.suit.panels[row.i].clone();
    let mut all = vec![
        Column::text("", BARE, |row: &PanelRow| (row.i + 1).to_string()).right(),
        Column::new("panel", BARE, move |row: &PanelRow| panel(row).name).headed("").under("panel"),
        Column::new("place", BARE, move |row: &PanelRow| panel(row).place.word()),
        Column::new("side", BARE, move |row: &PanelRow| panel(row).side.word()),
        Column::new("layup", BARE, move |row: &PanelRow| panel(row).layup.name),
        Column::new("of_body", PERCENT, |row: &PanelRow| row.on.share)
            .headed("of body")
            .digits(Digits::Fixed(1)),
        Column::new("contact", PERCENT, |row: &PanelRow| row.on.air.in_contact())
            .headed("contact")
            .digits(Digits::Fixed(0)),
        Column::new("gap_mean", MILLIMETRES, |row: &PanelRow| row.on.air.mean_open())
            .headed("air")
            .written(|row: &PanelRow| match row.on.air.in_contact() < 1.0 {
                true => MILLIMETRES.fixed(row.on.air.mean_open(), 0),
                false => "–".to_string(),
            }),
    ];
    for (k, fire) in study.fires.iter().enumerate() {
        let heading = format!("{} s", short(fire.duration, 2));
        let share = move |row: &PanelRow| words::percent(row.study.fires[k].panels[row.i].end[1]);
        all.push(Column::text(&heading, PERCENT, share));
    }
    all
}

/// What a file tells of a panel, or of all that is covered, at a time after a fire.
struct CurveRow<'a> {
    fire: &'a Fire,
    panel: &'a str,
    t: f64,
    shares: Shares,
    is_first: bool,
    odds: Option<&'a FireOdds>,
}

/// Shares over time as CSV: one row a fire, panel and time, then all that is covered; the odds of a share stand on the
/// last row of each fire.
///
/// Errors: a value that is not a finite number.
pub fn body_csv(study: &BodyStudy, beside: Beside<'_>) -> Result<String, CurvesError> {
    let mut rows: Vec<CurveRow> = Vec::new();
    for (k, fire) in study.fires.iter().enumerate() {
        let covered = ("all that is covered", &fire.curve);
        let panels = study.suit.panels.iter().zip(&fire.panels);
        let panels = panels.map(|(panel, burn)| (panel.name.as_str(), &burn.curve));
        for (panel, curve) in panels.chain([covered]) {
            for (t, shares) in fire.times.iter().zip(curve) {
                let is_first = rows.is_empty();
                rows.push(CurveRow { fire, panel, t: *t, shares: *shares, is_first, odds: None });
            }
        }
        if let Some(last) = rows.last_mut() {
            last.odds = beside.odds.and_then(|odds| odds.fires.get(k));
        }
    }
    let mut all = vec![
        Column::new("for", SECONDS, |row: &CurveRow| row.fire.duration),
        Column::new("panel", BARE, |row: &CurveRow| row.panel),
        Column::new("time", SECONDS, |row: &CurveRow| row.t),
    ];
    for (d, name) in DEGREES.into_iter().enumerate() {
        all.push(Column::new(name, PERCENT, move |row: &CurveRow| row.shares[d]));
    }
    if let Some(odds) = beside.odds {
        all.extend(odds::in_csv(odds, |row: &CurveRow| row.odds));
    }
    all.push(Column::new("evidence", BARE, |row: &CurveRow| row.is_first.then_some(EVIDENCE)));
    csv(&all, &rows)
}

/// A suit on a body as JSON, with what else was asked for.
///
/// Errors: a value that is not a finite number.
pub fn body_json(study: &BodyStudy, beside: Beside<'_>) -> Result<String, serde_json::Error> {
    let record = body_object(study)
        .with("odds", beside.odds.map(odds::object))
        .with("keep", beside.kept.map(keep::object));
    envelope("stillair/body", &record)
}

/// The record of a suit on a body.
pub fn body_object(study: &BodyStudy) -> Object {
    let (mass, height) = study.wearer;
    let regions = study.map.regions.iter().map(|region| {
        Object::new()
            .with("region", region.name.as_str())
            .with_unit("share", PERCENT, region.share.value)
            .with("is_bare", region.places.is_empty())
            .with("provenance", region.share.provenance.word())
            .with("source", &*region.share.source)
    });
    Object::new()
        .with("evidence", EVIDENCE)
        .with("suit", study.suit.name.as_str())
        .with("exposure", study.exposure.name.as_str())
        .with("skin", study.skin.as_str())
        .with("fit", study.fit.word())
        .with_unit("wearer_mass", KILOGRAMS, mass)
        .with_unit("wearer_height", CENTIMETRES, height)
        .with_unit("cloth_shorter", PERCENT, study.shrunk)
        .with_unit("covered", PERCENT, study.covered())
        .with_unit("uncovered", PERCENT, study.uncovered())
        .with("body", study.map.name.as_str())
        .with("regions", regions.collect::<Vec<_>>())
        .with("panels", objects(&panels(study), &panel_rows(study)))
        .with("computed", study.stacks().into_iter().map(lies::word).collect::<Vec<_>>())
        .with("fires", fire_rows(study).iter().map(|row| fire_object(row)).collect::<Vec<_>>())
        .with("runs", study.work.n_runs)
        .with("runs_not_at_rest", study.work.n_restless)
}

fn fire_object(row: &FireRow<'_>) -> Object {
    let (study, fire) = (row.study, row.fire);
    let first = fire.first().map(|(i, first)| {
        Object::new()
            .with("panel", study.suit.panels[i].name.as_str())
            .with("where", words::spot(&first))
            .with_unit("second_degree", SECONDS, first.first.t)
    });
    let panels = study.suit.panels.iter().zip(&fire.panels).map(|(panel, burn)| {
        let ends = DEGREES.iter().zip(burn.end);
        let own = Object::new().with("panel", panel.name.as_str());
        ends.fold(own, |own, (name, share)| own.with_unit(name, PERCENT, share))
            .with_unit("first_second_degree", SECONDS, burn.first.map(|first| first.first.t))
            .with("where", burn.first.map(|first| words::spot(&first)))
    });
    let points = fire.times.iter().zip(&fire.curve).map(|(t, shares)| {
        let point = Object::new().with_unit("time", SECONDS, *t);
        DEGREES
            .iter()
            .zip(shares)
            .fold(point, |point, (name, share)| point.with_unit(name, PERCENT, *share))
    });
    let mut all = objects(&fires(), [row]);
    let own = all.remove(0);
    own.or_null("first", BARE, first)
        .with("panels", panels.collect::<Vec<_>>())
        .with("over_time", points.collect::<Vec<_>>())
        .with("grams", fire.grams.iter().map(|gram| gram_object(study, gram)).collect::<Vec<_>>())
}

fn gram_object(study: &BodyStudy, gram: &Gram) -> Object {
    Object::new()
        .with("panel", study.suit.panels[gram.panel].name.as_str())
        .with("ply", gram.ply.as_str())
        .with_unit("less_of_body", PERCENT_PER_GRAM, gram.share)
        .with_unit("later", SECONDS_PER_GRAM, gram.time)
}
