//! A cell of a quilting seen from above, coloured by the time to a second-degree burn.

use crate::chart::canvas::{Canvas, Rect, Stroke};
use crate::chart::clip::{Window, clip_line, clip_polygon};
use crate::chart::frame::{Plot, bar_marks, hairline, set};
use crate::chart::palette::{Dash, GRID, INK, Ink, PAPER, time_ink};
use crate::chart::scale::{ticks, widened};
use crate::chart::text::{Weight, text_width};
use crate::garment::layup::Pattern;
use crate::physics::units::MILLIMETRES;
use crate::study::quilt::burnt::BurntArea;
use crate::study::quilt::cell::Cell;

/// Rings of one colour from a stitch line to the centre.
const N_RINGS: usize = 60;
/// Where skin does not burn.
pub(crate) const UNBURNT: Ink = GRID;

/// Burn times over a cell, and the range of their colours [s].
#[derive(Debug, Clone)]
pub(crate) struct BurnColours<'a> {
    pub burnt: &'a BurntArea,
    pub range: (f64, f64),
}

impl BurnColours<'_> {
    /// The colour of a time, the earliest darkest; paler still where nothing burns.
    pub fn ink(&self, t: Option<f64>) -> Ink {
        t.map_or(UNBURNT, |t| BurnColours::shade(self.range, t))
    }

    /// The colour of a time within a range, the earliest darkest.
    pub fn shade(range: (f64, f64), t: f64) -> Ink {
        time_ink(t, range)
    }
}

/// Outline of the part of a cell that lies farther than `s` from its stitch lines, around its centre [m].
fn outline(cell: &Cell, s: f64, (x, y): (f64, f64), reach: f64) -> Vec<(f64, f64)> {
    let half = 0.5 * cell.pitch - s;
    let corners = match cell.pattern {
        Pattern::Channels => [(-half, -reach), (half, -reach), (half, reach), (-half, reach)],
        Pattern::Square => [(-half, -half), (half, -half), (half, half), (-half, half)],
        Pattern::Diamond => {
            let tip = half * std::f64::consts::SQRT_2;
            [(0.0, -tip), (tip, 0.0), (0.0, tip), (-tip, 0.0)]
        }
    };
    corners.iter().map(|(dx, dy)| (x + dx, y + dy)).collect()
}

/// Width of the square that shows one cell whole [m].
pub(crate) fn side(cell: &Cell) -> f64 {
    match cell.pattern {
        Pattern::Diamond => cell.pitch * std::f64::consts::SQRT_2,
        _ => cell.pitch,
    }
}

/// Range of the colours of burn times [s], widened to round ends; 0 to 1 where nothing burns.
pub(crate) fn time_range(times: impl Iterator<Item = f64>) -> (f64, f64) {
    let (low, high) =
        times.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| (low.min(t), high.max(t)));
    if low <= high { widened(low, high, 8) } else { (0.0, 1.0) }
}

/// Centres of the cells that reach into a square window around one of them [m].
fn centres(cell: &Cell, half_window: f64) -> Vec<(f64, f64)> {
    // a window no wider than the cell holds that cell, but for the corners of a diamond's square
    let n = ((half_window - 0.5 * side(cell)) / cell.pitch - 1e-9).ceil().max(0.0) as i32;
    match cell.pattern {
        Pattern::Channels => (-n..=n).map(|i| (f64::from(i) * cell.pitch, 0.0)).collect(),
        Pattern::Square => {
            let all = (-n..=n).flat_map(|i| (-n..=n).map(move |j| (f64::from(i), f64::from(j))));
            all.map(|(i, j)| (i * cell.pitch, j * cell.pitch)).collect()
        }
        Pattern::Diamond => {
            let reach = 0.5 * side(cell);
            let around = [(0.0, 0.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
            around.map(|(i, j)| (i * reach, j * reach)).to_vec()
        }
    }
}

/// Draws a cell and what a square plot in millimetres around its centre shows of its neighbours.
pub(crate) fn draw_map(canvas: &mut Canvas, cell: &Cell, colours: &BurnColours, plot: &Plot) {
    let mm = plot.x.to;
    let half_window = MILLIMETRES.inside(mm);
    let reach = half_window.max(0.5 * side(cell));
    let window = Window { x0: -mm, y0: -mm, x1: mm, y1: mm };
    let on_paper = |ring: Vec<(f64, f64)>| -> Vec<(f64, f64)> {
        let mm: Vec<_> =
            ring.iter().map(|(x, y)| (MILLIMETRES.outside(*x), MILLIMETRES.outside(*y))).collect();
        clip_polygon(&mm, &window).iter().map(|(x, y)| plot.at(*x, *y)).collect()
    };
    let centres = centres(cell, half_window);
    let burnt = colours.burnt;
    canvas.block(plot.rect, colours.ink(burnt.at_stitch_line()));
    for ring in 0..N_RINGS {
        // equal steps of the distance, coloured by their middle
        let u = ring as f64 / N_RINGS as f64;
        let half = 0.5 * cell.stitch_width;
        let s = half + u * (0.5 * cell.pitch - half);
        let ink = colours.ink(burnt.at(cell.lofted(u + 0.5 / N_RINGS as f64)));
        for centre in &centres {
            let ring = on_paper(outline(cell, s, *centre, reach));
            if ring.len() > 2 {
                canvas.fill(&ring, ink);
            }
        }
    }
    for centre in &centres {
        let around = outline(cell, 0.0, *centre, reach);
        let mm: Vec<_> = around
            .iter()
            .map(|(x, y)| (MILLIMETRES.outside(*x), MILLIMETRES.outside(*y)))
            .collect();
        let lines: Vec<Vec<(f64, f64)>> = match cell.pattern {
            Pattern::Channels => vec![vec![mm[0], mm[3]], vec![mm[1], mm[2]]],
            _ => vec![vec![mm[0], mm[1], mm[2], mm[3], mm[0]]],
        };
        for piece in lines.iter().flat_map(|line| clip_line(line, &window)) {
            let piece: Vec<_> = piece.iter().map(|(x, y)| plot.at(*x, *y)).collect();
            canvas.line(&piece, Stroke { width: 2.5, ..hairline(PAPER.thin(0.75)) });
            canvas.line(&piece, Stroke { width: 1.25, ink: INK, dash: Dash::Short });
        }
    }
}

/// The colour bar, early times above, with its label reading upwards beyond the ticks.
pub(crate) fn draw_bar(canvas: &mut Canvas, range: (f64, f64), bar: Rect, label: &str) {
    const N: usize = 60;
    let (low, high) = range;
    let place = |t: f64| bar.y + bar.h * (t - low) / (high - low);
    // each shade reaches down to the foot and is painted over by the next: no seams
    for i in 0..N {
        let t = low + (high - low) * i as f64 / N as f64;
        let rect = Rect { y: place(t), h: bar.y + bar.h - place(t), ..bar };
        canvas.block(rect, BurnColours::shade(range, t + 0.5 * (high - low) / N as f64));
    }
    let marks = ticks(low, high, 8);
    bar_marks(canvas, bar, &marks, place);
    let right = bar.x + bar.w;
    let widths = marks.labels().into_iter().map(|text| text_width(&text, 11.0, Weight::Regular));
    let x = right + 7.0 + widths.fold(0.0, f64::max) + 17.0;
    canvas.text_upright(label, (x, bar.y + bar.h / 2.0), set(11.0, INK));
}
