//! What every chart shares: heading above, notice and source below, axes around a plot.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke, Type};
use crate::chart::error::ChartError;
use crate::chart::palette::{Dash, GREY, GRID, INK, Ink};
use crate::chart::scale::{Scale, Spacing, Ticks};
use crate::chart::text::{Weight, text_width, wrap};

/// Room between the drawing and the edge of the sheet [px].
pub(crate) const MARGIN: f64 = 18.0;
/// Width of a sheet [px].
pub(crate) const SHEET: f64 = 760.0;

/// The words around a chart.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heading {
    /// What the chart shows, in one line.
    pub title: String,
    /// The circumstances; may be empty.
    pub subtitle: String,
    /// Where the data come from; may be empty.
    pub source: String,
    /// What a reader who cannot see the chart should know; the title if empty.
    pub summary: String,
}

/// An axis: its label with the unit, and its range if it is not the data's own.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Label with the unit, such as "time [s]".
    pub label: String,
    /// Range in display units; the data's, widened to round ends, if none.
    pub range: Option<(f64, f64)>,
    /// How values are spread along it; charts of lines alone know decades.
    pub spacing: Spacing,
}

impl Axis {
    /// An axis over the range of its data.
    pub fn new(label: impl Into<String>) -> Axis {
        Axis { label: label.into(), range: None, spacing: Spacing::Even }
    }

    /// The same axis in decades.
    pub fn in_decades(self) -> Axis {
        Axis { spacing: Spacing::Decades, ..self }
    }

    /// The same axis over a given range.
    pub fn over(self, from: f64, to: f64) -> Axis {
        Axis { range: Some((from, to)), ..self }
    }
}

/// A type size in the ink of the text.
pub(crate) fn set(size: f64, ink: Ink) -> Type {
    Type { size, weight: Weight::Regular, ink }
}

/// A bold type size in the ink of the text.
pub(crate) fn bold(size: f64) -> Type {
    Type { size, weight: Weight::Bold, ink: INK }
}

/// A thin full line.
pub(crate) fn hairline(ink: Ink) -> Stroke {
    Stroke { width: 1.0, ink, dash: Dash::Full }
}

/// What stands around a bar of colours: its outline, and marks with their numbers on its right.
///
/// - `place`: where a value lies, from the sheet's upper edge [px]
pub(crate) fn bar_marks(canvas: &mut Canvas, bar: Rect, marks: &Ticks, place: impl Fn(f64) -> f64) {
    canvas.outline(bar, Stroke { width: 0.75, ..hairline(GREY) });
    let right = bar.x + bar.w;
    for (value, text) in marks.values.iter().zip(marks.labels()) {
        let y = place(*value);
        canvas.line(&[(right, y), (right + 4.0, y)], hairline(INK));
        canvas.text(&text, (right + 7.0, y + 4.0), set(11.0, INK), Anchor::Start);
    }
}

/// A sheet with its heading drawn; the body comes next, then [`Sheet::finish`].
#[derive(Debug)]
pub(crate) struct Sheet<'a> {
    pub canvas: Canvas,
    /// Where the body starts [px].
    pub top: f64,
    width: f64,
    heading: &'a Heading,
}

impl<'a> Sheet<'a> {
    /// Draws title and subtitle on a sheet of the given width.
    pub fn begin(heading: &'a Heading, sheet_width: f64) -> Sheet<'a> {
        let mut canvas = Canvas::default();
        let width = sheet_width - 2.0 * MARGIN;
        let mut y = MARGIN;
        for line in wrap(&heading.title, width, 15.0, Weight::Bold) {
            y += 15.0;
            canvas.text(&line, (MARGIN, y), bold(15.0), Anchor::Start);
            y += 4.0;
        }
        for line in wrap(&heading.subtitle, width, 11.0, Weight::Regular) {
            y += 12.0;
            canvas.text(&line, (MARGIN, y), set(11.0, GREY), Anchor::Start);
            y += 3.0;
        }
        Sheet { canvas, top: y + 10.0, width: sheet_width, heading }
    }

    /// Draws notice, version and source below `bottom` and writes the sheet.
    pub fn finish(mut self, bottom: f64) -> Result<String, ChartError> {
        let width = self.width - 2.0 * MARGIN;
        let mut y = bottom + 14.0;
        self.canvas.line(&[(MARGIN, y), (self.width - MARGIN, y)], hairline(GRID));
        y += 3.0;
        let mut credit = format!("stillair {}", env!("CARGO_PKG_VERSION"));
        if !self.heading.source.is_empty() {
            credit = format!("{credit} · {}", self.heading.source);
        }
        let mut lines = wrap(crate::NOTICE, width, 9.0, Weight::Regular);
        lines.extend(wrap(&credit, width, 9.0, Weight::Regular));
        for line in lines {
            y += 12.0;
            self.canvas.text(&line, (MARGIN, y), set(9.0, GREY), Anchor::Start);
        }
        let title = &self.heading.title;
        let summary = if self.heading.summary.is_empty() { title } else { &self.heading.summary };
        let summary = format!("{summary} {}", crate::NOTICE);
        self.canvas.finish((self.width, y + MARGIN - 6.0), title, &summary)
    }
}

/// A plot: its place on paper and its scales.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Plot {
    pub rect: Rect,
    pub x: Scale,
    pub y: Scale,
}

