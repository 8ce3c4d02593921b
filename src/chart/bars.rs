//! Horizontal bars, one or several to a group, with whiskers and target lines.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::events::{Flag, Lanes};
use crate::chart::frame::{
    Axis, Heading, MARGIN, Plot, SHEET, Sheet, X_AXIS, hairline, most_ticks, set,
};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{BAR_SHARE, INK, Ink, LOOKS, Look, PAPER};
use crate::chart::scale::{Ticks, range_of, ticks};
use crate::chart::text::{Weight, text_width, wrap};

const BAR: f64 = 17.0;
const GAP: f64 = 11.0;
const SIZE: f64 = 10.5;
const LINE: f64 = 13.0;

/// A chart of horizontal bars.
#[derive(Debug, Clone, PartialEq)]
pub struct BarChart {
    /// The words around it.
    pub heading: Heading,
    /// The axis of the values; without a range it holds 0.
    pub axis: Axis,
    /// Names of the bars of a group; a single one needs no legend.
    pub names: Vec<String>,
    /// The groups, uppermost first.
    pub groups: Vec<BarGroup>,
    /// Values to compare with.
    pub targets: Vec<TargetLine>,
}

/// The bars of one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct BarGroup {
    /// What they belong to.
    pub label: String,
    /// One for each name, in their order; none where there is no value.
    pub bars: Vec<Option<Bar>>,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its value.
    pub value: f64,
    /// Ends of the whisker, if there is one.
    pub whisker: Option<(f64, f64)>,
    /// The value in words with its error, such as "8.4 ± 0.3"; may be empty.
    pub note: String,
}

/// A vertical line across all bars.
#[derive(Debug, Clone, PartialEq)]
pub struct TargetLine {
    /// Where.
    pub value: f64,
    /// What it stands for.
    pub label: String,
}

/// The chart as SVG.
///
/// Errors: no bars, a group whose bars do not match the names, a value that is not finite.
pub fn bar_chart(chart: &BarChart) -> Result<String, ChartError> {
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let top = sheet.top;
    let bottom = draw_bars(&mut sheet.canvas, chart, top, Tint::OfBar)?;
    sheet.finish(bottom)
}

/// What gives a bar its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tint {
    /// Its place in the group.
    OfBar,
    /// Its group's place among the groups.
    OfGroup,
}

