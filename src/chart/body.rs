//! A suit on a body from in front and from behind, each panel in the ink of what share of it burns; below, the share
//! over time, and the odds of a share where they were asked for.

use crate::chart::canvas::Anchor;
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Axis, Heading, MARGIN, SHEET, Sheet, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::lines::{EventMark, LineChart, LinePanel, Series, Trace, draw_lines};
use crate::chart::palette::{AIR, INK, Ink, ramp};
use crate::chart::suit_views::{Line, Shape, draw_list, draw_views, thick};
use crate::garment::suit::{Place, Side};
use crate::physics::units::PERCENT;

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
    /// What of all that is covered has burnt over time: a line's name, then time [s] and share [%].
    pub curves: Vec<(String, Vec<(f64, f64)>)>,
    /// The odds of a share, if they were asked for.
    pub odds: Option<BodyOddsLines>,
}

/// How many sets keep to a share.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyOddsLines {
    /// Each fire's name, then share burnt [%] and the sets that have no more than that [%].
    pub curves: Vec<(String, Vec<(f64, f64)>)>,
    /// The share asked for [%].
    pub at_most: f64,
    /// What it is, such as "asked: 30 %".
    pub label: String,
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
    sheet.top = draw_list(canvas, &lines, top) + GAP;
    let mut bottom = draw_lines(&mut sheet, &over_time(&chart.curves))?;
    if let Some(odds) = &chart.odds {
        sheet.top = bottom + GAP;
        bottom = draw_lines(&mut sheet, &of_sets(odds))?;
    }
    sheet.finish(bottom)
}

/// Air between the parts of the sheet [px].
const GAP: f64 = 18.0;
/// Height of a plot [px].
const PLOT: f64 = 170.0;
/// Range of shares [%].
fn all_shares() -> (f64, f64) {
    (0.0, PERCENT.outside(1.0))
}

/// The share burnt over time.
fn over_time(curves: &[(String, Vec<(f64, f64)>)]) -> LineChart {
    let y_axis = Axis::new("second degree [%]").over(all_shares().0, all_shares().1);
    let title = "what of all that is covered has a second degree, over time";
    lines("time [s]", None, panel(title, y_axis, curves))
}

/// The sets by the share that they have at most.
fn of_sets(odds: &BodyOddsLines) -> LineChart {
    let y_axis = Axis::new("sets [%]").over(all_shares().0, all_shares().1);
    let title = "sets that have no more than a share burnt";
    let mut panel = panel(title, y_axis, &odds.curves);
    panel.events.push(EventMark { x: odds.at_most, label: odds.label.clone() });
    lines("second degree, of what is covered [%]", Some(all_shares()), panel)
}

fn lines(x: &str, range: Option<(f64, f64)>, panel: LinePanel) -> LineChart {
    let x_axis = Axis { range, ..Axis::new(x) };
    LineChart { heading: Heading::default(), x_axis, panels: vec![panel], beside: None }
}

fn panel(title: &str, y_axis: Axis, curves: &[(String, Vec<(f64, f64)>)]) -> LinePanel {
    let series = |(label, points): &(String, Vec<(f64, f64)>)| Series {
        label: label.clone(),
        points: points.clone(),
        trace: Trace::Line,
    };
    let series = curves.iter().map(series).collect();
    LinePanel { title: title.to_owned(), height: PLOT, series, ..LinePanel::new(y_axis) }
}

/// The ink of a share [%].
pub(crate) fn ink_of(burnt: f64) -> Ink {
    let class = CLASSES.iter().find(|(end, ..)| burnt < *end).unwrap_or(&CLASSES[4]);
    ramp(class.1)
}

/// The inks of shares alone.
pub(crate) fn share_legend(width: f64) -> Legend {
    Legend::new(share_entries(), width)
}

fn share_entries() -> Vec<Entry> {
    let mut entries: Vec<Entry> = CLASSES
        .iter()
        .map(|(_, share, label)| (Swatch::Patch(ramp(*share)), *label))
        .map(|(swatch, label)| Entry { swatch, label: label.to_owned() })
        .collect();
    let label = "bare, or no panel given".to_owned();
    entries.push(Entry { swatch: Swatch::Patch(AIR), label });
    entries
}

fn legend(marks: &[BodyMark]) -> Legend {
    let mut entries = share_entries();
    if marks.iter().any(|mark| mark.is_first) {
        let label = "first to burn".to_owned();
        entries.push(Entry { swatch: Swatch::Line(thick()), label });
    }
    Legend::new(entries, SHEET - 2.0 * MARGIN)
}
