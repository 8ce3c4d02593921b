//! An exposure as curves: temperatures in the layup, and what the disc or the skin makes of them.

use crate::bench::curves::inner_face_of;
use crate::bench::lies;
use crate::bench::outcome::{
    Column, ColumnKind, Curves, Figures, Outcome, PlyFate, Run, RunOf, Spot, When,
};
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{
    Band, EventMark, Level, LineChart, LinePanel, PointMark, Series, Trace, line_chart,
};
use crate::chart::palette::LOOKS;
use crate::chart::scale::widened;
use crate::chart::stack::Stack;
use crate::chart::text::number;
use crate::garment::exposure::{Exposure, Flux};
use crate::garment::layup::Layup;
use crate::garment::suit::sewn_density;
use crate::physics::units::{GRAMS_PER_AREA, KILOWATTS_PER_AREA, MILLIMETRES, PERCENT, celsius};

/// Which runs of an outcome are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// The run in front of the copper disc.
    Disc,
    /// The run in front of skin.
    Skin,
    /// Both, one above the other.
    Both,
}

/// A moment that a target asks for, drawn where its figure is read.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetMark {
    /// Whether its figure is read off skin, not off the copper disc.
    pub of_skin: bool,
    /// When [s].
    pub t: f64,
    /// In plain words, such as "needed to be called above: 16.0 s".
    pub label: String,
}

/// What an exposure is held against.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Asked {
    /// Moments to draw.
    pub marks: Vec<TargetMark>,
    /// The answers in sentences, for the words above the chart.
    pub answers: Vec<String>,
}

impl Asked {
    fn of(&self, figures: &Figures) -> impl Iterator<Item = EventMark> {
        let is_skin = matches!(figures, Figures::Skin(_));
        let here = self.marks.iter().filter(move |mark| mark.of_skin == is_skin);
        here.map(|mark| EventMark { x: mark.t, label: mark.label.clone() })
    }
}

/// The chart of an exposure as SVG.
///
/// - `asked`: the targets, if there are any
///
/// Errors: a run that is asked for and absent, curves that are empty, not finite or of differing lengths.
pub fn exposure_chart(
    outcome: &Outcome,
    which: Which,
    asked: &Asked,
) -> Result<String, ChartError> {
    if which != Which::Skin {
        there(&outcome.disc, "the copper disc")?;
    }
    if which != Which::Disc {
        there(&outcome.skin, "skin")?;
    }
    let mut panels = Vec::new();
    let mut t_last: f64 = 0.0;
    for one in drawn(outcome, which) {
        check_curves(&one.run.curves)?;
        t_last = t_last.max(shown_until(one.run, &outcome.exposure, asked));
        panels.extend(run_panels(&one, outcome, asked)?);
    }
    let below = match which {
        Which::Disc => "copper disc",
        Which::Skin => "skin",
        Which::Both => "copper disc or skin",
    };
    line_chart(&LineChart {
        heading: heading(outcome, which, asked),
        x_axis: Axis::new("time [s]").over(0.0, t_last),
        panels,
        beside: Some(Stack::of(&outcome.layup, String::new(), below)),
    })
}

fn there(run: &Option<Run>, name: &str) -> Result<(), ChartError> {
    let none = || ChartError::Empty { part: format!("the run in front of {name}") };
    run.as_ref().map(|_| ()).ok_or_else(none)
}

/// The runs that are drawn, skin at each place that it was looked at.
fn drawn(outcome: &Outcome, which: Which) -> Vec<RunOf<'_>> {
    let is_drawn = |one: &RunOf| match one.run.figures {
        Figures::Disc(_) => which != Which::Skin,
        Figures::Skin(_) => which != Which::Disc,
    };
    outcome.runs().into_iter().filter(is_drawn).collect()
}

