//! Predictions beside measurements as a chart of parity.

use crate::chart::error::ChartError;
use crate::chart::frame::Heading;
use crate::chart::parity::{ParityChart, ParityGroup, ParityPoint, parity_chart};
use crate::study::measured::record::GOAL;
use crate::study::measured::{Basis, Class, Comparison, Kind, Measured};

/// A point with bars from end to end of what was measured and of what was predicted.
fn point(c: &Comparison, labelled: bool) -> Option<ParityPoint> {
    let half = |(low, high): (f64, f64)| 0.5 * (high - low);
    let (low, high) = c.range;
    if !(low.is_finite() && high.is_finite() && c.unit == "s") {
        return None;
    }
    Some(ParityPoint {
        measured: c.measured_middle(),
        measured_error: half(c.measured),
        predicted: 0.5 * (low + high),
        predicted_error: half(c.range),
        label: if labelled { short_label(c) } else { String::new() },
    })
}

/// "wovens HTI24" of "8 wovens, HTI24".
fn short_label(c: &Comparison) -> String {
    let without_count = c.name.trim_start_matches(|letter: char| letter.is_ascii_digit());
    without_count.trim_start().replace(", ", " ")
}

fn group(measured: &Measured, class: Class, kind: Option<Kind>, label: &str) -> ParityGroup {
    let of = |c: &&Comparison| {
        c.class == class && c.basis == Basis::Uncalibrated && kind.is_none_or(|kind| c.kind == kind)
    };
    let labelled = class != Class::Complete;
    let found = measured.comparisons.iter().filter(of);
    ParityGroup {
        label: label.to_string(),
        points: found.filter_map(|c| point(c, labelled)).collect(),
    }
}

fn draw(title: &str, subtitle: &str, groups: Vec<ParityGroup>) -> Result<String, ChartError> {
    let groups: Vec<ParityGroup> =
        groups.into_iter().filter(|group| !group.points.is_empty()).collect();
    let counts: Vec<String> =
        groups.iter().map(|g| format!("{} points {}", g.points.len(), g.label)).collect();
    parity_chart(&ParityChart {
        heading: Heading {
            title: title.to_string(),
            subtitle: subtitle.to_string(),
            source: "stillair verify --only measured".to_string(),
            summary: format!("{title}: {}", counts.join(", ")),
        },
        measured_label: "measured time [s]".to_string(),
        predicted_label: "predicted time [s]".to_string(),
        range: None,
        bands: vec![GOAL],
        groups,
    })
}

/// All classes in one chart: every uncalibrated time.
///
/// Errors: [`ChartError`], when there is nothing to draw.
pub fn measured_chart(measured: &Measured) -> Result<String, ChartError> {
    let groups = vec![
        group(measured, Class::Complete, None, "complete: bare skin"),
        group(measured, Class::Interval, None, "interval: a suit"),
        group(measured, Class::Band, None, "band from memory"),
    ];
    let subtitle = "bars from end to end; interval and band: point in the middle of the range";
    draw("Predicted and measured times", subtitle, groups)
}

/// One class, its kinds of exposure told apart; figures that are no times are left to the table.
///
/// Errors: [`ChartError`], when there is nothing to draw.
pub fn class_chart(measured: &Measured, class: Class) -> Result<String, ChartError> {
    let groups = [Kind::Skin, Kind::Flame, Kind::Radiant]
        .map(|kind| group(measured, class, Some(kind), kind.word()));
    let title = match class {
        Class::Complete => "Complete cases: bare human skin",
        Class::Interval => "Interval cases: a suit of unknown layers",
        Class::Band => "Bands from memory: no validation",
    };
    let subtitle = match class {
        Class::Complete => "exposure to a second-degree burn; bars: rounding of the printed flux",
        _ => "times alone; bars from end to end, point in the middle of the range",
    };
    draw(title, subtitle, groups.into())
}
