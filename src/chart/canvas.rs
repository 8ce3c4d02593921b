//! The sheet everything is drawn on: places in px at 1x, kept as marks, written as SVG at the end.
//!
//! The SVG writer rounds to whole units, so the drawing is made four times as large
//! and shown at its own size through the view box; a curve stays smooth when enlarged.

use plotters::backend::SVGBackend;
use plotters::element::{Circle, PathElement, Polygon, Rectangle, Text};
use plotters::prelude::{IntoDrawingArea, IntoTextStyle, RGBAColor, ShapeStyle};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontFamily, FontStyle, FontTransform};

use crate::chart::error::ChartError;
use crate::chart::palette::{Dash, Ink};
use crate::chart::text::{FAMILIES, Weight, text_width};

/// Drawing units per px.
const FINE: f64 = 4.0;

/// Which way a text runs from its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Type {
    pub size: f64,
    pub weight: Weight,
    pub ink: Ink,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stroke {
    pub width: f64,
    pub ink: Ink,
    pub dash: Dash,
}

/// One mark on the sheet.
#[derive(Debug, Clone)]
enum Mark {
    Line(Vec<(f64, f64)>, f64, Ink),
    Fill(Vec<(f64, f64)>, Ink),
    Disc((f64, f64), f64, Ink),
    Block([f64; 4], Ink),
    Words { text: String, at: (f64, f64), set: Type, anchor: Anchor, upright: bool },
}

/// A rectangle on the sheet [px].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rect {
    pub x: f64,
    pub y: f64,
    pub w: f64,
    pub h: f64,
}

impl Rect {
    /// Whether two rectangles share an area.
    pub fn meets(&self, other: &Rect) -> bool {
        self.x < other.x + other.w
            && other.x < self.x + self.w
            && self.y < other.y + other.h
            && other.y < self.y + self.h
    }

    /// Whether the other lies wholly inside.
    pub fn contains(&self, other: &Rect) -> bool {
        self.x <= other.x
            && self.y <= other.y
            && other.x + other.w <= self.x + self.w
            && other.y + other.h <= self.y + self.h
    }
}

/// The sheet.
#[derive(Debug, Clone, Default)]
pub(crate) struct Canvas {
    marks: Vec<Mark>,
}

impl Canvas {
    /// A line through the points, dashed as the stroke says.
    pub fn line(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        for piece in dashes(points, stroke.dash.pattern()) {
            self.marks.push(Mark::Line(piece, stroke.width, stroke.ink));
        }
    }

    /// A filled polygon.
    pub fn fill(&mut self, points: &[(f64, f64)], ink: Ink) {
        if points.len() >= 3 {
            self.marks.push(Mark::Fill(points.to_vec(), ink));
        }
    }

    /// A filled circle.
    pub fn disc(&mut self, at: (f64, f64), radius: f64, ink: Ink) {
        self.marks.push(Mark::Disc(at, radius, ink));
    }

    /// A filled rectangle.
    pub fn block(&mut self, rect: Rect, ink: Ink) {
        self.marks.push(Mark::Block([rect.x, rect.y, rect.x + rect.w, rect.y + rect.h], ink));
    }

    /// The outline of a rectangle.
    pub fn outline(&mut self, rect: Rect, stroke: Stroke) {
        let (x1, y1) = (rect.x + rect.w, rect.y + rect.h);
        self.line(
            &[(rect.x, rect.y), (x1, rect.y), (x1, y1), (rect.x, y1), (rect.x, rect.y)],
            stroke,
        );
    }

    /// A text whose baseline starts, is centred or ends at `at`.
    pub fn text(&mut self, text: &str, at: (f64, f64), set: Type, anchor: Anchor) {
        let text = text.to_owned();
        self.marks.push(Mark::Words { text, at, set, anchor, upright: false });
    }

    /// A text centred at `at`, reading upwards, its baseline on the right.
    pub fn text_upright(&mut self, text: &str, at: (f64, f64), set: Type) {
        let (text, anchor) = (text.to_owned(), Anchor::Middle);
        self.marks.push(Mark::Words { text, at, set, anchor, upright: true });
    }

    /// The sheet as SVG of `size` px, with a title and a description for those who do not see it.
    pub fn finish(
        &self,
        size: (f64, f64),
        title: &str,
        summary: &str,
    ) -> Result<String, ChartError> {
        let mut svg = String::new();
        let size = (size.0.ceil(), size.1.ceil());
        let whole = ((size.0 * FINE) as u32, (size.1 * FINE) as u32);
        {
            let area = SVGBackend::with_string(&mut svg, whole).into_drawing_area();
            let failed = |e: &dyn std::fmt::Display| ChartError::Render { reason: e.to_string() };
            area.fill(&RGBAColor(255, 255, 255, 1.0)).map_err(|e| failed(&e))?;
            for mark in &self.marks {
                let done = match mark {
                    Mark::Line(points, width, ink) => {
                        area.draw(&PathElement::new(fine_all(points), stroked(*ink, *width)))
                    }
                    Mark::Fill(points, ink) => {
                        area.draw(&Polygon::new(fine_all(points), filled(*ink)))
                    }
                    Mark::Disc(at, radius, ink) => area.draw(&Circle::new(
                        fine(*at),
                        (radius * FINE).round() as i32,
                        filled(*ink),
                    )),
                    Mark::Block([x0, y0, x1, y1], ink) => area
                        .draw(&Rectangle::new([fine((*x0, *y0)), fine((*x1, *y1))], filled(*ink))),
                    Mark::Words { text, at, set, anchor, upright } => {
                        let (style, at) = words(*at, *set, *anchor, *upright, &area);
                        area.draw(&Text::new(text.clone(), at, style))
                    }
                };
                done.map_err(|e| failed(&e))?;
            }
            area.present().map_err(|e| failed(&e))?;
        }
        Ok(first_tag(&svg, size, whole, title, summary))
    }
}

