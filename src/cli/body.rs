//! `stillair body`: a suit on a whole body, and what share of it burns.

use std::path::{Path, PathBuf};

use super::arguments;
use super::asked::{ViewArgs, Views};
use super::error::{BadOption, CliError};
use super::expose;
use super::flat::FlatArg;
use super::how::SkinArg;
use super::shelf::note;
use super::suit::{suit, wearer};
use crate::garment::body_map::BodyMap;
use crate::garment::exposure::Exposure;
use crate::garment::suit::{Fit, Suit};
use crate::report::body::Beside;
use crate::report::body::beside::{beside_csv, beside_json, beside_text};
use crate::report::body::columns::{body_csv, body_json};
use crate::report::body::text::body_text;
use crate::shelf::key::unusual;
use crate::shelf::materials::Shelf;
use crate::shelf::suit::body_map::{built_in_body_map, read_body_map};
use crate::study::body::ask::burn_body;
use crate::study::body::beside::BodyBeside;
use crate::study::body::keep::keep_share;
use crate::study::body::odds::body_odds;
use crate::study::body::record::BodyError;
use crate::study::body::worn::{Grams, Terms};
use crate::study::odds::work::OddsError;

/// Most fires of one answer.
const FIRES_MOST: usize = 5;

/// Arguments of `body`.
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Suit file (.toml), or the name of a suit on the shelf
    #[arg(value_name = "SUIT")]
    suit: PathBuf,
    /// Another suit, held against the first
    #[arg(value_name = "OTHER", conflicts_with_all = ["against", "keep", "grams"])]
    other: Option<PathBuf>,
    /// Exposure: a name on the shelf, or a file
    #[arg(long, value_name = "NAME|FILE", default_value = "manikin-84")]
    exposure: PathBuf,
    /// Take the flame away after this time; up to five, between commas
    /// [default: the exposure's own]
    #[arg(long = "for", value_name = "SECONDS", value_delimiter = ',',
          value_parser = arguments::duration)]
    durations: Vec<f64>,
    /// How wide the suit is [default: as the suit says, else regular]
    #[arg(long, value_enum)]
    fit: Option<FitWord>,
    /// Who wears it: mass and height; the suit stays as it is drawn
    #[arg(long, value_name = "KG,CM", value_parser = arguments::measures)]
    wearer: Option<(f64, f64)>,
    /// Regions of the body and the air under a garment, from a file (.toml)
    /// [default: the program's own]
    #[arg(long, value_name = "FILE")]
    body: Option<PathBuf>,
    /// Take the cloth as this much shorter from the start, by your own tests: the
    /// fire shrinks it onto the body
    #[arg(long, value_name = "PERCENT", value_parser = arguments::share, default_value = "0")]
    shrink: f64,
    #[command(flatten)]
    skin: SkinArg,
    /// Tell what a gram more of each ply brings
    #[arg(long)]
    grams: bool,
    /// Draw from tolerances, flux and fit: the odds of at most this share of what
    /// is covered with a second degree
    #[arg(long, value_name = "PERCENT", value_parser = arguments::share)]
    against: Option<f64>,
    /// Sets drawn for --against
    #[arg(long, value_name = "N", default_value = "64", value_parser = arguments::n_sets)]
    sets: usize,
    /// Look for the lightest of each panel's own layup and alternatives with which at
    /// most this share of what is covered has a second degree, after every flame
    #[arg(long, value_name = "PERCENT", value_parser = arguments::share)]
    keep: Option<f64>,
    #[command(flatten)]
    flat: FlatArg,
    #[command(flatten)]
    views: ViewArgs,
}

/// The fits as words.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum FitWord {
    /// Close to the body
    Close,
    /// As work clothes are
    Regular,
    /// Wide
    Loose,
}

impl FitWord {
    fn fit(self) -> Fit {
        match self {
            FitWord::Close => Fit::Close,
            FitWord::Regular => Fit::Regular,
            FitWord::Loose => Fit::Loose,
        }
    }
}

