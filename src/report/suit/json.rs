//! A suit as JSON.

use serde::Serialize;

use crate::bench::outcome::When;
use crate::garment::target::Figure;
use crate::report::anchored::Told;
use crate::report::json::JsonRule;
use crate::report::json::anchored::JsonTold;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::{Number, by_unit, envelope};
use crate::report::suit::judge::{Judged, Judgement, Spot};
use crate::report::suit::words;
use crate::study::bill::Cloth;
use crate::study::saving::Picks;
use crate::study::suit::Fitted;

#[derive(Serialize)]
struct Body<'a> {
    suit: &'a str,
    note: &'a str,
    body_mass_kg: Finite,
    body_height_cm: Finite,
    body_surface_m2: Finite,
    size: Finite,
    mass_g: Finite,
    panels: Vec<JsonPanel<'a>>,
    weakest: Option<&'a str>,
    saving: Option<JsonSaving<'a>>,
    bill: JsonBill<'a>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonPanel<'a> {
    panel: &'a str,
    place: &'static str,
    side: &'static str,
    count: u32,
    area_m2: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_kPa: Option<Finite>,
    target: &'a str,
    exposure: &'a str,
    own: JsonFitted<'a>,
    alternatives: Vec<JsonFitted<'a>>,
}

#[derive(Serialize)]
#[expect(non_snake_case, reason = "units in keys keep their SI case")]
struct JsonFitted<'a> {
    layup: &'a str,
    quilted: bool,
    /// What the figure is of: the flat stack, or a whole cell with its stitch lines.
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    stitch_line_second_degree_s: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cell_centre_second_degree_s: Option<Finite>,
    cloth_g: Finite,
    thread_g: Finite,
    embroidery_g: Finite,
    mass_g: Finite,
    state: &'static str,
    /// Where on the panel there is least to spare.
    spot: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    figure_s: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    figure_kJ_m2: Option<Number>,
    margin_pct: Option<Finite>,
    /// The figure, its error taken off, over what its class needs to be called above, less 1.
    spare_pct: Option<Finite>,
    against: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    anchored: Option<JsonTold>,
    rule: JsonRule,
    beyond_limit: bool,
}

#[derive(Serialize)]
struct JsonSaving<'a> {
    /// What the weakest panel has to spare: no change may leave less.
    floor_spare_pct: Finite,
    /// The margin of that panel over its target.
    floor_margin_pct: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    layups_at_most: Option<usize>,
    greedy: JsonPicks<'a>,
    exact: JsonPicks<'a>,
}

#[derive(Serialize)]
struct JsonPicks<'a> {
    mass_g: Finite,
    saved_g: Finite,
    changes: Vec<JsonChange<'a>>,
}

#[derive(Serialize)]
struct JsonChange<'a> {
    panel: &'a str,
    layup: &'a str,
    saved_g: Finite,
}

#[derive(Serialize)]
struct JsonBill<'a> {
    seam_pct: Finite,
    cutting_pct: Finite,
    cloth: Vec<JsonCloth<'a>>,
    embroidery: Vec<JsonCloth<'a>>,
    thread_g: Finite,
    thread_ordered_g: Finite,
}

#[derive(Serialize)]
struct JsonCloth<'a> {
    fabric: &'a str,
    areal_density_g_m2: Finite,
    area_m2: Finite,
    mass_g: Finite,
    ordered_m2: Finite,
    ordered_g: Finite,
}

/// The suit as JSON.
///
/// Errors: a value that is not a finite number.
pub fn suit_json(judged: &Judged<'_>) -> Result<String, serde_json::Error> {
    let study = judged.study;
    let suit = &study.suit;
    let panels = (0..suit.panels.len()).map(|i| json_panel(judged, i));
    let body = Body {
        suit: &suit.name,
        note: &suit.note,
        body_mass_kg: rounded(suit.body.mass.value),
        body_height_cm: rounded(100.0 * suit.body.height.value),
        body_surface_m2: rounded(suit.body.surface()),
        size: rounded(study.size),
        mass_g: rounded(1e3 * study.mass()),
        panels: panels.collect(),
        weakest: judged.weakest.map(|i| suit.panels[i].name.as_str()),
        saving: judged.saving.as_ref().map(|saving| JsonSaving {
            floor_spare_pct: rounded(100.0 * saving.task.floor),
            floor_margin_pct: judged
                .weakest
                .and_then(|i| judged.panels[i][0].margin)
                .map(|m| rounded(100.0 * m)),
            layups_at_most: saving.task.kinds_at_most,
            greedy: json_picks(judged, &saving.greedy),
            exact: json_picks(judged, &saving.exact),
        }),
        bill: json_bill(judged),
    };
    envelope("stillair/suit", &body)
}

