//! Lines over a shared horizontal axis, in one panel or several below each other.

use crate::chart::canvas::Rect;
use crate::chart::decades::{axis_range, in_logarithms, ticks_of};
use crate::chart::error::{ChartError, check_finite};
use crate::chart::events::{Flag, Lanes};
use crate::chart::frame::{MARGIN, Plot, SHEET, Sheet, X_AXIS, most_ticks, y_gutter};
use crate::chart::palette::LOOKS;
use crate::chart::panel::{Layout, draw_panel, legend_of, level_gutter};
use crate::chart::scale::Scale;
use crate::chart::stack::{STACK_WIDTH, check_stack, draw_stack};

pub use crate::chart::line_data::{
    Band, EventMark, Level, LineChart, LinePanel, PointMark, Ribbon, Series, Trace,
};

/// The chart as SVG.
///
/// Errors: nothing to draw, a value that is not finite, a range that does not increase, more series
/// than looks.
pub fn line_chart(chart: &LineChart) -> Result<String, ChartError> {
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let bottom = draw_lines(&mut sheet, chart)?;
    sheet.finish(bottom)
}

/// Draws the panels from the sheet's top on; returns where they end [px].
///
/// Errors: as [`line_chart`].
pub(crate) fn draw_lines(sheet: &mut Sheet<'_>, chart: &LineChart) -> Result<f64, ChartError> {
    if chart.panels.is_empty() {
        return Err(ChartError::Empty { part: "the chart".to_owned() });
    }
    chart.panels.iter().try_for_each(check_panel)?;
    let chart = &*in_logarithms(chart)?;
    let x = x_range(chart)?;
    let beside = match &chart.beside {
        Some(stack) => {
            check_stack(stack)?;
            STACK_WIDTH + 16.0
        }
        None => 0.0,
    };
    let room = SHEET - 2.0 * MARGIN - beside;
    let mut y_axes = Vec::new();
    for panel in &chart.panels {
        let most = most_ticks(panel.height, 36.0);
        let range = y_range(panel, most)?;
        y_axes.push((range, ticks_of(&panel.y_axis, range, most)));
    }
    let gutters = chart.panels.iter().zip(&y_axes);
    let left = MARGIN
        + gutters
            .map(|(panel, (_, t))| y_gutter(t, &panel.y_axis.label, panel.height))
            .fold(0.0, f64::max);
    let right_gutter = chart
        .panels
        .iter()
        .zip(&y_axes)
        .map(|(panel, (range, _))| level_gutter(panel, *range))
        .fold(12.0, f64::max);
    let width = room - (left - MARGIN) - right_gutter;
    let x_ticks = ticks_of(&chart.x_axis, x, most_ticks(width, 52.0));

    let mut top = sheet.top;
    let last = chart.panels.len() - 1;
    let body_top = top;
    for (i, (panel, (y, y_ticks))) in chart.panels.iter().zip(y_axes).enumerate() {
        let scale = Scale { from: x.0, to: x.1, at_from: left, at_to: left + width };
        let layout = lay_out(panel, top, (left, width), (x, y), scale);
        draw_panel(&mut sheet.canvas, panel, &layout, (&x_ticks, &y_ticks), left - MARGIN);
        let label = if i == last { chart.x_axis.label.as_str() } else { "" };
        layout.plot.x_axis(&mut sheet.canvas, &x_ticks, label);
        top = layout.plot.rect.y + layout.plot.rect.h + if i == last { X_AXIS } else { 32.0 };
    }
    if let Some(stack) = &chart.beside {
        let rect = Rect {
            x: SHEET - MARGIN - STACK_WIDTH,
            y: body_top,
            w: STACK_WIDTH,
            h: (top - body_top - X_AXIS).min(330.0),
        };
        draw_stack(&mut sheet.canvas, stack, rect);
    }
    Ok(top)
}