fn check_curves(curves: &Curves) -> Result<(), ChartError> {
    for column in &curves.columns {
        let (expected, found) = (curves.t.len(), column.values.len());
        if expected != found {
            let part = format!("curve \"{}\"", column.label);
            return Err(ChartError::Lengths { part, expected, found });
        }
    }
    if curves.t.len() < 2 {
        return Err(ChartError::Empty { part: "the curves".to_owned() });
    }
    Ok(())
}

/// End of the time axis: a round time past the last thing that happens, at most where the run ends.
fn shown_until(run: &Run, exposure: &Exposure, asked: &Asked) -> f64 {
    let t_end = run.curves.t.last().copied().unwrap_or(0.0);
    let events = events_of(run, exposure).into_iter().chain(asked.of(&run.figures));
    let events = events.map(|event| event.x);
    let limits = run.plies.iter().filter_map(|ply| ply.limit_passed.t());
    // a flame that is taken away leaves heat behind: the hottest moment belongs to the picture
    let flame = exposure.duration.into_iter().flat_map(|flame| [flame, hottest(run)]);
    let last = events.chain(limits).chain(flame).filter(|t| *t <= t_end).fold(0.0, f64::max);
    if last > 0.0 { widened(0.0, 1.2 * last, 8).1.min(t_end) } else { t_end }
}

/// When what stands behind the layup is hottest [s].
fn hottest(run: &Run) -> f64 {
    match &run.figures {
        Figures::Skin(skin) => skin.t_basal_peak,
        Figures::Disc(_) => {
            let rise = run.curves.columns.iter().find(|column| column.kind == ColumnKind::Rise);
            let all = rise.into_iter().flat_map(|rise| run.curves.t.iter().zip(&rise.values));
            all.max_by(|a, b| a.1.total_cmp(b.1)).map_or(0.0, |(t, _)| *t)
        }
    }
}

fn heading(outcome: &Outcome, which: Which, asked: &Asked) -> Heading {
    let exposure = &outcome.exposure;
    let flux = match &exposure.flux {
        Flux::Steady(q) => format!("{} kW/m²", number(KILOWATTS_PER_AREA.outside(*q), 0)),
        Flux::Series(_) => "flux varying in time".to_owned(),
    };
    let share = number(PERCENT.outside(exposure.radiant_share), 0);
    let duration = match exposure.duration {
        Some(t) => format!("for {} s", number(t, 1)),
        None => "continuous".to_owned(),
    };
    let method =
        if exposure.method.is_empty() { String::new() } else { format!(", {}", exposure.method) };
    let before = match which {
        Which::Disc => "the copper disc",
        Which::Skin => "skin",
        Which::Both => "the copper disc and skin",
    };
    let mass = number(GRAMS_PER_AREA.outside(sewn_density(&outcome.layup)), 0);
    let name = &outcome.layup.name;
    Heading {
        title: format!("{name}{}: temperatures in front of {before}", quilted(outcome)),
        subtitle: format!(
            "{}{method}: {flux}, {share} % radiant, {duration}; layup of {mass} g/m². {}",
            exposure.name,
            asked.answers.join(" ")
        )
        .trim_end()
        .to_owned(),
        source: format!("layup {name}, exposure {}", exposure.name),
        summary: summary(outcome, which, asked),
    }
}

/// ", quilted (diamond, 40 mm)", or why a quilted layup lies flat; nothing for a loose one.
fn quilted(outcome: &Outcome) -> String {
    match outcome.lies.stack() {
        lies::Stack::Quilted(quilting) => {
            let pitch = number(MILLIMETRES.outside(quilting.pitch.value), 1);
            // as every other output has it: 40 mm, not 40.0 mm
            let pitch = pitch.strip_suffix(".0").unwrap_or(&pitch);
            format!(", quilted ({}, {pitch} mm)", quilting.pattern.word())
        }
        lies::Stack::LeftOut | lies::Stack::Pressed => ", flat stack".to_owned(),
        lies::Stack::Flat => String::new(),
    }
}

