//! Every kind of chart over invented numbers, written to a folder to be looked at.
//!
//! `cargo run --example gallery -- target/gallery`

#[path = "../tests/chart/made_up.rs"]
mod made_up;

use std::error::Error;
use std::path::PathBuf;

use stillair::chart::contour::Fill;
use stillair::chart::{
    Asked, Which, bar_chart, chart_bytes, exposure_chart, field_chart, line_chart, parity_chart,
    stack_chart,
};
use stillair::report::write::Destination;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or("target/gallery".to_owned()));
    std::fs::create_dir_all(&folder)?;
    let charts = [
        ("lines", line_chart(&made_up::lines())?),
        ("bars", bar_chart(&made_up::bars())?),
        ("tornado", bar_chart(&made_up::tornado())?),
        ("stack", stack_chart(&made_up::heading("The coverall cut through"), &made_up::stack())?),
        ("parity", parity_chart(&made_up::parity())?),
        ("contour", field_chart(&made_up::contour())?),
        ("plan", field_chart(&made_up::plan(Fill::Contours))?),
        ("cells", field_chart(&made_up::plan(Fill::Cells))?),
        ("exposure-disc", exposure_chart(&made_up::outcome(0.0), Which::Disc, &Asked::default())?),
        (
            "exposure-radiant",
            exposure_chart(&made_up::outcome(1.0), Which::Disc, &Asked::default())?,
        ),
        ("exposure-both", exposure_chart(&made_up::outcome(0.0), Which::Both, &Asked::default())?),
        ("exposure-skin", exposure_chart(&made_up::outcome(0.0), Which::Skin, &Asked::default())?),
    ];
    for (name, svg) in charts {
        for ending in ["svg", "png"] {
            let path = folder.join(format!("{name}.{ending}"));
            Destination::try_out(&path)?.put(&chart_bytes(svg.clone(), &path)?)?;
        }
    }
    Ok(())
}
