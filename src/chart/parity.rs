//! Measured against predicted, with the line of equality and bands around it.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::clip::{Window, clip_line};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::frame::{
    Heading, MARGIN, Plot, SHEET, Sheet, X_AXIS, hairline, most_ticks, set, y_gutter,
};
use crate::chart::legend::{Entry, Legend, Swatch, draw_marker};
use crate::chart::palette::{Dash, GREY, INK, LOOKS, PAPER};
use crate::chart::place::{Obstacles, nearest, rim};
use crate::chart::scale::{range_of, ticks};
use crate::chart::text::{Weight, number, text_width};
use crate::physics::units::PERCENT;

/// Side of the square plot [px].
const SIDE: f64 = 430.0;

/// A chart of measured against predicted values.
#[derive(Debug, Clone, PartialEq)]
pub struct ParityChart {
    /// The words around it.
    pub heading: Heading,
    /// Label of the horizontal axis with its unit, such as "measured HTI24 [s]".
    pub measured_label: String,
    /// Label of the vertical axis with its unit.
    pub predicted_label: String,
    /// Range of both axes; the data's, widened to round ends, if none.
    pub range: Option<(f64, f64)>,
    /// Half widths of the bands around equality, as shares of the measured value, above 0.
    pub bands: Vec<f64>,
    /// Points in groups, each with its own look.
    pub groups: Vec<ParityGroup>,
}

/// Points of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct ParityGroup {
    /// Its name in the legend.
    pub label: String,
    /// The points.
    pub points: Vec<ParityPoint>,
}

/// One comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ParityPoint {
    /// The measured value.
    pub measured: f64,
    /// Half length of its bar, 0 or more.
    pub measured_error: f64,
    /// The predicted value.
    pub predicted: f64,
    /// Half length of its bar, 0 or more.
    pub predicted_error: f64,
    /// A short name beside the point; may be empty.
    pub label: String,
}

/// The chart as SVG.
///
/// Errors: no points, a value that is not finite, a negative error, a band that is not above 0.
pub fn parity_chart(chart: &ParityChart) -> Result<String, ChartError> {
    check(chart)?;
    let points = || chart.groups.iter().flat_map(|group| &group.points);
    let most = most_ticks(SIDE, 52.0);
    let ends = points().flat_map(|p| {
        let (m, dm, q, dq) = (p.measured, p.measured_error, p.predicted, p.predicted_error);
        [m - dm, m + dm, q - dq, q + dq]
    });
    let range = range_of("the axes", chart.range, ends, most)?;
    let both = ticks(range.0, range.1, most);
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let left = MARGIN + y_gutter(&both, &chart.predicted_label, SIDE);
    let rect = Rect { x: left, y: sheet.top + 8.0, w: SIDE, h: SIDE };
    let beside = rect.x + SIDE + 24.0;
    legend_of(chart, SHEET - MARGIN - beside).draw(&mut sheet.canvas, beside, rect.y);
    let plot = Plot::new(rect, range, range);
    let canvas = &mut sheet.canvas;
    plot.grid(canvas, &both, &both);
    let mut obstacles = Obstacles::default();
    for (share, dash) in guides(chart) {
        for sign in [1.0, -1.0] {
            draw_guide(canvas, &plot, 1.0 + sign * share, dash, &mut obstacles);
        }
    }
    plot.edges(canvas);
    plot.x_axis(canvas, &both, &chart.measured_label);
    plot.y_axis(canvas, &both, &chart.predicted_label, left - MARGIN);
    draw_points(canvas, chart, &plot, &mut obstacles);
    sheet.finish(rect.y + SIDE + X_AXIS)
}

/// The line of equality and the bands, each with its dash.
fn guides(chart: &ParityChart) -> Vec<(f64, Dash)> {
    const DASHES: [Dash; 3] = [Dash::Long, Dash::Short, Dash::Dot];
    let bands = chart.bands.iter().zip(DASHES).map(|(share, dash)| (*share, dash));
    [(0.0, Dash::Full)].into_iter().chain(bands).collect()
}

fn draw_guide(canvas: &mut Canvas, plot: &Plot, slope: f64, dash: Dash, obstacles: &mut Obstacles) {
    let (from, to) = (plot.x.from, plot.x.to);
    let window = Window { x0: from, y0: from, x1: to, y1: to };
    for piece in clip_line(&[(from, slope * from), (to, slope * to)], &window) {
        let piece: Vec<_> = piece.iter().map(|p| plot.at(p.0, p.1)).collect();
        let width = if dash == Dash::Full { 1.25 } else { 1.0 };
        canvas.line(&piece, Stroke { width, ink: GREY, dash });
        obstacles.add_guide(&piece);
    }
}

