//! The spread of a figure and the odds of a target as JSON.

use serde::Serialize;

use crate::bench::figure::{Figured, filed};
use crate::report::form::value::Object;
use crate::report::json::against;
use crate::report::json::finite::{Finite, rounded};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::odds::{OddsOf, input_in_full, origin_word};
use crate::study::odds::indices::Estimate;
use crate::study::odds::result::{Contribution, Odds, Shares, View};
use crate::study::odds::spread;

#[derive(Serialize)]
struct Body<'a> {
    layup: &'a str,
    /// "quilted" or "flat".
    computed: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_flat: Option<&'static str>,
    exposure: &'a str,
    target: &'a str,
    figure: &'static str,
    unit: String,
    at_least: Finite,
    judged_on: &'static str,
    whole: bool,
    seed: u32,
    n_specimens: usize,
    n_sets: usize,
    n_sets_planned: usize,
    n_rows: usize,
    n_rows_planned: usize,
    n_sets_open: usize,
    nominal: Value,
    /// Points over a quilted layup's cell in each draw, and how far they are off at the values.
    #[serde(skip_serializing_if = "Option::is_none")]
    points_over_cell: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    points_off: Option<Finite>,
    draws: Draws,
    /// The figure with everything at its value held against the target, as every command holds it.
    against: Object,
    /// Factors on the figure, 5 % and 95 % of the model's draws.
    model_lower_factor: Finite,
    model_upper_factor: Finite,
    tolerances: JsonView,
    with_model: JsonView,
    /// Where the shares of the contributions come from: "surface", "rows" or "none".
    contributions_from: &'static str,
    /// Share of the variance, the model exact, that the surface leaves.
    #[serde(skip_serializing_if = "Option::is_none")]
    surface_leaves_pct: Option<Finite>,
    contributions: Vec<JsonInput>,
}

/// How draws were computed.
#[derive(Serialize)]
struct Draws {
    /// Numerical error of each.
    error_pct: Finite,
    /// "coarsest, corrected" or "settled".
    mesh: &'static str,
    /// What draws on the coarsest mesh are multiplied by, how many were computed both ways, and how far
    /// these lie from what finer meshes settle.
    #[serde(skip_serializing_if = "Option::is_none")]
    corrected_by: Option<Finite>,
    #[serde(skip_serializing_if = "Option::is_none")]
    n_checked: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    off_pct: Option<Finite>,
}

#[derive(Serialize)]
struct Value {
    value: Finite,
    /// False where the value is only a lower bound.
    reached: bool,
}

#[derive(Serialize)]
struct JsonView {
    median: Value,
    below_5_pct: Value,
    below_95_pct: Value,
    one_specimen: Share,
    set: Share,
}

#[derive(Serialize)]
struct Share {
    k: usize,
    n: usize,
    odds_pct: Finite,
    low_pct: Finite,
    high_pct: Finite,
}

#[derive(Serialize)]
struct JsonInput {
    input: String,
    known_by: &'static str,
    of_set_pct: Finite,
    of_specimen_pct: Finite,
    #[serde(skip_serializing_if = "Option::is_none")]
    first_order: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    total: Option<Number>,
    at_5_pct: Value,
    at_95_pct: Value,
}

#[derive(Serialize)]
struct Number {
    value: Finite,
    half_width_95: Finite,
}

/// The odds as JSON.
///
/// Errors: a value that is not a finite number.
pub fn odds_json(of: &OddsOf<'_>) -> Result<String, serde_json::Error> {
    let odds = of.odds;
    let (unit, scale) =
        (filed(of.target.figure).plain_unit(), filed(of.target.figure).outside(1.0));
    let body = Body {
        layup: &of.layup.name,
        computed: lies::word(of.stack),
        why_flat: lies::why_flat(of.stack),
        exposure: &of.exposure.name,
        target: &of.target.name,
        figure: of.figure(),
        unit,
        at_least: rounded(scale * of.target.at_least),
        judged_on: odds.judged.word(),
        whole: odds.whole,
        seed: odds.plan.seed,
        n_specimens: odds.plan.n_specimens,
        n_sets: odds.n_sets,
        n_sets_planned: odds.plan.n_sets,
        n_rows: odds.n_rows,
        n_rows_planned: odds.plan.n_rows,
        n_sets_open: odds.n_open,
        nominal: value(odds.nominal.figured(), scale),
        points_over_cell: odds.fewer_points.map(|_| odds.n_points),
        points_off: odds.fewer_points.map(|off| rounded(scale * off)),
        draws: draws(odds),
        against: against(of.target, &of.verdict),
        model_lower_factor: rounded(odds.inputs.model.lower),
        model_upper_factor: rounded(odds.inputs.model.upper),
        tolerances: view(&odds.tolerances, scale),
        with_model: view(&odds.with_model, scale),
        contributions_from: match odds.shares {
            Shares::Surface { .. } => "surface",
            Shares::Rows => "rows",
            Shares::Rough { .. } | Shares::None => "none",
        },
        surface_leaves_pct: match odds.shares {
            Shares::Surface { left, .. } | Shares::Rough { left } => Some(rounded(100.0 * left)),
            Shares::Rows | Shares::None => None,
        },
        contributions: odds.contributions.iter().map(|c| input(of, c, scale)).collect(),
    };
    envelope("stillair/odds", &body)
}

fn draws(odds: &Odds) -> Draws {
    let shortcut = odds.shortcut;
    Draws {
        error_pct: rounded(100.0 * odds.draw_error()),
        mesh: if shortcut.is_some() { "coarsest, corrected" } else { "settled" },
        corrected_by: shortcut.map(|shortcut| rounded(shortcut.ratio)),
        n_checked: shortcut.map(|shortcut| shortcut.n_checked),
        off_pct: shortcut.map(|shortcut| rounded(100.0 * shortcut.off)),
    }
}

fn value(figured: Figured, scale: f64) -> Value {
    Value { value: rounded(scale * figured.value), reached: figured.reached }
}

fn view(view: &View, scale: f64) -> JsonView {
    JsonView {
        median: value(view.median, scale),
        below_5_pct: value(view.low, scale),
        below_95_pct: value(view.high, scale),
        one_specimen: share(&view.one),
        set: share(&view.set),
    }
}

fn share(share: &spread::Share) -> Share {
    Share {
        k: share.k,
        n: share.n,
        odds_pct: rounded(100.0 * share.value()),
        low_pct: rounded(100.0 * share.low),
        high_pct: rounded(100.0 * share.high),
    }
}

fn input(of: &OddsOf<'_>, contribution: &Contribution, scale: f64) -> JsonInput {
    let input = &of.odds.inputs.all[contribution.input];
    let number = |estimate: Estimate| Number {
        value: rounded(estimate.value),
        half_width_95: rounded(estimate.half_width),
    };
    let [low, high] = contribution.swing;
    JsonInput {
        input: input_in_full(input, of.layup),
        known_by: origin_word(input),
        of_set_pct: rounded(100.0 * input.of_set),
        of_specimen_pct: rounded(100.0 * input.of_specimen),
        first_order: contribution.index.map(|index| number(index.first_order)),
        total: contribution.index.map(|index| number(index.total)),
        at_5_pct: value(low, scale),
        at_95_pct: value(high, scale),
    }
}
