//! Own tests beside published measurements as a chart of parity.

use crate::chart::error::ChartError;
use crate::chart::frame::Heading;
use crate::chart::measured::published;
use crate::chart::parity::{ParityChart, ParityGroup, ParityPoint, parity_chart};
use crate::evidence::measured::Measured;
use crate::garment::target::Figure;
use crate::study::book::how_far::{HowFar, Row};

/// Own tests bear their names up to this many.
const NAMED_MOST: usize = 12;

/// Predicted and measured times: own tests, and the published felts and suit.
///
/// Errors: [`ChartError`], when there is nothing to draw.
pub fn book_chart(far: &HowFar<'_>, measured: &Measured) -> Result<String, ChartError> {
    let named = far.rows.len() <= NAMED_MOST;
    let own = far.rows.iter().filter_map(|row| point(row, named)).collect();
    let own = ParityGroup { label: "own tests".to_owned(), points: own };
    let all = std::iter::once(own).chain(published(measured));
    let groups: Vec<ParityGroup> = all.filter(|group| !group.points.is_empty()).collect();
    let counts: Vec<String> =
        groups.iter().map(|g| format!("{} points {}", g.points.len(), g.label)).collect();
    parity_chart(&ParityChart {
        heading: Heading {
            title: "Own tests beside published ones".to_owned(),
            subtitle:
                "times alone; above the line the prediction is too long; bars: scatter of own \
                       specimens, from end to end of published ranges"
                    .to_owned(),
            source: "stillair book how-far".to_owned(),
            summary: format!("Own tests beside published ones: {}", counts.join(", ")),
        },
        measured_label: "measured time [s]".to_owned(),
        predicted_label: "predicted time [s]".to_owned(),
        range: None,
        bands: vec![],
        groups,
    })
}

/// A test that was read as a time and has a prediction.
fn point(row: &Row<'_>, named: bool) -> Option<ParityPoint> {
    let test = row.tested.test;
    let predicted = row.found.valued().filter(|_| test.figure != Figure::Tpp)?;
    Some(ParityPoint {
        measured: row.measured,
        measured_error: row.scatter.map_or(0.0, |scatter| scatter * row.measured),
        predicted: predicted.value,
        predicted_error: predicted.error.abs(),
        label: if named { format!("{} {}", test.layup, test.figure_name) } else { String::new() },
    })
}
