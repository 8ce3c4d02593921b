//! A brief drawn by `stillair gap`: its plies down, its gaps across.

use std::path::PathBuf;

use super::asked::TermArgs;
use super::error::{BadOption, CliError};
use super::shelf;
use crate::garment::brief::{Brief, GapPlace, Wanted};
use crate::garment::exposure::Exposure;
use crate::garment::skin::Skin;
use crate::report::gap::map::{MOST_GAPS, MOST_LAYUPS};
use crate::report::words::list;
use crate::shelf::materials::Shelf;
use crate::study::answer::{AnswerError, Quilts};
use crate::study::gap::Swept;
use crate::study::gap_brief::{Laid, NotDrawn, is_swept, lay, map, with_only};
use crate::study::gap_map::GapMap;
use crate::study::run::Terms;

/// What of a brief is drawn.
#[derive(Debug, clap::Args)]
pub struct FewArgs {
    /// Of a brief's fabrics these alone; places of which none is named keep all of theirs
    #[arg(long, value_name = "FABRIC,FABRIC,…", value_delimiter = ',', requires = "map")]
    only: Vec<String>,
    /// Of a brief's several targets this one
    #[arg(long, value_name = "TARGET", requires = "map")]
    against: Option<String>,
}

impl FewArgs {
    /// What is wrong with them where no brief is named.
    pub fn without_brief(&self) -> Option<CliError> {
        let given = (!self.only.is_empty()).then_some("--only");
        let given = given.or(self.against.as_ref().map(|_| "--against"))?;
        Some(CliError::Option(BadOption {
            what: "layups by their names have nothing to choose from".to_owned(),
            given: format!("{given} without a brief"),
            expected: "a brief, whose fabrics and targets they choose from".to_owned(),
            mend: "leave it out, or name a brief".to_owned(),
        }))
    }
}

/// What is asked of a brief.
pub struct Asked<'a> {
    /// The words on the command line, one of them a brief.
    pub paths: &'a [PathBuf],
    /// What of it is drawn.
    pub few: &'a FewArgs,
    /// Which gaps.
    pub swept: Swept,
    /// The gaps [m], instead of its own.
    pub gaps: Option<Vec<f64>>,
    /// Whether quilting is computed.
    pub quilts: Quilts,
}

/// A brief's map before it is computed.
pub struct Drawn<'a> {
    brief: Brief,
    wanted: Wanted,
    laid: Laid,
    exposure: Exposure,
    /// The skin asked for instead of the brief's.
    skin: Option<&'a Skin>,
}

impl Drawn<'_> {
    /// The map.
    pub fn map(self, error_goal: f64, quilts: Quilts) -> Result<GapMap, AnswerError> {
        let skin = self.skin.unwrap_or(&self.brief.skin);
        let terms = Terms { exposure: &self.exposure, skin, error_goal, quilts };
        map((&self.brief, &self.wanted), self.laid, &terms)
    }
}

/// Resolves a brief into rows and columns of a map.
pub fn drawn<'a>(
    asked: &Asked<'_>,
    terms: &TermArgs,
    on: &'a Shelf,
) -> Result<Drawn<'a>, CliError> {
    let [path] = asked.paths else {
        return Err(bad(
            "a brief's map has no other rows",
            &format!("a brief among {} files", asked.paths.len()),
            "one brief alone, or layups alone",
            "name the brief alone",
        ));
    };
    let file = shelf::brief(path, on)?;
    let skin = terms.skin.name.is_some().then(|| terms.skin.on(on)).transpose()?;
    let wanted = wanted(&file.brief, asked.few.against.as_deref())?.clone();
    let swept = match asked.swept {
        Swept::Behind => Swept::Place(GapPlace::BehindInner),
        Swept::BehindPly(ply) => {
            let given = format!("--gap {ply} with a brief");
            let mend = "name the place, for example --gap \"before inner\"";
            let what = "a brief's stacks have different numbers of plies";
            return Err(bad(what, &given, &format!("all, or {}", places(&file.brief)), mend));
        }
        other => other,
    };
    let brief = with_only(&file.brief, &asked.few.only).map_err(|why| told(&why, &file.brief))?;
    let laid = lay(&brief, swept, asked.gaps.as_deref(), asked.quilts, MOST_LAYUPS);
    let laid = laid.map_err(|why| told(&why, &brief))?;
    if let Some(more) = BadOption::too_many((laid.gaps.len(), "gaps"), MOST_GAPS) {
        let mend = "list some: --gaps 0,0.5,1".to_owned();
        return Err(CliError::Option(BadOption { mend, ..more }));
    }
    let exposure = terms.changed(&wanted.exposure)?;
    Ok(Drawn { brief, wanted, laid, exposure, skin })
}