/// The times in words, for readers who cannot see the curves.
fn summary(outcome: &Outcome, which: Which, asked: &Asked) -> String {
    let mut sentences = vec!["Temperatures over time through the layup.".to_owned()];
    for one in drawn(outcome, which) {
        let at = one.place.map_or(String::new(), |place| format!(" at {place}"));
        for event in events_of(one.run, &outcome.exposure) {
            sentences.push(format!("{}{at}.", event.label));
        }
    }
    sentences.extend(asked.answers.iter().cloned());
    sentences.join(" ")
}

/// The panel of temperatures in the layup and the panel of what stands behind it.
fn run_panels(one: &RunOf, outcome: &Outcome, asked: &Asked) -> Result<Vec<LinePanel>, ChartError> {
    let run = one.run;
    let curves = &run.curves;
    let is_skin = matches!(run.figures, Figures::Skin(_));
    let temps: Vec<&Column> =
        curves.columns.iter().filter(|c| c.kind == ColumnKind::Temperature).collect();
    let is_behind = |c: &Column| is_skin && c.spot == Spot::BasalLayer;
    let mut upper = LinePanel::new(Axis::new("temperature [°C]"));
    upper.title = match (one.place, outcome.lies.over_cell()) {
        (Some(place), _) => format!("In the layup at {place}, skin behind it"),
        (None, Some(_)) => "In the layup, means over a cell, one copper disc behind it".to_owned(),
        (None, None) => {
            format!("In the layup, {} behind it", if is_skin { "skin" } else { "copper disc" })
        }
    };
    let in_layup: Vec<&Column> = temps.iter().copied().filter(|c| !is_behind(c)).collect();
    let named = |column: &Column| Series {
        label: by_name(column, &outcome.layup),
        ..series(curves, column, celsius)
    };
    upper.series = chosen(&in_layup).into_iter().map(named).collect();
    upper.marks = run
        .plies
        .iter()
        .enumerate()
        .filter_map(|(j, ply)| limit_mark((j, ply), curves, &in_layup))
        .collect();
    upper.x_bands.extend(flame_band(&outcome.exposure));
    let mut lower = if is_skin {
        let mut panel = LinePanel::new(Axis::new("basal layer [°C]"));
        panel.series = temps
            .iter()
            .filter(|c| is_behind(c))
            .map(|column| series(curves, column, celsius))
            .collect();
        panel.levels = vec![Level { y: 44.0, label: "44 °C".to_owned() }];
        panel
    } else {
        let mut panel = LinePanel::new(Axis::new("rise of the disc [K]"));
        panel.series = curves
            .columns
            .iter()
            .filter(|c| c.kind == ColumnKind::Rise)
            .map(|column| series(curves, column, |rise| rise))
            .collect();
        panel.levels = [12.0, 24.0].map(|y| Level { y, label: format!("{y} K") }).to_vec();
        let t_shown = shown_until(run, &outcome.exposure, asked);
        let rises = panel.series.iter().flat_map(|s| &s.points).filter(|p| p.0 <= t_shown);
        let highest = rises.map(|p| p.1).fold(28.0, f64::max);
        panel.y_axis = panel.y_axis.over(0.0, (highest / 4.0).ceil() * 4.0);
        panel
    };
    lower.height = 150.0;
    lower.events = events_of(run, &outcome.exposure);
    lower.events.extend(asked.of(&run.figures));
    lower.x_bands.extend(flame_band(&outcome.exposure));
    Ok(vec![upper, lower])
}

/// As many columns as there are looks: the first, the last, and others evenly between.
fn chosen<'a>(columns: &[&'a Column]) -> Vec<&'a Column> {
    let (n, most) = (columns.len(), LOOKS.len());
    if n <= most {
        return columns.to_vec();
    }
    (0..most).map(|i| columns[i * (n - 1) / (most - 1)]).collect()
}

fn series(curves: &Curves, column: &Column, shown: impl Fn(f64) -> f64) -> Series {
    let points = curves.t.iter().zip(&column.values).map(|(t, v)| (*t, shown(*v)));
    Series { label: column.label.clone(), points: points.collect(), trace: Trace::Line }
}

