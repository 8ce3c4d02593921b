//! Predictions beside measurements as a chart of parity.

use crate::chart::error::ChartError;
use crate::chart::frame::Heading;
use crate::chart::parity::{ParityChart, ParityGroup, ParityPoint, parity_chart};
use crate::evidence::measured::{Basis, Class, Comparison, Kind, Measured, Subject};

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

/// The points of a class that `of` takes; those of felts, which are many, bear no name.
fn group(
    measured: &Measured,
    class: Class,
    of: impl Fn(&Comparison) -> bool,
    label: &str,
) -> ParityGroup {
    let of = |c: &&Comparison| c.class == class && c.basis == Basis::Uncalibrated && of(c);
    let labelled = |c: &Comparison| class != Class::Complete && c.subject != Subject::Felt;
    let found = measured.comparisons.iter().filter(of);
    ParityGroup {
        label: label.to_string(),
        points: found.filter_map(|c| point(c, labelled(c))).collect(),
    }
}

/// The published fabric cases: felts in the flame and under radiant heat, and a suit.
pub fn published(measured: &Measured) -> Vec<ParityGroup> {
    let felt = |c: &Comparison| c.subject == Subject::Felt;
    vec![
        group(measured, Class::Interval, |c| felt(c) && c.kind == Kind::Flame, "felts, flame"),
        group(measured, Class::Interval, |c| felt(c) && c.kind == Kind::Radiant, "felts, radiant"),
        group(measured, Class::Interval, |c| !felt(c), "a suit"),
    ]
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
        bands: vec![],
        groups,
    })
}

/// All classes in one chart: every uncalibrated time.
///
/// Errors: [`ChartError`], when there is nothing to draw.
pub fn measured_chart(measured: &Measured) -> Result<String, ChartError> {
    let mut groups = published(measured);
    groups.push(group(measured, Class::Band, |_| true, "band from memory"));
    groups.push(group(measured, Class::Complete, |_| true, "bare skin"));
    let subtitle =
        "above the line the prediction is too long; bars from end to end, point in the middle";
    draw("Predicted and measured times", subtitle, groups)
}

/// One class, its kinds of exposure told apart; figures that are no times are left to the table.
///
/// Errors: [`ChartError`], when there is nothing to draw.
pub fn class_chart(measured: &Measured, class: Class) -> Result<String, ChartError> {
    let groups = [Kind::Skin, Kind::Flame, Kind::Radiant]
        .map(|kind| group(measured, class, |c| c.kind == kind, kind.word()));
    let title = match class {
        Class::Complete => "Complete cases: bare human skin",
        Class::Interval => "Interval cases: four felts and a suit",
        Class::Band => "Bands from memory: no validation",
    };
    let subtitle = match class {
        Class::Complete => "exposure to a second-degree burn; bars: rounding of the printed flux",
        _ => "times alone; bars from end to end, point in the middle of the range",
    };
    draw(title, subtitle, groups.into())
}
