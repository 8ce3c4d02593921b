//! The columns of a sweep of air gaps, and its files.

use std::ptr;

use crate::bench::lies::Stack;
use crate::physics::units::{
    BARE, KILOJOULES_PER_AREA, MILLIMETRES, PERCENT, PERCENT_PER_MM, SECONDS,
};
use crate::report::csv::CurvesError;
use crate::report::figures::{before, time_keys};
use crate::report::form::column::Column;
use crate::report::form::rows::{csv, objects};
use crate::report::form::value::{Digits, Object};
use crate::report::gap::words::{rise_name, sentence, swept};
use crate::report::json::study::envelope;
use crate::report::lies;
use crate::study::gap::GapSweep;
use crate::study::gap_point::{GapHeat, GapPoint};
use crate::study::gap_turn::{Course, GAIN_LEAST, Turn};

/// The turn, if there is one within the sweep.
pub fn turn_shown(sweep: &GapSweep) -> Option<Turn> {
    sweep.turn.filter(|turn| turn.course != Course::StillGains)
}

/// A point: its gap, its times, the shares of the heat.
pub fn points(sweep: &GapSweep) -> Vec<Column<'_, GapPoint>> {
    let turn = turn_shown(sweep).map(|turn| &sweep.points[turn.at]);
    let is_turn = move |point: &GapPoint| turn.is_some_and(|turn| ptr::eq(turn, point));
    let [hti12, hti24, between] = time_keys(before(&sweep.exposure));
    let rise12 = Column::new(hti12, SECONDS, |p: &GapPoint| p.disc.rise12);
    let rise = Column::new(hti24, SECONDS, |p: &GapPoint| p.disc.rise24);
    let between = Column::new(between, SECONDS, |p: &GapPoint| p.disc.rise24_less_12);
    let stoll = Column::new("stoll", SECONDS, |p: &GapPoint| p.disc.stoll);
    let second = Column::new("second_degree", SECONDS, |p: &GapPoint| p.second_degree);
    let mut all = vec![
        Column::new("gap", MILLIMETRES, |p: &GapPoint| p.gap)
            .headed("gap")
            .digits(Digits::Fixed(2)),
        Column::text("", BARE, move |p| if is_turn(p) { "◄" } else { "" }.to_string()),
        rise12.named_in_json("rise_12_K"),
        rise.named_in_json("rise_24_K").headed(rise_name(sweep)),
        between.named_in_json("rise_24_less_12_K").or_null(),
    ];
    if matches!(sweep.stack(), Stack::Quilted(_)) {
        // what skin suffers at both places takes the room of the Stoll crossing
        let centre = "cell_centre_second_degree";
        all.extend([
            stoll,
            second.headed("2nd d. stitch"),
            Column::new(centre, SECONDS, |p: &GapPoint| p.at_centre).headed("2nd d. centre"),
        ]);
    } else {
        all.extend([stoll.headed("Stoll"), second.headed("2nd degree")]);
    }
    let limit = Column::new("limit_passed", SECONDS, |p: &GapPoint| p.t_valid);
    all.push(limit.named_in_json("valid_until"));
    all.extend(
        [
            Column::new("conduction", PERCENT, |p: &GapPoint| p.shares().conduction).headed("cond"),
            Column::new("convection", PERCENT, |p: &GapPoint| p.shares().convection).headed("conv"),
            Column::new("radiation", PERCENT, |p: &GapPoint| p.shares().radiation).headed("rad"),
            Column::new("vapour", PERCENT, |p: &GapPoint| p.shares().vapour).headed("vap"),
        ]
        .map(|share| share.digits(Digits::Fixed(0))),
    );
    all
}

/// Heat through one gap.
///
/// - `behind`: what stands behind a name where the gap is part of it
fn heat(behind: &str) -> Vec<Column<'_, GapHeat>> {
    let name = |way: &str| format!("{way}{behind}");
    vec![
        Column::new("behind_ply", BARE, |heat: &GapHeat| heat.ply).not_in_csv(),
        Column::new("heat", KILOJOULES_PER_AREA, |heat: &GapHeat| heat.whole()).not_in_csv(),
        Column::new(name("conduction"), KILOJOULES_PER_AREA, |heat: &GapHeat| heat.conduction),
        Column::new(name("convection"), KILOJOULES_PER_AREA, |heat: &GapHeat| heat.convection),
        Column::new(name("radiation"), KILOJOULES_PER_AREA, |heat: &GapHeat| heat.radiation),
        Column::new(name("vapour"), KILOJOULES_PER_AREA, |heat: &GapHeat| heat.vapour),
        Column::new(name("quadrature") + "_error", KILOJOULES_PER_AREA, |heat: &GapHeat| {
            heat.quadrature
        }),
        Column::new(name("rayleigh_most"), BARE, |heat: &GapHeat| heat.rayleigh_most),
    ]
}

/// The sweep as CSV, one row a thickness.
///
/// Errors: a value that is not a finite number.
pub fn gap_csv(sweep: &GapSweep) -> Result<String, CurvesError> {
    let behind: Vec<String> = sweep.plies.iter().map(|ply| format!("_behind_ply_{ply}")).collect();
    let mut all = points(sweep);
    for (i, behind) in behind.iter().enumerate() {
        for column in heat(behind) {
            all.push(column.of_part(move |point: &GapPoint| &point.heat[i]));
        }
    }
    csv(&all, &sweep.points)
}

/// The sweep as JSON.
///
/// Errors: a value that is not a finite number.
pub fn gap_json(sweep: &GapSweep) -> Result<String, serde_json::Error> {
    envelope("stillair/gap", &sweep_object(sweep))
}

/// The record of a sweep.
pub fn sweep_object(sweep: &GapSweep) -> Object {
    let gaps = |point: &GapPoint| objects(&heat(""), &point.heat);
    let mut all = points(sweep);
    all.push(Column::new("gaps", BARE, gaps).not_in_csv());
    Object::new()
        .with("layup", sweep.layup.name.as_str())
        .with("computed", lies::word(sweep.stack()))
        .with("why_flat", lies::why_flat(sweep.stack()))
        .with("exposure", sweep.exposure.name.as_str())
        .with("swept", swept(sweep))
        .with("figure", rise_name(sweep))
        .with("points", objects(&all, &sweep.points))
        .with("turn", sweep.turn.as_ref().map(|turn| turn_object(sweep, turn)))
        .with("sentence", sentence(sweep))
}

fn turn_object(sweep: &GapSweep, turn: &Turn) -> Object {
    let course = match turn.course {
        Course::Optimum => "optimum",
        Course::Flattens => "flattens",
        Course::StillGains => "still_gains",
    };
    Object::new()
        .with("course", course)
        .with_unit("gap", MILLIMETRES, sweep.points[turn.at].gap)
        .with_unit("gain_least", PERCENT_PER_MM, GAIN_LEAST)
        .with_unit("gain_last", PERCENT_PER_MM, turn.gain_last)
        .with_unit("convection_from", MILLIMETRES, turn.moves_from)
        .with_unit("onset_from", MILLIMETRES, turn.onset_from)
}
