//! Two suits on a body: each from in front and from behind, and by how much more or less of each panel burns.

use crate::chart::body::{ink_of, share_legend};
use crate::chart::canvas::{Anchor, Canvas};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Heading, MARGIN, Sheet, bold};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{AIR, Ink, LOOKS, PAPER};
use crate::chart::suit_shapes::HEIGHT;
use crate::chart::suit_views::{Line, Shape, VIEWS, draw_list_to, draw_views_at};
use crate::garment::suit::{Place, Side};

/// A panel of two suits.
#[derive(Debug, Clone, PartialEq)]
pub struct BesideMark {
    /// Its name.
    pub name: String,
    /// Where it lies on each suit that has it, and what share of it has burnt there [%].
    pub on: [Option<(Place, Side, f64)>; 2],
    /// What stands behind its name.
    pub answer: String,
    /// A second line.
    pub note: String,
}

impl BesideMark {
    /// By how much more of it burns on the second suit [percentage points]; none where one suit has it alone.
    fn more(&self) -> Option<f64> {
        let [one, two] = self.on;
        one.zip(two).map(|((.., one), (.., two))| two - one)
    }
}

/// Two suits to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyBesideChart {
    /// The words around them.
    pub heading: Heading,
    /// What stands over the first, the second, and the difference.
    pub titles: [String; 3],
    /// The panels, numbered from 1 in this order.
    pub marks: Vec<BesideMark>,
}

/// Width of the sheet [px]: two suits stand side by side.
const WIDE: f64 = 2.0 * MARGIN + 2.0 * VIEWS + BETWEEN;
/// Air between the suits [px].
const BETWEEN: f64 = 36.0;
/// Room for a title and the sides' names above a suit [px].
const TITLE: f64 = 34.0;

/// Which look an ink is of, and how much of it is not white; none for paper.
type Tint = Option<(usize, f64)>;

/// Upper ends of the differences' classes [percentage points] but the last; how much ink of which look each has.
const CLASSES: [(f64, Tint, &str); 7] = [
    (-20.0, Some((LESS, 0.9)), "less by 20 and more"),
    (-5.0, Some((LESS, 0.55)), "less by 5 to 20"),
    (-0.05, Some((LESS, 0.25)), "less by up to 5"),
    (0.05, None, "alike"),
    (5.0, Some((MORE, 0.25)), "more by up to 5"),
    (20.0, Some((MORE, 0.55)), "more by 5 to 20"),
    (f64::INFINITY, Some((MORE, 0.9)), "more by 20 and more"),
];
/// The look of less and of more burnt.
const LESS: usize = 0;
const MORE: usize = 1;

/// The drawing as SVG.
///
/// Errors: no panel, a share that is not a finite number.
pub fn body_beside_chart(chart: &BodyBesideChart) -> Result<String, ChartError> {
    if chart.marks.is_empty() {
        return Err(ChartError::Empty { part: "the suits".to_owned() });
    }
    let shares = chart.marks.iter().flat_map(|mark| mark.on).flatten().map(|(.., burnt)| burnt);
    check_finite("shares burnt", shares)?;
    let mut sheet = Sheet::begin(&chart.heading, WIDE);
    let canvas = &mut sheet.canvas;
    let legend = share_legend(WIDE - 2.0 * MARGIN);
    legend.draw(canvas, MARGIN, sheet.top);
    let top = sheet.top + legend.height() + TITLE;
    for (k, left) in [MARGIN, MARGIN + VIEWS + BETWEEN].into_iter().enumerate() {
        title(canvas, &chart.titles[k], (left, top));
        draw_views_at(canvas, &shapes(chart, k, |_, burnt| ink_of(burnt)), (left, top));
    }
    let top = top + HEIGHT + 14.0;
    let legend = difference_legend();
    legend.draw(canvas, MARGIN, top);
    let top = top + legend.height() + TITLE;
    title(canvas, &chart.titles[2], (MARGIN, top));
    let of = |mark: &BesideMark, _: f64| mark.more().map_or(AIR, ink_of_difference);
    draw_views_at(canvas, &shapes(chart, 0, of), (MARGIN, top));
    let line = |mark: &BesideMark| Line {
        text: format!("{}: {}", mark.name, mark.answer),
        note: mark.note.clone(),
        is_bold: mark.more().is_some_and(|more| more.abs() >= CLASSES[3].0),
    };
    let lines: Vec<Line> = chart.marks.iter().map(line).collect();
    let bottom = draw_list_to(canvas, &lines, top, WIDE);
    sheet.finish(bottom)
}

fn title(canvas: &mut Canvas, words: &str, (left, top): (f64, f64)) {
    canvas.text(words, (left, top - 20.0), bold(11.5), Anchor::Start);
}

/// The panels of one suit; the number of one that it has not is drawn nowhere, as it has no place.
fn shapes(
    chart: &BodyBesideChart,
    suit: usize,
    ink: impl Fn(&BesideMark, f64) -> Ink,
) -> Vec<Option<Shape>> {
    let shape = |mark: &BesideMark| {
        let (place, side, burnt) = mark.on[suit]?;
        Some(Shape { place, side, ink: ink(mark, burnt), is_outlined: false })
    };
    chart.marks.iter().map(shape).collect()
}

/// The ink of a difference [percentage points].
fn ink_of_difference(more: f64) -> Ink {
    let class = CLASSES.iter().find(|(end, ..)| more < *end).unwrap_or(&CLASSES[6]);
    tinted(class.1)
}

fn tinted(tint: Tint) -> Ink {
    tint.map_or(PAPER, |(look, share)| LOOKS[look].ink.on_white(share))
}

fn difference_legend() -> Legend {
    let entry = |(_, tint, label): &(f64, Tint, &str)| Entry {
        swatch: Swatch::Patch(tinted(*tint)),
        label: (*label).to_owned(),
    };
    let mut entries: Vec<Entry> = CLASSES.iter().map(entry).collect();
    let label = "on one suit alone, or bare".to_owned();
    entries.push(Entry { swatch: Swatch::Patch(AIR), label });
    Legend::new(entries, WIDE - 2.0 * MARGIN)
}
