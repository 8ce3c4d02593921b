//! The part of `stillair report` that tells of one layup.

use super::error::CliError;
use super::quilt_beside::beside_chart;
use super::target_marks::asked;
use crate::bench::figure::hold_outcome;
use crate::bench::{Behind, Question};
use crate::chart::{Which, exposure_chart};
use crate::garment::band::Bands;
use crate::garment::layup::Layup;
use crate::garment::source::Source;
use crate::garment::target::Target;
use crate::report::anchored::of_figures;
use crate::report::document::layup::layup_document;
use crate::report::document::shared::Again;
use crate::report::document::{Document, Drawing};
use crate::study::answer::{Quilts, answer};
use crate::study::quilt::beside::{EVERY_WAY, each_way};
use crate::study::run::Terms;

/// The report of a layup.
///
/// - `along`: how well plies conduct along, where a quilted one's cells are solved in two dimensions, too
pub(super) fn one_layup<'t>(
    layup: &Layup,
    terms: &Terms,
    (targets, bands): (&[&'t Target], &Bands),
    along: Option<f64>,
    (sources, again): (&[&Source], &Again),
) -> Result<Document, CliError> {
    let Terms { exposure, skin, error_goal, quilts } = *terms;
    let question = Question::plain(Behind::Both, skin, error_goal);
    let outcome = answer(layup, exposure, &question, quilts)?;
    let call = |target: &&'t Target| (*target, hold_outcome(&outcome, target, exposure, bands));
    let verdicts: Vec<_> = targets.iter().map(call).collect();
    let asked = asked(&outcome, &verdicts);
    let exposed = |which: Which, words: &str| {
        let svg = exposure_chart(&outcome, which, &asked).map_err(CliError::Chart)?;
        Ok::<_, CliError>(Drawing { svg, words: words.to_string() })
    };
    let told = of_figures(&outcome, bands);
    let like = layup.quilting.as_ref().filter(|_| quilts == Quilts::Computed);
    let ways = like.map(|like| {
        let found = each_way(layup, (&EVERY_WAY, like, along), exposure, &question);
        let ways = found.map_err(CliError::Quilt)?;
        let svg = beside_chart(&ways, like, "").map_err(CliError::Chart)?;
        let words =
            "A cell of each way by its burn times, and the area burnt over time".to_string();
        Ok::<_, CliError>((ways, Drawing { svg, words }))
    });
    let (first, further, ways) = match ways.transpose()? {
        Some((ways, first)) => {
            let words =
                "Temperatures in the layup over time, before the copper disc and before skin";
            (first, exposed(Which::Both, words)?, Some(ways))
        }
        None => {
            let disc = "Temperatures in the layup over time, before the copper disc";
            let skin = "Temperatures in the layup over time, before skin";
            (exposed(Which::Disc, disc)?, exposed(Which::Skin, skin)?, None)
        }
    };
    let shown = (first, further, ways.as_deref());
    Ok(layup_document(&outcome, (&verdicts, &told), shown, sources, again))
}
