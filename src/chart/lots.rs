//! Control charts of delivered rolls: one panel a fabric, figures in the order of delivery.

use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{
    Band, Level, LineChart, LinePanel, PointMark, Series, Trace, line_chart,
};
use crate::chart::text::number;

/// A sheet of control charts.
#[derive(Debug, Clone, PartialEq)]
pub struct LotsChart {
    /// The words around it.
    pub heading: Heading,
    /// Name and unit of the figure, such as "HTI24 [s]".
    pub figure: String,
    /// The charts, uppermost first.
    pub panels: Vec<LotsPanel>,
    /// The target and its name, if there is one.
    pub target: Option<(f64, String)>,
    /// What has to be predicted to be called above it, if there is one.
    pub needed: Option<f64>,
}

/// One control chart.
#[derive(Debug, Clone, PartialEq)]
pub struct LotsPanel {
    /// What the rolls are for.
    pub title: String,
    /// The figures in the order of delivery, each with its lot and whether it is held; none where a figure was
    /// not reached.
    pub rolls: Vec<Option<(f64, String, bool)>>,
    /// Centre, lower and upper limit; none for a single roll, or where a figure was not reached.
    pub limits: Option<[f64; 3]>,
    /// What no roll may lie below, counted from the reference roll, and that in words; none where its figure was
    /// not reached.
    pub least: Option<(f64, String)>,
}

/// Most rolls of a chart that all bear their names.
const NAMED_MOST: usize = 14;

/// The sheet as SVG.
///
/// Errors: no roll, a value that is not finite.
pub fn lots_chart(chart: &LotsChart) -> Result<String, ChartError> {
    let n_most = chart.panels.iter().map(|panel| panel.rolls.len()).max().unwrap_or(0);
    line_chart(&LineChart {
        heading: chart.heading.clone(),
        x_axis: Axis::new("roll, in order of delivery").over(0.0, n_most as f64 + 1.0),
        panels: chart.panels.iter().map(|one| panel(chart, one)).collect(),
        beside: None,
    })
}

fn panel(chart: &LotsChart, rolls: &LotsPanel) -> LinePanel {
    let levels = rolls
        .limits
        .into_iter()
        .flatten()
        .chain(chart.target.iter().map(|t| t.0))
        .chain(chart.needed)
        .chain(rolls.least.iter().map(|least| least.0));
    let all = rolls.rolls.iter().flatten().map(|roll| roll.0).chain(levels);
    let ends = |(low, high): (f64, f64), y: f64| (low.min(y), high.max(y));
    let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), ends);
    let axis = Axis::new(chart.figure.clone());
    // no line lies on the frame
    let room = 0.07 * (high - low);
    let mut panel =
        LinePanel::new(if room > 0.0 { axis.over(low - room, high + room) } else { axis });
    panel.title = rolls.title.clone();
    panel.height = 190.0;
    let numbered = || rolls.rolls.iter().enumerate();
    let places = || numbered().filter_map(|(i, roll)| Some(((i + 1) as f64, roll.as_ref()?)));
    panel.series.push(Series {
        label: "layup with the roll".to_owned(),
        points: places().map(|(x, (y, ..))| (x, *y)).collect(),
        trace: if rolls.rolls.len() > 1 { Trace::LineAndPoints } else { Trace::Points },
    });
    let held: Vec<(f64, f64)> =
        places().filter(|(_, (.., held))| *held).map(|(x, (y, ..))| (x, *y)).collect();
    if !held.is_empty() {
        let label = "held for testing".to_owned();
        panel.series.push(Series { label, points: held, trace: Trace::Points });
    }
    // of many rolls only those that are held have room for their names
    let named = places().filter(|(_, (.., held))| *held || rolls.rolls.len() <= NAMED_MOST);
    panel.names =
        named.map(|(x, (y, lot, _))| PointMark { x, y: *y, label: lot.clone() }).collect();
    if let Some([centre, low, high]) = rolls.limits {
        let level = |y: f64, what: &str| Level { y, label: format!("{what} {}", number(y, 2)) };
        panel.levels =
            vec![level(centre, "centre"), level(low, "lower limit"), level(high, "upper limit")];
        if low < high {
            panel.y_bands.push(Band { from: low, to: high, label: "within limits".to_owned() });
        }
    }
    if let Some((y, name)) = &chart.target {
        panel.levels.push(Level { y: *y, label: format!("{name} {}", number(*y, 2)) });
    }
    if let Some((y, words)) = &rolls.least {
        panel.levels.push(Level { y: *y, label: format!("{words} {}", number(*y, 2)) });
    }
    if let Some(y) = chart.needed {
        panel.levels.push(Level { y, label: format!("needed for above {}", number(y, 2)) });
    }
    panel
}
