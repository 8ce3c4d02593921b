//! The names under which properties are freed: `conductivity:2`, `gap:1`, `flux`.

use super::error::BadOption;
use crate::garment::exposure::Exposure;
use crate::garment::layup::Layup;
use crate::garment::property::OfPly;
use crate::report::fit_words::{name, outside, ply_before};
use crate::report::number::significant;
use crate::study::fit::free::{Free, NotFree, What};
use crate::study::property::Property;

/// A property as named on the command line, its range in the unit of files.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// As it was given.
    pub given: String,
    word: Word,
    range: Option<(f64, f64)>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Word {
    Ply(OfPly, usize),
    Gap(usize),
    Joint(usize),
    Flux,
    RadiantShare,
}

const OF_PLY: [OfPly; 5] = [
    OfPly::Conductivity,
    OfPly::SpecificHeat,
    OfPly::Thickness,
    OfPly::Emissivity,
    OfPly::FaceVoid,
];

const RULE: &str = "expected conductivity, specific-heat, thickness, emissivity, face-void, gap or \
    joint with a ply's number, or flux or radiant-share, and a range if wanted: conductivity:2 or \
    conductivity:2=0.03..0.06";

/// NAME:PLY or NAME, with =LOW..HIGH if wanted.
pub fn named(text: &str) -> Result<Named, String> {
    let (head, range) = match text.split_once('=') {
        Some((head, range)) => (head, Some(parse_range(range)?)),
        None => (text, None),
    };
    let word = match head.split_once(':') {
        None if head == "flux" => Word::Flux,
        None if head == "radiant-share" => Word::RadiantShare,
        Some((word, ply)) => {
            let ply = ply.parse::<usize>().ok().filter(|ply| *ply > 0).ok_or(RULE)?;
            match OF_PLY.iter().find(|of| of.name().replace('_', "-") == word) {
                Some(of) => Word::Ply(*of, ply),
                None if word == "gap" => Word::Gap(ply),
                None if word == "joint" => Word::Joint(ply),
                None => return Err(RULE.to_string()),
            }
        }
        None => return Err(RULE.to_string()),
    };
    Ok(Named { given: text.to_string(), word, range })
}

fn parse_range(text: &str) -> Result<(f64, f64), String> {
    let number = |text: &str| text.parse::<f64>().ok().filter(|v| v.is_finite());
    let ends = text.split_once("..").map(|(low, high)| (number(low), number(high)));
    match ends {
        Some((Some(low), Some(high))) if low < high => Ok((low, high)),
        _ => {
            Err("expected a range LOW..HIGH in the unit of files, for example 0.03..0.06"
                .to_string())
        }
    }
}

/// The property that is meant.
///
/// Errors: nothing there to move, or a range that does not fit.
pub fn resolve(named: &Named, layup: &Layup, exposure: &Exposure) -> Result<Free, BadOption> {
    let gap = |ply: usize| (0..layup.gaps().count()).find(|j| ply_before(layup, *j) == ply);
    let what = match named.word {
        Word::Ply(of, ply) => Some(What::Property(Property::Ply(ply - 1, of))),
        Word::Gap(ply) => gap(ply).map(|j| What::Property(Property::Gap(j))),
        Word::Joint(ply) => Some(What::Joint(ply - 1)),
        Word::Flux => Some(What::Property(Property::Flux)),
        Word::RadiantShare => Some(What::Property(Property::RadiantShare)),
    };
    let si = |what: What, (low, high): (f64, f64)| {
        let scale = outside(what, 1.0).0;
        (low / scale, high / scale)
    };
    let free = match what {
        Some(what) => Free::new(what, named.range.map(|range| si(what, range)), layup, exposure)
            .map_err(|not| (Some(what), not)),
        None => Err((None, NotFree::Absent)),
    };
    free.map_err(|(what, not)| refused(named, what, not, layup, exposure))
}

fn refused(
    named: &Named,
    what: Option<What>,
    not: NotFree,
    layup: &Layup,
    exposure: &Exposure,
) -> BadOption {
    let given = format!("--free {}", named.given);
    let n_plies = layup.plies().count();
    let value = what.map_or(String::new(), |what| {
        let (value, unit) = outside(what, what.value(layup, exposure));
        format!("{value:.4} {unit}").trim_end().to_string()
    });
    let admissible = what.map_or(String::new(), |what| {
        let (least, most) = what.admissible(layup, exposure);
        let ((least, unit), (most, _)) = (outside(what, least), outside(what, most));
        format!("{} to {} {unit}", significant(least, 4), significant(most, 4))
            .trim_end()
            .to_string()
    });
    let called = what.map_or(String::new(), |what| name(what, layup));
    let (what, expected, mend) = match (not, named.word) {
        (NotFree::Absent, Word::Gap(ply)) => {
            let gaps: Vec<String> = (0..layup.gaps().count())
                .map(|j| format!("gap:{}", ply_before(layup, j)))
                .collect();
            let there = if gaps.is_empty() { "it has none".into() } else { gaps.join(", ") };
            (
                format!("the layup has no air gap behind ply {ply}"),
                format!("a gap of the layup: {there}"),
                "add the gap to the layup's file, or free face-void where plies touch".to_string(),
            )
        }
        (NotFree::Absent, Word::RadiantShare) => (
            format!("all of the flux of {} is radiant", exposure.name),
            "an exposure that is part flame, part radiation".to_string(),
            "free flux instead".to_string(),
        ),
        (NotFree::Absent, _) => (
            format!("the layup has no such ply; it has {n_plies}"),
            format!("the number of a ply, 1 to {n_plies}, outermost first"),
            "count the plies in the layup's file, gaps left out".to_string(),
        ),
        (NotFree::NoConductance, _) => (
            format!("no conductance is given for the {called}"),
            "a ply with joint_W_m2K in the layup's file".to_string(),
            "give joint_W_m2K there, or free face-void of the ply".to_string(),
        ),
        (NotFree::Zero, _) => (
            format!("{called} is zero, which no factor moves"),
            "a property with a value above zero".to_string(),
            "give a first guess in the layup's file".to_string(),
        ),
        (NotFree::StartOutside, _) => (
            format!("{called} is {value} before the fit, outside its range"),
            "a range that holds the value before the fit".to_string(),
            "widen the range, or change the value in the layup's file".to_string(),
        ),
        (NotFree::RangeTooWide, _) => (
            format!("the range of {called} goes beyond what a file may hold"),
            format!("{admissible}, the rest of the layup as it is"),
            format!("stay nearer to {value}"),
        ),
    };
    BadOption { what, given, expected, mend }
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn names_and_ranges() {
        for good in ["conductivity:2", "gap:1", "joint:3", "flux", "radiant-share=0.4..0.8"] {
            assert!(named(good).is_ok(), "{good}");
        }
        for bad in [
            "",
            "conductivity",
            "conductivity:0",
            "conductivity:-1",
            "colour:1",
            "flux:1",
            "flux=2",
            "flux=3..2",
            "flux=nan..2",
            "gap:1=",
            "gap",
            "conductivity:2=0.03..",
        ] {
            assert!(named(bad).is_err(), "{bad}");
        }
    }
}
