//! The spread of a figure and the odds of a target as JSON.

use crate::bench::figure::{Figured, filed};
use crate::physics::units::{PERCENT, Quantity};
use crate::report::form::value::Object;
use crate::report::json::against;
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::report::odds::words::{OddsOf, input_in_full, origin_word};
use crate::study::odds::indices::Estimate;
use crate::study::odds::result::{Contribution, Odds, Shares, View};
use crate::study::odds::spread::Share;

/// The odds as JSON.
///
/// Errors: a value that is not a finite number.
pub fn odds_json(of: &OddsOf<'_>) -> Result<String, serde_json::Error> {
    let (odds, unit) = (of.odds, filed(of.target.figure));
    let from = match odds.shares {
        Shares::Surface { .. } => "surface",
        Shares::Rows => "rows",
        Shares::Rough { .. } | Shares::None => "none",
    };
    let left = match odds.shares {
        Shares::Surface { left, .. } | Shares::Rough { left } => Some(left),
        Shares::Rows | Shares::None => None,
    };
    let contributions = odds.contributions.iter().map(|one| input(of, one, unit));
    let body = Object::new()
        .with("layup", of.layup.name.as_str())
        // "quilted" or "flat"
        .with("computed", lies::word(of.stack))
        .with("why_flat", lies::why_flat(of.stack))
        .with("exposure", of.exposure.name.as_str())
        .with("target", of.target.name.as_str())
        .with("figure", of.figure())
        .with("unit", unit.plain_unit())
        .with_key("at_least", unit, of.target.at_least)
        .with("judged_on", odds.judged.word())
        .with("whole", odds.whole)
        .with("seed", odds.plan.seed)
        .with("n_specimens", odds.plan.n_specimens)
        .with("n_sets", odds.n_sets)
        .with("n_sets_planned", odds.plan.n_sets)
        .with("n_rows", odds.n_rows)
        .with("n_rows_planned", odds.plan.n_rows)
        .with("n_sets_open", odds.n_open)
        .with("nominal", figured(odds.nominal.figured(), unit))
        // points over a quilted layup's cell in each draw, and how far they are off at the values
        .with("points_over_cell", odds.fewer_points.map(|_| odds.n_points))
        .with_key("points_off", unit, odds.fewer_points)
        .with("draws", draws(odds))
        // the figure with everything at its value held against the target, as every command holds it
        .with("against", against(of.target, &of.verdict))
        // factors on the figure, 5 % and 95 % of the model's draws
        .with("model_lower_factor", odds.inputs.model.lower)
        .with("model_upper_factor", odds.inputs.model.upper)
        .with("tolerances", view(&odds.tolerances, unit))
        .with("with_model", view(&odds.with_model, unit))
        .with("contributions_from", from)
        // share of the variance, the model exact, that the surface leaves
        .with_unit("surface_leaves", PERCENT, left)
        .with("contributions", contributions.collect::<Vec<_>>());
    envelope("stillair/odds", &body)
}

/// How draws were computed: the numerical error of each, the mesh, and what those on the coarsest are
/// corrected by, how many were computed both ways, and how far by these 95 in 100 lie at most from what finer meshes settle.
fn draws(odds: &Odds) -> Object {
    let shortcut = odds.shortcut;
    Object::new()
        .with_unit("error", PERCENT, odds.draw_error())
        .with("mesh", if shortcut.is_some() { "coarsest, corrected" } else { "settled" })
        .with("corrected_by", shortcut.map(|shortcut| shortcut.ratio))
        .with("n_checked", shortcut.map(|shortcut| shortcut.n_checked))
        .with_unit("off", PERCENT, shortcut.map(|shortcut| shortcut.off))
}

/// A figure; where it was not reached, its value is only a lower bound.
fn figured(figured: Figured, unit: Quantity) -> Object {
    Object::new().with_key("value", unit, figured.value).with("reached", figured.reached)
}

fn view(view: &View, unit: Quantity) -> Object {
    Object::new()
        .with("median", figured(view.median, unit))
        .with("below_5_pct", figured(view.low, unit))
        .with("below_95_pct", figured(view.high, unit))
        .with("one_specimen", share(&view.one))
        .with("set", share(&view.set))
}

fn share(share: &Share) -> Object {
    Object::new()
        .with("k", share.k)
        .with("n", share.n)
        .with_unit("odds", PERCENT, share.value())
        .with_unit("low", PERCENT, share.low)
        .with_unit("high", PERCENT, share.high)
}

fn input(of: &OddsOf<'_>, contribution: &Contribution, unit: Quantity) -> Object {
    let input = &of.odds.inputs.all[contribution.input];
    let estimate = |one: Estimate| {
        Object::new().with("value", one.value).with("half_width_95", one.half_width)
    };
    let [low, high] = contribution.swing;
    Object::new()
        .with("input", input_in_full(input, of.layup))
        .with("known_by", origin_word(input))
        .with_unit("of_set", PERCENT, input.of_set)
        .with_unit("of_specimen", PERCENT, input.of_specimen)
        .with("first_order", contribution.index.map(|index| estimate(index.first_order)))
        .with("total", contribution.index.map(|index| estimate(index.total)))
        .with("at_5_pct", figured(low, unit))
        .with("at_95_pct", figured(high, unit))
}
