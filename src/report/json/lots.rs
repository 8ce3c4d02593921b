//! Delivered rolls with their figures as JSON.

use serde::Serialize;

use crate::bench::figure::{Found, Verdict, filed};
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::envelope;
use crate::report::json::{Against, against};
use crate::report::lies;
use crate::report::lots::LotsOf;
use crate::study::lots::{Group, Hold, Rated};

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    /// "quilted" or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    exposure: &'a str,
    figure: &'static str,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    target: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<Finite>,
    rule: String,
    nominal: Value,
    #[serde(skip_serializing_if = "Option::is_none")]
    against: Option<Against<'a>>,
    groups: Vec<JsonGroup<'a>>,
}

#[derive(Serialize)]
struct Value {
    value: Finite,
    /// False where the value is only a lower bound.
    reached: bool,
}

#[derive(Serialize)]
struct JsonGroup<'a> {
    /// 1 outermost.
    plies: Vec<usize>,
    reference: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    limits: Option<JsonLimits>,
    rolls: Vec<JsonRoll<'a>>,
}

#[derive(Serialize)]
struct JsonLimits {
    centre: Finite,
    low: Finite,
    high: Finite,
}

#[derive(Serialize)]
struct JsonRoll<'a> {
    lot: &'a str,
    fabric: &'a str,
    areal_density_g_m2: Finite,
    thickness_mm: Finite,
    figure: Value,
    #[serde(skip_serializing_if = "Option::is_none")]
    against_target_pct: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    against_reference_pct: Option<Finite>,
    hold_for_testing: Vec<&'static str>,
    /// False where the whole rule could not be applied: not being held then says nothing.
    judged: bool,
    /// The figure held against the target, as every command holds it.
    #[serde(skip_serializing_if = "Option::is_none")]
    against: Option<Against<'a>>,
}

/// The rolls as JSON.
///
/// Errors: a value that is not a finite number.
pub fn lots_json(of: &LotsOf<'_>) -> Result<String, serde_json::Error> {
    let (unit, scale) = (filed(of.figure).word, filed(of.figure).per_si);
    let body = Body {
        layup: &of.layup.name,
        computed: lies::word(of.stack),
        why_flat: lies::why_flat(of.stack),
        exposure: &of.exposure.name,
        figure: of.name(),
        unit,
        target: of.target.map(|target| target.name.as_str()),
        at_least: of.target.map(|target| rounded(scale * target.at_least)),
        rule: of.rule(),
        nominal: value(of.lots.nominal, scale),
        against: held(of, of.lots.against.as_ref()),
        groups: of.lots.groups.iter().map(|one| group(of, one, scale)).collect(),
    };
    envelope("stillair/lots", &body)
}

fn held<'a>(of: &LotsOf<'a>, verdict: Option<&Verdict>) -> Option<Against<'a>> {
    Some(against(of.target?, verdict?))
}

fn value(found: Found, scale: f64) -> Value {
    let figured = found.figured();
    Value { value: rounded(scale * figured.value), reached: figured.reached }
}

fn group<'a>(of: &LotsOf<'a>, group: &'a Group, scale: f64) -> JsonGroup<'a> {
    JsonGroup {
        plies: group.plies.iter().map(|j| j + 1).collect(),
        reference: group.rolls.get(group.reference).map_or("", |rated| rated.roll.lot.as_str()),
        limits: group.limits.map(|limits| JsonLimits {
            centre: rounded(scale * limits.centre),
            low: rounded(scale * limits.low),
            high: rounded(scale * limits.high),
        }),
        rolls: group.rolls.iter().map(|rated| roll(of, rated, scale)).collect(),
    }
}

fn roll<'a>(of: &LotsOf<'a>, rated: &'a Rated, scale: f64) -> JsonRoll<'a> {
    let word = |hold: &Hold| match hold {
        Hold::BelowTarget => "below_target",
        Hold::NotAboveTarget => "not_above_target",
        Hold::BelowReference => "below_reference",
        Hold::OutsideLimits => "outside_limits",
    };
    JsonRoll {
        lot: &rated.roll.lot,
        fabric: &rated.roll.fabric,
        areal_density_g_m2: rounded(1e3 * rated.roll.areal_density),
        thickness_mm: rounded(1e3 * rated.roll.thickness),
        figure: value(rated.found, scale),
        against_target_pct: rated
            .verdict
            .as_ref()
            .and_then(|verdict| verdict.margin)
            .map(|margin| rounded(100.0 * margin)),
        against_reference_pct: rated.against_reference.map(|less| rounded(100.0 * less)),
        hold_for_testing: rated.holds.iter().map(word).collect(),
        judged: rated.judged,
        against: held(of, rated.verdict.as_ref()),
    }
}
