//! Layups side by side: the disc's rise over time, a figure with its error, the mass.

use crate::bench::outcome::{ColumnKind, Outcome};
use crate::chart::bars::{Bar, BarChart, BarGroup, TargetLine, Tint, draw_bars};
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading, SHEET, Sheet};
use crate::chart::lines::{Level, LineChart, LinePanel, Series, Trace, draw_lines};
use crate::chart::palette::LOOKS;
use crate::chart::stack::Stack;
use crate::chart::text::number;
use crate::garment::suit::sewn_density;
use crate::physics::units::GRAMS_PER_AREA;

/// One layup in the chart.
#[derive(Debug, Clone, PartialEq)]
pub struct RankedBar {
    /// Its name.
    pub name: String,
    /// The figure in its unit with its numerical error; none where it was not reached.
    pub figure: Option<(f64, f64)>,
    /// How it stands against the target, in short; empty where none or several are asked for.
    pub call: String,
}

/// A ranking to be drawn; outcomes and bars are in the same order.
#[derive(Debug, Clone, PartialEq)]
pub struct RankChart<'a> {
    /// The words around it.
    pub heading: Heading,
    /// Name and unit of the figure, such as "HTI24 [s]".
    pub figure: String,
    /// The layups, at most [`MOST`].
    pub bars: Vec<RankedBar>,
    /// Their outcomes.
    pub outcomes: Vec<&'a Outcome>,
    /// Thresholds on the figure: value in its unit, and name.
    pub targets: Vec<(f64, String)>,
    /// The layup that is drawn beside them.
    pub beside: Stack,
}

/// Most layups that a chart can tell apart.
pub const MOST: usize = LOOKS.len();
/// Curves end here, where the last figure is read [K].
const RISE_LAST: f64 = 24.0;
/// Errors are rounded up to it [s].
const SHOWN_TO: f64 = 0.01;
/// The axis of the disc's rise ends here [K].
const RISE_SHOWN: f64 = 28.0;

/// The chart of a ranking as SVG.
///
/// Errors: no layup, more than [`MOST`], an outcome without a run in front of the disc.
pub fn rank_chart(chart: &RankChart<'_>) -> Result<String, ChartError> {
    if chart.outcomes.len() != chart.bars.len() {
        let (expected, found) = (chart.outcomes.len(), chart.bars.len());
        return Err(ChartError::Lengths { part: "the layups".to_owned(), expected, found });
    }
    if chart.bars.len() > MOST {
        let (part, found) = ("the layups".to_owned(), chart.bars.len());
        return Err(ChartError::TooMany { part, found, limit: MOST });
    }
    let mut sheet = Sheet::begin(&chart.heading, SHEET);
    let mut bottom = draw_lines(&mut sheet, &rises(chart)?)?;
    let blocks = [figure_bars(chart), Some(mass_bars(chart))];
    for block in blocks.into_iter().flatten() {
        bottom = draw_bars(&mut sheet.canvas, &block, bottom + 14.0, Tint::OfGroup)?;
    }
    sheet.finish(bottom)
}

fn rises(chart: &RankChart<'_>) -> Result<LineChart, ChartError> {
    let mut panel = LinePanel::new(Axis::new("rise of the disc [K]").over(0.0, RISE_SHOWN));
    panel.levels = [12.0, RISE_LAST].map(|y| Level { y, label: format!("{y} K") }).to_vec();
    let mut t_last: f64 = 0.0;
    for (bar, outcome) in chart.bars.iter().zip(&chart.outcomes) {
        let part = format!("the run of {} in front of the copper disc", bar.name);
        let run = outcome.disc.as_ref().ok_or(ChartError::Empty { part: part.clone() })?;
        let column = run.curves.columns.iter().find(|c| c.kind == ColumnKind::Rise);
        let column = column.ok_or(ChartError::Empty { part })?;
        let points: Vec<_> = run.curves.t.iter().copied().zip(column.values.clone()).collect();
        let points = up_to(&points, RISE_LAST);
        t_last = t_last.max(points.last().map_or(0.0, |p| p.0));
        panel.series.push(Series { label: bar.name.clone(), points, trace: Trace::Line });
    }
    let x_axis = Axis::new("time [s]").over(0.0, (t_last / 2.0).ceil().max(1.0) * 2.0);
    Ok(LineChart {
        heading: Heading::default(),
        x_axis,
        panels: vec![panel],
        beside: Some(chart.beside.clone()),
    })
}

/// The curve up to the height at which all of them end.
fn up_to(points: &[(f64, f64)], height: f64) -> Vec<(f64, f64)> {
    let Some(over) = points.iter().position(|point| point.1 > height) else {
        return points.to_vec();
    };
    let mut kept = points[..over].to_vec();
    if let Some((x, y)) = kept.last().copied() {
        let (x_over, y_over) = points[over];
        kept.push((x + (x_over - x) * (height - y) / (y_over - y), height));
    }
    kept
}

/// Bars of the figure; none where no layup has one.
fn figure_bars(chart: &RankChart<'_>) -> Option<BarChart> {
    let groups: Vec<BarGroup> = chart
        .bars
        .iter()
        .map(|bar| BarGroup {
            label: bar.name.clone(),
            bars: vec![bar.figure.map(|(value, error)| Bar {
                value,
                whisker: Some((value - error, value + error)),
                note: {
                    let (value, error) = (number(value, 2), (error / SHOWN_TO).ceil() * SHOWN_TO);
                    let call = if bar.call.is_empty() { "" } else { ": " };
                    format!("{value} ± {}{call}{}", number(error, 2), bar.call)
                },
            })],
        })
        .collect();
    let any = groups.iter().any(|group| group.bars[0].is_some());
    any.then(|| BarChart {
        heading: Heading::default(),
        axis: Axis::new(chart.figure.clone()),
        names: vec![chart.figure.clone()],
        groups,
        targets: chart
            .targets
            .iter()
            .map(|(value, label)| TargetLine { value: *value, label: label.clone() })
            .collect(),
    })
}

fn mass_bars(chart: &RankChart<'_>) -> BarChart {
    let groups = chart.bars.iter().zip(&chart.outcomes).map(|(bar, outcome)| {
        let value = GRAMS_PER_AREA.outside(sewn_density(&outcome.layup));
        let note = number(value, 0);
        BarGroup { label: bar.name.clone(), bars: vec![Some(Bar { value, whisker: None, note })] }
    });
    BarChart {
        heading: Heading::default(),
        axis: Axis::new("areal density [g/m²]"),
        names: vec!["areal density".to_owned()],
        groups: groups.collect(),
        targets: Vec::new(),
    }
}