fn json_panel<'a>(judged: &'a Judged<'_>, i: usize) -> JsonPanel<'a> {
    let (panel, studied) = (&judged.study.suit.panels[i], &judged.study.panels[i]);
    let mut all = studied
        .fitted
        .iter()
        .zip(&judged.panels[i])
        .map(|(f, j)| json_fitted(f, j, panel.target.figure));
    let own = all.next().expect("a panel has its own layup first: `expose_suit` puts it there");
    JsonPanel {
        panel: &panel.name,
        place: panel.place.word(),
        side: panel.side.word(),
        count: panel.count,
        area_m2: rounded(studied.area),
        pressure_kPa: panel.pressure.map(|p| rounded(1e-3 * p)),
        target: &panel.target.name,
        exposure: &panel.exposure.name,
        own,
        alternatives: all.collect(),
    }
}

#[expect(non_snake_case, reason = "units in keys keep their SI case")]
fn json_fitted<'a>(fitted: &'a Fitted, judgement: &Judgement, figure: Figure) -> JsonFitted<'a> {
    let found = judgement.verdict.found;
    let [figure_s, figure_kJ_m2] = by_unit(figure, found.valued(), Number::new);
    JsonFitted {
        layup: &fitted.layup.name,
        quilted: fitted.layup.quilting.is_some(),
        computed: if judgement.stitched.is_some() { "quilted" } else { "flat" },
        stitch_line_second_degree_s: judgement.stitched.and_then(|s| burns(s.at_stitch_line)),
        cell_centre_second_degree_s: judgement.stitched.and_then(|s| burns(s.at_centre)),
        cloth_g: rounded(1e3 * fitted.mass.cloth),
        thread_g: rounded(1e3 * fitted.mass.thread),
        embroidery_g: rounded(1e3 * fitted.mass.embroidery),
        mass_g: rounded(1e3 * fitted.mass.total()),
        state: found.state(),
        spot: match judgement.spot {
            Spot::Whole => "whole",
            Spot::Beside => "beside_embroidery",
            Spot::Under => "under_embroidery",
        },
        figure_s,
        figure_kJ_m2,
        margin_pct: judgement.margin.map(|m| rounded(100.0 * m)),
        spare_pct: judgement.spare.map(|s| rounded(100.0 * s)),
        against: words::answer(judgement),
        anchored: Told::of_verdict("", &judgement.verdict).as_ref().map(JsonTold::new),
        rule: JsonRule::new(&judgement.verdict.rule),
        beyond_limit: found.is_beyond(),
    }
}

/// The time of a burn; none where it does not come.
fn burns(when: Option<When>) -> Option<Finite> {
    when.and_then(|when| when.t()).map(rounded)
}

fn json_picks<'a>(judged: &'a Judged<'_>, picks: &Picks) -> JsonPicks<'a> {
    let changes = words::changes(judged, picks).into_iter();
    JsonPicks {
        mass_g: rounded(1e3 * picks.mass),
        saved_g: rounded(1e3 * (judged.study.mass() - picks.mass)),
        changes: changes
            .map(|(i, _, layup, saved)| JsonChange {
                panel: &judged.study.suit.panels[i].name,
                layup,
                saved_g: rounded(1e3 * saved),
            })
            .collect(),
    }
}

fn json_bill<'a>(judged: &'a Judged<'_>) -> JsonBill<'a> {
    let (bill, suit) = (&judged.bill, &judged.study.suit);
    JsonBill {
        seam_pct: rounded(100.0 * suit.seam.value),
        cutting_pct: rounded(100.0 * suit.cutting.value),
        cloth: bill.cloths.iter().map(json_cloth).collect(),
        embroidery: bill.embroidery.iter().map(json_cloth).collect(),
        thread_g: rounded(1e3 * bill.thread),
        thread_ordered_g: rounded(1e3 * bill.thread_ordered),
    }
}

fn json_cloth(cloth: &Cloth) -> JsonCloth<'_> {
    JsonCloth {
        fabric: &cloth.fabric,
        areal_density_g_m2: rounded(1e3 * cloth.areal_density),
        area_m2: rounded(cloth.area),
        mass_g: rounded(1e3 * cloth.area * cloth.areal_density),
        ordered_m2: rounded(cloth.area_ordered),
        ordered_g: rounded(1e3 * cloth.area_ordered * cloth.areal_density),
    }
}
