//! A run as the page draws it: where its nodes lie, how warm and how wet each is over time, and what
//! crosses its gaps by which way.

use serde::Serialize;

use crate::bench::assemble::PartKind;
use crate::bench::figure::figure_name;
use crate::bench::outcome::{Column, Curves, Figures, Run, When};
use crate::bench::seen::Seen;
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Entry, Layup};
use crate::garment::target::Figure;
use crate::physics::units::{
    CELSIUS, GRAMS_PER_AREA, KILOWATTS_PER_AREA, MILLIMETRES, PERCENT, SECONDS,
};
use crate::report::csv;
use crate::report::json::finite::{Finite, rounded};
use crate::study::gap_heat::WaysOfHeat;
use crate::study::ways::ways_over_time;

/// Most times of a field; the steps of a run lie denser where more happens.
const ROWS_MOST: usize = 160;
/// Most times of a curve.
const POINTS_MOST: usize = 400;

/// A run as drawn.
#[derive(Debug, Serialize)]
pub struct View {
    /// "disc" or "skin".
    behind: &'static str,
    /// Where in a cell it lies; absent for a flat stack.
    #[serde(skip_serializing_if = "Option::is_none")]
    cell: Option<Cell>,
    /// Depth of each node below the outer face.
    depth_mm: Vec<Finite>,
    parts: Vec<Part>,
    /// Times of the field.
    time_s: Vec<Finite>,
    /// Temperatures in tenths of a degree, all nodes at one time after another.
    #[serde(rename = "temperature_tenth_C")]
    temperatures: Vec<i32>,
    /// Water that each node holds, all nodes at one time after another; empty where none moves.
    water_tenth_g_m2: Vec<i32>,
    ways: Vec<Ways>,
}

/// Where in a cell a path lies.
#[derive(Debug, Serialize)]
struct Cell {
    place: &'static str,
    distance_mm: Finite,
    air_mm: Finite,
    share_pct: Finite,
}

/// A ply, gap, joint or layer of skin with its nodes.
#[derive(Debug, Serialize)]
struct Part {
    name: String,
    kind: &'static str,
    first: usize,
    last: usize,
    /// The ply that it is, or behind which it lies, counted from 1; 0 in skin.
    ply: usize,
    /// Its place in the layup's stack; absent where it has no entry of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    entry: Option<usize>,
}

/// Heat through a gap or joint over time.
#[derive(Debug, Serialize)]
struct Ways {
    ply: usize,
    thickness_mm: Finite,
    #[serde(rename = "conduction_kW_m2")]
    conduction: Vec<Finite>,
    #[serde(rename = "moving_air_kW_m2")]
    moving_air: Vec<Finite>,
    #[serde(rename = "radiation_kW_m2")]
    radiation: Vec<Finite>,
    #[serde(rename = "vapour_kW_m2")]
    vapour: Vec<Finite>,
}

/// The curves of a run and what happened in it.
#[derive(Debug, Serialize)]
pub struct Course {
    time_s: Vec<Finite>,
    columns: Vec<Curve>,
    events: Vec<Event>,
}

#[derive(Debug, Serialize)]
struct Curve {
    label: String,
    header: String,
    values: Vec<Finite>,
}

/// Something that happened at a time.
#[derive(Debug, Serialize)]
struct Event {
    name: String,
    time_s: Finite,
}

/// A value that is no finite number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotFinite(pub f64);

/// The run as drawn.
///
/// - `layup`: as computed, for the places of parts in its stack
///
/// Errors: a temperature or content that is no finite number.
pub fn view(seen: &Seen, layup: &Layup) -> Result<View, NotFinite> {
    let trace = &seen.trace;
    let rows = evenly(trace.t.len(), ROWS_MOST);
    let (mut temps, mut waters) = (Vec::new(), Vec::new());
    for row in &rows {
        for temp in trace.row(*row) {
            temps.push(tenths(CELSIUS.outside(*temp))?);
        }
        for content in trace.contents(*row) {
            waters.push(tenths(GRAMS_PER_AREA.outside(*content))?);
        }
    }
    let at = |fluxes: &[WaysOfHeat], of: fn(&WaysOfHeat) -> f64| {
        let told = |row: &usize| decimals(KILOWATTS_PER_AREA.outside(of(&fluxes[*row])), 3);
        rows.iter().map(told).collect::<Vec<_>>()
    };
    let ways = ways_over_time(seen).into_iter().map(|one| Ways {
        ply: one.ply,
        thickness_mm: rounded(MILLIMETRES.outside(one.thickness)),
        conduction: at(&one.fluxes, |ways| ways.conduction),
        moving_air: at(&one.fluxes, |ways| ways.convection),
        radiation: at(&one.fluxes, |ways| ways.radiation),
        vapour: at(&one.fluxes, |ways| ways.vapour),
    });
    Ok(View {
        behind: seen.behind,
        cell: seen.in_cell.map(|cell| Cell {
            place: cell.place,
            distance_mm: rounded(MILLIMETRES.outside(cell.distance)),
            air_mm: rounded(MILLIMETRES.outside(cell.air)),
            share_pct: rounded(PERCENT.outside(cell.share)),
        }),
        depth_mm: seen.depths().iter().map(|x| decimals(MILLIMETRES.outside(*x), 5)).collect(),
        parts: parts(seen, layup),
        time_s: rows.iter().map(|row| decimals(SECONDS.outside(trace.t[*row]), 4)).collect(),
        temperatures: temps,
        water_tenth_g_m2: waters,
        ways: ways.collect(),
    })
}

