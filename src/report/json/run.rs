//! One run in JSON: figures, heat, limits, numerics and, when asked for, curves.

use crate::bench::figure::t_valid;
use crate::bench::outcome::{
    Curves, DiscFigures, Figures, HeatAccount, Numerics, PartAccount, PlyFate, PlyWater, Run,
    SkinFigures, WaterAccount,
};
use crate::garment::exposure::Exposure;
use crate::physics::units::{
    BARE, CALORIES_PER_AREA, CELSIUS, GRAMS_PER_AREA, KILOGRAMS_PER_AREA, KILOJOULES_PER_AREA,
    KILOWATTS_PER_AREA, PERCENT, RESISTANCE, SECONDS,
};
use crate::report::csv;
use crate::report::form::value::Object;

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
        .with("figures", figures(&run.figures, exposure))
        // the first time at which a ply is past its limit; later figures are outside the model's validity
        .with_unit("valid_until", SECONDS, t_valid(&run.plies))
        .with("plies", run.plies.iter().map(ply).collect::<Vec<_>>())
        .with("heat", heat(&run.heat))
        .with("water", run.water.as_ref().map(|own| water(own, &run.heat)))
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

fn figures(figures: &Figures, exposure: &Exposure) -> Object {
    match figures {
        Figures::Skin(skin) => skin_figures(skin),
        Figures::Disc(disc) if exposure.is_radiant() => times_and_heat(disc, "R")
            .or_null("Qc", KILOWATTS_PER_AREA, disc.flux_mean_12_24)
            .or_null("transmission_factor", BARE, disc.transmission_factor),
        Figures::Disc(disc) => disc_figures(disc),
    }
}

/// The JSON form of what the disc reads in the flame.
pub(crate) fn disc_figures(disc: &DiscFigures) -> Object {
    times_and_heat(disc, "")
}

/// - `before`: what stands before the names of times; "R" under radiant heat
fn times_and_heat(disc: &DiscFigures, before: &str) -> Object {
    let [hti12, hti24] = ["HTI12", "HTI24"].map(|name| format!("{before}{name}"));
    Object::new()
        .with_unit(&hti12, SECONDS, disc.rise12)
        .with_unit(&hti24, SECONDS, disc.rise24)
        .or_null(&format!("{hti24}_less_{hti12}"), SECONDS, disc.rise24_less_12)
        .with_unit("stoll", SECONDS, disc.stoll)
        .or_null("TPP", KILOJOULES_PER_AREA, disc.tpp)
        .or_null("TPP", CALORIES_PER_AREA, disc.tpp)
}

fn skin_figures(skin: &SkinFigures) -> Object {
    Object::new()
        .with("skin", skin.skin.as_str())
        .with_unit("basal_44_C", SECONDS, skin.basal_44)
        .with_unit("first_degree", SECONDS, skin.first_degree)
        .with_unit("second_degree", SECONDS, skin.second_degree)
        .with_unit("third_degree", SECONDS, skin.third_degree)
        .with_unit("basal_peak_temperature", CELSIUS, skin.temp_basal_peak)
        .with_unit("basal_peak_time", SECONDS, skin.t_basal_peak)
        .with("omega_basal", skin.omega_basal)
        .with("omega_dermal", skin.omega_dermal)
}

/// The JSON form of what became of a ply.
pub(crate) fn ply(fate: &PlyFate) -> Object {
    Object::new()
        .with("name", fate.name.as_str())
        .or_null("limit_temperature", CELSIUS, fate.temp_limit)
        .with("limit_event", fate.limit_event.as_str())
        .with_unit("limit_passed", SECONDS, fate.limit_passed)
        .with_unit("peak_temperature", CELSIUS, fate.temp_peak)
}

fn water(water: &WaterAccount, heat: &HeatAccount) -> Object {
    let ply = |ply: &PlyWater| {
        Object::new()
            .with("name", ply.name.as_str())
            .with_unit("start", GRAMS_PER_AREA, ply.start)
            .with_unit("left", GRAMS_PER_AREA, ply.left)
    };
    let share = water.heat_carried.map(|carried| carried / heat.passed_on);
    Object::new()
        .with_unit("time", SECONDS, heat.t)
        .with_unit("start", GRAMS_PER_AREA, water.start)
        .with_unit("went_outwards", GRAMS_PER_AREA, water.gone)
        .or_null("came_behind", GRAMS_PER_AREA, water.behind)
        .or_null("carried_behind", KILOJOULES_PER_AREA, water.heat_carried)
        .or_null("carried_share_of_passed_on", BARE, share)
        .with("plies", water.plies.iter().map(ply).collect::<Vec<_>>())
}

fn heat(heat: &HeatAccount) -> Object {
    Object::new()
        .with_unit("time", SECONDS, heat.t)
        .with("moment", heat.moment.as_str())
        .with_unit("offered", KILOJOULES_PER_AREA, heat.offered)
        .with_unit("entered", KILOJOULES_PER_AREA, heat.entered)
        .with("parts", heat.parts.iter().map(part).collect::<Vec<_>>())
        .with_unit("passed_on", KILOJOULES_PER_AREA, heat.passed_on)
}

fn part(part: &PartAccount) -> Object {
    Object::new()
        .with("name", part.name.as_str())
        .with("is_gap", part.is_gap)
        .with_unit("stored", KILOJOULES_PER_AREA, part.stored)
        .with_unit("resistance", RESISTANCE, part.resistance)
        .with_unit("resistance_at_start", RESISTANCE, part.resistance_cold)
        .with_unit("outer_face_temperature", CELSIUS, part.temp_outer)
        .with_unit("inner_face_temperature", CELSIUS, part.temp_inner)
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
