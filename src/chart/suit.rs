//! A suit from in front and from behind, each panel in the colour of what it has to spare.

use crate::chart::canvas::{Anchor, Canvas, Stroke};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Heading, MARGIN, SHEET, Sheet, bold, hairline, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{AIR, Dash, GREY, INK, Ink, PAPER, ramp};
use crate::chart::suit_shapes::{HEAD, HEIGHT, WIDTH, middle, shapes};
use crate::chart::text::{Weight, wrap};
use crate::garment::suit::{Place, Side};

/// A panel in the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct SuitMark {
    /// Where it lies.
    pub place: Place,
    /// On which side.
    pub side: Side,
    /// Its name.
    pub name: String,
    /// What it has to spare over what its class needs to be called above [%]; none where it is not known.
    pub spare: Option<f64>,
    /// What stands behind its name, such as "+18.0 % to spare, above".
    pub answer: String,
    /// A second line: grams, figure.
    pub note: String,
    /// Whether it is the weakest panel.
    pub is_weakest: bool,
}

/// A suit to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct SuitChart {
    /// The words around it.
    pub heading: Heading,
    /// The panels, numbered from 1 in this order.
    pub marks: Vec<SuitMark>,
}

/// Upper ends of the classes [%] but the last, with the share of the ramp for each class. From 0 % on a
/// panel is called above.
const CLASSES: [(f64, f64, &str); 5] = [
    (-20.0, 0.95, "below -20 %"),
    (-10.0, 0.72, "-20 to -10 %"),
    (0.0, 0.5, "-10 to 0 %"),
    (20.0, 0.28, "0 to 20 %: above"),
    (f64::INFINITY, 0.06, "20 % and more: above"),
];
/// Air between the two views [px].
const BETWEEN: f64 = 16.0;

/// The drawing as SVG.
///
/// Errors: no panel, a value that is not a finite number.
pub fn suit_chart(chart: &SuitChart) -> Result<String, ChartError> {
    if chart.marks.is_empty() {
        return Err(ChartError::Empty { part: "the suit".to_owned() });
    }
    check_finite("what panels have to spare", chart.marks.iter().filter_map(|mark| mark.spare))?;
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let legend = legend(&chart.marks);
    let canvas = &mut sheet.canvas;
    canvas.text(
        "to spare over what is needed to be called above",
        (MARGIN, sheet.top + 11.0),
        set(10.5, INK),
        Anchor::Start,
    );
    legend.draw(canvas, MARGIN, sheet.top + 16.0);
    let top = sheet.top + 16.0 + legend.height() + 20.0;
    for (i, seen) in [Side::Front, Side::Back].into_iter().enumerate() {
        let left = MARGIN + i as f64 * (WIDTH + BETWEEN);
        let words = if seen == Side::Front { "front" } else { "back" };
        let at = (left + WIDTH / 2.0, top - 4.0);
        canvas.text(words, at, bold(11.0), Anchor::Middle);
        draw_view(canvas, chart, seen, (left, top));
    }
    let list_left = MARGIN + 2.0 * WIDTH + 2.0 * BETWEEN;
    let list_bottom = draw_list(canvas, &chart.marks, (list_left, top));
    sheet.finish((top + HEIGHT).max(list_bottom))
}

/// The ink of what is to spare; paper where that is not known.
fn ink_of(spare: Option<f64>) -> Ink {
    let Some(spare) = spare else { return PAPER };
    let class = CLASSES.iter().find(|(end, ..)| spare < *end);
    class.map_or(PAPER, |(_, share, _)| ramp(*share))
}

fn legend(marks: &[SuitMark]) -> Legend {
    let mut entries: Vec<Entry> = CLASSES
        .iter()
        .map(|(_, share, label)| (Swatch::Patch(ramp(*share)), *label))
        .map(|(swatch, label)| Entry { swatch, label: label.to_owned() })
        .collect();
    if marks.iter().any(|mark| mark.spare.is_none()) {
        let label = "nothing known".to_owned();
        entries.push(Entry { swatch: Swatch::Patch(PAPER), label });
    }
    let label = "no panel given".to_owned();
    entries.push(Entry { swatch: Swatch::Patch(AIR), label });
    let label = "weakest panel".to_owned();
    entries.push(Entry { swatch: Swatch::Line(thick()), label });
    Legend::new(entries, SHEET - 2.0 * MARGIN)
}

fn thick() -> Stroke {
    Stroke { width: 3.5, ink: INK, dash: Dash::Full }
}

/// One view: the shapes in their order, as an elbow lies on its sleeve, then the weakest panel's outline,
/// so that it is whole and hides no other.
fn draw_view(canvas: &mut Canvas, chart: &SuitChart, seen: Side, (left, top): (f64, f64)) {
    let moved = |(x, y): (f64, f64)| (left + x, top + y);
    let (centre, radius) = HEAD;
    canvas.disc(moved(centre), radius, GREY);
    canvas.disc(moved(centre), radius - 1.0, AIR);
    let mut order: Vec<(Place, Option<usize>)> = Vec::new();
    for place in Place::ALL {
        let here = |mark: &SuitMark| mark.place == place && mark.side.shows_on(seen);
        let found = chart.marks.iter().position(here);
        // a sleeve without a panel at the elbow shows whole
        if found.is_some() || place != Place::Elbow {
            order.push((place, found));
        }
    }
    let mut outlines = Vec::new();
    for (place, i) in order {
        let ink = i.map_or(AIR, |i| ink_of(chart.marks[i].spare));
        for corners in shapes(place) {
            let mut points: Vec<(f64, f64)> = corners.iter().map(|p| moved(*p)).collect();
            canvas.fill(&points, ink);
            points.push(points[0]);
            canvas.line(&points, hairline(GREY));
            if i.is_some_and(|i| chart.marks[i].is_weakest) {
                outlines.push(points);
            }
            if let Some(i) = i {
                let (x, y) = moved(middle(place, &corners));
                let ink = if ink.luminance() < 0.2 { PAPER } else { INK };
                let set = crate::chart::canvas::Type { ink, ..bold(11.0) };
                canvas.text(&(i + 1).to_string(), (x, y + 4.0), set, Anchor::Middle);
            }
        }
    }
    outlines.iter().for_each(|points| canvas.line(points, thick()));
}

/// The panels with their numbers; returns where the list ends [px].
fn draw_list(canvas: &mut Canvas, marks: &[SuitMark], (left, top): (f64, f64)) -> f64 {
    let mut y = top + 4.0;
    let width = SHEET - MARGIN - left - 22.0;
    for (i, mark) in marks.iter().enumerate() {
        y += 13.0;
        canvas.text(&(i + 1).to_string(), (left + 14.0, y), bold(10.5), Anchor::End);
        let weakest = if mark.is_weakest { " (weakest)" } else { "" };
        let text = format!("{}{weakest}: {}", mark.name, mark.answer);
        for line in wrap(&text, width, 10.5, Weight::Bold) {
            let set = if mark.is_weakest { bold(10.5) } else { set(10.5, INK) };
            canvas.text(&line, (left + 22.0, y), set, Anchor::Start);
            y += 13.0;
        }
        for line in wrap(&mark.note, width, 9.5, Weight::Regular) {
            canvas.text(&line, (left + 22.0, y), set(9.5, GREY), Anchor::Start);
            y += 12.0;
        }
        y -= 6.0;
    }
    y
}
