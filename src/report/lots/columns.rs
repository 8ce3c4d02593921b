//! The columns of delivered rolls, and their files.

use crate::bench::figure::{Found, Verdict, filed, shown};
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::csv::CurvesError;
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects};
use crate::report::form::value::{Digits, Object};
use crate::report::json::against;
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::lots::words::{LotsOf, figure_words, hold_words, spare};
use crate::report::number::signed;
use crate::report::verdict::answer;
use crate::study::lots::{Group, Hold, Rated};

/// A roll in its group.
pub struct Roll<'a> {
    group: &'a Group,
    rated: &'a Rated,
    /// Whether it is the one that the others of its group are counted from.
    is_reference: bool,
}

/// The rolls of a group.
pub fn rolls_of(group: &Group) -> Vec<Roll<'_>> {
    let all = group.rolls.iter().enumerate();
    all.map(|(i, rated)| Roll { group, rated, is_reference: i == group.reference }).collect()
}

/// A roll: what it is, its figure, how that stands, whether it is held.
pub fn rolls<'a>(of: &'a LotsOf<'a>) -> Vec<Column<'a, Roll<'a>>> {
    let unit = filed(of.figure);
    let mass = |roll: &Roll| roll.rated.roll.areal_density;
    let known = |roll: &Roll| roll.rated.found.value_or_least();
    let margin = |roll: &Roll| roll.rated.verdict.as_ref().and_then(|verdict| verdict.margin);
    let to_spare = |roll: &Roll| spare(roll.rated).map_or("–".to_string(), signed);
    let from_reference = |roll: &Roll| match roll.is_reference {
        true => "base".to_string(),
        false => roll.rated.against_reference.map_or("–".to_string(), signed),
    };
    let limit = |name: &str, at: usize| {
        Column::new(name, unit, move |roll: &Roll| {
            roll.group.limits.map(|l| [l.centre, l.low, l.high][at])
        })
    };
    let held = |roll: &Roll| {
        let is_told = roll.rated.is_open() || !roll.rated.holds.is_empty();
        is_told.then(|| hold_words(roll.rated))
    };
    let holds = |roll: &Roll| roll.rated.holds.iter().map(hold_key).collect::<Vec<_>>();
    let own_answer = |roll: &Roll| roll.rated.verdict.as_ref().map(answer);
    let reference = Column::new("against_reference", PERCENT, |r: &Roll| r.rated.against_reference);
    vec![
        Column::new("lot", BARE, |roll: &Roll| roll.rated.roll.lot.clone()).headed("").under("lot"),
        Column::new("plies", BARE, |roll: &Roll| plies(roll.group)).not_in_json(),
        Column::new("fabric", BARE, |roll: &Roll| roll.rated.roll.fabric.clone()),
        Column::new("areal_density", GRAMS_PER_AREA, mass).headed("mass").digits(Digits::Fixed(0)),
        Column::new("thickness", MILLIMETRES, |roll: &Roll| roll.rated.roll.thickness)
            .headed("thick")
            .digits(Digits::Fixed(2)),
        Column::new("figure", BARE, |_: &Roll| of.name()).not_in_json(),
        Column::new("figure", BARE, |roll: &Roll| value(of, roll.rated.found)).not_in_csv(),
        Column::new("value", unit, known)
            .not_in_json()
            .headed(of.name())
            .under(shown(of.figure).unit)
            .written(|roll| figure_words(roll.rated.found, of.figure)),
        Column::new("reached", BARE, |roll: &Roll| roll.rated.found.valued().is_some())
            .not_in_json(),
        Column::new("against_target", PERCENT, margin),
        Column::text("to spare", PERCENT, to_spare),
        reference.headed("reference").written(from_reference),
        limit("centre", 0).not_in_json(),
        limit("low_limit", 1).not_in_json(),
        limit("high_limit", 2).not_in_json(),
        Column::new("hold_for_testing", BARE, held)
            .not_in_json()
            .headed("")
            .under("hold for testing")
            .written(|roll| hold_words(roll.rated)),
        Column::new("hold_for_testing", BARE, holds).not_in_csv(),
        // false where the whole rule could not be applied: not being held then says nothing
        Column::new("judged", BARE, |roll: &Roll| roll.rated.judged).not_in_csv(),
        Column::new("against_target", BARE, own_answer).not_in_json(),
        // the figure held against the target, as every command holds it
        Column::new("against", BARE, |roll: &Roll| called(of, roll.rated.verdict.as_ref()))
            .not_in_csv(),
        Column::new("spare", PERCENT, |roll: &Roll| spare(roll.rated)).not_in_json(),
    ]
}

fn plies(group: &Group) -> String {
    group.plies.iter().map(|j| (j + 1).to_string()).collect::<Vec<_>>().join(" ")
}

fn hold_key(hold: &Hold) -> &'static str {
    match hold {
        Hold::BelowTarget => "below_target",
        Hold::NotAboveTarget => "not_above_target",
        Hold::BelowReference => "below_reference",
        Hold::OutsideLimits => "outside_limits",
    }
}

/// The rolls as CSV, in the order of the groups.
///
/// Errors: a value that is not a finite number.
pub fn lots_csv(of: &LotsOf<'_>) -> Result<String, CurvesError> {
    let all: Vec<Roll> = of.lots.groups.iter().flat_map(rolls_of).collect();
    csv(&rolls(of), &all)
}

/// The rolls as JSON; their figures are in the unit that `unit` names.
///
/// Errors: a value that is not a finite number.
pub fn lots_json(of: &LotsOf<'_>) -> Result<String, serde_json::Error> {
    let unit = filed(of.figure);
    let groups = of.lots.groups.iter().map(|one| group(of, one));
    let body = Object::new()
        .with("layup", of.layup.name.as_str())
        // "quilted" or "flat"
        .with("computed", lies::word(of.stack))
        .with("why_flat", lies::why_flat(of.stack))
        .with("exposure", of.exposure.name.as_str())
        .with("figure", of.name())
        .with("unit", unit.plain_unit())
        .with("target", of.target.map(|target| target.name.as_str()))
        .with("at_least", of.target.map(|target| unit.outside(target.at_least)))
        .with("rule", of.rule())
        .with("nominal", value(of, of.lots.nominal))
        .with("against", called(of, of.lots.against.as_ref()))
        .with("groups", groups.collect::<Vec<_>>());
    envelope("stillair/lots", &body)
}

fn called(of: &LotsOf<'_>, verdict: Option<&Verdict>) -> Option<Object> {
    Some(against(of.target?, verdict?))
}

/// A figure; `reached` is false where the value is only a lower bound.
fn value(of: &LotsOf<'_>, found: Found) -> Object {
    let figured = found.figured();
    let value = filed(of.figure).outside(figured.value);
    Object::new().with("value", value).with("reached", figured.reached)
}

fn group(of: &LotsOf<'_>, group: &Group) -> Object {
    let unit = filed(of.figure);
    let limits = group.limits.map(|limits| {
        Object::new()
            .with("centre", unit.outside(limits.centre))
            .with("low", unit.outside(limits.low))
            .with("high", unit.outside(limits.high))
    });
    let reference = group.rolls.get(group.reference).map_or("", |rated| rated.roll.lot.as_str());
    Object::new()
        // 1 outermost
        .with("plies", group.plies.iter().map(|j| j + 1).collect::<Vec<_>>())
        .with("reference", reference)
        .with("limits", limits)
        .with("rolls", objects(&rolls(of), &rolls_of(group)))
}