/// Burns the suit's wearer, writes the files asked for and prints the result.
pub fn run(args: &Args, shelf: &Shelf) -> Result<(), CliError> {
    let mut errors = Vec::new();
    let suit = self::suit(&args.suit, shelf).map_err(|e| errors.push(e)).ok();
    let other = args.other.as_ref().map(|other| self::suit(other, shelf));
    let other = other.and_then(|found| found.map_err(|e| errors.push(e)).ok());
    let exposure = expose::exposure(&args.exposure, shelf).map_err(|e| errors.push(e)).ok();
    let skin = args.skin.on(shelf).map_err(|e| errors.push(e)).ok();
    let map = body_map(args.body.as_deref()).map_err(|e| errors.push(e)).ok();
    let durations = exposure.as_ref().map(|exposure| durations(&args.durations, exposure));
    let durations = durations.and_then(|found| found.map_err(|e| errors.push(e)).ok());
    let (Some(suit), Some(exposure), Some(skin), Some(map), Some(durations), true) =
        (suit, exposure, skin, map, durations, errors.is_empty())
    else {
        return Err(CliError::Several(errors));
    };
    std::iter::once(&suit).chain(&other).try_for_each(|suit| admit(suit, &exposure))?;
    note(&unusual::of_body_map(&map));
    let opened = args.views.try_out()?;
    let wearer = args.wearer.map(wearer);
    let terms = Terms {
        exposure: &exposure,
        durations: &durations,
        skin,
        quilts: args.flat.quilts(),
        map: &map,
        fit: args.fit.map(FitWord::fit),
        wearer: wearer.as_ref(),
        shrunk: args.shrink,
        grams: if args.grams { Grams::Told } else { Grams::LeftOut },
    };
    let study =
        burn_body(&suit, &terms).map_err(|error| told(error, args.body.as_deref(), &args.suit))?;
    if let (Some(other), Some(file)) = (&other, &args.other) {
        let other =
            burn_body(other, &terms).map_err(|error| told(error, args.body.as_deref(), file))?;
        let both = BodyBeside::of(study, other);
        return args.views.deliver(
            opened,
            &Views {
                text: &|| beside_text(&both),
                json: &|| beside_json(&both),
                csv: &|| beside_csv(&both),
                chart: &|| super::body_chart::beside_chart(&both),
            },
        );
    }
    let odds = args.against.map(|at_most| body_odds(&suit, &terms, at_most, args.sets));
    let odds = odds.transpose().map_err(|error| told(error, args.body.as_deref(), &args.suit))?;
    let kept = args.keep.map(|at_most| keep_share(&suit, &terms, at_most));
    let kept = kept.transpose().map_err(|error| told(error, args.body.as_deref(), &args.suit))?;
    let beside = Beside { odds: odds.as_ref(), kept: kept.as_ref() };
    args.views.deliver(
        opened,
        &Views {
            text: &|| body_text(&study, beside),
            json: &|| body_json(&study, beside),
            csv: &|| body_csv(&study, beside),
            chart: &|| super::body_chart::chart(&study, odds.as_ref()),
        },
    )
}

/// The body of a file, or the program's own.
fn body_map(file: Option<&Path>) -> Result<BodyMap, CliError> {
    match file {
        Some(file) => read_body_map(file),
        None => built_in_body_map(),
    }
    .map_err(CliError::Faults)
}

/// How long the fires last: as asked, else as the exposure's own flame.
fn durations(asked: &[f64], exposure: &Exposure) -> Result<Vec<f64>, CliError> {
    let words: Vec<String> = asked.iter().map(f64::to_string).collect();
    let given = format!("--for {}", words.join(","));
    let bad = |what: String, expected: String, mend: &str| {
        let (given, mend) = (given.clone(), mend.to_owned());
        Err(CliError::Option(BadOption { what, given, expected, mend }))
    };
    if asked.is_empty() {
        let what = || format!("{} does not say when its flame is taken away", exposure.name);
        return exposure.duration.map(|duration| vec![duration]).ok_or_else(|| {
            CliError::Option(BadOption {
                what: what(),
                given: "no --for".to_owned(),
                expected: "a flame that ends, so that skin may come to rest".to_owned(),
                mend: "give --for, for example --for 4".to_owned(),
            })
        });
    }
    if asked.len() > FIRES_MOST {
        let what = format!("{} fires are asked for at once", asked.len());
        return bad(what, format!("at most {FIRES_MOST}"), "ask for the others in a second call");
    }
    if let Some(late) = asked.iter().find(|t| **t > exposure.t_end) {
        let what = format!("a flame of {late} s is longer than the run of {}", exposure.name);
        let expected = format!("at most {} s, until when that exposure looks", exposure.t_end);
        return bad(what, expected, "shorten the flame, or take an exposure that looks longer");
    }
    Ok(asked.to_vec())
}

/// Refuses an exposure that no panel could stand in.
fn admit(suit: &Suit, exposure: &Exposure) -> Result<(), CliError> {
    let cold = suit.panels.iter().find_map(|panel| exposure.hot_enough_for(&panel.layup).err());
    cold.map_or(Ok(()), |cold| Err(CliError::Bench(crate::bench::BenchError::ColdFlame(cold))))
}

/// An error of the study with all its parts.
///
/// - `body`: the file with the body, if it is not the program's own
/// - `suit`: the suit that it is about
pub(super) fn told(error: BodyError, body: Option<&Path>, suit: &Path) -> CliError {
    let what = error.to_string();
    let file = body
        .map_or("the program's own body".to_owned(), |file| format!("--body {}", file.display()));
    let (given, expected, mend) = match &error {
        BodyError::NoRegion { place, .. } => (
            file,
            "each place of the suit on one region".to_owned(),
            format!("add \"{}\" to the `places` of the region under it", place.word()),
        ),
        BodyError::NoAir { place, .. } => (
            file,
            "an `[[air]]` for each place of the suit".to_owned(),
            format!("add one with place = \"{}\"", place.word()),
        ),
        BodyError::TooLarge { .. } => (
            suit.display().to_string(),
            "at most 100 % of the body under all pieces of all panels".to_owned(),
            "look at `share_pct`, which is that of one piece, and at `count`".to_owned(),
        ),
        BodyError::TooDense(error) => {
            return CliError::Odds(OddsError::TooDense(error.clone()));
        }
        BodyError::Quilt(error) => return CliError::Quilt(error.clone()),
        BodyError::Solver(_) => (
            suit.display().to_string(),
            "layups and an exposure that the solver can follow".to_owned(),
            "look for a value far from the usual in the layups; nothing was written".to_owned(),
        ),
    };
    CliError::Option(BadOption { what, given, expected, mend })
}
