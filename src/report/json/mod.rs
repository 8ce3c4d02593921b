//! The whole result as JSON, under a named and numbered schema.
//!
//! Every key of a dimensional value ends in its unit. Keys are only ever added within
//! one version; anything else raises [`VERSION`]. A value that is not a finite number
//! is refused, never written as `null`.

pub mod anchored;
pub mod book;
pub mod exposure;
pub mod finite;
pub mod fit;
pub mod layup;
pub mod quilt;
pub mod run;
pub mod studies;
pub mod study;

use crate::bench::figure::{Rule, Verdict, filed};
use crate::bench::outcome::{self, Outcome};
use crate::garment::target::{Judged, Target};
use crate::physics::units::{BARE, PERCENT, SECONDS};
use crate::report::form::value::Object;
use crate::report::lies;
use crate::report::studies::Studies;
use crate::report::verdict;
use crate::study::worth::Times;
pub use run::WithCurves;

/// Name of the schema of an exposure.
pub const SCHEMA: &str = "stillair/exposure";
/// Version of that schema; 2: `model_band_pct` gave way to a `rule` for each target.
pub const VERSION: u32 = 2;

/// The outcome as indented JSON, ended by a line feed.
///
/// Errors: a value that is not a finite number.
pub fn exposure_json(
    outcome: &Outcome,
    verdicts: &[(&Target, Verdict)],
    studies: &Studies,
    curves: WithCurves,
) -> Result<String, serde_json::Error> {
    let all = Times::of(outcome);
    let stack = outcome.lies.stack();
    let cell = outcome.lies.over_cell();
    let run = |run| run::run(run, &outcome.exposure, curves);
    let some = |list: Vec<Object>| (!list.is_empty()).then_some(list);
    let body = Object::new()
        .with("computed", lies::word(stack))
        .with("why_flat", lies::why_flat(stack))
        .with("layup", layup::layup(&outcome.layup, stack))
        .with("exposure", exposure::exposure(&outcome.exposure))
        .with("disc", outcome.disc.as_ref().map(run))
        .with("skin", outcome.skin.as_ref().map(run))
        // of a quilted layup, whose `skin` is at a stitch line
        .with("skin_at_cell_centre", cell.and_then(|cell| cell.centre.as_ref()).map(run))
        .with("over_cell", cell.map(over_cell))
        .with("against", verdicts.iter().map(|(of, held)| against(of, held)).collect::<Vec<_>>())
        .with("anchored", some(studies.anchored.iter().map(anchored::told).collect()))
        .with("effects", some(studies.worths.iter().map(|w| studies::without(w, all)).collect()))
        .with(
            "sensitivity",
            studies
                .sensitivity
                .map(|rows| rows.iter().map(studies::sensitivity).collect::<Vec<_>>()),
        );
    study::envelope_of((SCHEMA, VERSION), &body)
}

/// What the points over a cell are, and what they leave open of the disc's times, part of their errors.
fn over_cell(cell: &outcome::OverCell) -> Object {
    let object = Object::new().with("points", cell.n_points).with_unit(
        "stitch_line_area",
        PERCENT,
        cell.stitch_share,
    );
    area_errors(object, cell.area_errors)
}

/// Adds what the points over a cell leave open of the disc's times [s].
pub(crate) fn area_errors(object: Object, [rise12, rise24, stoll]: [Option<f64>; 3]) -> Object {
    object
        .or_null("rise_12_K_area_error", SECONDS, rise12)
        .or_null("rise_24_K_area_error", SECONDS, rise24)
        .or_null("stoll_area_error", SECONDS, stoll)
}

/// The JSON form of a target's answer.
pub(crate) fn against(target: &Target, verdict: &Verdict) -> Object {
    Object::new()
        .with("target", target.name.as_str())
        .with("description", target.description.as_str())
        .with("standard", target.standard.as_str())
        .with("judged_on", target.judged_on.map_or("", Judged::word))
        .with("figure", verdict.rule.name)
        .with_unit("at_least", filed(target.figure), target.at_least)
        .with("answer", verdict::answer(verdict))
        .with("call", verdict.call.as_ref().ok().map(|call| call.words()))
        .with_unit("margin", PERCENT, verdict.margin)
        // the figure, its error taken off, over what its class needs to be called above, less 1
        .with_unit("spare", PERCENT, verdict.spare)
        .with("rule", rule(&verdict.rule))
}

