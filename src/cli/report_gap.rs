//! The part of `stillair report` that holds plies against gaps.

use super::error::CliError;
use super::gap::{gaps_of_report, plies};
use super::gap_chart::{beside_chart, map_chart};
use crate::garment::layup::Layup;
use crate::report::document::Drawing;
use crate::report::gap::beside::MOST;
use crate::report::gap::map::MOST_GAPS;
use crate::study::answer::Quilts;
use crate::study::gap::{Swept, sweep_each, swept_plies};
use crate::study::gap_beside::Beside;
use crate::study::gap_brief::{lay_shortlist, map};
use crate::study::gap_map::GapMap;
use crate::study::run::Terms;
use crate::study::seek::finding::Finding;

/// Gaps to open, and for each layup the plies behind which they lie.
pub(super) type Opened = (Swept, Vec<Vec<usize>>);

/// The gap that is opened in each of several layups: the one asked for, else all that each has; none where one of
/// them has none.
///
/// Errors: a layup without the gap asked for.
pub(super) fn opened(layups: &[Layup], asked: Option<Swept>) -> Result<Option<Opened>, CliError> {
    let Some(swept) = asked else {
        let all = layups.iter().map(|layup| swept_plies(layup, Swept::All).ok());
        let all: Option<Vec<_>> = all.collect();
        return Ok(all.filter(|all| all.len() <= MOST).map(|all| (Swept::All, all)));
    };
    let (mut errors, mut all) = (Vec::new(), Vec::new());
    for layup in layups {
        plies(swept, layup).map_or_else(|e| errors.push(e), |found| all.push(found));
    }
    if errors.is_empty() { Ok(Some((swept, all))) } else { Err(CliError::Several(errors)) }
}

/// The same gap opened in each of several layups, with its drawing.
pub(super) fn beside(
    layups: &[Layup],
    (swept, plies): (Swept, &[Vec<usize>]),
    terms: &Terms,
) -> Result<(Beside, Drawing), CliError> {
    let found = Beside::of(sweep_each(layups.iter().zip(plies), terms, swept, &gaps_of_report())?);
    let svg = beside_chart(&found).map_err(CliError::Chart)?;
    let words = "The same gap in each layup: their times over its thickness".to_owned();
    Ok((found, Drawing { svg, words }))
}

/// The plies of a search's shortlist against its gaps, with their drawing; none where the brief opens no gaps
/// that a map can show.
pub(super) fn of_search(finding: &Finding<'_>) -> Result<Option<(GapMap, Drawing)>, CliError> {
    let brief = finding.brief();
    let Some((wanted, laid)) = lay_shortlist(finding, MOST_GAPS) else { return Ok(None) };
    let (exposure, error_goal) = (&wanted.exposure, finding.error_goal);
    let terms = Terms { exposure, skin: &brief.skin, error_goal, quilts: Quilts::Computed };
    let map = map((brief, wanted), laid, &terms)?;
    let svg = map_chart(&map).map_err(CliError::Chart)?;
    let words = "The shortlist's plies against the brief's gaps".to_owned();
    Ok(Some((map, Drawing { svg, words })))
}
