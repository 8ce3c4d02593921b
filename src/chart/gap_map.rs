//! Layups down, gaps across: a figure as colour with its number in each cell, masses at the edge.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke, Type};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{Heading, MARGIN, SHEET, Sheet, bar_marks, hairline, set};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::palette::{Dash, GRID, INK, Ink, PAPER, time_ink};
use crate::chart::scale::{Ticks, ticks, widened};
use crate::chart::text::{Weight, wrap};

/// Width of the layups' names [px].
const NAMES: f64 = 168.0;
/// Width of the masses [px].
const GRAMS: f64 = 44.0;
/// Height of a row [px]; names of more lines make it higher.
const ROW: f64 = 34.0;
const LINE: f64 = 12.0;
/// Most lines of equal time: as many as have a dash that is told apart.
const MOST_LEVELS: usize = 4;

/// A cell.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MapCell {
    /// The time [s]; none leaves the cell without colour.
    pub value: Option<f64>,
    /// What is written in it.
    pub text: String,
    /// Whether it is the longest of its row.
    pub is_best: bool,
}

/// A layup's row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MapRow {
    /// Its name.
    pub label: String,
    /// Its areal density [g/m²], as written.
    pub grams: String,
    /// A cell a gap.
    pub cells: Vec<MapCell>,
}

/// Where the cells lie.
struct Grid<'a> {
    rows: &'a [MapRow],
    left: f64,
    /// Upper edge of each row, and the last one's lower edge [px].
    tops: Vec<f64>,
    width: f64,
}

impl Grid<'_> {
    fn rect(&self, row: usize, column: usize) -> Rect {
        let (y, end) = (self.tops[row], self.tops[row + 1]);
        Rect { x: self.left + column as f64 * self.width, y, w: self.width, h: end - y }
    }
}

/// The map as SVG.
///
/// - `figure`: name of the time
/// - `gaps`: what is written above the columns [mm]
/// - `wanted`: times that are asked for, with their names, which part the cells instead of round ones
///
/// Errors: no cell, rows of another length than `gaps`, a value that is not finite.
pub fn gap_map_chart(
    heading: &Heading,
    figure: &str,
    gaps: &[String],
    rows: &[MapRow],
    wanted: &[(f64, String)],
) -> Result<String, ChartError> {
    let part = || format!("the map of {figure}");
    if gaps.is_empty() || rows.is_empty() {
        return Err(ChartError::Empty { part: part() });
    }
    if let Some(row) = rows.iter().find(|row| row.cells.len() != gaps.len()) {
        let (expected, found) = (gaps.len(), row.cells.len());
        return Err(ChartError::Lengths { part: part(), expected, found });
    }
    let values = || rows.iter().flat_map(|row| &row.cells).filter_map(|cell| cell.value);
    check_finite(&part(), values())?;
    let range = values().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), t| (a.min(t), b.max(t)));
    let range = if range.0 <= range.1 { widened(range.0, range.1, 8) } else { (0.0, 1.0) };
    let levels = match wanted {
        [] => round_levels(figure, values(), range),
        asked => asked.iter().take(MOST_LEVELS).cloned().collect(),
    };

    let mut sheet = Sheet::begin(heading, SHEET);
    let legend = legend(&levels);
    legend.draw(&mut sheet.canvas, MARGIN, sheet.top);
    let top = sheet.top + legend.height() + 34.0;
    let mut tops = vec![top];
    for row in rows {
        let lines = name_lines(row).len() as f64;
        tops.push(tops[tops.len() - 1] + ROW.max(LINE * lines + 8.0));
    }
    let bar_room = 76.0;
    let room = SHEET - 2.0 * MARGIN - NAMES - GRAMS - bar_room;
    let width = (room / gaps.len() as f64).min(96.0);
    let grid = Grid { rows, left: MARGIN + NAMES + GRAMS, tops, width };
    draw_heads(&mut sheet.canvas, &grid, gaps);
    for (i, row) in rows.iter().enumerate() {
        draw_row(&mut sheet.canvas, &grid, (i, row), range);
    }
    draw_levels(&mut sheet.canvas, &grid, &levels);
    let (top, bottom) = (grid.tops[0], grid.tops[rows.len()]);
    let right = grid.left + width * gaps.len() as f64;
    let bar = Rect { x: right + 20.0, y: top, w: 12.0, h: bottom - top };
    draw_times(&mut sheet.canvas, bar, range, &format!("{figure} [s]"));
    sheet.finish(bottom + 6.0)
}

