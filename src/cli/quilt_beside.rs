//! `stillair quilt --versus`: courses of stitch lines against each other, and against none.

use std::path::Path;

use super::error::CliError;
use super::output;
use crate::bench::Question;
use crate::bench::figure::{Under, hold};
use crate::chart::{BesideWords, ChartError, Heading, chart_bytes, quilt_beside_chart};
use crate::garment::band::Bands;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::garment::target::Target;
use crate::report::lies::quilting_lengths;
use crate::report::quilt_beside::{
    Held, beside_csv, beside_json, beside_text, calls, caption, sentences,
};
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
    /// What every way is held against.
    pub targets: &'a [&'a Target],
    /// The exposure as on the shelf or in its file.
    pub as_given: &'a Exposure,
    pub bands: &'a Bands,
    /// How well plies conduct along, where cells are solved in two dimensions, too.
    pub along: Option<f64>,
    pub json: bool,
    pub csv: Option<&'a Path>,
    pub chart: Option<&'a Path>,
}

/// Computes every way, writes the files asked for and prints the result.
pub fn run(asked: &Asked, patterns: &[Option<Pattern>]) -> Result<(), CliError> {
    let try_out = |path: Option<&Path>| path.map(Destination::try_out).transpose();
    let csv = try_out(asked.csv).map_err(CliError::Write)?;
    let chart = try_out(asked.chart).map_err(CliError::Write)?;
    let quilted = (patterns, asked.like, asked.along);
    let ways = each_way(asked.layup, quilted, asked.exposure, &asked.question);
    let ways = ways.map_err(CliError::Quilt)?;
    let held: Vec<Held> = ways.iter().map(|way| held(asked, way)).collect();
    // Everything is made before anything is written, so that no half of it is left.
    let said = match asked.json {
        true => beside_json(&ways, &held).map_err(CliError::Json)?,
        false => beside_text(&ways, asked.like, &held),
    };
    let mut files = Vec::new();
    if let Some(file) = csv {
        files.push((file, beside_csv(&ways).map_err(CliError::Curves)?.into_bytes()));
    }
    if let (Some(file), Some(path)) = (chart, asked.chart) {
        let svg = beside_chart(&ways, asked.like, &calls(&ways, &held));
        let bytes = svg.and_then(|svg| chart_bytes(svg, path)).map_err(CliError::Chart)?;
        files.push((file, bytes));
    }
    put_all(files).map_err(CliError::Write)?;
    if asked.json { output::print_raw(said.as_bytes()) } else { output::print(&said) }
}

/// The calls of a way.
fn held<'a>(asked: &'a Asked, way: &Way) -> Held<'a> {
    let (exposure, as_given, bands) = (asked.exposure, asked.as_given, asked.bands);
    let under = |target: &'a Target| {
        let under = Under { layup: way.layup(), exposure, as_given, bands };
        (target, hold(way.figure(target.figure), target, &under))
    };
    asked.targets.iter().map(|target| under(target)).collect()
}

/// The chart of all ways as SVG.
///
/// - `calls`: what the ways come to against targets, in words; may be empty
///
/// Errors: those of the chart.
pub fn beside_chart(ways: &[Way], like: &Quilting, calls: &str) -> Result<String, ChartError> {
    let told = sentences(ways).join(" ");
    let (layup, exposure) = ways
        .first()
        .map_or(("", ""), |way| (way.layup().name.as_str(), way.exposure().name.as_str()));
    let names: Vec<&str> = ways.iter().map(Way::name).collect();
    let meaning = ways.first().map(|way| what_they_mean(way.exposure())).unwrap_or_default();
    let circumstances = format!("Exposure {exposure}; {}.", quilting_lengths(like));
    let heading = Heading {
        title: format!("{layup}: quilting against quilting"),
        subtitle: format!("{told}{calls} {} {circumstances}", meaning[1]),
        source: format!("layup {layup}, exposure {exposure}"),
        summary: format!("Skin behind {}: {}", names.join(", "), told),
    };
    let captions = ways.iter().map(caption).collect();
    quilt_beside_chart(ways, &BesideWords { heading, captions })
}
