//! The views of a search's result, whether it ran at once or in parts.

use std::fs;
use std::path::{Path, PathBuf};

use super::asked::{Opened, ViewArgs, Views};
use super::error::CliError;
use super::output;
use crate::bench::figure::shown;
use crate::chart::seek::SeekChart;
use crate::chart::stack::Stack;
use crate::chart::{ChartError, Heading, seek_chart};
use crate::garment::brief::{Brief, Minimise};
use crate::physics::units::PERCENT;
use crate::report::seek::columns::seek_csv;
use crate::report::seek::json::seek_json;
use crate::report::seek::layup::layup_files;
use crate::report::seek::text::seek_text;
use crate::report::seek::words as say;
use crate::report::write::{Destination, Why, WriteError};
use crate::study::seek::finding::{Choice, Finding, Point};
use crate::study::seek::score::Scored;

/// Most layups of the shortlist that the chart names.
const KEYED_MOST: usize = 6;

/// The folder for the layups; what of it was made anew goes again if nothing comes to lie in it.
pub struct Folder {
    path: PathBuf,
    /// Innermost first.
    made: Vec<PathBuf>,
}

impl Drop for Folder {
    fn drop(&mut self) {
        for folder in &self.made {
            // stays as soon as something lies in it
            let _ = fs::remove_dir(folder);
        }
    }
}

/// Makes the folder for the layups, unless it is there.
pub fn try_folder(folder: Option<&Path>) -> Result<Option<Folder>, CliError> {
    let Some(path) = folder else { return Ok(None) };
    let new = |above: &&Path| !above.as_os_str().is_empty() && !above.exists();
    let made = path.ancestors().take_while(new).map(Path::to_path_buf).collect();
    let made = Folder { path: path.to_path_buf(), made };
    let failed = |error| CliError::Write(WriteError::before(path, Why::Io(error)));
    fs::create_dir_all(path).map_err(failed)?;
    Ok(Some(made))
}

/// Writes the layups of the shortlist, the files asked for, and prints the result.
pub fn deliver(
    finding: &Finding<'_>,
    folder: Option<Folder>,
    views: &ViewArgs,
    opened: Opened,
) -> Result<(), CliError> {
    let mut files = Vec::new();
    if let Some(folder) = &folder {
        for file in layup_files(finding) {
            let place = Destination::try_out(&folder.path.join(&file.name));
            files.push((place.map_err(CliError::Write)?, file.text));
        }
    }
    views.deliver_with(
        opened,
        files,
        &Views {
            text: &|| seek_text(finding),
            json: &|| seek_json(finding),
            csv: &|| seek_csv(finding),
            chart: &|| chart(finding),
        },
    )?;
    if let Some(folder) = &folder {
        let n = finding.shortlist.len();
        output::say(&format!("note: {n} layup files written to {}", folder.path.display()));
    }
    Ok(())
}

/// Frontier and shortlist, protection against cost.
pub(super) fn chart(finding: &Finding<'_>) -> Result<String, ChartError> {
    let brief = finding.brief();
    let cost = |scored: &Scored| {
        say::cost(brief.minimise).outside(match brief.minimise {
            Minimise::Mass => scored.areal_density,
            Minimise::Thickness => scored.thickness,
        })
    };
    let place = |scored: &Scored| (cost(scored), protection(brief, scored));
    let named = |(i, point): (usize, &Point)| {
        let (x, y) = place(point.closed());
        (x, y, format!("S{}", i + 1))
    };
    let order = match brief.minimise {
        Minimise::Mass => "mass",
        Minimise::Thickness => "thickness",
    };
    let n = finding.counts.n_exposed();
    let kept = if brief.wants_odds() { "margin and odds are" } else { "the margin is" };
    seek_chart(&SeekChart {
        heading: Heading {
            title: format!("{}: protection against {order}", brief.name),
            subtitle: format!(
                "{n} layups exposed. 1, 2, …: the frontier in its order. Shortlist, gaps closed until \
                 {kept} just kept: {}",
                key(finding)
            ),
            source: format!("brief {}", brief.name),
            summary: format!("Frontier of {n} layups, protection against {order}."),
        },
        cost: match brief.minimise {
            Minimise::Mass => "areal density [g/m²]".to_owned(),
            Minimise::Thickness => "thickness with gaps [mm]".to_owned(),
        },
        protection: match brief.wanted.as_slice() {
            [one] => {
                let anchored = if brief.bands.is_anchored() { ", anchored" } else { "" };
                format!("{}{anchored} [{}]", say::name(one), shown(one.target.figure).unit)
            }
            _ => "least figure above what is wanted [%]".to_owned(),
        },
        frontier: finding.frontier.iter().map(|point| place(&point.scored)).collect(),
        shortlist: finding.shortlist.iter().map(|c| &c.point).enumerate().map(named).collect(),
        levels: levels(brief),
        beside: finding.shortlist.first().map(|first| drawn(finding, first)),
    })
}

/// The first of the shortlist, cut through.
fn drawn(finding: &Finding<'_>, first: &Choice) -> Stack {
    let layup = first.point.layup(finding.space);
    let least = match finding.brief().minimise {
        Minimise::Mass => "the lightest",
        Minimise::Thickness => "the thinnest",
    };
    let loft = if layup.quilting.is_some() { ", without its loft" } else { "" };
    Stack::of(&layup, format!("S1, {least}{loft}"), "copper disc or skin")
}

/// Which plies the marks of the shortlist stand for.
fn key(finding: &Finding<'_>) -> String {
    let points = finding.shortlist.iter().map(|choice| &choice.point).take(KEYED_MOST);
    let names = points.map(|point| say::plies(finding.space, &point.candidate.plies).join(" + "));
    let words: Vec<String> =
        names.enumerate().map(|(i, names)| format!("S{} {names}", i + 1)).collect();
    if words.is_empty() { "none".to_owned() } else { words.join("; ") }
}

/// The one target's figure in its unit, or the least spare in percent.
fn protection(brief: &Brief, scored: &Scored) -> f64 {
    match brief.wanted.as_slice() {
        [one] => shown(one.target.figure).outside((1.0 + scored.spare) * one.at_least()),
        _ => PERCENT.outside(scored.spare),
    }
}

fn levels(brief: &Brief) -> Vec<(f64, String)> {
    match brief.wanted.as_slice() {
        [one] => {
            let scale = shown(one.target.figure).outside(1.0);
            vec![
                (scale * one.target.at_least, format!("{} asks for this", one.target.name)),
                (scale * one.at_least(), "wanted: with the margin".to_owned()),
            ]
        }
        _ => vec![(0.0, "every margin kept".to_owned())],
    }
}
