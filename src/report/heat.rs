//! Where the heat went, and what held it back.

use crate::bench::outcome::{HeatAccount, PartAccount};
use crate::physics::units::KILOJOULES_PER_AREA;
use crate::report::number::{Shown, percent, short, significant};
use crate::report::table::{Align, Table, paragraph};

/// A rest below this share of what entered is rounding and not worth a row [–].
const REST_WORTH_SHOWING: f64 = 5e-4;

/// The account in text; `behind` is "disc" or "skin".
pub fn section(heat: &HeatAccount, behind: &str) -> String {
    let mut out = paragraph(
        &format!(
            "Up to {} s, {}: {} kJ/m² offered, of which {} kJ/m² ({} %) entered the outer face.",
            short(heat.t, 2),
            moment(heat),
            KILOJOULES_PER_AREA.fixed(heat.offered, 0),
            KILOJOULES_PER_AREA.fixed(heat.entered, 1),
            percent(heat.entered, heat.offered)
        ),
        2,
    );
    out.push_str(&table(heat, behind));
    out.push_str(&gaps_share(&heat.parts));
    out
}

fn table(heat: &HeatAccount, behind: &str) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(&[Left, Right, Right, Right, Right, Right]);
    table.row(["", "kept", "of entered", "resistance", "of total", "at start"]);
    table.row(["", "kJ/m²", "%", "m²K/W", "%", "m²K/W"]);
    let total: f64 = heat.parts.iter().map(|part| part.resistance).sum();
    for part in &heat.parts {
        table.row([
            part.name.clone(),
            KILOJOULES_PER_AREA.fixed(part.stored, 1),
            percent(part.stored, heat.entered),
            significant(part.resistance, 3),
            percent(part.resistance, total),
            significant(part.resistance_cold, 3),
        ]);
    }
    table.row([
        format!("passed on to the {behind}"),
        KILOJOULES_PER_AREA.fixed(heat.passed_on, 1),
        percent(heat.passed_on, heat.entered),
    ]);
    let stored: f64 = heat.parts.iter().map(|part| part.stored).sum();
    let rest = heat.entered - stored - heat.passed_on;
    if rest.abs() > REST_WORTH_SHOWING * heat.entered.abs() {
        let share = percent(rest, heat.entered);
        table.row(["left by other ways".to_string(), KILOJOULES_PER_AREA.fixed(rest, 1), share]);
    }
    table.render()
}

/// What the air does, for the reader who has not seen it before.
fn gaps_share(parts: &[PartAccount]) -> String {
    let sum = |pick: fn(&PartAccount) -> f64, gaps: bool| -> f64 {
        parts.iter().filter(|part| !gaps || part.is_gap).map(pick).sum()
    };
    if !parts.iter().any(|part| part.is_gap) {
        return String::new();
    }
    let cold = percent(sum(|p| p.resistance_cold, true), sum(|p| p.resistance_cold, false));
    let hot = percent(sum(|p| p.resistance, true), sum(|p| p.resistance, false));
    paragraph(
        &format!(
            "The air between the plies makes {cold} % of the resistance at the start, {hot} % now."
        ),
        2,
    )
}

/// Why the account is drawn up then.
fn moment(heat: &HeatAccount) -> &str {
    heat.moment.strip_prefix("at ").unwrap_or(&heat.moment)
}
