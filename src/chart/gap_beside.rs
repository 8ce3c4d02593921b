//! The same gap in several layups: a line each, its name at the end, its longest time marked.

use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::line_data::{Level, LineChart, LinePanel, PointMark, Series, Trace};
use crate::chart::lines::line_chart;

/// A layup's line.
#[derive(Debug, Clone, PartialEq)]
pub struct GapLine {
    /// What stands at its end.
    pub label: String,
    /// Gap [mm] and time [s], gaps growing.
    pub points: Vec<(f64, f64)>,
    /// Where it lasts longest.
    pub longest: Option<(f64, f64)>,
}

/// The chart as SVG.
///
/// - `figure`: name of the time
///
/// Errors: no line, a line without a point, a value that is not finite.
pub fn gap_beside_chart(
    heading: Heading,
    figure: &str,
    lines: &[GapLine],
) -> Result<String, ChartError> {
    let tallest = lines.iter().flat_map(|line| line.points.iter().map(|p| p.1));
    let tallest = tallest.fold(0.0, f64::max);
    let mut panel = LinePanel::new(Axis::new(format!("{figure} [s]")).over(0.0, 1.06 * tallest));
    panel.height = 360.0;
    for line in lines {
        let trace = if line.points.len() > 1 { Trace::Line } else { Trace::Points };
        let (label, points) = (line.label.clone(), line.points.clone());
        if let Some((_, y)) = points.last() {
            panel.ends.push(Level { y: *y, label: label.clone() });
        }
        panel.series.push(Series { label, points, trace });
        // what it is stands at the line's end
        let mark = |(x, y)| PointMark { x, y, label: String::new() };
        panel.marks.extend(line.longest.map(mark));
    }
    let widest = lines.iter().flat_map(|line| line.points.iter().map(|p| p.0));
    let widest = widest.fold(0.0, f64::max);
    let x_axis = Axis::new("thickness of the gap [mm]").over(0.0, widest);
    line_chart(&LineChart { heading, x_axis, panels: vec![panel], beside: None })
}
