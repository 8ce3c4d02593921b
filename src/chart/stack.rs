//! A layup cut through, drawn to scale, outer face on top.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::error::ChartError;
use crate::chart::frame::{Heading, MARGIN, Sheet, bold, hairline, set};
use crate::chart::palette::{AIR, GREY, INK, ply_ink};
use crate::chart::place::spread;
use crate::chart::scale::ticks;
use crate::chart::text::{Weight, number, wrap};
use crate::garment::layup::{Entry, Layup};
use crate::physics::units::MILLIMETRES;

/// Width of a drawing beside another chart [px].
pub(crate) const STACK_WIDTH: f64 = 178.0;

/// Width of the sheet of a drawing that stands alone [px].
const ALONE: f64 = 560.0;

/// What a layer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayerKind {
    /// A fabric layer.
    Ply,
    /// Air.
    Gap,
}

/// One layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// Its name; the thickness is added.
    pub label: String,
    /// Its thickness [mm], above 0.
    pub thickness_mm: f64,
    /// What it is.
    pub kind: LayerKind,
}

/// A layup, outermost first.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// What it is of; may be empty.
    pub title: String,
    /// What is outside, such as "flame".
    pub above: String,
    /// The layers, outermost first.
    pub layers: Vec<Layer>,
    /// What is behind, such as "copper disc".
    pub below: String,
}

impl Stack {
    /// A layup as it lies in front of what is behind; a quilting's loft is not drawn.
    pub fn of(layup: &Layup, title: String, below: &str) -> Stack {
        let layers = layup.stack.iter().map(|entry| match entry {
            Entry::Ply(ply) => Layer {
                label: ply.fabric.name.clone(),
                thickness_mm: MILLIMETRES.outside(ply.fabric.thickness.value),
                kind: LayerKind::Ply,
            },
            Entry::Gap(gap) => Layer {
                label: "air gap".to_owned(),
                thickness_mm: MILLIMETRES.outside(gap.thickness.value),
                kind: LayerKind::Gap,
            },
        });
        let (above, below) = ("outside".to_owned(), below.to_owned());
        Stack { title, above, layers: layers.collect(), below }
    }
}

/// The drawing alone as SVG.
///
/// Errors: no layers, a thickness that is not above 0.
pub fn stack_chart(heading: &Heading, stack: &Stack) -> Result<String, ChartError> {
    check_stack(stack)?;
    let mut sheet = Sheet::begin(heading, ALONE);
    let top = sheet.top;
    let height = 60.0 + (stack.layers.len() as f64 * 40.0).max(200.0);
    let rect = Rect { x: MARGIN, y: top, w: ALONE - 2.0 * MARGIN, h: height };
    draw_stack(&mut sheet.canvas, stack, rect);
    sheet.finish(top + height)
}

pub(crate) fn check_stack(stack: &Stack) -> Result<(), ChartError> {
    if stack.layers.is_empty() {
        return Err(ChartError::Empty { part: "the layup".to_owned() });
    }
    for layer in &stack.layers {
        let value = layer.thickness_mm;
        if !(value.is_finite() && value > 0.0) {
            let part = format!("thickness of \"{}\"", layer.label);
            return Err(ChartError::NotPositive { part, value });
        }
    }
    Ok(())
}

/// Draws the layup into a rectangle: title above, bar on the left, labels on the right, scale below.
pub(crate) fn draw_stack(canvas: &mut Canvas, stack: &Stack, rect: Rect) {
    const SIZE: f64 = 10.0;
    const LINE: f64 = 12.0;
    let mut y = rect.y;
    for line in wrap(&stack.title, rect.w, SIZE, Weight::Bold) {
        y += LINE;
        canvas.text(&line, (rect.x, y), bold(SIZE), Anchor::Start);
    }
    let rect = Rect { y, h: rect.h - (y - rect.y), ..rect };
    let bar = Rect {
        x: rect.x + 26.0,
        y: rect.y + 20.0,
        w: (rect.w * 0.28).min(200.0),
        h: rect.h - 40.0,
    };
    let total: f64 = stack.layers.iter().map(|layer| layer.thickness_mm).sum();
    let px = bar.h / total;
    canvas.text(&stack.above, (bar.x, bar.y - 7.0), set(SIZE, GREY), Anchor::Start);
    let label_x = bar.x + bar.w + 20.0;
    let texts: Vec<Vec<String>> = stack
        .layers
        .iter()
        .map(|layer| {
            let text = format!("{} {}\u{a0}mm", layer.label, thickness_text(layer.thickness_mm));
            wrap(&text, rect.x + rect.w - label_x, SIZE, Weight::Regular)
        })
        .collect();
    let heights: Vec<f64> = texts.iter().map(|t| t.len() as f64 * LINE + 2.0).collect();
    let mut wanted = Vec::new();
    let mut y = bar.y;
    let mut n_plies = 0;
    for layer in &stack.layers {
        let h = layer.thickness_mm * px;
        let ink = match layer.kind {
            LayerKind::Gap => AIR,
            LayerKind::Ply => {
                n_plies += 1;
                ply_ink(n_plies - 1)
            }
        };
        let slab = Rect { x: bar.x, y, w: bar.w, h };
        canvas.block(slab, ink);
        let width = if layer.kind == LayerKind::Ply { 1.0 } else { 0.5 };
        canvas.outline(slab, Stroke { width, ..hairline(GREY) });
        wanted.push(y + h / 2.0);
        y += h;
    }
    let placed = spread(&wanted, &heights, bar.y - 4.0, bar.y + bar.h + 4.0);
    for ((lines, from), to) in texts.iter().zip(&wanted).zip(&placed) {
        let edge = bar.x + bar.w;
        let leader = [(edge, *from), (edge + 5.0, *from), (edge + 13.0, *to), (edge + 17.0, *to)];
        canvas.line(&leader, Stroke { width: 0.75, ..hairline(GREY) });
        let first = to - lines.len() as f64 * LINE / 2.0;
        for (i, line) in lines.iter().enumerate() {
            let at = (label_x, first + LINE * (i as f64 + 0.8));
            canvas.text(line, at, set(SIZE, INK), Anchor::Start);
        }
    }
    canvas.text(&stack.below, (bar.x, bar.y + bar.h + 15.0), set(SIZE, GREY), Anchor::Start);
    draw_scale(canvas, (rect.x, bar.y + bar.h), px, total);
}

/// A length of round millimetres beside the layers' lower end, at their scale.
fn draw_scale(canvas: &mut Canvas, (x, bottom): (f64, f64), px: f64, total: f64) {
    let marks = ticks(0.0, total, 4);
    let length = marks.values.get(1).copied().unwrap_or(total);
    let (x, top) = (x + 17.0, bottom - length * px);
    canvas.line(&[(x, top), (x, bottom)], hairline(INK));
    for y in [top, bottom] {
        canvas.line(&[(x - 3.0, y), (x + 3.0, y)], hairline(INK));
    }
    let text = format!("{} mm", number(length, marks.decimals));
    canvas.text_upright(&text, (x - 7.0, (top + bottom) / 2.0), set(9.5, GREY));
}

/// A thickness with two decimals below 1 mm, else one.
fn thickness_text(thickness_mm: f64) -> String {
    number(thickness_mm, if thickness_mm < 1.0 { 2 } else { 1 })
}
