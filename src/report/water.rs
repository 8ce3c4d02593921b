//! Where the water went, and the heat it took along.

use crate::bench::outcome::{HeatAccount, WaterAccount};
use crate::physics::units::GRAMS_PER_AREA;
use crate::report::number::{Shown, percent, short};
use crate::report::table::{Align, Table, paragraph};

/// The account in text, at the moment of the account of heat; `behind` is "disc" or "skin".
pub fn section(water: &WaterAccount, heat: &HeatAccount, behind: &str) -> String {
    use Align::{Left, Right};
    let grams = |amount: f64| GRAMS_PER_AREA.fixed(amount, 1);
    let mut table = Table::new(&[Left, Right, Right]);
    table.row(["", "at start", "left"]);
    table.row(["", "g/m²", "g/m²"]);
    for ply in &water.plies {
        table.row([ply.name.clone(), grams(ply.start), grams(ply.left)]);
    }
    if let Some(came) = water.behind {
        table.row([format!("on the {behind}"), grams(0.0), grams(came)]);
    }
    let gone = match water.gone < 0.0 {
        true => format!("{} g/m² came in from outside.", grams(-water.gone)),
        false => format!("{} g/m² went outwards.", grams(water.gone)),
    };
    let mut out = paragraph(
        &format!("Of {} g/m² of water, up to {} s: {gone}", grams(water.start), short(heat.t, 2)),
        2,
    );
    out.push_str(&table.render());
    if let Some(carried) = water.heat_carried {
        let share = percent(carried, heat.passed_on);
        out.push_str(&paragraph(&format!("Steam carries {share} % of the {behind}'s heat."), 2));
    }
    out
}