/// The parts of a chain with their places in the layup's stack.
fn parts(seen: &Seen, layup: &Layup) -> Vec<Part> {
    let is_ply = |(_, entry): &(usize, &Entry)| matches!(entry, Entry::Ply(_));
    let entries: Vec<usize> =
        layup.stack.iter().enumerate().filter(is_ply).map(|(i, _)| i).collect();
    let mut ply = 0;
    let parts = seen.assembly.parts.iter().map(|part| {
        ply += usize::from(part.kind == PartKind::Ply);
        let own = entries.get(ply.wrapping_sub(1)).copied();
        let (kind, entry) = match part.kind {
            PartKind::Ply => ("ply", own),
            PartKind::Gap => {
                let behind = own.map(|i| i + 1);
                let is_gap = |i: &usize| matches!(layup.stack.get(*i), Some(Entry::Gap(_)));
                ("gap", behind.filter(is_gap))
            }
            PartKind::Joint => ("joint", None),
            PartKind::Skin => ("skin", None),
        };
        Part {
            name: part.name.clone(),
            kind,
            first: part.first,
            last: part.last,
            ply: if part.kind == PartKind::Skin { 0 } else { ply },
            entry,
        }
    });
    parts.collect()
}

/// The curves of a run and what happened in it.
pub fn course(run: &Run, exposure: &Exposure) -> Course {
    let Curves { t, columns } = &run.curves;
    let points = evenly(t.len(), POINTS_MOST);
    let curve = |column: &Column| Curve {
        label: column.label.clone(),
        header: column.header.clone(),
        // a value that is missing becomes one that is refused
        values: points
            .iter()
            .map(|i| csv::outside(column, *i).map_or(Finite(f64::NAN), |value| decimals(value, 4)))
            .collect(),
    };
    Course {
        time_s: points.iter().map(|i| decimals(SECONDS.outside(t[*i]), 4)).collect(),
        columns: columns.iter().map(curve).collect(),
        events: events(run, exposure),
    }
}

/// When what stands behind reaches its marks, and plies pass their limits.
fn events(run: &Run, exposure: &Exposure) -> Vec<Event> {
    let named = |figure| figure_name(figure, exposure).to_owned();
    let marks: Vec<(String, When)> = match &run.figures {
        Figures::Disc(disc) => vec![
            (named(Figure::Rise12), disc.rise12),
            (named(Figure::Rise24), disc.rise24),
            (named(Figure::Stoll), disc.stoll),
        ],
        Figures::Skin(skin) => vec![
            ("44 °C".to_owned(), skin.basal_44),
            ("first degree".to_owned(), skin.first_degree),
            ("second degree".to_owned(), skin.second_degree),
            ("third degree".to_owned(), skin.third_degree),
        ],
    };
    let limits =
        run.plies.iter().map(|ply| (format!("{} {}", ply.name, ply.limit_event), ply.limit_passed));
    let happened = marks.into_iter().chain(limits);
    happened
        .filter_map(|(name, when)| {
            Some(Event { name, time_s: rounded(SECONDS.outside(when.t()?)) })
        })
        .collect()
}

/// At most `most` of `n` places, evenly among them, the first and the last with them.
fn evenly(n: usize, most: usize) -> Vec<usize> {
    match n {
        n if n <= most => (0..n).collect(),
        n => (0..most).map(|i| i * (n - 1) / (most - 1)).collect(),
    }
}

fn tenths(value: f64) -> Result<i32, NotFinite> {
    let tenths = (10.0 * value).round();
    match tenths.abs() <= f64::from(i32::MAX) {
        true => Ok(tenths as i32),
        false => Err(NotFinite(value)),
    }
}

/// A number to so many decimals; one that is not finite stays as it is, and is refused.
fn decimals(value: f64, n: i32) -> Finite {
    let step = 10f64.powi(n);
    Finite((value * step).round() / step)
}

#[cfg(test)]
mod tests {
    use super::{NotFinite, evenly, tenths};

    #[test]
    fn places_are_taken_evenly_with_both_ends() {
        assert_eq!(evenly(3, 5), [0, 1, 2]);
        assert_eq!(evenly(9, 5), [0, 2, 4, 6, 8]);
        for n in 2..700 {
            let places = evenly(n, 160);
            assert_eq!((places[0], places[places.len() - 1]), (0, n - 1));
            assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{n}");
        }
        assert!(evenly(0, 5).is_empty());
    }

    #[test]
    fn no_number_is_made_of_what_is_none() {
        assert_eq!(tenths(-0.26), Ok(-3));
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e12] {
            assert!(matches!(tenths(bad), Err(NotFinite(_))));
        }
    }
}
