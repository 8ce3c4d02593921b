//! What a chart of lines shows: panels, lines, bands and marks.

use crate::chart::frame::{Axis, Heading};
use crate::chart::stack::Stack;

/// A chart of lines.
#[derive(Debug, Clone, PartialEq)]
pub struct LineChart {
    /// The words around it.
    pub heading: Heading,
    /// The horizontal axis, shared by all panels.
    pub x_axis: Axis,
    /// The panels, uppermost first.
    pub panels: Vec<LinePanel>,
    /// A drawing of the layup beside the panels, if wanted.
    pub beside: Option<Stack>,
}

/// One panel.
#[derive(Debug, Clone, PartialEq)]
pub struct LinePanel {
    /// A line above the panel; may be empty.
    pub title: String,
    /// The vertical axis.
    pub y_axis: Axis,
    /// Height of the plot [px].
    pub height: f64,
    /// The lines.
    pub series: Vec<Series>,
    /// Bands between a lower and an upper line.
    pub ribbons: Vec<Ribbon>,
    /// Vertical marks.
    pub events: Vec<EventMark>,
    /// Horizontal lines.
    pub levels: Vec<Level>,
    /// Names at the right edge, where lines end; the legend leaves the series out.
    pub ends: Vec<Level>,
    /// Shaded ranges of x.
    pub x_bands: Vec<Band>,
    /// Shaded ranges of y.
    pub y_bands: Vec<Band>,
    /// Single points with a label.
    pub marks: Vec<PointMark>,
    /// Labels of points that a series marks.
    pub names: Vec<PointMark>,
}

impl LinePanel {
    /// An empty panel of usual height.
    pub fn new(y_axis: Axis) -> LinePanel {
        LinePanel {
            title: String::new(),
            y_axis,
            height: 250.0,
            series: Vec::new(),
            ribbons: Vec::new(),
            events: Vec::new(),
            levels: Vec::new(),
            ends: Vec::new(),
            x_bands: Vec::new(),
            y_bands: Vec::new(),
            marks: Vec::new(),
            names: Vec::new(),
        }
    }
}

/// How a series is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Trace {
    /// A line through the points.
    #[default]
    Line,
    /// A marker at each point.
    Points,
    /// Both.
    LineAndPoints,
}

/// One series.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Its name in the legend.
    pub label: String,
    /// Its points `(x, y)` in the order in which they are joined.
    pub points: Vec<(f64, f64)>,
    /// How it is drawn.
    pub trace: Trace,
}

/// A band between two lines, in the look of a series.
#[derive(Debug, Clone, PartialEq)]
pub struct Ribbon {
    /// Its name in the legend.
    pub label: String,
    /// `(x, low, high)`, x increasing.
    pub points: Vec<(f64, f64, f64)>,
    /// Which series' colour it takes, counted from 0.
    pub of_series: usize,
}

/// A vertical mark.
#[derive(Debug, Clone, PartialEq)]
pub struct EventMark {
    /// Where; outside the axis' range it is left out.
    pub x: f64,
    /// What happens there.
    pub label: String,
}

/// A horizontal line.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// Where; outside the axis' range it is left out.
    pub y: f64,
    /// What it stands for.
    pub label: String,
}

/// A shaded range.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Lower end.
    pub from: f64,
    /// Upper end.
    pub to: f64,
    /// What it stands for.
    pub label: String,
}

/// A point with a label.
#[derive(Debug, Clone, PartialEq)]
pub struct PointMark {
    /// Where, horizontally.
    pub x: f64,
    /// Where, vertically.
    pub y: f64,
    /// What happens there.
    pub label: String,
}
