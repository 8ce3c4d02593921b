//! `stillair quilt --versus`: courses of stitch lines against each other, and against none.

use std::path::Path;

use super::error::CliError;
use super::output;
use crate::bench::Question;
use crate::chart::{BesideWords, ChartError, Heading, chart_bytes, quilt_beside_chart};
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::report::lies::quilting_lengths;
use crate::report::quilt_beside::{beside_csv, beside_json, beside_text, caption, sentences};
use crate::report::quilt_words::what_they_mean;
use crate::report::write::{Destination, put_all};
use crate::study::quilt::beside::{Way, each_way};

/// What is asked.
pub struct Asked<'a> {
    pub layup: &'a Layup,
    /// The lengths and thread of every way.
    pub like: &'a Quilting,
    pub exposure: &'a Exposure,
    pub question: Question<'a>,
    pub json: bool,
    pub csv: Option<&'a Path>,
    pub chart: Option<&'a Path>,
}

/// Computes every way, writes the files asked for and prints the result.
pub fn run(asked: &Asked, patterns: &[Option<Pattern>]) -> Result<(), CliError> {
    let try_out = |path: Option<&Path>| path.map(Destination::try_out).transpose();
    let csv = try_out(asked.csv).map_err(CliError::Write)?;
    let chart = try_out(asked.chart).map_err(CliError::Write)?;
    let ways = each_way(asked.layup, (patterns, asked.like), asked.exposure, &asked.question)
        .map_err(CliError::Quilt)?;
    // Everything is made before anything is written, so that no half of it is left.
    let said = match asked.json {
        true => beside_json(&ways).map_err(CliError::Json)?,
        false => beside_text(&ways, asked.like),
    };
    let mut files = Vec::new();
    if let Some(file) = csv {
        files.push((file, beside_csv(&ways).map_err(CliError::Curves)?.into_bytes()));
    }
    if let (Some(file), Some(path)) = (chart, asked.chart) {
        let svg = beside_chart(&ways, asked.like);
        let bytes = svg.and_then(|svg| chart_bytes(svg, path)).map_err(CliError::Chart)?;
        files.push((file, bytes));
    }
    put_all(files).map_err(CliError::Write)?;
    if asked.json { output::print_raw(said.as_bytes()) } else { output::print(&said) }
}

/// The chart of all ways as SVG.
///
/// Errors: those of the chart.
pub fn beside_chart(ways: &[Way], like: &Quilting) -> Result<String, ChartError> {
    let told = sentences(ways).join(" ");
    let (layup, exposure) = ways
        .first()
        .map_or(("", ""), |way| (way.layup().name.as_str(), way.exposure().name.as_str()));
    let names: Vec<&str> = ways.iter().map(Way::name).collect();
    let meaning = ways.first().map(|way| what_they_mean(way.exposure())).unwrap_or_default();
    let circumstances = format!("Exposure {exposure}; {}.", quilting_lengths(like));
    let heading = Heading {
        title: format!("{layup}: quilting against quilting"),
        subtitle: format!("{told} {} {circumstances}", meaning[1]),
        source: format!("layup {layup}, exposure {exposure}"),
        summary: format!("Skin behind {}: {}", names.join(", "), told),
    };
    let captions = ways.iter().map(caption).collect();
    quilt_beside_chart(ways, &BesideWords { heading, captions })
}