/// The JSON form of what a call asks, and what it rests on.
pub(crate) fn rule(rule: &Rule) -> Object {
    let (band, unit) = (&rule.band, filed(rule.figure));
    Object::new()
        .with_unit("above_from", unit, rule.needs())
        .with_unit("below_under", unit, rule.below())
        .with("lower_factor", band.factors.lower)
        .with("upper_factor", band.factors.upper)
        .with("class", band.class.word())
        .with("reading", band.reading.word())
        .with_unit("cases", BARE, band.n_cases)
        .with("basis", band.basis.as_str())
        .with("anchored", anchored::anchoring(band))
}

#[cfg(test)]
mod tests {
    use super::{WithCurves, exposure_json};
    use crate::bench::figure::hold_outcome;
    use crate::garment::exposure::Flux;
    use crate::report::sample;
    use crate::report::studies::Studies;
    use serde_json::Value;

    fn parsed(curves: WithCurves, radiant_share: f64) -> Value {
        let (mut outcome, target) = (sample::outcome(), sample::target());
        outcome.exposure.radiant_share = radiant_share;
        let bands = sample::bands();
        let call = hold_outcome(&outcome, &target, &outcome.exposure, &bands);
        serde_json::from_str(
            &exposure_json(&outcome, &[(&target, call)], &Studies::default(), curves).unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn holds_the_figures_in_the_units_of_their_keys() {
        let json = parsed(WithCurves::No, 0.5);
        assert_eq!(json["schema"], "stillair/exposure");
        assert_eq!(json["notice"], crate::NOTICE);
        let ply = &json["layup"]["stack"][0];
        assert_eq!(ply["areal_density_g_m2"]["value"], 210.0);
        assert_eq!(ply["conductivity_W_mK"]["at"][1]["value"], 0.0625);
        assert_eq!(json["layup"]["stack"][1]["kind"], "air_gap");
        assert_eq!(json["disc"]["figures"]["HTI24_s"]["value"], 14.7211);
        assert_eq!(json["disc"]["figures"]["TPP_kJ_m2"]["value"], 1028.8);
        assert_eq!(json["skin"]["figures"]["third_degree_s"]["state"], "not_reached");
        assert_eq!(json["disc"]["valid_until_s"], 12.0);
        // 14.7 s of two plies against 12 s: 0.65 of it is less, 1.5 of it is more
        let against = &json["against"][0];
        assert_eq!(against["call"], "too close to call");
        let rule = &against["rule"];
        assert_eq!((&rule["class"], &rule["reading"]), (&"two plies".into(), &"flame".into()));
        let needs = rule["lower_factor"].as_f64().unwrap() * rule["above_from_s"].as_f64().unwrap();
        assert!((needs - 12.0).abs() < 1e-3, "{rule}");
        assert!(json.get("model_band_pct").is_none(), "{json}");
        assert!(json["disc"]["curves"].is_null());
    }

    #[test]
    fn a_radiant_exposure_bears_the_radiant_names() {
        let json = parsed(WithCurves::Yes, 1.0);
        assert_eq!(json["disc"]["figures"]["RHTI24_s"]["value"], 14.7211);
        assert_eq!(json["disc"]["figures"]["transmission_factor"], 0.179);
        assert!(json["disc"]["figures"].get("HTI24_s").is_none());
        assert_eq!(json["skin"]["curves"]["outer_face_C"][1], 250.0);
        assert_eq!(json["skin"]["curves"]["flux_to_skin_kW_m2"][1], 12.5);
    }

    #[test]
    fn refuses_what_is_no_number_wherever_it_stands() {
        let refused = |change: fn(&mut crate::bench::outcome::Outcome)| {
            let mut outcome = sample::outcome();
            change(&mut outcome);
            exposure_json(&outcome, &[], &Studies::default(), WithCurves::Yes)
                .unwrap_err()
                .to_string()
        };
        refused(|o| o.exposure.flux = Flux::Steady(f64::NAN));
        refused(|o| o.disc.as_mut().unwrap().heat.offered = f64::INFINITY);
        refused(|o| o.skin.as_mut().unwrap().curves.columns[1].values[0] = f64::NAN);
        let said = refused(|o| o.disc.as_mut().unwrap().numerics.audit = f64::NAN);
        assert!(said.contains("no finite number"), "{said}");
    }
}
