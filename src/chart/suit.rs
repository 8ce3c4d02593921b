//! A suit from in front and from behind, each panel in the colour of what it has to spare.

use crate::chart::canvas::Anchor;
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Heading, MARGIN, SHEET, Sheet, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{AIR, INK, Ink, PAPER, ramp};
use crate::chart::suit_views::{Line, Shape, draw_list, draw_views, thick};
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
    let shape = |mark: &SuitMark| Shape {
        place: mark.place,
        side: mark.side,
        ink: ink_of(mark.spare),
        is_outlined: mark.is_weakest,
    };
    draw_views(canvas, &chart.marks.iter().map(shape).collect::<Vec<Shape>>(), top);
    let line = |mark: &SuitMark| {
        let weakest = if mark.is_weakest { " (weakest)" } else { "" };
        let text = format!("{}{weakest}: {}", mark.name, mark.answer);
        Line { text, note: mark.note.clone(), is_bold: mark.is_weakest }
    };
    let lines: Vec<Line> = chart.marks.iter().map(line).collect();
    let bottom = draw_list(canvas, &lines, top);
    sheet.finish(bottom)
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
