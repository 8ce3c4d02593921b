//! The legend: a row above the plot that wraps, so it never covers data.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::frame::{hairline, set};
use crate::chart::palette::{GREY, INK, Ink, Look, Marker, PAPER};
use crate::chart::text::{Weight, text_width, wrap};

const SIZE: f64 = 10.5;
const ROW: f64 = 16.0;

/// What stands before an entry's words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Swatch {
    Line(Stroke),
    Point(Marker, Ink),
    Patch(Ink),
    /// Nothing: a label's further line.
    Blank,
}

impl Swatch {
    /// Its width with the air before the words [px].
    fn room(self) -> f64 {
        match self {
            Swatch::Line(_) | Swatch::Blank => 36.0,
            Swatch::Point(..) => 18.0,
            Swatch::Patch(_) => 24.0,
        }
    }
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entry {
    pub swatch: Swatch,
    pub label: String,
}

/// Entries in rows.
#[derive(Debug, Clone, Default)]
pub(crate) struct Legend {
    rows: Vec<Vec<(Entry, f64)>>,
}

impl Legend {
    /// Fills rows of the given width; a label wider than a row is wrapped onto the next.
    pub fn new(entries: Vec<Entry>, width: f64) -> Legend {
        let mut rows: Vec<Vec<(Entry, f64)>> = Vec::new();
        let mut x = f64::INFINITY;
        for entry in entries {
            let lines = wrap(&entry.label, width - 38.0, SIZE, Weight::Regular);
            let label = lines.first().cloned().unwrap_or_default();
            let needed = entry.swatch.room() + text_width(&label, SIZE, Weight::Regular);
            if x + needed > width {
                rows.push(Vec::new());
                x = 0.0;
            }
            if let Some(row) = rows.last_mut() {
                row.push((Entry { label, ..entry }, x));
            }
            x += needed + 18.0;
            for line in lines.into_iter().skip(1) {
                let swatch = Swatch::Blank;
                rows.push(vec![(Entry { swatch, label: line }, 0.0)]);
                x = f64::INFINITY;
            }
        }
        Legend { rows }
    }

    /// One entry a row.
    pub fn column(entries: Vec<Entry>, width: f64) -> Legend {
        let rows = entries.into_iter().flat_map(|entry| Legend::new(vec![entry], width).rows);
        Legend { rows: rows.collect() }
    }

    /// Height of all rows [px].
    pub fn height(&self) -> f64 {
        if self.rows.is_empty() { 0.0 } else { ROW * self.rows.len() as f64 + 4.0 }
    }

    /// Draws the rows below `top`.
    pub fn draw(&self, canvas: &mut Canvas, left: f64, top: f64) {
        for (i, row) in self.rows.iter().enumerate() {
            let y = top + ROW * (i as f64 + 0.5);
            for (entry, dx) in row {
                let x = left + dx;
                draw_swatch(canvas, entry.swatch, x, y);
                let at = (x + entry.swatch.room(), y + 0.36 * SIZE);
                canvas.text(&entry.label, at, set(SIZE, INK), Anchor::Start);
            }
        }
    }
}

fn draw_swatch(canvas: &mut Canvas, swatch: Swatch, x: f64, y: f64) {
    match swatch {
        Swatch::Line(stroke) => canvas.line(&[(x, y), (x + 30.0, y)], stroke),
        Swatch::Point(marker, ink) => draw_marker(canvas, marker, (x + 6.0, y), ink),
        Swatch::Blank => {}
        Swatch::Patch(ink) => {
            let rect = Rect { x, y: y - 5.0, w: 18.0, h: 10.0 };
            canvas.block(rect, ink);
            canvas.outline(rect, Stroke { width: 0.5, ..hairline(GREY) });
        }
    }
}

/// The stroke of a look.
pub(crate) fn stroke_of(look: Look) -> Stroke {
    Stroke { width: 1.75, ink: look.ink, dash: look.dash }
}

/// Draws a marker about 8 px across, with a thin rim of paper that sets it off from lines.
pub(crate) fn draw_marker(canvas: &mut Canvas, marker: Marker, (x, y): (f64, f64), ink: Ink) {
    let shape = |size: f64| -> Vec<(f64, f64)> {
        let s = size;
        let corners: &[(f64, f64)] = match marker {
            Marker::Circle | Marker::Plus | Marker::Cross => &[],
            Marker::Square => &[(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)],
            Marker::Triangle => &[(0.0, -1.1), (1.1, 0.8), (-1.1, 0.8)],
            Marker::TriangleDown => &[(0.0, 1.1), (1.1, -0.8), (-1.1, -0.8)],
            Marker::Diamond => &[(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)],
        };
        corners.iter().map(|(dx, dy)| (x + dx * s, y + dy * s)).collect()
    };
    match marker {
        Marker::Circle => {
            canvas.disc((x, y), 4.9, PAPER);
            canvas.disc((x, y), 4.0, ink);
        }
        Marker::Plus | Marker::Cross => {
            let (a, b) = if marker == Marker::Plus { (4.6, 0.0) } else { (3.6, 3.6) };
            for (width, ink) in [(3.8, PAPER), (2.0, ink)] {
                let stroke = Stroke { width, ..hairline(ink) };
                canvas.line(&[(x - a, y - b), (x + a, y + b)], stroke);
                canvas.line(&[(x - b, y + a), (x + b, y - a)], stroke);
            }
        }
        _ => {
            canvas.fill(&shape(5.0), PAPER);
            canvas.fill(&shape(4.0), ink);
        }
    }
}