/// Draws the bars from `top` on; returns where they end [px].
///
/// Errors: as [`bar_chart`]; more groups than looks when they give the colour are drawn in the last one.
pub(crate) fn draw_bars(
    canvas: &mut Canvas,
    chart: &BarChart,
    top: f64,
    tint: Tint,
) -> Result<f64, ChartError> {
    check(chart)?;
    let room = SHEET - 2.0 * MARGIN;
    let labels: Vec<Vec<String>> = chart
        .groups
        .iter()
        .map(|group| wrap(&group.label, room * 0.3, SIZE, Weight::Regular))
        .collect();
    let left = MARGIN + widest(labels.iter().flatten()) + 12.0;
    let notes = chart.groups.iter().flat_map(|g| g.bars.iter().flatten()).map(|bar| &bar.note);
    let note_room = widest(notes) + 12.0;
    let (from, to) = range(chart)?;
    // values reach at most up to where the longest note still fits beside them
    let width = SHEET - MARGIN - note_room.max(20.0) - left;
    let x_ticks = ticks(from, to, most_ticks(width, 52.0));

    let entries = chart.names.iter().zip(LOOKS).map(|(name, look)| Entry {
        swatch: Swatch::Patch(bar_ink(look.ink)),
        label: name.clone(),
    });
    let entries = if chart.names.len() > 1 { entries.collect() } else { Vec::new() };
    let legend = Legend::new(entries, SHEET - MARGIN - left);
    legend.draw(canvas, left, top);
    let heights: Vec<f64> = labels
        .iter()
        .map(|lines| (chart.names.len() as f64 * BAR).max(lines.len() as f64 * LINE) + GAP)
        .collect();
    let scale = Plot::new(Rect { x: left, y: 0.0, w: width, h: 1.0 }, (from, to), (0.0, 1.0)).x;
    let flags: Vec<Flag> = chart
        .targets
        .iter()
        .filter(|target| scale.holds(target.value))
        .map(|target| Flag { x: scale.place(target.value), label: target.label.clone() })
        .collect();
    let lanes = Lanes::new(&flags, left, SHEET - MARGIN);
    let top = top + legend.height() + lanes.height() + 4.0;
    let rect = Rect { x: left, y: top, w: width, h: heights.iter().sum::<f64>() + GAP };
    let plot = Plot::new(rect, (from, to), (0.0, 1.0));
    plot.grid(canvas, &x_ticks, &Ticks::none());
    let mut y = rect.y + GAP;
    for (i, ((group, lines), height)) in chart.groups.iter().zip(&labels).zip(&heights).enumerate()
    {
        let looks = match tint {
            Tint::OfBar => &LOOKS[..],
            Tint::OfGroup => &LOOKS[i.min(LOOKS.len() - 1)..],
        };
        draw_group(canvas, group, (lines, looks), &plot, (y, height - GAP));
        y += height;
    }
    lanes.draw(canvas, rect.y, rect.y + rect.h);
    let crossed: Vec<f64> = flags.iter().map(|flag| flag.x).collect();
    let mut y = rect.y + GAP;
    for (group, height) in chart.groups.iter().zip(&heights) {
        draw_whiskers(canvas, group, (&plot, &crossed), (y, height - GAP));
        y += height;
    }
    let zero = plot.x.place(if plot.x.holds(0.0) { 0.0 } else { from });
    canvas.line(&[(zero, rect.y), (zero, rect.y + rect.h)], hairline(INK));
    plot.x_axis(canvas, &x_ticks, &chart.axis.label);
    canvas.line(&[(rect.x, rect.y + rect.h), (rect.x + rect.w, rect.y + rect.h)], hairline(INK));
    Ok(rect.y + rect.h + X_AXIS)
}

fn bar_ink(ink: Ink) -> Ink {
    ink.on_white(BAR_SHARE)
}

fn widest<'a>(texts: impl Iterator<Item = &'a String>) -> f64 {
    texts.map(|text| text_width(text, SIZE, Weight::Regular)).fold(0.0, f64::max)
}

/// Label and bars of one group in a strip of paper.
fn draw_group(
    canvas: &mut Canvas,
    group: &BarGroup,
    (lines, looks): (&[String], &[Look]),
    plot: &Plot,
    (top, height): (f64, f64),
) {
    let first = top + height / 2.0 - lines.len() as f64 * LINE / 2.0;
    for (i, line) in lines.iter().enumerate() {
        let at = (plot.rect.x - 9.0, first + LINE * (i as f64 + 0.78));
        canvas.text(line, at, set(SIZE, INK), Anchor::End);
    }
    let base = 0.0f64.clamp(plot.x.from, plot.x.to);
    let mut y = top + (height - group.bars.len() as f64 * BAR) / 2.0;
    for (bar, look) in group.bars.iter().zip(looks) {
        if let Some(bar) = bar {
            draw_bar(canvas, bar, look.ink, plot, (base, y + BAR / 2.0));
        }
        y += BAR;
    }
}

/// Whiskers and notes of one group, over the target lines.
/// - `crossed`: where lines go down across all bars [px]
fn draw_whiskers(
    canvas: &mut Canvas,
    group: &BarGroup,
    (plot, crossed): (&Plot, &[f64]),
    (top, height): (f64, f64),
) {
    let base = 0.0f64.clamp(plot.x.from, plot.x.to);
    let mut y = top + (height - group.bars.len() as f64 * BAR) / 2.0;
    for bar in &group.bars {
        if let Some(bar) = bar {
            draw_whisker(canvas, bar, (plot, crossed), (base, y + BAR / 2.0));
        }
        y += BAR;
    }
}