/// The target that is drawn: the one asked for, or the only one.
fn wanted<'a>(brief: &'a Brief, name: Option<&str>) -> Result<&'a Wanted, CliError> {
    let names: Vec<&str> = brief.wanted.iter().map(|wanted| wanted.target.name.as_str()).collect();
    let one = match (name, brief.wanted.as_slice()) {
        (None, [one]) => one,
        (None, several) => {
            return Err(bad(
                "a map is of one target, and the brief has several",
                &format!("{} targets: {}", several.len(), list(&names)),
                "one of them",
                &format!("--against {}", names[0]),
            ));
        }
        (Some(name), all) => {
            let found = all.iter().find(|wanted| wanted.target.name == name);
            let mend = format!("--against {}", names[0]);
            let what = "the brief has no such target";
            let rule = format!("one of its own: {}", list(&names));
            found.ok_or_else(|| bad(what, &format!("--against {name}"), &rule, &mend))?
        }
    };
    if is_swept(one.target.figure) {
        return Ok(one);
    }
    Err(bad(
        "a map has no such figure",
        &format!("target {}", one.target.name),
        "a target of a time; TPP is a heat",
        "take another target of the brief with --against, or name layups and --by",
    ))
}

/// The brief's places with gaps, in words.
fn places(brief: &Brief) -> String {
    let quoted = |place: &GapPlace| format!("\"{}\"", place.words());
    let own = GapPlace::ALL.iter().filter(|place| brief.gap_range(**place).is_some());
    list(&own.map(quoted).collect::<Vec<_>>())
}

/// Why a brief is no map.
fn told(why: &NotDrawn, brief: &Brief) -> CliError {
    let given = format!("brief \"{}\"", brief.name);
    match why {
        NotDrawn::NoGaps => bad(
            "the brief opens no gap there",
            &given,
            "gaps across the map",
            "name a place and its gaps: --gap \"behind outer\" --gaps 0,0.5,1,2",
        ),
        NotDrawn::Differ => bad(
            "the brief's gaps differ from place to place",
            &given,
            &format!("the gaps of one place, {}, or gaps for all of them", places(brief)),
            "name a place with --gap, the others stay as narrow as they may be; or list gaps: --gaps 0,1,2",
        ),
        NotDrawn::Stitchings(n) => bad(
            "the brief has several ways of stitching, and a map draws one",
            &format!("{given}: {n} ways"),
            "one way, or loose plies",
            "leave quilting out with --flat",
        ),
        NotDrawn::Stacks(n) => {
            let first = [&brief.outer, &brief.felts, &brief.inner]
                .into_iter()
                .filter_map(|list| list.first())
                .map(|fabric| fabric.name.as_str());
            bad(
                "the brief has more stacks of plies than a map has room for",
                &format!("{given}: {n} stacks"),
                &format!("at most {MOST_LAYUPS}"),
                &format!(
                    "keep some fabrics of each place: --only {}",
                    first.collect::<Vec<_>>().join(",")
                ),
            )
        }
        NotDrawn::Nothing => bad(
            "no stack of plies keeps to the brief's limits and has such a gap",
            &given,
            "at least one",
            "widen the limits, or name another place with --gap",
        ),
        NotDrawn::Unknown(name) => {
            let own = [&brief.outer, &brief.felts, &brief.inner].into_iter().flatten();
            let names: Vec<&str> = own.map(|fabric| fabric.name.as_str()).collect();
            bad(
                "the brief has no such fabric",
                &format!("--only {name}"),
                &format!("some of its own: {}", list(&names)),
                "write it as the brief does",
            )
        }
    }
}

fn bad(what: &str, given: &str, expected: &str, mend: &str) -> CliError {
    let [what, given, expected, mend] = [what, given, expected, mend].map(str::to_owned);
    CliError::Option(BadOption { what, given, expected, mend })
}
