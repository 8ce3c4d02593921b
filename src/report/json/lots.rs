//! Delivered rolls with their figures as JSON.

use crate::bench::figure::{Found, Verdict, filed};
use crate::physics::units::{BARE, GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::report::form::value::Object;
use crate::report::json::against;
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::lots::LotsOf;
use crate::study::lots::{Group, Hold, Rated};

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
        .with("against", held(of, of.lots.against.as_ref()))
        .with("groups", groups.collect::<Vec<_>>());
    envelope("stillair/lots", &body)
}

fn held(of: &LotsOf<'_>, verdict: Option<&Verdict>) -> Option<Object> {
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
        .with("rolls", group.rolls.iter().map(|rated| roll(of, rated)).collect::<Vec<_>>())
}

fn roll(of: &LotsOf<'_>, rated: &Rated) -> Object {
    let word = |hold: &Hold| match hold {
        Hold::BelowTarget => "below_target",
        Hold::NotAboveTarget => "not_above_target",
        Hold::BelowReference => "below_reference",
        Hold::OutsideLimits => "outside_limits",
    };
    let verdict = rated.verdict.as_ref();
    Object::new()
        .with("lot", rated.roll.lot.as_str())
        .with("fabric", rated.roll.fabric.as_str())
        .with_unit("areal_density", GRAMS_PER_AREA, rated.roll.areal_density)
        .with_unit("thickness", MILLIMETRES, rated.roll.thickness)
        .with("figure", value(of, rated.found))
        .with_unit("against_target", PERCENT, verdict.and_then(|verdict| verdict.margin))
        .with_unit("against_reference", PERCENT, rated.against_reference)
        .with_unit("hold_for_testing", BARE, rated.holds.iter().map(word).collect::<Vec<_>>())
        // false where the whole rule could not be applied: not being held then says nothing
        .with("judged", rated.judged)
        // the figure held against the target, as every command holds it
        .with("against", held(of, verdict))
}
