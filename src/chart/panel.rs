//! One panel of a line chart: what it shows, drawn in order from back to front.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke, text_box};
use crate::chart::clip::{Window, clip_line, clip_polygon};
use crate::chart::events::Lanes;
use crate::chart::frame::{MARGIN, Plot, bold, hairline, set};
use crate::chart::legend::{Entry, Legend, Swatch, draw_marker, stroke_of};
use crate::chart::line_data::{LinePanel, PointMark, Trace};
use crate::chart::palette::{Dash, GREY, INK, Ink, LOOKS, Marker, PAPER, RIBBON, WITHIN, band_ink};
use crate::chart::place::{Obstacles, nearest, rim, spread};
use crate::chart::scale::TickPair;
use crate::chart::text::{Weight, text_width, wrap};

/// Widest label of a horizontal line in the right gutter [px].
const LEVEL_LABEL: f64 = 104.0;
const LEVEL_SIZE: f64 = 10.0;
const LEVEL_LINE: f64 = 12.0;

/// Where the parts of a panel lie.
#[derive(Debug)]
pub(crate) struct Layout {
    pub title_top: f64,
    pub legend_top: f64,
    pub legend: Legend,
    pub lanes: Lanes,
    pub plot: Plot,
}

/// Draws a panel but for its horizontal axis.
pub(crate) fn draw_panel(
    canvas: &mut Canvas,
    panel: &LinePanel,
    layout: &Layout,
    (x_ticks, y_ticks): TickPair<'_>,
    gutter: f64,
) {
    let plot = &layout.plot;
    if !panel.title.is_empty() {
        canvas.text(&panel.title, (MARGIN, layout.title_top + 12.0), bold(11.5), Anchor::Start);
    }
    layout.legend.draw(canvas, plot.rect.x, layout.legend_top);
    draw_bands(canvas, panel, plot);
    plot.grid(canvas, x_ticks, y_ticks);
    draw_ribbons(canvas, panel, plot);
    layout.lanes.draw(canvas, plot.rect.y, plot.rect.y + plot.rect.h);
    draw_levels(canvas, panel, plot);
    let mut obstacles = Obstacles::default();
    for (series, look) in panel.series.iter().zip(LOOKS) {
        if series.trace != Trace::Points {
            for piece in clip_line(&series.points, &window_of(plot)) {
                let piece: Vec<_> = piece.iter().map(|p| plot.at(p.0, p.1)).collect();
                canvas.line(&piece, stroke_of(look));
                obstacles.add_line(&piece);
            }
        }
        if series.trace != Trace::Line {
            for (x, y) in series.points.iter().filter(|p| window_of(plot).holds(**p)) {
                draw_marker(canvas, look.marker, plot.at(*x, *y), look.ink);
                obstacles.points.push(plot.at(*x, *y));
            }
        }
    }
    plot.edges(canvas);
    plot.y_axis(canvas, y_ticks, &panel.y_axis.label, gutter);
    for event in panel.events.iter().filter(|event| plot.x.holds(event.x)) {
        let x = plot.x.place(event.x);
        obstacles.add_line(&[(x, plot.rect.y), (x, plot.rect.y + plot.rect.h)]);
    }
    for level in panel.levels.iter().filter(|level| plot.y.holds(level.y)) {
        let y = plot.y.place(level.y);
        obstacles.add_line(&[(plot.rect.x, y), (plot.rect.x + plot.rect.w, y)]);
    }
    draw_marks(canvas, panel, plot, &mut obstacles);
}

/// The plot's range in data units.
pub(crate) fn window_of(plot: &Plot) -> Window {
    Window { x0: plot.x.from, x1: plot.x.to, y0: plot.y.from, y1: plot.y.to }
}

/// Shaded ranges, each cut at the frame.
fn draw_bands(canvas: &mut Canvas, panel: &LinePanel, plot: &Plot) {
    for (i, band) in panel.x_bands.iter().enumerate() {
        let (from, to) = (band.from.max(plot.x.from), band.to.min(plot.x.to));
        if from < to {
            let (x0, x1) = (plot.x.place(from), plot.x.place(to));
            let rect = Rect { x: x0, y: plot.rect.y, w: x1 - x0, h: plot.rect.h };
            canvas.block(rect, band_ink(i));
        }
    }
    for band in &panel.y_bands {
        let (from, to) = (band.from.max(plot.y.from), band.to.min(plot.y.to));
        if from < to {
            let (y0, y1) = (plot.y.place(to), plot.y.place(from));
            let rect = Rect { x: plot.rect.x, y: y0, w: plot.rect.w, h: y1 - y0 };
            canvas.block(rect, y_band_ink());
        }
    }
}

fn y_band_ink() -> Ink {
    WITHIN
}

fn draw_ribbons(canvas: &mut Canvas, panel: &LinePanel, plot: &Plot) {
    for ribbon in &panel.ribbons {
        let upper = ribbon.points.iter().map(|p| (p.0, p.2));
        let lower = ribbon.points.iter().rev().map(|p| (p.0, p.1));
        let ring: Vec<_> = upper.chain(lower).collect();
        let ring = clip_polygon(&ring, &window_of(plot));
        let ring: Vec<_> = ring.iter().map(|p| plot.at(p.0, p.1)).collect();
        canvas.fill(&ring, LOOKS[ribbon.of_series].ink.thin(RIBBON));
    }
}

