//! The body's part of a suit's report.

use super::body_chart;
use super::error::CliError;
use crate::garment::skin::Skin;
use crate::garment::suit::Suit;
use crate::report::body::words;
use crate::report::document::Drawing;
use crate::shelf::materials::Shelf;
use crate::shelf::suit::body_map::built_in_body_map;
use crate::study::answer::Quilts;
use crate::study::body::ask::burn_body;
use crate::study::body::record::{BodyError, BodyStudy};
use crate::study::body::worn::Terms;

/// Exposure of a suit on a body.
const EXPOSURE: &str = "manikin-84";
/// How long its flame lasts [s]: the usual fires are of 3 to 8 s; common practice, no source.
const FLAMES: [f64; 2] = [4.0, 8.0];

/// The suit on the program's own body with its drawing; where it lacks what it needs there, why.
///
/// Errors: a run that stopped, an exposure that the shelf does not have.
pub(super) fn on_body(
    suit: &Suit,
    shelf: &Shelf,
    (skin, quilts): (&Skin, Quilts),
) -> Result<Result<(BodyStudy, Drawing), String>, CliError> {
    let map = built_in_body_map().map_err(CliError::Faults)?;
    let exposure = shelf.exposure(EXPOSURE).map_err(CliError::Unknown)?;
    let terms = Terms { quilts, ..Terms::plain((exposure, &FLAMES), skin, &map) };
    match burn_body(suit, &terms) {
        Ok(study) => {
            let svg = body_chart::chart(&study, None).map_err(CliError::Chart)?;
            let drawing = Drawing { svg, words: words::first(&study) };
            Ok(Ok((study, drawing)))
        }
        Err(
            why @ (BodyError::NoRegion { .. }
            | BodyError::NoAir { .. }
            | BodyError::TooLarge { .. }),
        ) => Ok(Err(why.to_string())),
        Err(error) => Err(super::body::told(error, None, suit.name.as_ref())),
    }
}
