//! The spread of a figure above, what each input alone does to it below.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{
    Axis, Heading, MARGIN, Plot, SHEET, Sheet, X_AXIS, bold, hairline, most_ticks, set,
};
use crate::chart::lines::{Band, EventMark, LineChart, LinePanel, Series, Trace, draw_lines};
use crate::chart::palette::{BAR_SHARE, Dash, INK, Ink, LOOKS};
use crate::chart::scale::{Ticks, range_of, ticks};
use crate::chart::text::{Weight, number, text_width, wrap};
use crate::physics::units::PERCENT;

const BAR: f64 = 12.0;
const STEP: f64 = 21.0;
const SIZE: f64 = 10.5;
const LINE: f64 = 12.5;

/// A sheet on the odds.
#[derive(Debug, Clone, PartialEq)]
pub struct OddsChart {
    /// The words around it.
    pub heading: Heading,
    /// Name and unit of the figure, such as "HTI24 [s]".
    pub figure: String,
    /// The figure of single specimens.
    pub drawn: Vec<f64>,
    /// Between them lie 90 % of the figures.
    pub central: (f64, f64),
    /// The target and what it asks for.
    pub target: (f64, String),
    /// The figure with everything at its value.
    pub nominal: f64,
    /// The inputs, uppermost first.
    pub swings: Vec<SwingBar>,
}

/// One input of the lower part.
#[derive(Debug, Clone, PartialEq)]
pub struct SwingBar {
    /// Its name.
    pub label: String,
    /// The figure with it alone at its 5 % and at its 95 % quantile.
    pub ends: [f64; 2],
    /// Remark beside it, such as its share; may be empty.
    pub note: String,
}

/// The sheet as SVG.
///
/// Errors: nothing drawn, a value that is not finite.
pub fn odds_chart(chart: &OddsChart) -> Result<String, ChartError> {
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let bottom = draw_lines(&mut sheet, &spread(chart)?)?;
    let bottom = draw_swings(&mut sheet.canvas, chart, bottom + 16.0)?;
    sheet.finish(bottom)
}

/// Share of the figures in each of equal classes, as a stepped line.
fn spread(chart: &OddsChart) -> Result<LineChart, ChartError> {
    check_finite("the figures", chart.drawn.iter().copied())?;
    if chart.drawn.is_empty() {
        return Err(ChartError::Empty { part: "the figures".to_owned() });
    }
    let ends = |(low, high): (f64, f64), x: &f64| (low.min(*x), high.max(*x));
    let (low, high) = chart.drawn.iter().fold((f64::INFINITY, f64::NEG_INFINITY), ends);
    // a class for every root of the number, as is usual; at most 40
    let n_classes = ((chart.drawn.len() as f64).sqrt().ceil() as usize).clamp(5, 40);
    let width = ((high - low) / n_classes as f64).max(1e-9 * high.abs().max(1.0));
    let mut counts = vec![0.0; n_classes];
    for x in &chart.drawn {
        counts[(((x - low) / width) as usize).min(n_classes - 1)] += PERCENT.outside(1.0);
    }
    let mut points = vec![(low, 0.0)];
    for (i, count) in counts.iter().enumerate() {
        let share = count / chart.drawn.len() as f64;
        points.extend([0, 1].map(|end| (low + width * (i + end) as f64, share)));
    }
    points.push((low + width * n_classes as f64, 0.0));
    let top = points.iter().map(|point| point.1).fold(1.0, f64::max);
    let mut panel = LinePanel::new(Axis::new("specimens in class [%]").over(0.0, 1.1 * top));
    panel.title = "How the figure spreads".to_owned();
    panel.height = 190.0;
    let label = format!("one specimen, {} drawn", chart.drawn.len());
    panel.series.push(Series { label, points, trace: Trace::Line });
    let (from, to) = chart.central;
    panel.x_bands.push(Band { from, to, label: "central 90 %".to_owned() });
    let target = EventMark { x: chart.target.0, label: chart.target.1.clone() };
    panel.events.push(target);
    let (from, to) =
        (low.min(chart.target.0), (low + width * n_classes as f64).max(chart.target.0));
    let edge = 0.02 * (to - from);
    let x_axis = Axis::new(chart.figure.clone()).over((from - edge).max(0.0), to + edge);
    Ok(LineChart { heading: Heading::default(), x_axis, panels: vec![panel], beside: None })
}