/// Title, legend, event lanes and plot below each other.
fn lay_out(
    panel: &LinePanel,
    top: f64,
    (left, width): (f64, f64),
    (x, y): ((f64, f64), (f64, f64)),
    scale: Scale,
) -> Layout {
    let title_height = if panel.title.is_empty() { 0.0 } else { 20.0 };
    let legend = legend_of(panel, width, (x, y));
    let flags: Vec<Flag> = panel
        .events
        .iter()
        .filter(|event| scale.holds(event.x))
        .map(|event| Flag { x: scale.place(event.x), label: event.label.clone() })
        .collect();
    let lanes = Lanes::new(&flags, left, left + width);
    let plot_top = top + title_height + legend.height() + lanes.height() + 4.0;
    let rect = Rect { x: left, y: plot_top, w: width, h: panel.height };
    let (title_top, legend_top) = (top, top + title_height);
    Layout { title_top, legend_top, legend, lanes, plot: Plot::new(rect, x, y) }
}

fn x_range(chart: &LineChart) -> Result<(f64, f64), ChartError> {
    let all = chart.panels.iter().flat_map(|panel| {
        let series = panel.series.iter().flat_map(|s| s.points.iter().map(|p| p.0));
        series.chain(panel.ribbons.iter().flat_map(|r| r.points.iter().map(|p| p.0)))
    });
    axis_range(&chart.x_axis, all, 8)
}

fn y_range(panel: &LinePanel, most: usize) -> Result<(f64, f64), ChartError> {
    let series = panel.series.iter().flat_map(|s| s.points.iter().map(|p| p.1));
    let ribbons = panel.ribbons.iter().flat_map(|r| r.points.iter().flat_map(|p| [p.1, p.2]));
    let levels = panel.levels.iter().map(|level| level.y);
    let bands = panel.y_bands.iter().flat_map(|band| [band.from, band.to]);
    let marks = panel.marks.iter().chain(&panel.names).map(|mark| mark.y);
    let all = series.chain(ribbons).chain(levels).chain(bands).chain(marks);
    axis_range(&panel.y_axis, all, most)
}

/// Everything in a panel is there and finite.
fn check_panel(panel: &LinePanel) -> Result<(), ChartError> {
    let part = format!("panel \"{}\"", panel.y_axis.label);
    if panel.series.is_empty() {
        return Err(ChartError::Empty { part });
    }
    if panel.series.len() > LOOKS.len() {
        let found = panel.series.len();
        return Err(ChartError::TooMany { part, found, limit: LOOKS.len() });
    }
    if !(panel.height.is_finite() && panel.height >= 60.0) {
        return Err(ChartError::NotPositive {
            part: format!("height of {part} less 60 px"),
            value: panel.height - 60.0,
        });
    }
    for series in &panel.series {
        let part = format!("series \"{}\"", series.label);
        if series.points.is_empty() {
            return Err(ChartError::Empty { part });
        }
        check_finite(&part, series.points.iter().map(|p| p.0 + p.1))?;
    }
    for ribbon in &panel.ribbons {
        let part = format!("ribbon \"{}\"", ribbon.label);
        check_finite(&part, ribbon.points.iter().map(|p| p.0 + p.1 + p.2))?;
        if ribbon.of_series >= panel.series.len() {
            let (expected, found) = (panel.series.len(), ribbon.of_series + 1);
            return Err(ChartError::Lengths { part, expected, found });
        }
    }
    check_finite("events", panel.events.iter().map(|event| event.x))?;
    check_finite("levels", panel.levels.iter().chain(&panel.ends).map(|level| level.y))?;
    check_finite("marks", panel.marks.iter().chain(&panel.names).map(|mark| mark.x + mark.y))?;
    for band in panel.x_bands.iter().chain(&panel.y_bands) {
        let part = format!("band \"{}\"", band.label);
        check_finite(&part, [band.from, band.to])?;
        if band.from >= band.to {
            return Err(ChartError::BadRange { part, from: band.from, to: band.to });
        }
    }
    Ok(())
}
