//! A suit on a body from in front and from behind, each panel in the ink of what share of it burns.

use crate::chart::canvas::Anchor;
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Heading, MARGIN, SHEET, Sheet, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{AIR, INK, Ink, ramp};
use crate::chart::suit_views::{Line, Shape, draw_list, draw_views, thick};
use crate::garment::suit::{Place, Side};

/// A panel in the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyMark {
    /// Where it lies.
    pub place: Place,
    /// On which side.
    pub side: Side,
    /// Its name.
    pub name: String,
    /// What share of it has burnt [%].
    pub burnt: f64,
    /// What stands behind its name.
    pub answer: String,
    /// A second line.
    pub note: String,
    /// Whether it is the first to burn.
    pub is_first: bool,
}

/// A suit on a body to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyChart {
    /// The words around it.
    pub heading: Heading,
    /// What the inks are of, such as "second degree after a flame of 4 s".
    pub of: String,
    /// The panels, numbered from 1 in this order.
    pub marks: Vec<BodyMark>,
}

/// Upper ends of the classes [%] but the last, with the share of the ramp for each class.
const CLASSES: [(f64, f64, &str); 5] = [
    (0.05, 0.02, "none"),
    (5.0, 0.22, "below 5 %"),
    (20.0, 0.45, "5 to 20 %"),
    (50.0, 0.7, "20 to 50 %"),
    (f64::INFINITY, 0.95, "50 % and more"),
];

/// The drawing as SVG.
///
/// Errors: no panel, a share that is not a finite number.
pub fn body_chart(chart: &BodyChart) -> Result<String, ChartError> {
    if chart.marks.is_empty() {
        return Err(ChartError::Empty { part: "the suit".to_owned() });
    }
    check_finite("shares burnt", chart.marks.iter().map(|mark| mark.burnt))?;
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let legend = legend(&chart.marks);
    let canvas = &mut sheet.canvas;
    canvas.text(&chart.of, (MARGIN, sheet.top + 11.0), set(10.5, INK), Anchor::Start);
    legend.draw(canvas, MARGIN, sheet.top + 16.0);
    let top = sheet.top + 16.0 + legend.height() + 20.0;
    let shape = |mark: &BodyMark| Shape {
        place: mark.place,
        side: mark.side,
        ink: ink_of(mark.burnt),
        is_outlined: mark.is_first,
    };
    draw_views(canvas, &chart.marks.iter().map(shape).collect::<Vec<Shape>>(), top);
    let line = |mark: &BodyMark| {
        let first = if mark.is_first { " (first)" } else { "" };
        let text = format!("{}{first}: {}", mark.name, mark.answer);
        Line { text, note: mark.note.clone(), is_bold: mark.is_first }
    };
    let lines: Vec<Line> = chart.marks.iter().map(line).collect();
    let bottom = draw_list(canvas, &lines, top);
    sheet.finish(bottom)
}

/// The ink of a share [%].
fn ink_of(burnt: f64) -> Ink {
    let class = CLASSES.iter().find(|(end, ..)| burnt < *end).unwrap_or(&CLASSES[4]);
    ramp(class.1)
}

fn legend(marks: &[BodyMark]) -> Legend {
    let mut entries: Vec<Entry> = CLASSES
        .iter()
        .map(|(_, share, label)| (Swatch::Patch(ramp(*share)), *label))
        .map(|(swatch, label)| Entry { swatch, label: label.to_owned() })
        .collect();
    let label = "bare, or no panel given".to_owned();
    entries.push(Entry { swatch: Swatch::Patch(AIR), label });
    if marks.iter().any(|mark| mark.is_first) {
        let label = "first to burn".to_owned();
        entries.push(Entry { swatch: Swatch::Line(thick()), label });
    }
    Legend::new(entries, SHEET - 2.0 * MARGIN)
}
