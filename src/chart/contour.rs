//! A quantity over two others, or over a plane: filled contours or coloured cells with a colour bar.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke, Type, text_box};
use crate::chart::clip::clip_line;
use crate::chart::error::{ChartError, check_finite};
use crate::chart::field_paths::{Grid, contour_parts, joined, rings_above};
use crate::chart::frame::{
    MARGIN, Plot, SHEET, Sheet, X_AXIS, bar_marks, hairline, most_ticks, set, y_gutter,
};
use crate::chart::legend::draw_marker;
use crate::chart::line_data::PointMark;
use crate::chart::palette::{Dash, GREY, INK, Ink, Marker, PAPER, ramp};
use crate::chart::panel::window_of;
use crate::chart::place::Obstacles;
use crate::chart::scale::{Ticks, range_of, ticks};
use crate::chart::text::{Weight, number, text_width};
use crate::chart::thinning::{heading_of, thinned};

pub use crate::chart::field_data::{Dark, FieldChart, Fill, Shape};

/// The chart as SVG.
///
/// Errors: fewer than two places on an axis, places that do not increase, a value that is not finite,
/// lists that do not match.
pub fn field_chart(chart: &FieldChart) -> Result<String, ChartError> {
    field_chart_under(chart, None)
}

/// A second scale above the plane, for a quantity that goes with the horizontal axis alone.
#[derive(Debug, Clone, PartialEq)]
pub struct TopScale {
    /// Label with the unit.
    pub label: String,
    /// Places along the horizontal axis and what is written there.
    pub marks: Vec<(f64, String)>,
}

/// The chart with a second scale above it, if wanted.
///
/// Errors: as [`field_chart`], and a mark whose place is not finite.
pub fn field_chart_under(
    chart: &FieldChart,
    above: Option<&TopScale>,
) -> Result<String, ChartError> {
    check(chart)?;
    check_finite("marks above", above.iter().flat_map(|a| &a.marks).map(|mark| mark.0))?;
    let (low, high) = range_of("the colours", chart.value.range, chart.values.iter().copied(), 8)?;
    let levels = ticks(low, high, 9);
    let thin = thinned(chart, &levels);
    let grid = thin.grid();
    let heading = heading_of(chart, &thin);
    let shades = Shades { range: (low, high), dark: chart.dark };
    let (x, y) = (ends(grid.xs), ends(grid.ys));
    let (x, y) = match chart.fill {
        Fill::Contours => (x, y),
        Fill::Cells => (ends(&borders(grid.xs)), ends(&borders(grid.ys))),
    };
    let bar_room = bar_width(&levels) + 34.0;
    let (y_ticks, left, w, h) = proportions(chart, (x, y), bar_room);
    let mut sheet = Sheet::begin(&heading, (left + w + bar_room + MARGIN).max(480.0));
    let room_above = if above.is_some() { TOP_SCALE } else { 0.0 };
    let rect = Rect { x: left, y: sheet.top + 8.0 + room_above, w, h };
    let plot = Plot::new(rect, x, y);
    let x_ticks = ticks(x.0, x.1, most_ticks(w, 52.0));
    let canvas = &mut sheet.canvas;
    let mut obstacles = Obstacles::default();
    match chart.fill {
        Fill::Contours => draw_bands(canvas, &grid, &plot, &levels, shades),
        Fill::Cells => draw_cells(canvas, &grid, &plot, shades),
    }
    for line in &chart.lines {
        for piece in clip_line(line, &window_of(&plot)) {
            let piece: Vec<_> = piece.iter().map(|p| plot.at(p.0, p.1)).collect();
            canvas.line(&piece, Stroke { width: 3.0, ..hairline(PAPER.thin(0.8)) });
            canvas.line(&piece, Stroke { width: 1.5, ink: INK, dash: Dash::Short });
            obstacles.add_line(&piece);
        }
    }
    if chart.fill == Fill::Contours {
        let labels = place_labels(&grid, &plot, &levels, &obstacles);
        obstacles.taken.extend(labels.iter().map(|label| label.rect));
        let named = place_marks(chart, &plot, &mut obstacles);
        let numbers = labels.iter().map(|label| label.rect);
        let boxes: Vec<Rect> = numbers.chain(named.iter().copied().flatten()).collect();
        draw_contours(canvas, &grid, &plot, &levels, &boxes);
        for label in &labels {
            canvas.text(&label.text, label.baseline, LABEL, Anchor::Middle);
        }
        draw_field_marks(canvas, chart, &plot, &named);
    } else {
        let named = place_marks(chart, &plot, &mut obstacles);
        draw_field_marks(canvas, chart, &plot, &named);
    }
    plot.edges(canvas);
    if let Some(above) = above {
        draw_top_scale(canvas, above, &plot);
    }
    plot.x_axis(canvas, &x_ticks, &chart.x_label);
    plot.y_axis(canvas, &y_ticks, &chart.y_label, left - MARGIN);
    let bar = Rect { x: rect.x + rect.w + 20.0, y: rect.y, w: 16.0, h: rect.h };
    draw_colour_bar(canvas, chart, bar, &levels, shades);
    sheet.finish(rect.y + rect.h + X_AXIS)
}

