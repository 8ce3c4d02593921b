//! The charts of a gap in several layups.

use crate::chart::{
    ChartError, GapLine, Heading, MapCell, MapRow, gap_beside_chart, gap_map_chart,
};
use crate::physics::units::MILLIMETRES;
use crate::report::gap::beside::{end_label, orders};
use crate::report::gap::map::{self, of_brief, row_grams, row_label, sentences};
use crate::report::gap::words::{mm, rise_name};
use crate::report::number::short;
use crate::report::words::count;
use crate::study::gap::GapSweep;
use crate::study::gap_beside::Beside;
use crate::study::gap_map::{GapMap, Spot};
use crate::study::gap_point::GapPoint;

/// The chart of layups against gaps.
pub(super) fn map_chart(map: &GapMap) -> Result<String, ChartError> {
    let figure = map::name(map);
    let names: Vec<&str> = map.sweeps.iter().map(|one| one.layup.name.as_str()).collect();
    let exposure = map.sweeps.first().map_or("", |one| one.exposure.name.as_str());
    let said = [of_brief(map), sentences(map)].concat().join(" ");
    let heading = Heading {
        title: format!("{figure} of {} at the same gaps", count(names.len(), "layup", "layups")),
        subtitle: format!(
            "{said} In bold where a layup lasts longest; thick lines part the cells below a time from those at \
             or above it. {}",
            map::remarks(map)
        ),
        source: match &map.asked {
            Some(asked) => format!("brief {}; exposure {exposure}", asked.brief),
            None => format!("layups {}; exposure {exposure}", names.join(", ")),
        },
        summary: format!("{figure} of {} at several gaps. {said}", names.join(", ")),
    };
    let gaps = map.gaps();
    let cell = |spot: Spot| MapCell {
        value: map.value(spot),
        text: map::cell(&map.found(spot)),
        is_best: map.best(spot.row) == Some(spot),
    };
    let row = |row: usize| MapRow {
        label: row_label(map, row),
        grams: row_grams(map, row),
        cells: (0..gaps.len()).map(|column| cell(Spot { row, column })).collect(),
    };
    let rows: Vec<MapRow> = (0..map.sweeps.len()).map(row).collect();
    let heads: Vec<String> = gaps.iter().map(|gap| mm(*gap)).collect();
    gap_map_chart(&heading, figure, &heads, &rows, &levels(map))
}

/// The times that a brief asks for, without and with its margin.
fn levels(map: &GapMap) -> Vec<(f64, String)> {
    let Some(asked) = &map.asked else { return Vec::new() };
    let target = &asked.wanted.target;
    let of_target = (target.at_least, format!("{}, {} s", target.name, short(target.at_least, 2)));
    let at_least = asked.wanted.at_least();
    let wanted = (at_least, format!("wanted: with the margin, {} s", short(at_least, 2)));
    if at_least > target.at_least { vec![of_target, wanted] } else { vec![of_target] }
}

/// The chart of the same gap in several layups.
pub(super) fn beside_chart(beside: &Beside) -> Result<String, ChartError> {
    let sweeps = &beside.sweeps;
    let Some(first) = sweeps.first() else {
        return Err(ChartError::Empty { part: "the chart".to_owned() });
    };
    let figure = rise_name(first);
    let widest = first.points.last().map_or(0.0, |point| point.gap);
    let line = |(place, sweep): (usize, &GapSweep)| {
        // at the widest gap looked at more may still help: nothing to mark
        let best = sweep.longest().filter(|point| point.gap < widest);
        let at = |point: &GapPoint| Some((MILLIMETRES.outside(point.gap), point.disc.rise24.t()?));
        GapLine {
            label: end_label(place, sweep, best),
            points: sweep.points.iter().filter_map(at).collect(),
            longest: best.and_then(at),
        }
    };
    let lines: Vec<GapLine> = sweeps.iter().enumerate().map(line).collect();
    let names: Vec<&str> = sweeps.iter().map(|sweep| sweep.layup.name.as_str()).collect();
    let orders = orders(beside).join(" ");
    let heading = Heading {
        title: format!("{figure} against the same gap in {} layups", sweeps.len()),
        subtitle: match lines.iter().any(|line| line.longest.is_some()) {
            true => format!("{orders} Crosses: where a layup lasts longest."),
            false => orders.clone(),
        },
        source: format!("layups {}; exposure {}", names.join(", "), first.exposure.name),
        summary: format!(
            "{figure} of {} against the thickness of a gap. {orders}",
            names.join(", ")
        ),
    };
    gap_beside_chart(heading, figure, &lines)
}
