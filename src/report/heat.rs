//! Where the heat went, and what held it back.

use crate::bench::outcome::{HeatAccount, PartAccount};
use crate::physics::units::{BARE, CELSIUS, KILOJOULES_PER_AREA, PERCENT, RESISTANCE};
use crate::report::form::column::Column;
use crate::report::form::rows;
use crate::report::form::value::Digits;
use crate::report::number::{Shown, percent, short};
use crate::report::table::paragraph;

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

/// A line of the account.
pub enum Line<'a> {
    /// A ply or gap.
    Part(&'a PartAccount),
    /// Heat that went elsewhere, in words [J/m²].
    Rest(String, f64),
}

impl Line<'_> {
    fn part(&self) -> Option<&PartAccount> {
        match self {
            Line::Part(part) => Some(part),
            Line::Rest(..) => None,
        }
    }

    fn kept(&self) -> f64 {
        match self {
            Line::Part(part) => part.stored,
            Line::Rest(_, heat) => *heat,
        }
    }
}

/// Each ply and gap, then what was passed on.
pub fn rows<'a>(heat: &'a HeatAccount, behind: &str) -> Vec<Line<'a>> {
    let passed = Line::Rest(format!("passed on to the {behind}"), heat.passed_on);
    heat.parts.iter().map(Line::Part).chain([passed]).collect()
}

/// What is told of them.
pub fn columns(heat: &HeatAccount) -> Vec<Column<'_, Line<'_>>> {
    let total: f64 = heat.parts.iter().map(|part| part.resistance).sum();
    let of = |name: &str, quantity, of: fn(&PartAccount) -> f64| {
        Column::new(name, quantity, move |line: &Line| line.part().map(of)).or_blank()
    };
    let name = |line: &Line| match line {
        Line::Part(part) => part.name.clone(),
        Line::Rest(name, _) => name.clone(),
    };
    let of_total = move |line: &Line| {
        line.part().map_or(String::new(), |part| percent(part.resistance, total))
    };
    vec![
        Column::new("name", BARE, name).headed(""),
        Column::new("is_gap", BARE, |line: &Line| line.part().map(|part| part.is_gap)),
        Column::new("stored", KILOJOULES_PER_AREA, Line::kept)
            .headed("kept")
            .digits(Digits::Fixed(1)),
        Column::text("of entered", PERCENT, |line: &Line| percent(line.kept(), heat.entered)),
        of("resistance", RESISTANCE, |part| part.resistance).headed("resistance").under("m²K/W"),
        Column::text("of total", PERCENT, of_total),
        of("resistance_at_start", RESISTANCE, |part| part.resistance_cold)
            .headed("at start")
            .under("m²K/W")
            .not_on_page(),
        of("outer_face_temperature", CELSIUS, |part| part.temp_outer),
        of("inner_face_temperature", CELSIUS, |part| part.temp_inner),
    ]
}

fn table(heat: &HeatAccount, behind: &str) -> String {
    let mut rows = rows(heat, behind);
    let stored: f64 = heat.parts.iter().map(|part| part.stored).sum();
    let rest = heat.entered - stored - heat.passed_on;
    if rest.abs() > REST_WORTH_SHOWING * heat.entered.abs() {
        rows.push(Line::Rest("left by other ways".to_string(), rest));
    }
    rows::table(&columns(heat), &rows)
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
