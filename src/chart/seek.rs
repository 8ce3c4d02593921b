//! The frontier of a search: protection against mass or thickness.

use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{Level, LineChart, LinePanel, PointMark, Series, Trace, line_chart};
use crate::chart::stack::Stack;

/// A frontier to be drawn, in display units.
#[derive(Debug, Clone, PartialEq)]
pub struct SeekChart {
    /// The words around it.
    pub heading: Heading,
    /// What is to be least, with its unit.
    pub cost: String,
    /// Protection, with its unit.
    pub protection: String,
    /// Cost and protection of the frontier, least cost first.
    pub frontier: Vec<(f64, f64)>,
    /// Cost, protection and name of each layup of the shortlist.
    pub shortlist: Vec<(f64, f64, String)>,
    /// Heights that are asked for, with their names.
    pub levels: Vec<(f64, String)>,
    /// The layup that is drawn beside them; none where the shortlist is empty.
    pub beside: Option<Stack>,
}

/// Most points of the frontier that get a number each.
const NUMBERED_MOST: usize = 24;

/// The chart as SVG; points of the frontier bear their place in it.
///
/// Errors: no point, a value that is not finite.
pub fn seek_chart(chart: &SeekChart) -> Result<String, ChartError> {
    if chart.frontier.is_empty() {
        return Err(ChartError::Empty { part: "the frontier".to_owned() });
    }
    let mut panel = LinePanel::new(Axis::new(chart.protection.clone()));
    panel.height = 420.0;
    let several = chart.frontier.len() > 1;
    panel.series.push(Series {
        label: "frontier: the most that so much buys, with the gaps that protect most".to_owned(),
        points: steps(&chart.frontier),
        trace: if several { Trace::Line } else { Trace::Points },
    });
    if !chart.shortlist.is_empty() {
        panel.series.push(Series {
            label: "shortlist: gaps closed until the margin is just kept".to_owned(),
            points: chart.shortlist.iter().map(|(x, y, _)| (*x, *y)).collect(),
            trace: Trace::Points,
        });
    }
    let named = chart.shortlist.iter();
    panel.names.extend(named.map(|(x, y, label)| PointMark { x: *x, y: *y, label: label.clone() }));
    if chart.frontier.len() <= NUMBERED_MOST {
        let numbered = chart.frontier.iter().enumerate();
        panel.marks.extend(numbered.map(|(i, (x, y))| PointMark {
            x: *x,
            y: *y,
            label: format!("{}", i + 1),
        }));
    }
    panel.levels =
        chart.levels.iter().map(|(y, label)| Level { y: *y, label: label.clone() }).collect();
    line_chart(&LineChart {
        heading: chart.heading.clone(),
        x_axis: Axis::new(chart.cost.clone()),
        panels: vec![panel],
        beside: chart.beside.clone(),
    })
}

/// Between two layups of the frontier nothing protects more than the lesser of them.
fn steps(frontier: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = frontier.iter().take(1).copied().collect();
    for pair in frontier.windows(2) {
        points.extend([(pair[1].0, pair[0].1), pair[1]]);
    }
    points
}
