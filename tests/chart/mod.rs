//! Charts as a reader gets them: well-formed, complete, nothing outside, nothing covered.

mod made_up;

mod drawing;
mod files;
mod flaws;
#[cfg(feature = "png")]
mod labels;
#[cfg(feature = "png")]
mod picture;
mod refusals;

use stillair::chart::contour::Fill;
use stillair::chart::{
    Asked, Which, bar_chart, exposure_chart, field_chart, line_chart, parity_chart, stack_chart,
};

/// Every kind of chart with a name, over the made-up numbers.
fn gallery() -> Vec<(&'static str, String)> {
    let heading = made_up::heading("The coverall cut through");
    let charts = [
        ("lines", line_chart(&made_up::lines())),
        ("bars", bar_chart(&made_up::bars())),
        ("tornado", bar_chart(&made_up::tornado())),
        ("stack", stack_chart(&heading, &made_up::stack())),
        ("parity", parity_chart(&made_up::parity())),
        ("contour", field_chart(&made_up::contour())),
        ("plan", field_chart(&made_up::plan(Fill::Contours))),
        ("cells", field_chart(&made_up::plan(Fill::Cells))),
        ("exposure, disc", exposure_chart(&made_up::outcome(0.0), Which::Disc, &Asked::default())),
        (
            "exposure, radiant",
            exposure_chart(&made_up::outcome(1.0), Which::Disc, &Asked::default()),
        ),
        ("exposure, skin", exposure_chart(&made_up::outcome(0.0), Which::Skin, &Asked::default())),
        ("exposure, both", exposure_chart(&made_up::outcome(0.0), Which::Both, &Asked::default())),
    ];
    charts.map(|(name, svg)| (name, svg.expect(name))).to_vec()
}
