//! What the page asks: a layup with the terms that `stillair expose` takes, under the same bounds.

use std::path::Path;

use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::bench::{Behind, Follow, Halt, Question};
use crate::desk::refused::Refused;
use crate::garment::exposure::{Exposure, OutlastingFlame};
use crate::garment::layup::Layup;
use crate::garment::skin::Skin;
use crate::garment::target::Target;
use crate::shelf::fault::Unknown;
use crate::shelf::key::field::Field;
use crate::shelf::key::kinds;
use crate::shelf::layup::loose::text_of;
use crate::shelf::layup::read::read_layup_text;
use crate::shelf::materials::Shelf;
use crate::study::answer::Quilts;
use crate::study::quilt::N_POINTS;

/// Where a fault of the page's layup lies, in place of a file's name.
const PLACE: &str = "the layup on the page";
/// Numerical error allowed to each time [–]: that of `stillair expose`.
pub const ERROR_GOAL: f64 = 0.005;
/// That of an answer that is looked at while the hand still moves [–].
const ERROR_GOAL_COARSE: f64 = 0.02;
/// Points over the lofted part of a cell in that answer: with the stitch line they fill the solver's lanes.
const N_POINTS_COARSE: usize = 7;
/// Targets that one question may hold.
const TARGETS_MOST: usize = 20;

/// The state of the page, which its address holds, too.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct State {
    /// The layup's keys and values as in its file.
    pub layup: Json,
    /// Name of the exposure on the shelf.
    pub exposure: String,
    /// When the flame is taken away [s]; none: as the exposure has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flame_s: Option<f64>,
    /// Until when is looked [s]; none: until all is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until_s: Option<f64>,
    /// Name of the skin on the shelf; none: the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub skin: Option<String>,
    /// Names of targets.
    #[serde(default)]
    pub against: Vec<String>,
    /// Whether quilting is left out.
    #[serde(default)]
    pub flat: bool,
}

/// How closely is answered; what is left open stands in each figure's ±.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closeness {
    /// At once, until the close answer comes.
    Coarse,
    /// As `stillair expose` prints it.
    Close,
}

impl Closeness {
    /// Points over the lofted part of a cell.
    pub fn n_points(self) -> usize {
        match self {
            Closeness::Coarse => N_POINTS_COARSE,
            Closeness::Close => N_POINTS,
        }
    }

    fn error_goal(self) -> f64 {
        match self {
            Closeness::Coarse => ERROR_GOAL_COARSE,
            Closeness::Close => ERROR_GOAL,
        }
    }
}

/// Everything that a state's names and values stand for.
pub struct Resolved<'a> {
    /// The layup.
    pub layup: Layup,
    /// As on the shelf.
    pub as_given: Exposure,
    /// With the times asked for.
    pub exposure: Exposure,
    /// The skin.
    pub skin: &'a Skin,
    /// The targets.
    pub targets: Vec<&'a Target>,
    /// Whether quilting is computed.
    pub quilts: Quilts,
    follow: Follow,
}

impl Resolved<'_> {
    /// What is asked of the exposure.
    ///
    /// - `halt`: called where nobody waits for the answer any more
    pub fn question<'q>(&'q self, closeness: Closeness, halt: &'q Halt) -> Question<'q> {
        let plain = Question::plain(Behind::Both, self.skin, closeness.error_goal());
        Question { follow: self.follow, halt: Some(halt), ..plain }
    }
}

impl State {
    /// The text of the layup's file.
    ///
    /// Errors: what no file has.
    pub fn text(&self) -> Result<String, Refused> {
        text_of(&self.layup).map_err(Refused::because)
    }

    /// The layup, exposure, skin and targets.
    ///
    /// Errors: all that is wrong with the layup, else the first thing with what it is asked.
    pub fn resolved<'a>(&self, shelf: &'a Shelf) -> Result<Resolved<'a>, Refused> {
        let layup = read_layup_text(&self.text()?, Path::new(PLACE), shelf)?;
        let as_given = shelf.exposure(&self.exposure).map_err(unknown)?.clone();
        within(&kinds::DURATION, self.flame_s, "the flame's duration")?;
        within(&kinds::UNTIL, self.until_s, "the time followed")?;
        let outlasts = |OutlastingFlame { flame }| {
            Refused::new(
                422,
                format!("{} would end before its flame does", as_given.name),
                &format!("an end at {flame} s, when the flame is taken away, or later"),
                "follow it longer: burns are looked for after the flame too",
            )
        };
        let exposure = as_given.with_times(self.flame_s, self.until_s).map_err(outlasts)?;
        let skin = shelf.skin_or_first(self.skin.as_deref()).map_err(unknown)?;
        if self.against.len() > TARGETS_MOST {
            let what = format!("{} targets at once", self.against.len());
            let expected = format!("at most {TARGETS_MOST}");
            return Err(Refused::new(422, what, &expected, "leave some out"));
        }
        let targets: Result<Vec<&Target>, Refused> =
            self.against.iter().map(|name| shelf.target(name).map_err(unknown)).collect();
        let quilts = if self.flat { Quilts::LeftOut } else { Quilts::Computed };
        let follow = if self.until_s.is_some() { Follow::ToTheEnd } else { Follow::UntilKnown };
        Ok(Resolved { layup, as_given, exposure, skin, targets: targets?, quilts, follow })
    }
}

fn unknown(unknown: Unknown) -> Refused {
    Refused::new(422, unknown.what(), &unknown.expected(), &unknown.mend())
}

/// A value within the bounds that files have for it.
fn within(field: &Field, value: Option<f64>, what: &str) -> Result<(), Refused> {
    match value.and_then(|value| field.range.slip(value)) {
        None => Ok(()),
        Some(slip) => {
            let mend = format!("for example {} s", field.example);
            Err(Refused::new(422, format!("{what} is {slip}"), &field.rule(), &mend))
        }
    }
}