/// Dashes of the lines of equal time, the shortest time first.
const DASHES: [Dash; MOST_LEVELS] = [Dash::Full, Dash::Long, Dash::Short, Dash::Dot];

/// A time [s] with what it is called.
type Level = (f64, String);

/// Round times that part the cells.
fn round_levels(
    figure: &str,
    values: impl Iterator<Item = f64> + Clone,
    (low, high): (f64, f64),
) -> Vec<Level> {
    let parts =
        |level: &f64| values.clone().any(|t| t < *level) && values.clone().any(|t| t >= *level);
    // fewer and fewer marks until each has a dash of its own
    let most = (1..=MOST_LEVELS + 1).rev();
    let found = most.map(|most| {
        let mut all = ticks(low, high, most);
        all.values.retain(parts);
        all
    });
    let few = found.into_iter().find(|all| all.values.len() <= MOST_LEVELS);
    let few = few.unwrap_or_else(Ticks::none);
    let named = |(t, text): (f64, String)| (t, format!("{figure} {text} s"));
    few.values.iter().copied().zip(few.labels()).map(named).collect()
}

fn stroke(dash: Dash) -> Stroke {
    Stroke { width: 2.25, ink: INK, dash }
}

fn legend(levels: &[Level]) -> Legend {
    let level = |((_, name), dash): (&Level, Dash)| Entry {
        swatch: Swatch::Line(stroke(dash)),
        label: name.clone(),
    };
    let entries = levels.iter().zip(DASHES).map(level).collect();
    Legend::new(entries, SHEET - 2.0 * MARGIN)
}

fn name_lines(row: &MapRow) -> Vec<String> {
    wrap(&row.label, NAMES - 10.0, 10.0, Weight::Regular)
}

/// What stands above the columns.
fn draw_heads(canvas: &mut Canvas, grid: &Grid, gaps: &[String]) {
    let y = grid.tops[0];
    for (i, gap) in gaps.iter().enumerate() {
        let x = grid.left + (i as f64 + 0.5) * grid.width;
        canvas.text(gap, (x, y - 6.0), set(11.0, INK), Anchor::Middle);
    }
    let middle = grid.left + 0.5 * grid.width * gaps.len() as f64;
    canvas.text("thickness of the gap [mm]", (middle, y - 22.0), set(11.0, INK), Anchor::Middle);
    canvas.text("layup", (MARGIN, y - 6.0), set(11.0, INK), Anchor::Start);
    canvas.text("[g/m²]", (grid.left - 8.0, y - 6.0), set(11.0, INK), Anchor::End);
}

fn draw_row(canvas: &mut Canvas, grid: &Grid, (i, row): (usize, &MapRow), range: (f64, f64)) {
    let place = grid.rect(i, 0);
    let middle = place.y + 0.5 * place.h;
    let lines = name_lines(row);
    let first = middle - 0.5 * LINE * lines.len() as f64;
    for (j, line) in lines.iter().enumerate() {
        let y = first + LINE * (j as f64 + 0.8);
        canvas.text(line, (MARGIN, y), set(10.0, INK), Anchor::Start);
    }
    let at = (grid.left - 8.0, middle + 4.0);
    canvas.text(&row.grams, at, set(11.0, INK), Anchor::End);
    for (j, cell) in row.cells.iter().enumerate() {
        let rect = grid.rect(i, j);
        let ink = cell.value.map_or(GRID, |t| time_ink(t, range));
        canvas.block(rect, ink);
        let weight = if cell.is_best { Weight::Bold } else { Weight::Regular };
        let words = Type { size: 10.0, weight, ink: on(ink) };
        canvas.text(&cell.text, (rect.x + 0.5 * rect.w, middle + 3.6), words, Anchor::Middle);
    }
}