/// Where a curve is of, the plies by their names; by their numbers, too, where two have one name.
fn by_name(column: &Column, layup: &Layup) -> String {
    let names: Vec<&str> = layup.plies().map(|ply| ply.fabric.name.as_str()).collect();
    let of = |j: usize| {
        let name = names.get(j)?;
        let alone = names.iter().filter(|other| *other == name).count() == 1;
        Some(if alone { (*name).to_owned() } else { format!("{name}, ply {}", j + 1) })
    };
    let said = match column.spot {
        Spot::InnerFace(j) => of(j).map(|name| format!("inner face of {name}")),
        Spot::OuterFaceOf(j) => of(j).map(|name| format!("outer face of {name}")),
        _ => None,
    };
    said.unwrap_or_else(|| column.label.clone())
}

fn flame_band(exposure: &Exposure) -> Option<Band> {
    let word = if exposure.is_radiant() { "radiant source" } else { "flame" };
    exposure.duration.map(|to| Band {
        from: 0.0,
        to,
        label: format!("{word} on, {} s", number(to, 1)),
    })
}

/// When what stands behind the layup reaches its marks, in the words of the method.
fn events_of(run: &Run, exposure: &Exposure) -> Vec<EventMark> {
    let radiant = exposure.is_radiant();
    let marks: Vec<(&str, When)> = match &run.figures {
        Figures::Disc(figures) if radiant => {
            vec![("RHTI12", figures.rise12), ("RHTI24", figures.rise24)]
        }
        Figures::Disc(figures) => vec![
            ("HTI12", figures.rise12),
            ("HTI24", figures.rise24),
            ("Stoll crossing", figures.stoll),
        ],
        Figures::Skin(figures) => vec![
            ("44 °C", figures.basal_44),
            ("first degree", figures.first_degree),
            ("second degree", figures.second_degree),
            ("third degree", figures.third_degree),
        ],
    };
    let happened = marks.into_iter().filter_map(|(name, when)| match when {
        When::At { t, .. } => Some(EventMark { x: t, label: format!("{name} {} s", number(t, 1)) }),
        When::Unsettled { t } => {
            Some(EventMark { x: t, label: format!("{name} unsettled, {} s?", number(t, 1)) })
        }
        When::NotWithin { .. } => None,
    });
    happened.collect()
}

/// Where a ply passes its limit: on the hottest drawn line that stands at the limit then, or on its
/// inner face when that is char.
fn limit_mark(
    (j, ply): (usize, &PlyFate),
    curves: &Curves,
    columns: &[&Column],
) -> Option<PointMark> {
    let t = ply.limit_passed.t()?;
    let Some(limit) = ply.temp_limit.map(celsius) else {
        let column = inner_face_of(curves, j).or(columns.last().copied())?;
        let y = celsius(value_at(&curves.t, &column.values, t));
        return Some(PointMark { x: t, y, label: format!("{} {}", ply.name, ply.limit_event) });
    };
    let at = |column: &Column| celsius(value_at(&curves.t, &column.values, t));
    // the hottest face stands at the limit when it is first passed; of two equal ones the outer is drawn
    let nearest = columns
        .iter()
        .map(|column| at(column))
        .min_by(|a, b| (a - limit).abs().total_cmp(&(b - limit).abs()))?;
    // no face of the ply is drawn: the mark stands at the limit itself
    let y = if (nearest - limit).abs() <= 10.0 { nearest } else { limit };
    let label = format!("{} {} ({} °C)", ply.name, ply.limit_event, number(limit, 0));
    Some(PointMark { x: t, y, label })
}

/// A curve's value at a time, straight between its points.
fn value_at(times: &[f64], values: &[f64], t: f64) -> f64 {
    let i = times.partition_point(|x| *x < t).clamp(1, times.len() - 1);
    let dt = times[i] - times[i - 1];
    // at a break two points may share their time
    let share = if dt > 0.0 { (t - times[i - 1]) / dt } else { 1.0 };
    values[i - 1] + share * (values[i] - values[i - 1])
}
