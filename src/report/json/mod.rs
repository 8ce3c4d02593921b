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
pub mod lots;
pub mod odds;
pub mod quilt;
pub mod rank;
pub mod run;
pub mod seek;
pub mod studies;
pub mod study;

use serde::Serialize;

use crate::NOTICE;
use crate::bench::figure::{Rule, Verdict};
use crate::bench::outcome::Outcome;
use crate::garment::target::{Judged, Target};
use crate::report::lies;
use crate::report::studies::Studies;
use crate::report::verdict;
use crate::study::worth::Times;
use finite::{Finite, rounded};
pub use run::WithCurves;

/// Name of the schema of an exposure.
pub const SCHEMA: &str = "stillair/exposure";
/// Version of that schema; 2: `model_band_pct` gave way to a `rule` for each target.
pub const VERSION: u32 = 2;

#[derive(Serialize)]
struct Record<'a> {
    schema: &'static str,
    schema_version: u32,
    program: &'static str,
    program_version: &'static str,
    notice: &'static str,
    /// "quilted" or "flat".
    computed: &'static str,
    /// Why a quilted layup is flat.
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    layup: layup::Layup<'a>,
    exposure: exposure::Exposure<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    disc: Option<run::Run<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    skin: Option<run::Run<'a>>,
    /// Of a quilted layup, whose `skin` is at a stitch line.
    #[serde(skip_serializing_if = "Option::is_none")]
    skin_at_cell_centre: Option<run::Run<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    over_cell: Option<OverCell>,
    against: Vec<Against<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    anchored: Vec<anchored::JsonTold>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    effects: Vec<studies::Without>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sensitivity: Option<Vec<studies::Sensitivity>>,
}

/// What the points over a cell are, and what they leave open of the disc's times, part of their errors.
#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct OverCell {
    points: usize,
    stitch_line_area_pct: Finite,
    rise_12_K_area_error_s: Option<Finite>,
    rise_24_K_area_error_s: Option<Finite>,
    stoll_area_error_s: Option<Finite>,
}

impl OverCell {
    fn new(cell: &crate::bench::outcome::OverCell) -> OverCell {
        let [rise12, rise24, stoll] = cell.area_errors.map(|error| error.map(rounded));
        OverCell {
            points: cell.n_points,
            stitch_line_area_pct: rounded(100.0 * cell.stitch_share),
            rise_12_K_area_error_s: rise12,
            rise_24_K_area_error_s: rise24,
            stoll_area_error_s: stoll,
        }
    }
}

/// A target's answer.
#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
pub(crate) struct Against<'a> {
    target: &'a str,
    description: &'a str,
    standard: &'a str,
    judged_on: &'a str,
    figure: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least_kJ_m2: Option<Finite>,
    answer: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    call: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    margin_pct: Option<Finite>,
    /// The figure, its error taken off, over what its class needs to be called above, less 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    spare_pct: Option<Finite>,
    rule: JsonRule,
}

/// What a call asks, and what it rests on.
#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
pub(crate) struct JsonRule {
    #[serde(skip_serializing_if = "Option::is_none")]
    above_from_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    above_from_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    below_under_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    below_under_kJ_m2: Option<Finite>,
    lower_factor: Finite,
    upper_factor: Finite,
    class: &'static str,
    reading: &'static str,
    cases: u32,
    basis: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored: Option<anchored::JsonAnchoring>,
}

impl JsonRule {
    /// The JSON form of a rule.
    #[expect(non_snake_case, reason = "units in keys keep their SI case")]
    pub fn new(rule: &Rule) -> JsonRule {
        let of = |x: f64| study::by_unit(rule.figure, Some(x), |x, scale| rounded(scale * x));
        let [above_from_s, above_from_kJ_m2] = of(rule.needs());
        let [below_under_s, below_under_kJ_m2] = of(rule.below());
        let band = &rule.band;
        JsonRule {
            above_from_s,
            above_from_kJ_m2,
            below_under_s,
            below_under_kJ_m2,
            lower_factor: rounded(band.factors.lower),
            upper_factor: rounded(band.factors.upper),
            class: band.class.word(),
            reading: band.reading.word(),
            cases: band.n_cases,
            basis: band.basis.clone(),
            anchored: anchored::JsonAnchoring::new(band),
        }
    }
}

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
    let run = |run| run::Run::new(run, &outcome.exposure, curves);
    let record = Record {
        schema: SCHEMA,
        schema_version: VERSION,
        program: env!("CARGO_PKG_NAME"),
        program_version: env!("CARGO_PKG_VERSION"),
        notice: NOTICE,
        computed: lies::word(stack),
        why_flat: lies::why_flat(stack),
        layup: layup::Layup::as_lies(&outcome.layup, stack),
        exposure: exposure::Exposure::new(&outcome.exposure),
        disc: outcome.disc.as_ref().map(run),
        skin: outcome.skin.as_ref().map(run),
        skin_at_cell_centre: cell.and_then(|cell| cell.centre.as_ref()).map(run),
        over_cell: cell.map(OverCell::new),
        against: verdicts.iter().map(|(target, verdict)| against(target, verdict)).collect(),
        anchored: studies.anchored.iter().map(anchored::JsonTold::new).collect(),
        effects: studies.worths.iter().map(|worth| studies::Without::new(worth, all)).collect(),
        sensitivity: studies
            .sensitivity
            .map(|rows| rows.iter().map(studies::Sensitivity::new).collect()),
    };
    let mut text = serde_json::to_string_pretty(&record)?;
    text.push('\n');
    Ok(text)
}

/// The JSON form of a target's answer.
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
pub(crate) fn against<'a>(target: &'a Target, verdict: &Verdict) -> Against<'a> {
    let [at_least_s, at_least_kJ_m2] =
        study::by_unit(target.figure, Some(target.at_least), |least, scale| rounded(scale * least));
    Against {
        target: &target.name,
        description: &target.description,
        standard: &target.standard,
        judged_on: target.judged_on.map_or("", Judged::word),
        figure: verdict.rule.name,
        at_least_s,
        at_least_kJ_m2,
        answer: verdict::answer(verdict),
        call: verdict.call.as_ref().ok().map(|call| call.words()),
        margin_pct: verdict.margin.map(|margin| rounded(100.0 * margin)),
        spare_pct: verdict.spare.map(|spare| rounded(100.0 * spare)),
        rule: JsonRule::new(&verdict.rule),
    }
}

#[cfg(test)]
mod tests {
    use super::{WithCurves, exposure_json};
    use crate::garment::exposure::Flux;
    use crate::report::studies::Studies;
    use crate::report::{sample, verdict};
    use serde_json::Value;

    fn parsed(curves: WithCurves, radiant_share: f64) -> Value {
        let (mut outcome, target) = (sample::outcome(), sample::target());
        outcome.exposure.radiant_share = radiant_share;
        let bands = sample::bands();
        let call = verdict::call(&outcome, &target, &outcome.exposure, &bands);
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
