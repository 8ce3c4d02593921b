//! A quilting cut through across a cell, drawn to scale, the outer face above.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::frame::{hairline, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{AIR, Dash, FLAME_ARROW, GREY, INK, SKIN_INK, ply_ink};
use crate::chart::scale::ticks;
use crate::chart::text::number;
use crate::garment::layup::{Entry as Layer, Layup, Quilting};
use crate::physics::units::MILLIMETRES;
use crate::study::quilt::cell::Cell;
use crate::study::quilt::lay::layup_at;
use crate::study::quilt::path::{Path, Place};

/// Room above the cut for the flame's arrow [px].
const FLAME_ABOVE: f64 = 26.0;
/// Height of the skin below the cut [px].
const SKIN: f64 = 13.0;
/// Places drawn from a stitch line's edge to the centre.
const N_PLACES: usize = 40;

/// The cut, ready to be drawn.
#[derive(Debug)]
pub(crate) struct Section {
    /// Places from one stitch line's middle to the next [m], with the layers there: from the inner
    /// face up, `(height of the lower face, height of the upper face)` [m].
    columns: Vec<(f64, Vec<(f64, f64)>)>,
    /// Names of the layers, innermost first; none for air.
    names: Vec<Option<String>>,
    width: f64,
    height: f64,
    centre_air: f64,
}

impl Section {
    /// Cuts a quilted layup from one stitch line to the next.
    pub fn new(layup: &Layup, quilting: &Quilting) -> Section {
        let cell = Cell::of(quilting);
        let half = 0.5 * cell.stitch_width;
        let path = |place, s: f64, air| Path { place, distance: s, lofted: 0.0, share: 0.0, air };
        let stitch = layers(&layup_at(layup, quilting, &path(Place::StitchLine, 0.0, 0.0)));
        let names = stitch.iter().map(|layer| layer.0.clone()).collect();
        let mut half_cell = vec![(0.0, stitch.clone()), (half, stitch)];
        for i in 0..=N_PLACES {
            let u = i as f64 / N_PLACES as f64;
            let s = half + u * (0.5 * cell.pitch - half);
            let air = quilting.loft.value * (1.0 - (1.0 - u) * (1.0 - u));
            half_cell.push((s, layers(&layup_at(layup, quilting, &path(Place::Between, s, air)))));
        }
        let mirrored = half_cell.iter().rev().skip(1);
        let mirrored: Vec<_> = mirrored.map(|(s, all)| (cell.pitch - s, all.clone())).collect();
        let columns: Vec<_> = half_cell.into_iter().chain(mirrored).collect();
        let columns: Vec<(f64, Vec<(f64, f64)>)> =
            columns.into_iter().map(|(s, all)| (s, stacked(&all))).collect();
        let tops = columns.iter().filter_map(|(_, faces)| faces.last()).map(|face| face.1);
        Section {
            height: tops.fold(0.0, f64::max),
            columns,
            names,
            width: cell.pitch,
            centre_air: quilting.loft.value,
        }
    }

    /// Draws legend and cut below a line of words at `(x, y)` over a width, the flame above and skin below;
    /// returns the lower end [px].
    pub fn draw_below(&self, canvas: &mut Canvas, (x, y): (f64, f64), width: f64) -> f64 {
        let legend = self.legend(width);
        legend.draw(canvas, x, y + 6.0);
        let scale = self.scale(width - 8.0, 130.0);
        let y = y + 16.0 + legend.height() + FLAME_ABOVE;
        let rect = Rect { x, y, w: width, h: self.height_at(scale) };
        self.draw(canvas, rect, scale);
        rect.y + rect.h + SKIN + 34.0
    }

    /// Scale that fits the cut into a room of `w` by `h` px [px/m].
    pub fn scale(&self, w: f64, h: f64) -> f64 {
        (w / self.width).min(h / self.height)
    }

    /// Height of the cut at a scale [px].
    pub fn height_at(&self, scale: f64) -> f64 {
        self.height * scale
    }

    /// The plies' names with their fills, outermost first.
    pub fn legend(&self, width: f64) -> Legend {
        let mut n_plies = self.names.iter().flatten().count();
        let mut entries = Vec::new();
        for name in self.names.iter().flatten() {
            n_plies -= 1;
            entries.push(Entry { swatch: Swatch::Patch(ply_ink(n_plies)), label: name.clone() });
        }
        entries.reverse();
        entries.push(Entry { swatch: Swatch::Patch(AIR), label: "air".to_owned() });
        Legend::new(entries, width)
    }

