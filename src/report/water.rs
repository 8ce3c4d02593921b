//! Where the water went, and the heat it took along.

use crate::bench::outcome::{HeatAccount, PlyWater, WaterAccount};
use crate::physics::units::{BARE, GRAMS_PER_AREA};
use crate::report::form::column::Column;
use crate::report::form::rows::table;
use crate::report::form::value::Digits;
use crate::report::number::{Shown, percent, short};
use crate::report::table::paragraph;

/// What is told of each ply.
pub fn columns() -> [Column<'static, PlyWater>; 3] {
    let grams = |name: &str, heading: &str, of: fn(&PlyWater) -> f64| {
        Column::new(name, GRAMS_PER_AREA, of).headed(heading).digits(Digits::Fixed(1))
    };
    [
        Column::new("name", BARE, |ply: &PlyWater| ply.name.clone()).headed(""),
        grams("start", "at start", |ply| ply.start),
        grams("left", "left", |ply| ply.left),
    ]
}

/// The account in text, at the moment of the account of heat; `behind` is "disc" or "skin".
pub fn section(water: &WaterAccount, heat: &HeatAccount, behind: &str) -> String {
    let grams = |amount: f64| GRAMS_PER_AREA.fixed(amount, 1);
    let on = |came| PlyWater { name: format!("on the {behind}"), start: 0.0, left: came };
    let behind_all = water.behind.map(on);
    let table = table(&columns(), water.plies.iter().chain(&behind_all));
    let gone = match water.gone < 0.0 {
        true => format!("{} g/m² came in from outside.", grams(-water.gone)),
        false => format!("{} g/m² went outwards.", grams(water.gone)),
    };
    let mut out = paragraph(
        &format!("Of {} g/m² of water, up to {} s: {gone}", grams(water.start), short(heat.t, 2)),
        2,
    );
    out.push_str(&table);
    if let Some(carried) = water.heat_carried {
        let share = percent(carried, heat.passed_on);
        out.push_str(&paragraph(&format!("Steam carries {share} % of the {behind}'s heat."), 2));
    }
    out
}
