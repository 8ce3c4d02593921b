//! What every study is asked: the exposure's terms, and the views wanted of the result.

use std::path::{Path, PathBuf};

use super::changed::changed;
use super::error::CliError;
use super::how::{ErrorArg, SkinArg};
use super::{arguments, expose, output};
use crate::bench::Follow;
use crate::chart::{ChartError, chart_bytes};
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::report::csv::CurvesError;
use crate::report::write::{Destination, put_all};
use crate::shelf::materials::Shelf;

/// Changes to the exposure, the skin and the numerical error.
#[derive(Debug, clap::Args)]
pub struct TermArgs {
    /// Take the flame away after this time
    #[arg(long = "for", value_name = "SECONDS", value_parser = arguments::duration)]
    duration: Option<f64>,
    /// Look for times up to here
    #[arg(long, value_name = "SECONDS", value_parser = arguments::until)]
    until: Option<f64>,
    #[command(flatten)]
    pub skin: SkinArg,
    #[command(flatten)]
    pub error: ErrorArg,
}

/// What a study is asked of, by name or file.
pub struct Named<'a> {
    /// The layup.
    pub layup: Layup,
    /// The exposure with the changes asked for.
    pub exposure: Exposure,
    /// The skin model.
    pub skin: &'a Skin,
}

impl TermArgs {
    /// Layup, exposure and skin; all that is wrong with their names and files goes to `errors`.
    pub fn named<'a>(
        &self,
        (layup, exposure): (&Path, &Path),
        shelf: &'a Shelf,
        errors: &mut Vec<CliError>,
    ) -> Option<Named<'a>> {
        let layup = expose::layup(layup, shelf).map_err(|e| errors.push(e)).ok();
        let exposure = expose::exposure(exposure, shelf).map_err(|e| errors.push(e)).ok();
        let skin = self.skin.on(shelf).map_err(|e| errors.push(e)).ok();
        Some(Named {
            layup: layup?,
            exposure: self.changed(&exposure?).map_err(|e| errors.push(e)).ok()?,
            skin: skin?,
        })
    }

    /// How long to follow: to the end where one was named.
    pub fn follow(&self) -> Follow {
        if self.until.is_some() { Follow::ToTheEnd } else { Follow::UntilKnown }
    }

    /// The exposure with the changes asked for.
    ///
    /// Errors: a flame that outlasts the time looked at.
    pub fn changed(&self, exposure: &Exposure) -> Result<Exposure, CliError> {
        changed(exposure, self.duration, self.until)
    }
}

/// The views wanted.
#[derive(Debug, clap::Args)]
pub struct ViewArgs {
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
    /// Write the numbers to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    csv: Option<PathBuf>,
    /// Draw them into this file (.svg or .png)
    #[arg(long, value_name = "FILE", value_parser = arguments::chart_file)]
    pub chart: Option<PathBuf>,
}

/// The views wanted of what is a table and has no chart.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct TableArgs {
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
    /// Write the numbers to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    csv: Option<PathBuf>,
}

impl TableArgs {
    /// Tries the file out.
    pub fn try_out(&self) -> Result<Option<Destination>, CliError> {
        self.csv.as_deref().map(Destination::try_out).transpose().map_err(CliError::Write)
    }

    /// Makes every view that is wanted, then writes the file, then prints.
    pub fn deliver(
        &self,
        opened: Option<Destination>,
        text: &dyn Fn() -> String,
        json: &dyn Fn() -> Result<String, serde_json::Error>,
        csv: &dyn Fn() -> Result<String, CurvesError>,
    ) -> Result<(), CliError> {
        let said = if self.json { json().map_err(CliError::Json)? } else { text() };
        if let Some(file) = opened {
            let bytes = csv().map_err(CliError::Curves)?.into_bytes();
            file.put(&bytes).map_err(CliError::Write)?;
        }
        if self.json { output::print_raw(said.as_bytes()) } else { output::print(&said) }
    }
}

/// Files that can be written, tried before the work starts.
pub struct Opened {
    csv: Option<Destination>,
    chart: Option<Destination>,
}

/// How each view of a result is made.
pub struct Views<'a> {
    /// Text for the terminal.
    pub text: &'a dyn Fn() -> String,
    /// JSON.
    pub json: &'a dyn Fn() -> Result<String, serde_json::Error>,
    /// CSV.
    pub csv: &'a dyn Fn() -> Result<String, CurvesError>,
    /// The chart as SVG.
    pub chart: &'a dyn Fn() -> Result<String, ChartError>,
}

impl ViewArgs {
    /// The file for the numbers.
    pub fn csv(&self) -> Option<&Path> {
        self.csv.as_deref()
    }

    /// Tries the files out.
    pub fn try_out(&self) -> Result<Opened, CliError> {
        let try_out = |path: &Option<PathBuf>| {
            path.as_deref().map(Destination::try_out).transpose().map_err(CliError::Write)
        };
        Ok(Opened { csv: try_out(&self.csv)?, chart: try_out(&self.chart)? })
    }

    /// Makes every view that is wanted, then writes the files, then prints.
    pub fn deliver(&self, opened: Opened, views: &Views<'_>) -> Result<(), CliError> {
        self.deliver_with(opened, Vec::new(), views)
    }

    /// The same with further files, whose text is made already.
    pub fn deliver_with(
        &self,
        opened: Opened,
        further: Vec<(Destination, String)>,
        views: &Views<'_>,
    ) -> Result<(), CliError> {
        let said = match self.json {
            true => (views.json)().map_err(CliError::Json)?,
            false => (views.text)(),
        };
        let csv = match &self.csv {
            Some(_) => (views.csv)().map_err(CliError::Curves)?.into_bytes(),
            None => Vec::new(),
        };
        let chart = match &self.chart {
            Some(path) => {
                let svg = (views.chart)();
                svg.and_then(|svg| chart_bytes(svg, path)).map_err(CliError::Chart)?
            }
            None => Vec::new(),
        };
        let views = [(opened.csv, csv), (opened.chart, chart)];
        let views = views.into_iter().filter_map(|(file, bytes)| Some((file?, bytes)));
        let further = further.into_iter().map(|(file, text)| (file, text.into_bytes()));
        put_all(views.chain(further).collect()).map_err(CliError::Write)?;
        if self.json { output::print_raw(said.as_bytes()) } else { output::print(&said) }
    }
}