fn draw_bar(canvas: &mut Canvas, bar: &Bar, ink: Ink, plot: &Plot, (base, y): (f64, f64)) {
    let (from, to) = (plot.x.place(base.min(bar.value)), plot.x.place(base.max(bar.value)));
    canvas.block(Rect { x: from, y: y - 6.5, w: to - from, h: 13.0 }, bar_ink(ink));
}

fn draw_whisker(
    canvas: &mut Canvas,
    bar: &Bar,
    (plot, crossed): (&Plot, &[f64]),
    (base, y): (f64, f64),
) {
    let (low, high) = bar.whisker.unwrap_or((bar.value, bar.value));
    if bar.whisker.is_some() {
        let (x0, x1) = (plot.x.place(low), plot.x.place(high));
        let stroke = Stroke { width: 1.25, ..hairline(INK) };
        canvas.line(&[(x0, y), (x1, y)], stroke);
        for x in [x0, x1] {
            canvas.line(&[(x, y - 4.0), (x, y + 4.0)], stroke);
        }
    }
    let mut end = plot.x.place(high.max(bar.value).max(base)) + 6.0;
    if !bar.note.is_empty() {
        let w = text_width(&bar.note, SIZE, Weight::Regular);
        // behind the lines that would run through it
        while let Some(x) = crossed.iter().find(|x| end - 2.0 < **x && **x < end + w + 2.0) {
            end = x + 5.0;
        }
        canvas.block(Rect { x: end - 2.0, y: y - 6.0, w: w + 4.0, h: 12.0 }, PAPER.thin(0.85));
        canvas.text(&bar.note, (end, y + 3.8), set(SIZE, INK), Anchor::Start);
    }
}

/// The given range if it holds every bar, else an error; without one, the data's with 0.
fn range(chart: &BarChart) -> Result<(f64, f64), ChartError> {
    let bars = || chart.groups.iter().flat_map(|group| group.bars.iter().flatten());
    let ends = bars().flat_map(|bar| {
        let (low, high) = bar.whisker.unwrap_or((bar.value, bar.value));
        [bar.value, low, high]
    });
    let part = format!("axis \"{}\"", chart.axis.label);
    let targets = chart.targets.iter().map(|target| target.value);
    let all: Vec<f64> = ends.collect();
    let (from, to) =
        range_of(&part, chart.axis.range, all.iter().copied().chain(targets).chain([0.0]), 8)?;
    if let Some(value) = all.iter().copied().find(|v| *v < from || *v > to) {
        return Err(ChartError::OutsideRange { part, value, from, to });
    }
    Ok((from, to))
}

fn check(chart: &BarChart) -> Result<(), ChartError> {
    let empty = || ChartError::Empty { part: "the bars".to_owned() };
    if chart.names.is_empty() || chart.groups.iter().all(|g| g.bars.iter().all(Option::is_none)) {
        return Err(empty());
    }
    if chart.names.len() > LOOKS.len() {
        let (part, found) = ("a group of bars".to_owned(), chart.names.len());
        return Err(ChartError::TooMany { part, found, limit: LOOKS.len() });
    }
    for group in &chart.groups {
        let part = format!("group \"{}\"", group.label);
        if group.bars.len() != chart.names.len() {
            let (expected, found) = (chart.names.len(), group.bars.len());
            return Err(ChartError::Lengths { part, expected, found });
        }
        for bar in group.bars.iter().flatten() {
            let (low, high) = bar.whisker.unwrap_or((bar.value, bar.value));
            check_finite(&part, [bar.value, low, high])?;
            if low > high {
                let part = format!("whisker in {part}");
                return Err(ChartError::BadRange { part, from: low, to: high });
            }
        }
    }
    check_finite("targets", chart.targets.iter().map(|target| target.value))
}
