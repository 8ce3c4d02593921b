//! A suit's panels from in front and from behind with their numbers, and a list of them beside.

use crate::chart::canvas::{Anchor, Canvas, Stroke, Type};
use crate::chart::frame::{MARGIN, SHEET, bold, hairline, set};
use crate::chart::palette::{AIR, Dash, GREY, INK, Ink, PAPER};
use crate::chart::suit_shapes::{HEAD, HEIGHT, WIDTH, middle, shapes};
use crate::chart::text::{Weight, wrap};
use crate::garment::suit::{Place, Side};

/// Air between the two views [px].
const BETWEEN: f64 = 16.0;

/// A panel in the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shape {
    /// Where it lies.
    pub place: Place,
    /// On which side.
    pub side: Side,
    /// Its ink.
    pub ink: Ink,
    /// Whether it has a thick outline.
    pub is_outlined: bool,
}

/// What the list says of a panel.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    /// Behind its number.
    pub text: String,
    /// Below that, in grey.
    pub note: String,
    /// Whether the text stands out.
    pub is_bold: bool,
}

/// The outline that stands out.
pub(crate) fn thick() -> Stroke {
    Stroke { width: 3.5, ink: INK, dash: Dash::Full }
}

/// Width of both views [px].
pub(crate) const VIEWS: f64 = 2.0 * WIDTH + BETWEEN;

/// Both views, side by side from the left margin.
pub(crate) fn draw_views(canvas: &mut Canvas, all: &[Shape], top: f64) {
    let all: Vec<Option<Shape>> = all.iter().copied().map(Some).collect();
    draw_views_at(canvas, &all, (MARGIN, top));
}

/// Both views, side by side from a corner on; the number of a panel that is not on the suit is left out.
pub(crate) fn draw_views_at(canvas: &mut Canvas, all: &[Option<Shape>], (from, top): (f64, f64)) {
    for (i, seen) in [Side::Front, Side::Back].into_iter().enumerate() {
        let left = from + i as f64 * (WIDTH + BETWEEN);
        let words = if seen == Side::Front { "front" } else { "back" };
        let at = (left + WIDTH / 2.0, top - 4.0);
        canvas.text(words, at, bold(11.0), Anchor::Middle);
        draw_view(canvas, all, seen, (left, top));
    }
}

/// One view: the shapes in their order, as an elbow lies on its sleeve, then the outlines that stand out,
/// so that each is whole and hides no other.
fn draw_view(canvas: &mut Canvas, all: &[Option<Shape>], seen: Side, (left, top): (f64, f64)) {
    let moved = |(x, y): (f64, f64)| (left + x, top + y);
    let (centre, radius) = HEAD;
    canvas.disc(moved(centre), radius, GREY);
    canvas.disc(moved(centre), radius - 1.0, AIR);
    let mut order: Vec<(Place, Option<usize>)> = Vec::new();
    for place in Place::ALL {
        let here = |shape: &Shape| shape.place == place && shape.side.shows_on(seen);
        let found = all.iter().position(|shape| shape.as_ref().is_some_and(here));
        // a sleeve without a panel at the elbow shows whole
        if found.is_some() || place != Place::Elbow {
            order.push((place, found));
        }
    }
    let mut outlines = Vec::new();
    for (place, i) in order {
        let shape = i.and_then(|i| all[i]);
        let ink = shape.map_or(AIR, |shape| shape.ink);
        for corners in shapes(place) {
            let mut points: Vec<(f64, f64)> = corners.iter().map(|p| moved(*p)).collect();
            canvas.fill(&points, ink);
            points.push(points[0]);
            canvas.line(&points, hairline(GREY));
            if shape.is_some_and(|shape| shape.is_outlined) {
                outlines.push(points);
            }
            if let Some(i) = i {
                let (x, y) = moved(middle(place, &corners));
                let ink = if ink.luminance() < 0.2 { PAPER } else { INK };
                let set = Type { ink, ..bold(11.0) };
                canvas.text(&(i + 1).to_string(), (x, y + 4.0), set, Anchor::Middle);
            }
        }
    }
    outlines.iter().for_each(|points| canvas.line(points, thick()));
}

/// The panels with their numbers, right of the views; returns where views and list end [px].
pub(crate) fn draw_list(canvas: &mut Canvas, lines: &[Line], top: f64) -> f64 {
    draw_list_to(canvas, lines, top, SHEET)
}

/// The same on a sheet of another width [px].
pub(crate) fn draw_list_to(canvas: &mut Canvas, lines: &[Line], top: f64, sheet: f64) -> f64 {
    let left = MARGIN + VIEWS + BETWEEN;
    let mut y = top + 4.0;
    let width = sheet - MARGIN - left - 22.0;
    for (i, of_panel) in lines.iter().enumerate() {
        y += 13.0;
        canvas.text(&(i + 1).to_string(), (left + 14.0, y), bold(10.5), Anchor::End);
        for line in wrap(&of_panel.text, width, 10.5, Weight::Bold) {
            let set = if of_panel.is_bold { bold(10.5) } else { set(10.5, INK) };
            canvas.text(&line, (left + 22.0, y), set, Anchor::Start);
            y += 13.0;
        }
        for line in wrap(&of_panel.note, width, 9.5, Weight::Regular) {
            canvas.text(&line, (left + 22.0, y), set(9.5, GREY), Anchor::Start);
            y += 12.0;
        }
        y -= 6.0;
    }
    y.max(top + HEIGHT)
}
