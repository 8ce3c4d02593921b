//! Seconds per percent of each property, largest first, as a table.

use crate::report::number::{fixed, short, significant};
use crate::report::table::{Align, Table, paragraph};
use crate::report::words;
use crate::study::property::Property;
use crate::study::sensitivity::{Row, Slope};

/// Stands behind a derivative that differs between two steps.
const UNSETTLED: &str = "?";
/// Derivatives below this are not worth a row [s per percent].
const WORTH_SHOWING: f64 = 5e-4;

/// Takes one of the two derivatives.
type Pick = fn(&Row) -> Option<Slope>;

/// The property in words, such as "thickness, ply 2".
pub fn name(property: Property) -> String {
    match property {
        Property::Ply(j, of) => format!("{}, ply {}", of.word(), j + 1),
        Property::Gap(j) => format!("thickness, air gap {}", j + 1),
        Property::Quilting(of) => of.word().to_string(),
        Property::Flux => "flux".to_string(),
        Property::RadiantShare => "radiant share".to_string(),
        Property::FlameTemperature => "flame temperature".to_string(),
        Property::DiscHeatCapacity => "heat capacity of the disc".to_string(),
    }
}

/// The table in text; `names` are those of the two times.
pub fn section(rows: &[Row], names: [&str; 2]) -> String {
    use Align::{Left, Right};
    let picks: Vec<(&str, Pick)> = vec![
        (names[0], (|row: &Row| row.rise24) as Pick),
        (names[1], |row: &Row| row.second_degree),
    ]
    .into_iter()
    .filter(|(_, pick)| rows.iter().any(|row| pick(row).is_some()))
    .collect();
    if picks.is_empty() {
        let text = "Neither time is reached, so that nothing can be said of what moves it.";
        return paragraph(text, 2);
    }
    let mut table = Table::new(&[Left, Right, Left, Right, Right]);
    let units = picks.iter().map(|_| "s per %".to_string());
    let heads = picks.iter().map(|(name, _)| (*name).to_string());
    table.row(["", "value", ""].map(String::from).into_iter().chain(heads));
    table.row(["", "", ""].map(String::from).into_iter().chain(units));
    let worth = |row: &&Row| {
        let size = |slope: Slope| slope.per_percent.abs() >= WORTH_SHOWING || !slope.settled();
        picks.iter().any(|(_, pick)| pick(row).is_some_and(size))
    };
    let shown: Vec<&Row> = rows.iter().filter(worth).collect();
    for row in &shown {
        let quantity = row.property.quantity();
        let value = quantity.outside(row.value);
        let cells = picks.iter().map(|(_, pick)| pick(row).map_or(String::new(), slope));
        let head = [name(row.property), significant(value, 3), quantity.unit.to_string()];
        table.row(head.into_iter().chain(cells));
    }
    let unsettled = shown
        .iter()
        .any(|row| picks.iter().any(|(_, pick)| pick(row).is_some_and(|slope| !slope.settled())));
    let mut out = table.render();
    out.push_str(&paragraph(&explained(rows.len() - shown.len(), unsettled), 2));
    out
}

fn slope(slope: Slope) -> String {
    let sign = if slope.per_percent < 0.0 { "−" } else { "+" };
    let mark = if slope.settled() { "" } else { UNSETTLED };
    format!("{sign}{}{mark}", fixed(slope.per_percent.abs(), 3))
}

fn explained(n_left_out: usize, unsettled: bool) -> String {
    let mut text = "Change of the time when the property alone grows by one percent of its value. A \
                    thicker ply keeps its areal density, so that its density falls; its conductivity \
                    stays. Rise: what conductivity gains above 25 °C."
        .to_string();
    if n_left_out > 0 {
        let rest = words::count(n_left_out, "further property moves", "further properties move");
        let least = short(WORTH_SHOWING, 4);
        text.push_str(&format!(" {rest} the times by less than {least} s per %."));
    }
    if unsettled {
        text.push_str(&format!(" {UNSETTLED}: differs between a step and half of it."));
    }
    text
}
