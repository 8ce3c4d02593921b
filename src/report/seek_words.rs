//! Words for the layups of a search: plies, gaps, figures, bounds.

use crate::garment::brief::{GapPlace, Margin, Minimise, Wanted};
use crate::report::figures::Found;
use crate::report::number::{fixed, short, with_error};
use crate::report::rank::unit;
use crate::report::verdict::{Call, MODEL_BAND, compare};
use crate::report::words::figure_name;
use crate::study::seek::finding::{Bound, Next};
use crate::study::seek::score::Reading;
use crate::study::seek::space::{Plies, Space};

/// "outer + 1 mm + felt + inner".
pub fn stack(space: &Space<'_>, plies: &Plies, gaps: &[f64]) -> String {
    let mut words = Vec::new();
    for (fabric, gap) in space.fabrics(plies).zip(gaps) {
        words.push(fabric.name.clone());
        if *gap > 0.0 {
            words.push(format!("{} mm", millimetres(*gap)));
        }
    }
    words.join(" + ")
}

/// Names of the plies, outermost first.
pub fn plies(space: &Space<'_>, plies: &Plies) -> Vec<String> {
    space.fabrics(plies).map(|fabric| fabric.name.clone()).collect()
}

/// A length in mm to the micrometre.
pub fn millimetres(length: f64) -> String {
    short(1e3 * length, 3)
}

/// Name of a target's figure, such as HTI24.
pub fn name(wanted: &Wanted) -> &'static str {
    figure_name(wanted.target.figure, &wanted.exposure)
}

/// The figure with its error and unit, or the least that it can be.
pub fn value(reading: &Reading, wanted: &Wanted) -> String {
    let (unit, scale) = unit(wanted.target.figure);
    match reading {
        Reading::Value(valued) => {
            let (value, error) = with_error(scale * valued.value, scale * valued.error);
            format!("{value} ± {error} {unit}")
        }
        Reading::OrMore(value) => format!("over {} {unit}", short(scale * value, 1)),
        Reading::Unknown => "unsettled".to_owned(),
    }
}

/// A value of the figure with its unit.
pub fn plain(value: f64, wanted: &Wanted) -> String {
    let (unit, scale) = unit(wanted.target.figure);
    format!("{} {unit}", short(scale * value, 2))
}

/// "fia-8856-2018-overall: HTI24 ≥ 12 s and 20 % more, 14.4 s".
pub fn wanted(wanted: &Wanted) -> String {
    let margin = match wanted.margin {
        Margin::Share(share) => format!("{} %", short(100.0 * share, 2)),
        Margin::Time(t) => format!("{} s", short(t, 2)),
    };
    format!(
        "{}: {} ≥ {} and {margin} more, {}, under {}",
        wanted.target.name,
        name(wanted),
        plain(wanted.target.at_least, wanted),
        plain(wanted.at_least(), wanted),
        wanted.exposure.name
    )
}

/// Above, below or too close to call against the target itself, with the model's band.
pub fn call(reading: &Reading, wanted: &Wanted) -> Call {
    match reading {
        Reading::Value(valued) => {
            let found = Found::Value { valued: *valued, t: valued.value, beyond: false };
            compare(found, &wanted.target)
        }
        Reading::OrMore(value) if (1.0 - MODEL_BAND) * value >= wanted.target.at_least => {
            Call::Above
        }
        _ => Call::TooClose,
    }
}

/// A spare share as a percentage with its sign.
pub fn spare(spare: f64) -> String {
    let text = fixed(100.0 * spare, 1);
    if text.starts_with('-') { text } else { format!("+{text}") }
}

/// What a bound is, in words.
pub fn bound(bound: &Bound) -> String {
    match bound {
        Bound::ArealDensity(left) => {
            format!("the limit on areal density ({} g/m² left)", short(1e3 * left, 1))
        }
        Bound::Thickness(left) => {
            format!("the limit on thickness ({} mm left)", short(1e3 * left, 2))
        }
        Bound::GapMost(place) => format!("the gap {} at its most", gap_words(*place)),
        Bound::GapsLeast => "the gaps at their least, with margin left over".to_owned(),
    }
}

fn gap_words(place: GapPlace) -> &'static str {
    match place {
        GapPlace::BehindOuter => "behind the outer",
        GapPlace::BetweenFelts => "between the felts",
        GapPlace::BeforeInner => "before the inner",
        GapPlace::BehindInner => "behind the inner",
    }
}

/// Gain per unit of cost, in the unit of [`per`].
pub fn rate(next: &Next, wanted: &[Wanted]) -> f64 {
    let scale = unit(wanted[next.target].target.figure).1;
    // kg/m² and m both go by thousandths: g/m² and mm
    scale * next.gain / (1e3 * next.more)
}

/// Unit of a gain per unit of cost: seconds or cal/cm² per g/m² or mm.
pub fn per(wanted: &Wanted, minimise: Minimise) -> String {
    let cost = match minimise {
        Minimise::Mass => "g/m²",
        Minimise::Thickness => "mm",
    };
    format!("{} per {cost}", unit(wanted.target.figure).0)
}