/// Height of a second scale above the plane [px].
const TOP_SCALE: f64 = 34.0;

fn draw_top_scale(canvas: &mut Canvas, above: &TopScale, plot: &Plot) {
    let Rect { x, y, w, .. } = plot.rect;
    canvas.line(&[(x, y), (x + w, y)], hairline(INK));
    for (place, text) in above.marks.iter().filter(|mark| plot.x.holds(mark.0)) {
        let at = plot.x.place(*place);
        canvas.line(&[(at, y), (at, y - 4.0)], hairline(INK));
        canvas.text(text, (at, y - 7.0), set(11.0, INK), Anchor::Middle);
    }
    canvas.text(&above.label, (x + w / 2.0, y - 23.0), set(11.0, INK), Anchor::Middle);
}

/// Ticks of the vertical axis, left edge, width and height of the plot.
fn proportions(
    chart: &FieldChart,
    (x, y): ((f64, f64), (f64, f64)),
    bar_room: f64,
) -> (Ticks, f64, f64, f64) {
    let room = SHEET - 2.0 * MARGIN - bar_room - 20.0;
    let tall = 380.0;
    let guess = ticks(y.0, y.1, most_ticks(tall, 42.0));
    let left = MARGIN + y_gutter(&guess, &chart.y_label, tall);
    let wide = room - (left - MARGIN);
    if chart.shape == Shape::Diagram {
        return (guess, left, wide + 20.0, 360.0);
    }
    let px = (wide / (x.1 - x.0)).min(tall / (y.1 - y.0));
    let (w, h) = ((x.1 - x.0) * px, (y.1 - y.0) * px);
    (ticks(y.0, y.1, most_ticks(h, 42.0)), left, w, h)
}

fn ends(places: &[f64]) -> (f64, f64) {
    (places[0], places[places.len() - 1])
}

/// Borders of cells around places: half way between, the outer ones as far out as in.
fn borders(places: &[f64]) -> Vec<f64> {
    let n = places.len();
    let mut all = vec![places[0] - (places[1] - places[0]) / 2.0];
    all.extend(places.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0));
    all.push(places[n - 1] + (places[n - 1] - places[n - 2]) / 2.0);
    all
}

/// What the colours stand for: a range of values, and which end of it is dark.
#[derive(Debug, Clone, Copy)]
struct Shades {
    range: (f64, f64),
    dark: Dark,
}

impl Shades {
    /// The place of a value on the ramp [–]; beyond the range that of its end, which the bar's label says.
    fn share(&self, value: f64) -> f64 {
        let (low, high) = self.range;
        let share = ((value - low) / (high - low)).clamp(0.0, 1.0);
        if self.dark == Dark::High { share } else { 1.0 - share }
    }

    fn ink(&self, value: f64) -> Ink {
        ramp(self.share(value))
    }
}

/// Bands from the lowest up, each region above a level painted over the one before.
fn draw_bands(canvas: &mut Canvas, grid: &Grid<'_>, plot: &Plot, levels: &Ticks, shades: Shades) {
    let inks = band_shades(levels, shades);
    canvas.block(plot.rect, inks[0]);
    for (level, ink) in levels.values.iter().zip(&inks[1..]) {
        let placed: Vec<Vec<_>> = rings_above(grid, *level)
            .iter()
            .map(|ring| ring.iter().map(|c| plot.at(c.0.0, c.0.1)).collect())
            .collect();
        canvas.fill(&joined(&placed), *ink);
    }
}

/// The lines of all levels, broken where labels stand.
fn draw_contours(
    canvas: &mut Canvas,
    grid: &Grid<'_>,
    plot: &Plot,
    levels: &Ticks,
    labels: &[Rect],
) {
    for level in &levels.values {
        let rings = rings_above(grid, *level);
        for part in rings.iter().flat_map(|ring| contour_parts(ring)) {
            let part: Vec<_> = part.iter().map(|p| plot.at(p.0, p.1)).collect();
            for piece in outside(&part, labels) {
                canvas.line(&piece, Stroke { width: 0.75, ..hairline(GREY) });
            }
        }
    }
}