/// Bars from the figure with everything at its value to either end.
fn draw_swings(canvas: &mut Canvas, chart: &OddsChart, top: f64) -> Result<f64, ChartError> {
    let ends = || chart.swings.iter().flat_map(|bar| bar.ends);
    check_finite("the inputs", ends().chain([chart.nominal]))?;
    if chart.swings.is_empty() {
        return Err(ChartError::Empty { part: "the inputs".to_owned() });
    }
    canvas.text("What each input alone does", (MARGIN, top + 12.0), bold(11.5), Anchor::Start);
    let inks = [LOOKS[1].ink.on_white(BAR_SHARE), LOOKS[0].ink.on_white(BAR_SHARE)];
    draw_key(canvas, inks, top + 28.0);
    let room = SHEET - 2.0 * MARGIN;
    let labels: Vec<Vec<String>> = chart
        .swings
        .iter()
        .map(|bar| wrap(&bar.label, 0.36 * room, SIZE, Weight::Regular))
        .collect();
    let widest = |texts: &mut dyn Iterator<Item = &String>| {
        texts.map(|text| text_width(text, SIZE, Weight::Regular)).fold(0.0, f64::max)
    };
    let left = MARGIN + widest(&mut labels.iter().flatten()) + 12.0;
    let notes = widest(&mut chart.swings.iter().map(|bar| &bar.note)) + 14.0;
    let width = SHEET - MARGIN - notes - left;
    let all = ends().chain([chart.nominal, chart.target.0]);
    let most = most_ticks(width, 52.0);
    let (from, to) = range_of(&format!("axis \"{}\"", chart.figure), None, all, most)?;
    let x_ticks = ticks(from, to, most);
    let heights: Vec<f64> =
        labels.iter().map(|lines| STEP.max(lines.len() as f64 * LINE + 6.0)).collect();
    let rect = Rect { x: left, y: top + 50.0, w: width, h: heights.iter().sum::<f64>() + 8.0 };
    let plot = Plot::new(rect, (from, to), (0.0, 1.0));
    plot.grid(canvas, &x_ticks, &Ticks::none());
    let mut y = rect.y + 4.0;
    for ((bar, lines), height) in chart.swings.iter().zip(&labels).zip(&heights) {
        draw_bar(canvas, bar, &plot, (chart.nominal, y + height / 2.0), inks);
        let first = y + height / 2.0 - lines.len() as f64 * LINE / 2.0;
        for (i, line) in lines.iter().enumerate() {
            let at = (left - 9.0, first + LINE * (i as f64 + 0.78));
            canvas.text(line, at, set(SIZE, INK), Anchor::End);
        }
        let at = (rect.x + rect.w + 8.0, y + height / 2.0 + 3.8);
        canvas.text(&bar.note, at, set(SIZE, INK), Anchor::Start);
        y += height;
    }
    upright(canvas, &plot, chart.nominal, Dash::Full);
    if plot.x.holds(chart.target.0) {
        upright(canvas, &plot, chart.target.0, Dash::Short);
    }
    let label =
        format!("{}; full line: {}, dashed: target", chart.figure, number(chart.nominal, 2));
    plot.x_axis(canvas, &x_ticks, &label);
    canvas.line(&[(rect.x, rect.y + rect.h), (rect.x + rect.w, rect.y + rect.h)], hairline(INK));
    Ok(rect.y + rect.h + X_AXIS)
}

fn upright(canvas: &mut Canvas, plot: &Plot, x: f64, dash: Dash) {
    let x = plot.x.place(x);
    let stroke = Stroke { dash, width: 1.25, ..hairline(INK) };
    canvas.line(&[(x, plot.rect.y), (x, plot.rect.y + plot.rect.h)], stroke);
}

/// Which end has which colour.
fn draw_key(canvas: &mut Canvas, inks: [Ink; 2], y: f64) {
    let mut x = MARGIN;
    for (ink, words) in inks.into_iter().zip(["input at its 5 % quantile (−)", "at its 95 % (+)"])
    {
        canvas.block(Rect { x, y: y - 9.0, w: 12.0, h: 10.0 }, ink);
        canvas.text(words, (x + 17.0, y), set(SIZE, INK), Anchor::Start);
        x += 17.0 + text_width(words, SIZE, Weight::Regular) + 18.0;
    }
}

/// Both halves of a bar; signs at the ends, so that nothing rests on colour.
fn draw_bar(
    canvas: &mut Canvas,
    bar: &SwingBar,
    plot: &Plot,
    (nominal, y): (f64, f64),
    inks: [Ink; 2],
) {
    let middle = plot.x.place(nominal);
    for ((end, ink), sign) in bar.ends.iter().zip(inks).zip(["−", "+"]) {
        let x = plot.x.place(*end);
        let rect = Rect { x: middle.min(x), y: y - BAR / 2.0, w: (x - middle).abs(), h: BAR };
        canvas.block(rect, ink);
        if rect.w > 14.0 {
            let at = (if x < middle { x + 6.0 } else { x - 6.0 }, y + 3.8);
            canvas.text(sign, at, set(SIZE, INK), Anchor::Middle);
        }
    }
}
