//! Layups side by side as JSON.

use serde::Serialize;

use crate::bench::figure::figure_name;
use crate::garment::suit::sewn_density;
use crate::garment::target::{Figure, Target};
use crate::report::json::JsonRule;
use crate::report::json::anchored::JsonTold;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::run::{Time, time};
use crate::report::json::study::{Number, by_unit, envelope};
use crate::report::lies;
use crate::report::rank::{Placed, Ranking, verdicts};
use crate::report::verdict::answer;

#[derive(Serialize)]
struct Body<'a> {
    rankings: Vec<JsonRanking<'a>>,
}

#[derive(Serialize)]
struct JsonRanking<'a> {
    exposure: &'a str,
    figure: &'static str,
    layups: Vec<JsonPlaced<'a>>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonPlaced<'a> {
    place: usize,
    layup: &'a str,
    /// "quilted" or "flat"; the stitch line's where the figure is skin's.
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stitch_line_second_degree_s: Option<Time>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cell_centre_second_degree_s: Option<Time>,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    value_s: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value_kJ_m2: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_kJ_m2: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored: Option<JsonTold>,
    areal_density_g_m2: Finite,
    more_g_m2: Finite,
    thickness_mm: Finite,
    beyond_limit: bool,
    against: Vec<JsonAgainst<'a>>,
}

#[derive(Serialize)]
struct JsonAgainst<'a> {
    target: &'a str,
    answer: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    call: Option<&'static str>,
    rule: JsonRule,
}

/// The rankings as JSON.
///
/// Errors: a value that is not a finite number.
pub fn rank_json(
    rankings: &[Ranking<'_>],
    targets: &[&Target],
) -> Result<String, serde_json::Error> {
    let list = rankings.iter().filter_map(|ranking| {
        let exposure = &ranking.placed.first()?.outcome.exposure;
        Some(JsonRanking {
            exposure: &exposure.name,
            figure: figure_name(ranking.by.figure(), exposure),
            layups: ranking
                .placed
                .iter()
                .enumerate()
                .map(|(i, placed)| json_placed(i, placed, ranking.by.figure(), targets))
                .collect(),
        })
    });
    envelope("stillair/rank", &Body { rankings: list.collect() })
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn json_placed<'a>(
    i: usize,
    placed: &Placed<'a>,
    shown: Figure,
    targets: &[&'a Target],
) -> JsonPlaced<'a> {
    let layup = &placed.outcome.layup;
    let [value_s, value_kJ_m2] = by_unit(shown, placed.valued(), Number::new);
    let [more_s, more_kJ_m2] = by_unit(shown, placed.gain, |gain, scale| rounded(scale * gain));
    let stack = placed.outcome.lies.stack();
    let [stitch, centre] =
        placed.outcome.second_degrees().map_or([None, None], |both| both.map(Some));
    JsonPlaced {
        place: i + 1,
        layup: &layup.name,
        computed: lies::word(stack),
        why_flat: lies::why_flat(stack),
        stitch_line_second_degree_s: stitch.map(time),
        cell_centre_second_degree_s: centre.map(time),
        state: placed.found.state(),
        value_s,
        value_kJ_m2,
        more_s,
        more_kJ_m2,
        anchored: placed.told.as_ref().map(JsonTold::new),
        areal_density_g_m2: rounded(1e3 * sewn_density(layup)),
        more_g_m2: rounded(1e3 * placed.added),
        thickness_mm: rounded(1e3 * layup.thickness()),
        beyond_limit: placed.found.is_beyond(),
        against: targets
            .iter()
            .zip(verdicts(placed, targets))
            .map(|(target, verdict)| JsonAgainst {
                target: &target.name,
                answer: answer(&verdict),
                call: verdict.call.as_ref().ok().map(|call| call.words()),
                rule: JsonRule::new(&verdict.rule),
            })
            .collect(),
    }
}