fn legend_of(chart: &ParityChart, width: f64) -> Legend {
    let groups = chart.groups.iter().zip(LOOKS).map(|(group, look)| Entry {
        swatch: Swatch::Point(look.marker, look.ink),
        label: group.label.clone(),
    });
    let lines = guides(chart).into_iter().map(|(share, dash)| Entry {
        swatch: Swatch::Line(Stroke { width: 1.25, ink: GREY, dash }),
        label: match share {
            0.0 => "predicted = measured".to_owned(),
            _ => format!("±{} %", number(PERCENT.outside(share), 0)),
        },
    });
    Legend::column(groups.chain(lines).collect(), width)
}

/// Bars first, then markers, then labels in free places.
fn draw_points(canvas: &mut Canvas, chart: &ParityChart, plot: &Plot, obstacles: &mut Obstacles) {
    let (from, to) = (plot.x.from, plot.x.to);
    let window = Window { x0: from, y0: from, x1: to, y1: to };
    let shown = || {
        let groups = chart.groups.iter().zip(LOOKS);
        groups
            .flat_map(|(group, look)| group.points.iter().map(move |p| (p, look)))
            .filter(|(p, _)| window.holds((p.measured, p.predicted)))
    };
    for (p, look) in shown() {
        let (m, q) = (p.measured, p.predicted);
        let bars = [
            [(m - p.measured_error, q), (m + p.measured_error, q)],
            [(m, q - p.predicted_error), (m, q + p.predicted_error)],
        ];
        for piece in bars.iter().flat_map(|bar| clip_line(bar, &window)) {
            let piece: Vec<_> = piece.iter().map(|p| plot.at(p.0, p.1)).collect();
            canvas.line(&piece, hairline(look.ink));
            obstacles.add_line(&piece);
        }
    }
    for (p, look) in shown() {
        let at = plot.at(p.measured, p.predicted);
        draw_marker(canvas, look.marker, at, look.ink);
        obstacles.taken.push(Rect { x: at.0 - 5.0, y: at.1 - 5.0, w: 10.0, h: 10.0 });
    }
    let placed: Vec<(&str, (f64, f64), Rect)> = shown()
        .filter(|(p, _)| !p.label.is_empty())
        .filter_map(|(p, _)| {
            let at = plot.at(p.measured, p.predicted);
            let size = (text_width(&p.label, 10.0, Weight::Regular) + 4.0, 13.0);
            Some((p.label.as_str(), at, obstacles.place(at, size, plot.rect)?))
        })
        .collect();
    // leaders below every label, where one cannot but cross another
    for (_, at, rect) in &placed {
        let (at, nearest) = (*at, nearest(rect, *at));
        if (nearest.0 - at.0).hypot(nearest.1 - at.1) > 9.0 {
            canvas.line(&[rim(at, nearest), nearest], Stroke { width: 0.75, ..hairline(GREY) });
        }
    }
    for (label, _, rect) in &placed {
        canvas.block(*rect, PAPER.thin(0.75));
        canvas.text(label, (rect.x + 2.0, rect.y + 10.0), set(10.0, INK), Anchor::Start);
    }
}

fn check(chart: &ParityChart) -> Result<(), ChartError> {
    if chart.groups.iter().all(|group| group.points.is_empty()) {
        return Err(ChartError::Empty { part: "the points".to_owned() });
    }
    for (part, found, limit) in
        [("the groups", chart.groups.len(), LOOKS.len()), ("the bands", chart.bands.len(), 3)]
    {
        if found > limit {
            return Err(ChartError::TooMany { part: part.to_owned(), found, limit });
        }
    }
    for group in &chart.groups {
        let part = format!("group \"{}\"", group.label);
        check_finite(&part, group.points.iter().map(|p| p.measured + p.predicted))?;
        check_finite(&part, group.points.iter().map(|p| p.measured_error + p.predicted_error))?;
        for p in &group.points {
            if p.measured_error < 0.0 || p.predicted_error < 0.0 {
                let value = p.measured_error.min(p.predicted_error);
                return Err(ChartError::NotPositive { part: format!("error in {part}"), value });
            }
        }
    }
    for value in &chart.bands {
        if !(value.is_finite() && *value > 0.0) {
            return Err(ChartError::NotPositive { part: "a band".to_owned(), value: *value });
        }
    }
    Ok(())
}