impl Plot {
    /// A plot over ranges of data.
    pub fn new(rect: Rect, x: (f64, f64), y: (f64, f64)) -> Plot {
        Plot {
            rect,
            x: Scale { from: x.0, to: x.1, at_from: rect.x, at_to: rect.x + rect.w },
            y: Scale { from: y.0, to: y.1, at_from: rect.y + rect.h, at_to: rect.y },
        }
    }

    /// The place of a point on paper.
    pub fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (self.x.place(x), self.y.place(y))
    }

    /// Draws light grid lines.
    pub fn grid(&self, canvas: &mut Canvas, x_ticks: &Ticks, y_ticks: &Ticks) {
        for v in &x_ticks.values {
            let x = self.x.place(*v);
            canvas.line(&[(x, self.rect.y), (x, self.rect.y + self.rect.h)], hairline(GRID));
        }
        for v in &y_ticks.values {
            let y = self.y.place(*v);
            canvas.line(&[(self.rect.x, y), (self.rect.x + self.rect.w, y)], hairline(GRID));
        }
    }

    /// Draws the frame's left and lower edge.
    pub fn edges(&self, canvas: &mut Canvas) {
        let (left, bottom) = (self.rect.x, self.rect.y + self.rect.h);
        let corner = [(left, self.rect.y), (left, bottom), (left + self.rect.w, bottom)];
        canvas.line(&corner, Stroke { width: 1.25, ink: INK, dash: Dash::Full });
    }

    /// Draws tick labels and title of the horizontal axis; takes [`X_AXIS`] px below the plot.
    pub fn x_axis(&self, canvas: &mut Canvas, ticks: &Ticks, label: &str) {
        let bottom = self.rect.y + self.rect.h;
        for (v, text) in ticks.values.iter().zip(ticks.labels()) {
            let x = self.x.place(*v);
            canvas.line(&[(x, bottom), (x, bottom + 4.0)], hairline(INK));
            canvas.text(&text, (x, bottom + 16.0), set(11.0, INK), Anchor::Middle);
        }
        let middle = self.rect.x + self.rect.w / 2.0;
        canvas.text(label, (middle, bottom + 33.0), set(11.0, INK), Anchor::Middle);
    }

    /// Draws tick labels and title of the vertical axis into a gutter of the given width.
    pub fn y_axis(&self, canvas: &mut Canvas, ticks: &Ticks, label: &str, gutter: f64) {
        for (v, text) in ticks.values.iter().zip(ticks.labels()) {
            let y = self.y.place(*v);
            canvas.line(&[(self.rect.x - 4.0, y), (self.rect.x, y)], hairline(INK));
            canvas.text(&text, (self.rect.x - 7.0, y + 4.0), set(11.0, INK), Anchor::End);
        }
        let lines = wrap(label, self.rect.h, 11.0, Weight::Regular);
        let middle = self.rect.y + self.rect.h / 2.0;
        for (i, line) in lines.iter().enumerate() {
            let x = self.rect.x - gutter + 11.0 + 13.0 * i as f64;
            canvas.text_upright(line, (x, middle), set(11.0, INK));
        }
    }
}

/// Height of a horizontal axis with its title [px].
pub(crate) const X_AXIS: f64 = 38.0;

/// Width of the gutter that a vertical axis needs [px].
pub(crate) fn y_gutter(ticks: &Ticks, label: &str, height: f64) -> f64 {
    let widest = ticks
        .labels()
        .iter()
        .map(|text| text_width(text, 11.0, Weight::Regular))
        .fold(0.0, f64::max);
    let n_lines = wrap(label, height, 11.0, Weight::Regular).len() as f64;
    widest + 14.0 + 13.0 * n_lines
}

/// The most intervals between ticks so that their labels keep apart over `room` px.
pub(crate) fn most_ticks(room: f64, label_size: f64) -> usize {
    (room / label_size).floor().clamp(1.0, 12.0) as usize
}