/// Style and place of a text; the writer puts the top of the type at the place, 0.76 em above the baseline.
fn words<'a>(
    at: (f64, f64),
    set: Type,
    anchor: Anchor,
    upright: bool,
    parent: &plotters::drawing::DrawingArea<SVGBackend<'_>, plotters::coord::Shift>,
) -> (plotters::style::TextStyle<'a>, (i32, i32)) {
    let horizontal = match anchor {
        Anchor::Start => HPos::Left,
        Anchor::Middle => HPos::Center,
        Anchor::End => HPos::Right,
    };
    let weight = match set.weight {
        Weight::Regular => FontStyle::Normal,
        Weight::Bold => FontStyle::Bold,
    };
    // the writer divides every size by 1.24
    let mut style = (FontFamily::Name(FAMILIES), set.size * FINE * 1.24, weight)
        .into_text_style(parent)
        .pos(Pos::new(horizontal, VPos::Top));
    style.color = set.ink.colour().to_backend_color();
    let rise = 0.76 * set.size;
    if upright {
        (style.transform(FontTransform::Rotate270), fine((at.0 - rise, at.1)))
    } else {
        (style, fine((at.0, at.1 - rise)))
    }
}

/// The first tag rewritten: size at 1x, a role, a name, a description.
fn first_tag(svg: &str, size: (f64, f64), whole: (u32, u32), title: &str, summary: &str) -> String {
    let body = svg.split_once('>').map_or("", |(_, rest)| rest);
    let (title, summary) = (escaped(title), escaped(summary));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" \
         viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{title}\" stroke-linejoin=\"round\">\n\
         <title>{title}</title>\n<desc>{summary}</desc>{body}",
        size.0, size.1, whole.0, whole.1
    )
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn fine((x, y): (f64, f64)) -> (i32, i32) {
    ((x * FINE).round() as i32, (y * FINE).round() as i32)
}

/// Places in drawing units, repeats left out.
fn fine_all(points: &[(f64, f64)]) -> Vec<(i32, i32)> {
    let mut places: Vec<(i32, i32)> = points.iter().map(|p| fine(*p)).collect();
    places.dedup();
    if places.len() == 1 {
        places.push(places[0]);
    }
    places
}

fn filled(ink: Ink) -> ShapeStyle {
    ink.colour().filled()
}

fn stroked(ink: Ink, width: f64) -> ShapeStyle {
    ink.colour().stroke_width((width * FINE).round().max(1.0) as u32)
}

/// A polyline cut into dashes; `pattern` alternates drawn and left out [px], empty for a full line.
fn dashes(points: &[(f64, f64)], pattern: &[f64]) -> Vec<Vec<(f64, f64)>> {
    if points.len() < 2 {
        return Vec::new();
    }
    if pattern.is_empty() {
        return vec![points.to_vec()];
    }
    let mut pieces = Vec::new();
    let mut piece = vec![points[0]];
    let (mut turn, mut left) = (0, pattern[0]);
    for pair in points.windows(2) {
        let (mut a, b) = (pair[0], pair[1]);
        let mut length = (b.0 - a.0).hypot(b.1 - a.1);
        while length > left {
            let share = left / length;
            a = (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
            length -= left;
            if turn % 2 == 0 {
                piece.push(a);
                pieces.push(std::mem::take(&mut piece));
            } else {
                piece = vec![a];
            }
            turn = (turn + 1) % pattern.len();
            left = pattern[turn];
        }
        left -= length;
        if turn % 2 == 0 {
            piece.push(b);
        }
    }
    if turn % 2 == 0 && piece.len() > 1 {
        pieces.push(piece);
    }
    pieces
}

/// The box of a text on the sheet: its full line height at its estimated width.
pub(crate) fn text_box(text: &str, at: (f64, f64), set: Type, anchor: Anchor) -> Rect {
    let w = text_width(text, set.size, set.weight);
    let x = match anchor {
        Anchor::Start => at.0,
        Anchor::Middle => at.0 - w / 2.0,
        Anchor::End => at.0 - w,
    };
    Rect { x, y: at.1 - 0.8 * set.size, w, h: 1.05 * set.size }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dashes_have_the_lengths_of_the_pattern() {
        let pieces = dashes(&[(0.0, 0.0), (4.0, 0.0), (10.0, 0.0)], &[3.0, 2.0]);
        assert_eq!(pieces[0], [(0.0, 0.0), (3.0, 0.0)]);
        assert_eq!(pieces[1], [(5.0, 0.0), (8.0, 0.0)]);
        assert_eq!(pieces.len(), 2);
    }
}
