//! `stillair suit`: a suit in grams, panel by panel.

use std::path::{Path, PathBuf};

use super::anchored::AnchoredArg;
use super::arguments;
use super::asked::{ViewArgs, Views};
use super::error::CliError;
use super::expose::means_file;
use super::flat::FlatArg;
use super::how::{ErrorArg, SkinArg};
use super::shelf::{note, shelf_suit};
use crate::chart::suit::{SuitChart, SuitMark};
use crate::chart::{ChartError, Heading, suit_chart};
use crate::garment::known::{Known, Provenance};
use crate::garment::suit::{Body, Suit};
use crate::physics::units::{GRAMS, PERCENT};
use crate::report::number::{Shown, fixed};
use crate::report::suit::columns::suit_csv;
use crate::report::suit::json::suit_json;
use crate::report::suit::text::suit_text;
use crate::report::suit::words;
use crate::report::verdict;
use crate::shelf::key::unusual;
use crate::shelf::materials::Shelf;
use crate::shelf::suit::read::read_suit;
use crate::study::suit::expose_suit;
use crate::study::suit_judged::{Judged, judge};

/// Arguments of `suit`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Suit file (.toml), or the name of a suit on the shelf
    #[arg(value_name = "SUIT")]
    suit: PathBuf,
    /// Make every panel so many times as large
    #[arg(long, value_name = "FACTOR", value_parser = arguments::size, conflicts_with = "wearer")]
    size: Option<f64>,
    /// Size the panels for a wearer of this mass and height; by the surface of the body
    #[arg(long, value_name = "KG,CM", value_parser = arguments::measures)]
    wearer: Option<(f64, f64)>,
    #[command(flatten)]
    skin: SkinArg,
    #[command(flatten)]
    error: ErrorArg,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    anchored: AnchoredArg,
    #[command(flatten)]
    views: ViewArgs,
}

/// Exposes the panels, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf, dirs: &[PathBuf]) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let suit = suit(&args.suit, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let (Some(suit), Some(skin), true) = (suit, skin, errors.is_empty()) else {
        return Err(CliError::Several(errors));
    };
    let opened = args.views.try_out()?;
    let size = match args.wearer {
        Some((mass, height)) => suit.size_for(&wearer((mass, height))),
        None => args.size.unwrap_or(1.0),
    };
    let quilts = args.flat.quilts();
    let bands = args.anchored.bands((shelf, dirs), skin, args.error.goal)?;
    let study = expose_suit(&suit, size, (skin, quilts), args.error.goal)?;
    let judged = judge(&study, &bands);
    args.views.deliver(
        opened,
        &Views {
            text: &|| suit_text(&judged),
            json: &|| suit_json(&judged),
            csv: &|| suit_csv(&judged),
            chart: &|| chart(&judged),
        },
    )
}

/// A person of this mass [kg] and height [m], as the command line has it.
pub(super) fn wearer((mass, height): (f64, f64)) -> Body {
    let known = |value| Known::new(value, Provenance::Stated, "command line");
    Body { mass: known(mass), height: known(height) }
}

/// The suit of a name on the shelf or of a file.
pub(super) fn suit(given: &Path, shelf: &Shelf) -> Result<Suit, CliError> {
    let name = given.to_string_lossy();
    let suit = match shelf.suit_file(&name).is_ok() || !means_file(given) {
        true => shelf_suit(&name, shelf)?,
        false => read_suit(given, shelf).map_err(CliError::Faults)?,
    };
    note(&unusual::of_suit(&suit));
    Ok(suit)
}

/// The suit from in front and from behind.
pub(super) fn chart(judged: &Judged<'_>) -> Result<String, ChartError> {
    let study = judged.study;
    let grams = GRAMS.fixed(study.mass(), 0);
    let mark = |(i, panel): (usize, &crate::garment::suit::Panel)| {
        let own = &judged.panels[i][0];
        let mass = GRAMS.fixed(study.panels[i].own().mass.total(), 0);
        SuitMark {
            place: panel.place,
            side: panel.side,
            name: panel.name.clone(),
            spare: own.spare.map(|s| PERCENT.outside(s)),
            answer: format!("{} to spare, {}", words::spare(own), words::call(own)),
            note: format!(
                "{mass} g; {} asked, {} needed to be called above, {} predicted",
                words::asks(panel),
                verdict::needs(&own.verdict.rule),
                words::value(own, panel)
            ),
            is_weakest: judged.weakest == Some(i),
        }
    };
    suit_chart(&SuitChart {
        heading: Heading {
            title: format!("{}: {grams} g, and what each panel has to spare", study.suit.name),
            subtitle: words::weakest(judged),
            source: format!("panels of \"{}\", size {}", study.suit.name, fixed(study.size, 3)),
            summary: format!("{} Grams of the suit: {grams}.", words::weakest(judged)),
        },
        marks: study.suit.panels.iter().enumerate().map(mark).collect(),
    })
}