/// The pieces of a line outside all of the boxes.
fn outside(line: &[(f64, f64)], boxes: &[Rect]) -> Vec<Vec<(f64, f64)>> {
    let holds = |(x, y): (f64, f64)| {
        boxes.iter().any(|b| b.x <= x && x <= b.x + b.w && b.y <= y && y <= b.y + b.h)
    };
    let mut pieces = Vec::new();
    let mut piece = Vec::new();
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        // a pixel at most between two looks
        let n = (b.0 - a.0).hypot(b.1 - a.1).ceil().clamp(1.0, 4000.0) as usize;
        let near = boxes.iter().any(|r| {
            let (low, high) = (a.0.min(b.0), a.0.max(b.0));
            let (top, bottom) = (a.1.min(b.1), a.1.max(b.1));
            low <= r.x + r.w && r.x <= high && top <= r.y + r.h && r.y <= bottom
        });
        let n = if near { n } else { 1 };
        for i in 0..=n {
            let share = i as f64 / n as f64;
            let at = (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
            if holds(at) {
                pieces.push(std::mem::take(&mut piece));
            } else if piece.last() != Some(&at) {
                piece.push(at);
            }
        }
    }
    pieces.push(piece);
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

/// The shade below the lowest level and above each: the colour in the middle of the band.
fn band_shades(levels: &Ticks, shades: Shades) -> Vec<Ink> {
    let mut bounds = vec![shades.range.0];
    bounds.extend(&levels.values);
    bounds.push(shades.range.1);
    bounds.windows(2).map(|pair| shades.ink((pair[0] + pair[1]) / 2.0)).collect()
}

/// How a level's number is set.
const LABEL: Type = Type { size: 10.0, weight: Weight::Regular, ink: INK };

/// A level's number and its place.
struct Label {
    text: String,
    baseline: (f64, f64),
    rect: Rect,
}

/// A place for each level's number, once, on the middle of its longest line, where there is room.
fn place_labels(grid: &Grid<'_>, plot: &Plot, levels: &Ticks, obstacles: &Obstacles) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    for level in &levels.values {
        let text = number(*level, levels.decimals);
        let rings = rings_above(grid, *level);
        let parts = rings.iter().flat_map(|ring| contour_parts(ring));
        let longest = parts
            .map(|part| part.iter().map(|p| plot.at(p.0, p.1)).collect::<Vec<_>>())
            .max_by(|a, b| length(a).total_cmp(&length(b)));
        let Some(line) = longest.filter(|line| length(line) > 60.0) else {
            continue;
        };
        for share in [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8] {
            let at = line[((line.len() - 1) as f64 * share) as usize];
            let baseline = (at.0, at.1 + 3.6);
            let words = text_box(&text, baseline, LABEL, Anchor::Middle);
            let rect =
                Rect { x: words.x - 2.0, y: words.y - 1.0, w: words.w + 4.0, h: words.h + 2.0 };
            let free = !labels.iter().any(|label| label.rect.meets(&rect));
            let clear = !obstacles
                .points
                .iter()
                .any(|p| rect.meets(&Rect { x: p.0 - 1.0, y: p.1 - 1.0, w: 2.0, h: 2.0 }));
            if plot.rect.contains(&rect) && free && clear {
                labels.push(Label { text, baseline, rect });
                break;
            }
        }
    }
    labels
}

fn length(line: &[(f64, f64)]) -> f64 {
    line.windows(2).map(|p| (p[1].0 - p[0].0).hypot(p[1].1 - p[0].1)).sum()
}

/// Cells in 48 shades, runs of one shade merged, all of one shade in one polygon.
fn draw_cells(canvas: &mut Canvas, grid: &Grid<'_>, plot: &Plot, shades: Shades) {
    const SHADES: usize = 48;
    let (bx, by) = (borders(grid.xs), borders(grid.ys));
    let nx = grid.xs.len();
    let shade = |value: f64| ((shades.share(value) * SHADES as f64) as usize).min(SHADES - 1);
    let mut rings: Vec<Vec<Vec<(f64, f64)>>> = vec![Vec::new(); SHADES];
    for (j, row) in grid.values.chunks(nx).enumerate() {
        let mut i = 0;
        while i < nx {
            let start = i;
            let run = shade(row[start]);
            while i < nx && shade(row[i]) == run {
                i += 1;
            }
            let (a, b) = (plot.at(bx[start], by[j]), plot.at(bx[i], by[j + 1]));
            // a quarter px over the next cell hides the seam, but never over the frame
            let right = (b.0 + 0.25).min(plot.rect.x + plot.rect.w);
            let up = (b.1 - 0.25).max(plot.rect.y);
            rings[run].push(vec![a, (right, a.1), (right, up), (a.0, up)]);
        }
    }
    for (i, rings) in rings.iter().enumerate() {
        canvas.fill(&joined(rings), ramp((i as f64 + 0.5) / SHADES as f64));
    }
}