    /// Draws the cut with its inner face on the lower edge of `rect`, at `scale` [px/m].
    pub fn draw(&self, canvas: &mut Canvas, rect: Rect, scale: f64) {
        let left = rect.x + 0.5 * (rect.w - self.width * scale);
        let bottom = rect.y + rect.h;
        let at = |s: f64, h: f64| (left + s * scale, bottom - h * scale);
        let mut n_left = self.names.iter().flatten().count();
        for (j, name) in self.names.iter().enumerate() {
            let ink = match name {
                Some(_) => {
                    n_left -= 1;
                    ply_ink(n_left)
                }
                None => AIR,
            };
            let lower: Vec<_> = self.columns.iter().map(|(s, f)| at(*s, f[j].0)).collect();
            let upper: Vec<_> = self.columns.iter().map(|(s, f)| at(*s, f[j].1)).collect();
            let ring: Vec<_> = lower.iter().chain(upper.iter().rev()).copied().collect();
            canvas.fill(&ring, ink);
            canvas.line(&lower, Stroke { width: 0.5, ..hairline(GREY) });
            canvas.line(&upper, Stroke { width: 0.5, ..hairline(GREY) });
        }
        let (from, to) = (at(0.0, 0.0).0, at(self.width, 0.0).0);
        canvas.block(Rect { x: from, y: bottom, w: to - from, h: SKIN }, SKIN_INK);
        let middle = 0.5 * (from + to);
        canvas.text("skin here", (middle, bottom + 10.0), set(9.5, INK), Anchor::Middle);
        draw_flame(canvas, (middle, rect.y));
        let bottom = bottom + SKIN;
        for s in [0.0, self.width] {
            let (x, _) = at(s, 0.0);
            let top = self.columns[0].1.last().map_or(0.0, |face| face.1);
            let line = [(x, bottom + 2.0), (x, bottom - SKIN - top * scale - 4.0)];
            canvas.line(&line, Stroke { width: 1.5, ink: INK, dash: Dash::Short });
        }
        let (left, right) = (at(0.0, 0.0).0, at(self.width, 0.0).0);
        let label = set(10.0, GREY);
        canvas.text("stitch line", (left, bottom + 16.0), label, Anchor::Start);
        canvas.text("stitch line", (right, bottom + 16.0), label, Anchor::End);
        let centre =
            format!("centre, {} mm of loft", number(MILLIMETRES.outside(self.centre_air), 1));
        canvas.text(&centre, (0.5 * (left + right), bottom + 16.0), label, Anchor::Middle);
        self.draw_scale(canvas, (left, bottom + 30.0), scale);
    }

    /// A length of round millimetres that holds across and up.
    fn draw_scale(&self, canvas: &mut Canvas, (x, y): (f64, f64), scale: f64) {
        let marks = ticks(0.0, MILLIMETRES.outside(self.width), 5);
        let mm = marks.values.get(1).copied().unwrap_or(MILLIMETRES.outside(self.width));
        let w = MILLIMETRES.inside(mm) * scale;
        canvas.line(&[(x, y), (x + w, y)], hairline(INK));
        for x in [x, x + w] {
            canvas.line(&[(x, y - 3.0), (x, y + 3.0)], hairline(INK));
        }
        let text = format!("{} mm across and up", number(mm, marks.decimals));
        canvas.text(&text, (x + w + 6.0, y + 3.5), set(9.5, GREY), Anchor::Start);
    }
}

/// An arrow from the flame's side down to `tip`, with its word.
fn draw_flame(canvas: &mut Canvas, (x, y): (f64, f64)) {
    let ink = FLAME_ARROW;
    let stroke = Stroke { width: 2.0, ..hairline(ink) };
    for x in [x - 9.0, x, x + 9.0] {
        canvas.line(&[(x, y - 22.0), (x, y - 8.0)], stroke);
        canvas.fill(&[(x - 4.0, y - 9.0), (x + 4.0, y - 9.0), (x, y - 2.0)], ink);
    }
    canvas.text("flame", (x + 18.0, y - 11.0), set(10.0, INK), Anchor::Start);
}

/// Layers from the inner face up with their thickness [m].
///
/// Every joint between plies has its air, which may be none; air behind the innermost ply is left out.
fn layers(layup: &Layup) -> Vec<(Option<String>, f64)> {
    let mut all: Vec<(Option<String>, f64)> = Vec::new();
    for layer in &layup.stack {
        match layer {
            Layer::Ply(ply) => {
                if all.last().is_some_and(|last| last.0.is_some()) {
                    all.push((None, 0.0));
                }
                all.push((Some(ply.fabric.name.clone()), ply.fabric.thickness.value));
            }
            Layer::Gap(gap) => all.push((None, gap.thickness.value)),
        }
    }
    if all.last().is_some_and(|last| last.0.is_none()) {
        all.pop();
    }
    all.reverse();
    all
}

/// Lower and upper face of each layer above the inner face [m].
fn stacked(layers: &[(Option<String>, f64)]) -> Vec<(f64, f64)> {
    let mut height = 0.0;
    let face = |(_, thickness): &(Option<String>, f64)| {
        let lower = height;
        height += thickness;
        (lower, height)
    };
    layers.iter().map(face).collect()
}
