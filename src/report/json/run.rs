//! One run in JSON: figures, heat, limits, numerics and, when asked for, curves.

use crate::bench::figure::t_valid;
use crate::bench::outcome::{Curves, HeatAccount, Numerics, PlyFate, Run, WaterAccount};
use crate::garment::exposure::Exposure;
use crate::physics::units::{
    BARE, GRAMS_PER_AREA, KILOGRAMS_PER_AREA, KILOJOULES_PER_AREA, PERCENT, SECONDS,
};
use crate::report::form::rows::{object, objects};
use crate::report::form::value::Object;
use crate::report::heat::{Line, columns};
use crate::report::{csv, figures, limits, water};

/// Whether the curves stand in the JSON; they are most of its length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WithCurves {
    /// They do.
    Yes,
    /// Figures only.
    No,
}

/// The JSON form of a run.
pub fn run(run: &Run, exposure: &Exposure, with: WithCurves) -> Object {
    Object::new()
        .with("figures", figures::record(run, exposure))
        // the first time at which a ply is past its limit; later figures are outside the model's validity
        .with_unit("valid_until", SECONDS, t_valid(&run.plies))
        .with("plies", run.plies.iter().map(ply).collect::<Vec<_>>())
        .with("heat", heat(&run.heat))
        .with("water", run.water.as_ref().map(|own| water_account(own, &run.heat)))
        .with("numerics", numerics(&run.numerics))
        .with("curves", (with == WithCurves::Yes).then(|| curves(&run.curves)))
}

/// The JSON form of how numbers were obtained.
pub(crate) fn numerics(n: &Numerics) -> Object {
    Object::new()
        .with("energy_audit", n.audit)
        .with_unit("water_audit", KILOGRAMS_PER_AREA, n.water_lost)
        .with("nodes", n.n_nodes)
        .with("steps", n.n_steps)
        .with("rejected_steps", n.n_rejected)
        .with("newton_iterations", n.n_newton)
        .with_unit("error_goal", PERCENT, n.error_goal)
        .with("error_goal_met", n.goal_met)
}

/// The JSON form of what became of a ply.
pub(crate) fn ply(fate: &PlyFate) -> Object {
    object(&limits::columns("", ""), fate)
}

fn water_account(water: &WaterAccount, heat: &HeatAccount) -> Object {
    let share = water.heat_carried.map(|carried| carried / heat.passed_on);
    Object::new()
        .with_unit("time", SECONDS, heat.t)
        .with_unit("start", GRAMS_PER_AREA, water.start)
        .with_unit("went_outwards", GRAMS_PER_AREA, water.gone)
        .or_null("came_behind", GRAMS_PER_AREA, water.behind)
        .or_null("carried_behind", KILOJOULES_PER_AREA, water.heat_carried)
        .or_null("carried_share_of_passed_on", BARE, share)
        .with("plies", objects(&water::columns(), &water.plies))
}

fn heat(heat: &HeatAccount) -> Object {
    let parts: Vec<Line> = heat.parts.iter().map(Line::Part).collect();
    let parts = objects(&columns(heat), &parts);
    Object::new()
        .with_unit("time", SECONDS, heat.t)
        .with("moment", heat.moment.as_str())
        .with_unit("offered", KILOJOULES_PER_AREA, heat.offered)
        .with_unit("entered", KILOJOULES_PER_AREA, heat.entered)
        .with("parts", parts)
        .with_unit("passed_on", KILOJOULES_PER_AREA, heat.passed_on)
}

/// One array per column under its header, times first.
fn curves(curves: &Curves) -> Object {
    let all = Object::new().with_unit("time", SECONDS, curves.t.clone());
    curves.columns.iter().fold(all, |all, column| {
        // a value that is missing becomes one that is refused
        let value = |i| csv::outside(column, i).unwrap_or(f64::NAN);
        all.with(&column.header, (0..curves.t.len()).map(value).collect::<Vec<f64>>())
    })
}