/// The marks within the plot.
fn shown<'a>(chart: &'a FieldChart, plot: &Plot) -> Vec<&'a PointMark> {
    chart.marks.iter().filter(|m| window_of(plot).holds((m.x, m.y))).collect()
}

/// Places for the names of the marks; none where there is no room.
fn place_marks(chart: &FieldChart, plot: &Plot, obstacles: &mut Obstacles) -> Vec<Option<Rect>> {
    let shown = shown(chart, plot);
    for mark in &shown {
        let at = plot.at(mark.x, mark.y);
        obstacles.taken.push(Rect { x: at.0 - 5.0, y: at.1 - 5.0, w: 10.0, h: 10.0 });
    }
    let place = |mark: &&PointMark| {
        let size = (text_width(&mark.label, 10.0, Weight::Regular) + 6.0, 14.0);
        obstacles.place(plot.at(mark.x, mark.y), size, plot.rect)
    };
    shown.iter().map(place).collect()
}

fn draw_field_marks(canvas: &mut Canvas, chart: &FieldChart, plot: &Plot, names: &[Option<Rect>]) {
    for (mark, name) in shown(chart, plot).into_iter().zip(names) {
        draw_marker(canvas, Marker::Cross, plot.at(mark.x, mark.y), INK);
        if let Some(rect) = name {
            canvas.block(*rect, PAPER.thin(0.85));
            let words = (rect.x + 3.0, rect.y + 10.5);
            canvas.text(&mark.label, words, set(10.0, INK), Anchor::Start);
        }
    }
}

fn bar_width(levels: &Ticks) -> f64 {
    let widths = levels.labels().into_iter().map(|t| text_width(&t, 11.0, Weight::Regular));
    16.0 + 8.0 + widths.fold(0.0, f64::max) + 18.0
}

/// The colour bar with ticks on its right and its label, reading upwards, beyond them.
fn draw_colour_bar(
    canvas: &mut Canvas,
    chart: &FieldChart,
    bar: Rect,
    levels: &Ticks,
    shades: Shades,
) {
    let (low, high) = shades.range;
    let place = |value: f64| bar.y + bar.h * (high - value) / (high - low);
    let mut bounds = vec![low];
    match chart.fill {
        Fill::Contours => bounds.extend(&levels.values),
        Fill::Cells => bounds.extend((1..48).map(|i| low + (high - low) * f64::from(i) / 48.0)),
    }
    bounds.push(high);
    // each shade reaches down to the foot and is painted over by the next: no seams
    for pair in bounds.windows(2).rev().filter(|pair| pair[1] > pair[0]) {
        let top = place(pair[1]);
        let rect = Rect { x: bar.x, y: top, w: bar.w, h: bar.y + bar.h - top };
        canvas.block(rect, shades.ink((pair[0] + pair[1]) / 2.0));
    }
    bar_marks(canvas, bar, levels, place);
    let x = bar.x + bar_width(levels) + 4.0;
    canvas.text_upright(&chart.value.label, (x, bar.y + bar.h / 2.0), set(11.0, INK));
}

fn check(chart: &FieldChart) -> Result<(), ChartError> {
    for (name, places) in [(&chart.x_label, &chart.xs), (&chart.y_label, &chart.ys)] {
        let part = format!("axis \"{name}\"");
        if places.len() < 2 {
            return Err(ChartError::Empty { part });
        }
        check_finite(&part, places.iter().copied())?;
        if let Some(i) = places.windows(2).position(|pair| pair[0] >= pair[1]) {
            return Err(ChartError::NotIncreasing { part, index: i + 1 });
        }
    }
    let part = format!("field \"{}\"", chart.value.label);
    let (expected, found) = (chart.xs.len() * chart.ys.len(), chart.values.len());
    if expected != found {
        return Err(ChartError::Lengths { part, expected, found });
    }
    check_finite(&part, chart.values.iter().copied())?;
    check_finite("lines over the field", chart.lines.iter().flatten().map(|p| p.0 + p.1))?;
    check_finite("marks", chart.marks.iter().map(|mark| mark.x + mark.y))
}