/// The ink of a number on a colour: whichever stands out more.
fn on(ink: Ink) -> Ink {
    // contrast with the dark ink against contrast with paper
    let dark = (ink.luminance() + 0.05) / (INK.luminance() + 0.05);
    if dark >= ink.contrast_on_white() { INK } else { PAPER }
}

/// A border between two cells with what is crossed there.
struct Border {
    ends: [(f64, f64); 2],
    /// Towards the cell of the longer time.
    towards: (f64, f64),
    /// Places of the times that lie between the cells, the shortest first.
    levels: Vec<usize>,
}

/// Borders between cells below a time and cells at or above it; several times on one border lie side by side.
fn draw_levels(canvas: &mut Canvas, grid: &Grid, levels: &[Level]) {
    const APART: f64 = 5.0;
    let borders = borders(grid, levels);
    let placed = |border: &Border, place: usize| {
        let shift = APART * (place as f64 - 0.5 * (border.levels.len() - 1) as f64);
        let (dx, dy) = border.towards;
        border.ends.map(|(x, y)| (x + shift * dx, y + shift * dy))
    };
    for border in &borders {
        for place in 0..border.levels.len() {
            canvas.line(&placed(border, place), Stroke { width: 4.5, ..hairline(PAPER) });
        }
    }
    for border in &borders {
        for (place, level) in border.levels.iter().enumerate() {
            canvas.line(&placed(border, place), stroke(DASHES[*level]));
        }
    }
}

fn borders(grid: &Grid, levels: &[Level]) -> Vec<Border> {
    let value = |row: usize, column: usize| grid.rows[row].cells[column].value;
    let n_columns = grid.rows[0].cells.len();
    let between = |a: Option<f64>, b: Option<f64>, ends, way: (f64, f64)| {
        let (a, b) = (a?, b?);
        let is_between = |i: &usize| a.min(b) < levels[*i].0 && levels[*i].0 <= a.max(b);
        let towards = if b >= a { way } else { (-way.0, -way.1) };
        let levels: Vec<usize> = (0..levels.len()).filter(is_between).collect();
        Some(Border { ends, towards, levels })
    };
    let mut all = Vec::new();
    for row in 0..grid.rows.len() {
        for column in 0..n_columns {
            let Rect { x, y, w, h } = grid.rect(row, column);
            if column + 1 < n_columns {
                let ends = [(x + w, y), (x + w, y + h)];
                all.extend(between(value(row, column), value(row, column + 1), ends, (1.0, 0.0)));
            }
            if row + 1 < grid.rows.len() {
                let ends = [(x, y + h), (x + w, y + h)];
                all.extend(between(value(row, column), value(row + 1, column), ends, (0.0, 1.0)));
            }
        }
    }
    all
}

/// The colours with their times, the shortest below.
fn draw_times(canvas: &mut Canvas, bar: Rect, (low, high): (f64, f64), label: &str) {
    const STEPS: usize = 40;
    let step = bar.h / STEPS as f64;
    for i in 0..STEPS {
        let t = high - (high - low) * (i as f64 + 0.5) / STEPS as f64;
        let y = bar.y + i as f64 * step;
        // each reaches to the foot and is painted over by the next: no seams
        let rect = Rect { y, h: bar.y + bar.h - y, ..bar };
        canvas.block(rect, time_ink(t, (low, high)));
    }
    let marks = ticks(low, high, (bar.h / 24.0).floor().clamp(1.0, 8.0) as usize);
    bar_marks(canvas, bar, &marks, |t| bar.y + bar.h * (high - t) / (high - low));
    let middle = bar.y + 0.5 * bar.h;
    if bar.h > 90.0 {
        canvas.text_upright(label, (bar.x + bar.w + 44.0, middle), set(11.0, INK));
    } else {
        canvas.text(label, (bar.x, bar.y - 22.0), set(11.0, INK), Anchor::Start);
    }
}
