//! `stillair verify`: the built-in checks on the user's machine.

use std::path::PathBuf;
use std::process::ExitCode;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::error::CliError;
use super::{arguments, output};
use crate::chart::measured::class_chart;
use crate::evidence::measured::{self, Class, Measured, N_PARTS};
use crate::evidence::verification::Verification;
use crate::evidence::verify::{self, Group, SERIES};
use crate::report::verification::columns::comparisons_csv;
use crate::report::verification::json::verification_json;
use crate::report::verification::page::{Drawing, verification_page};
use crate::report::verification::text::{Show, verification_text};
use crate::report::write::{Destination, put_all};
use crate::shelf::materials::Shelf;

/// Arguments of `verify`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Run this group alone; may be given several times
    #[arg(long, value_enum, value_name = "GROUP")]
    only: Vec<GroupWord>,
    /// Show every case, not only the one nearest to its bound in each series
    #[arg(long)]
    all: bool,
    /// Print JSON instead of text; it holds every case
    #[arg(long)]
    json: bool,
    /// Write a page with every case and the charts to this file
    #[arg(long, value_name = "FILE.html", value_parser = arguments::page_file)]
    report: Option<PathBuf>,
    /// Draw predicted and measured times into this file (.svg or .png)
    #[arg(long, value_name = "FILE", value_parser = arguments::chart_file)]
    chart: Option<PathBuf>,
    /// Write predicted and measured values to this file
    #[arg(long, value_name = "FILE.csv|.xlsx", value_parser = arguments::curves_file)]
    csv: Option<PathBuf>,
}

/// A group of checks, as a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum GroupWord {
    /// Closed forms and worked examples of textbooks
    Analytic,
    /// Tables and formulas of standards
    Standards,
    /// Tables computed by libraries and by programs written apart
    Library,
    /// Published measurements and findings, and bands from memory
    Measured,
}

/// Runs the checks, writes the files asked for and prints the tables; status 1 if a bound is broken.
pub fn run(args: &Args) -> Result<ExitCode, CliError> {
    let try_out = |path: &Option<PathBuf>| {
        path.as_deref().map(Destination::try_out).transpose().map_err(CliError::Write)
    };
    let (report_file, chart_file) = (try_out(&args.report)?, try_out(&args.chart)?);
    let csv_file = try_out(&args.csv)?;
    let shelf = Shelf::built_in().map_err(CliError::Faults)?;

    let verification = compute(args, &shelf);

    // Everything is made before anything is written, so that no half of it is left.
    let json = match args.json {
        true => Some(verification_json(&verification).map_err(CliError::Json)?),
        false => None,
    };
    let csv = match (&args.csv, &verification.measured) {
        (Some(_), Some(measured)) => comparisons_csv(measured).map_err(CliError::Curves)?,
        _ => String::new(),
    };
    let mut files = Vec::new();
    if let Some(file) = csv_file {
        files.push((file, csv.into_bytes()));
    }
    if let Some(file) = report_file {
        let page = verification_page(&verification, &drawings(&verification)?);
        files.push((file, page.into_bytes()));
    }
    if let (Some(file), Some(path)) = (chart_file, &args.chart) {
        files.push((file, chart_bytes(&verification, path)?));
    }
    put_all(files).map_err(CliError::Write)?;
    match json {
        Some(json) => output::print_raw(json.as_bytes())?,
        None => {
            let show = if args.all { Show::All } else { Show::Nearest };
            output::print(&verification_text(&verification, show))?;
        }
    }
    let n_failed = verification.measured.as_ref().map_or(0, Measured::n_failed);
    Ok(ExitCode::from(u8::from(verification.n_broken() + n_failed > 0)))
}

/// Whether measurements are wanted, for a group, the chart or the numbers of them.
fn wants_measured(args: &Args) -> bool {
    let files = args.chart.is_some() || args.csv.is_some();
    files || args.only.is_empty() || args.only.contains(&GroupWord::Measured)
}

fn compute(args: &Args, shelf: &Shelf) -> Verification {
    let wanted = |word| args.only.is_empty() || args.only.contains(&word);
    let groups: Vec<Group> = [
        (Group::Analytic, GroupWord::Analytic),
        (Group::Standards, GroupWord::Standards),
        (Group::Library, GroupWord::Library),
    ]
    .into_iter()
    .filter(|(_, word)| wanted(*word))
    .map(|(group, _)| group)
    .collect();
    let n_series = SERIES.iter().filter(|series| groups.contains(&series.group)).count();
    let n_parts = if wants_measured(args) { N_PARTS } else { 0 };
    let bar = bar(n_series + n_parts);
    let checked = verify::run(&groups, || bar.inc(1));
    let measured = wants_measured(args).then(|| measured::run(shelf, || bar.inc(1)));
    bar.finish_and_clear();
    Verification { checked, measured }
}

/// A bar on standard error; silent when that is no terminal.
fn bar(n: usize) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(n as u64), ProgressDrawTarget::stderr());
    let style = ProgressStyle::with_template("{bar:40} {pos} of {len} series, {elapsed}");
    bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()))
}

fn drawings(verification: &Verification) -> Result<Vec<Drawing>, CliError> {
    let Some(measured) = &verification.measured else { return Ok(Vec::new()) };
    let draw = |class| {
        class_chart(measured, class).map(|svg| Drawing { class, svg }).map_err(CliError::Chart)
    };
    Class::ALL.into_iter().map(draw).collect()
}

fn chart_bytes(verification: &Verification, path: &std::path::Path) -> Result<Vec<u8>, CliError> {
    let measured = verification.measured.clone().unwrap_or_default();
    let svg = crate::chart::measured::measured_chart(&measured);
    svg.and_then(|svg| crate::chart::chart_bytes(svg, path)).map_err(CliError::Chart)
}