/// Horizontal lines, their labels in the right gutter moved apart, with a leader where moved.
fn draw_levels(canvas: &mut Canvas, panel: &LinePanel, plot: &Plot) {
    let right = plot.rect.x + plot.rect.w;
    // a line across for a level, none for the name at a line's end
    let levels = panel.levels.iter().map(|level| (level, true));
    let ends = panel.ends.iter().map(|end| (end, false));
    let shown: Vec<_> = levels.chain(ends).filter(|(level, _)| plot.y.holds(level.y)).collect();
    let texts: Vec<_> = shown
        .iter()
        .map(|(level, _)| wrap(&level.label, LEVEL_LABEL, LEVEL_SIZE, Weight::Regular))
        .collect();
    let heights: Vec<f64> = texts.iter().map(|t| t.len() as f64 * LEVEL_LINE + 1.0).collect();
    let wanted: Vec<f64> = shown.iter().map(|(level, _)| plot.y.place(level.y)).collect();
    let placed = spread(&wanted, &heights, plot.rect.y, plot.rect.y + plot.rect.h);
    for (((lines, y), label_y), (_, across)) in texts.iter().zip(&wanted).zip(&placed).zip(&shown) {
        if *across {
            let stroke = Stroke { width: 1.0, ink: INK, dash: Dash::Short };
            canvas.line(&[(plot.rect.x, *y), (right, *y)], stroke);
        }
        canvas.line(&[(right, *y), (right + 7.0, *label_y)], hairline(GREY));
        let block = lines.len() as f64 * LEVEL_LINE;
        for (i, line) in lines.iter().enumerate() {
            let at = (right + 10.0, label_y - block / 2.0 + LEVEL_LINE * (i as f64 + 0.8));
            canvas.text(line, at, set(LEVEL_SIZE, INK), Anchor::Start);
        }
    }
}

/// Width that the labels of horizontal lines need [px].
pub(crate) fn level_gutter(panel: &LinePanel, y: (f64, f64)) -> f64 {
    let all = panel.levels.iter().chain(&panel.ends);
    let shown = all.filter(|level| y.0 <= level.y && level.y <= y.1);
    shown
        .flat_map(|level| wrap(&level.label, LEVEL_LABEL, LEVEL_SIZE, Weight::Regular))
        .map(|line| text_width(&line, LEVEL_SIZE, Weight::Regular) + 14.0)
        .fold(0.0, f64::max)
}

/// Points with labels in free places near them.
fn draw_marks(canvas: &mut Canvas, panel: &LinePanel, plot: &Plot, obstacles: &mut Obstacles) {
    const SIZE: f64 = 10.0;
    let is_shown = |mark: &&PointMark| window_of(plot).holds((mark.x, mark.y));
    let crossed: Vec<_> = panel.marks.iter().filter(is_shown).collect();
    let named = panel.names.iter().filter(is_shown);
    let shown: Vec<_> = crossed.iter().copied().chain(named).collect();
    for mark in &shown {
        let (x, y) = plot.at(mark.x, mark.y);
        obstacles.taken.push(Rect { x: x - 5.0, y: y - 5.0, w: 10.0, h: 10.0 });
    }
    for mark in shown.iter().filter(|mark| !mark.label.is_empty()) {
        let at = plot.at(mark.x, mark.y);
        let lines = wrap(&mark.label, 150.0, SIZE, Weight::Regular);
        let width = lines.iter().map(|l| text_width(l, SIZE, Weight::Regular)).fold(0.0, f64::max);
        let size = (width + 4.0, 12.0 * lines.len() as f64 + 2.0);
        let Some(rect) = obstacles.place(at, size, plot.rect) else {
            continue;
        };
        let nearest = nearest(&rect, at);
        if (nearest.0 - at.0).hypot(nearest.1 - at.1) > 9.0 {
            canvas.line(&[rim(at, nearest), nearest], Stroke { width: 0.75, ..hairline(GREY) });
        }
        canvas.block(rect, PAPER.thin(0.8));
        for (i, line) in lines.iter().enumerate() {
            let at = (rect.x + 2.0, rect.y + 12.0 * (i as f64 + 0.8));
            debug_assert!(text_box(line, at, set(SIZE, INK), Anchor::Start).w <= rect.w);
            canvas.text(line, at, set(SIZE, INK), Anchor::Start);
        }
    }
    for mark in &crossed {
        draw_marker(canvas, Marker::Cross, plot.at(mark.x, mark.y), INK);
    }
}

/// Entries for what the panel shows within its range.
pub(crate) fn legend_of(panel: &LinePanel, width: f64, (x, y): ((f64, f64), (f64, f64))) -> Legend {
    let mut entries = Vec::new();
    for (series, look) in panel.series.iter().zip(LOOKS).filter(|_| panel.ends.is_empty()) {
        let swatch = match series.trace {
            Trace::Points => Swatch::Point(look.marker, look.ink),
            _ => Swatch::Line(stroke_of(look)),
        };
        entries.push(Entry { swatch, label: series.label.clone() });
    }
    for ribbon in &panel.ribbons {
        let swatch = Swatch::Patch(LOOKS[ribbon.of_series].ink.thin(RIBBON));
        entries.push(Entry { swatch, label: ribbon.label.clone() });
    }
    for (i, band) in panel.x_bands.iter().enumerate() {
        if band.from < x.1 && band.to > x.0 {
            entries.push(Entry { swatch: Swatch::Patch(band_ink(i)), label: band.label.clone() });
        }
    }
    for band in panel.y_bands.iter().filter(|band| band.from < y.1 && band.to > y.0) {
        entries.push(Entry { swatch: Swatch::Patch(y_band_ink()), label: band.label.clone() });
    }
    Legend::new(entries, width)
}
