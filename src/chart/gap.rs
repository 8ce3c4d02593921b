//! A sweep of air gaps: times above, what crosses the gap by its ways below, in kW/m² and as shares.

use crate::bench::figure::figure_name;
use crate::bench::outcome::When;
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{EventMark, LineChart, LinePanel, Series, Trace, line_chart};
use crate::chart::scale::widened;
use crate::chart::text::number;
use crate::garment::target::Figure;
use crate::physics::units::{KILOWATTS_PER_AREA, MILLIMETRES, PERCENT};
use crate::study::gap::{GapSweep, Swept};
use crate::study::gap_point::{GapPoint, Shares};
use crate::study::gap_turn::Course;

/// Picks a time of a point.
type TimeOf = fn(&GapPoint) -> When;
/// Picks a share of the heat.
type ShareOf = fn(&Shares) -> f64;

/// The chart of a sweep as SVG.
///
/// - `sentence`: where more air stops helping and why, in words
///
/// Errors: no time is reached at any gap, a value that is not finite.
pub fn gap_chart(sweep: &GapSweep, sentence: &str) -> Result<String, ChartError> {
    let rise = figure_name(Figure::Rise24, &sweep.exposure);
    let lines: [(&str, TimeOf); 3] = [
        (rise, |point| point.disc.rise24),
        ("Stoll crossing", |point| point.disc.stoll),
        ("second-degree burn", |point| point.second_degree),
    ];
    let drawn: Vec<Series> =
        lines.into_iter().filter_map(|(label, of)| series(sweep, label, of)).collect();
    let tallest = drawn.iter().flat_map(|line| &line.points).map(|(_, t)| *t).fold(0.0, f64::max);
    let mut times =
        LinePanel::new(Axis::new("time [s]").over(0.0, widened(0.0, tallest.max(1.0), 6).1));
    times.series = drawn;
    times.title = "Times against the gap".to_owned();
    let several = if sweep.plies.len() > 1 { "the gaps" } else { "the gap" };
    let mut fluxes = fluxes(sweep, &format!("What crosses {several}, on the mean up to {rise}"));
    let (least, most) = share_range(sweep);
    let mut shares = LinePanel::new(Axis::new("share [%]").over(least, most));
    shares.height = 170.0;
    shares.title = "The same as shares of the heat".to_owned();
    let ways: [ShareOf; 4] = [|s| s.conduction, |s| s.convection, |s| s.radiation, |s| s.vapour];
    shares.series = ways
        .into_iter()
        .zip(WAYS)
        .map(|(of, label)| {
            let place =
                |p: &GapPoint| (MILLIMETRES.outside(p.gap), PERCENT.outside(of(&p.shares())));
            line(label, sweep.points.iter().map(place).collect())
        })
        .collect();
    if let Some(turn) = sweep.turn.filter(|turn| turn.course != Course::StillGains) {
        let x = MILLIMETRES.outside(sweep.points[turn.at].gap);
        let label = match turn.course {
            Course::Optimum => format!("{rise} longest at {} mm", number(x, 2)),
            _ => format!("little gain from {} mm on", number(x, 2)),
        };
        times.events.push(EventMark { x, label });
        fluxes.events.push(EventMark { x, label: String::new() });
        shares.events.push(EventMark { x, label: String::new() });
    }
    let widest = sweep.points.iter().map(|point| MILLIMETRES.outside(point.gap));
    let widest = widest.fold(0.0, f64::max);
    let axis = Axis::new("thickness of the gap [mm]");
    let x_axis = if widest > 0.0 { axis.over(0.0, widest) } else { axis };
    line_chart(&LineChart {
        heading: heading(sweep, sentence),
        x_axis,
        panels: vec![times, fluxes, shares],
        beside: None,
    })
}

/// The ways of the heat, in the order of [`GapPoint::mean_fluxes`].
const WAYS: [&str; 4] = ["conduction of air at rest", "added by moving air", "radiation", "vapour"];

/// What crosses by each way, in absolute terms: shares alone would let radiation grow where it falls.
fn fluxes(sweep: &GapSweep, title: &str) -> LinePanel {
    let each = sweep.points.iter().map(|point| {
        let fluxes = point.mean_fluxes(sweep.exposure.t_end);
        let gap = MILLIMETRES.outside(point.gap);
        (gap, fluxes.map(|flux| KILOWATTS_PER_AREA.outside(flux)))
    });
    let each: Vec<(f64, [f64; 4])> = each.collect();
    let all = each.iter().flat_map(|(_, fluxes)| fluxes);
    let (least, most) =
        all.fold((0.0, 0.0), |(lo, hi): (f64, f64), flux| (lo.min(*flux), hi.max(*flux)));
    let mut axis = Axis::new("mean flux [kW/m²]");
    if most > least {
        let (least, most) = widened(least, most, 6);
        axis = axis.over(least, most);
    }
    let mut panel = LinePanel::new(axis);
    panel.height = 170.0;
    panel.title = title.to_owned();
    let of = |way: usize| each.iter().map(|(gap, fluxes)| (*gap, fluxes[way])).collect();
    panel.series = WAYS.iter().enumerate().map(|(way, label)| line(label, of(way))).collect();
    panel
}

/// Axis of the shares [%]: 0 to 100, and further in tens where vapour carries heat outwards, against
/// the rest.
fn share_range(sweep: &GapSweep) -> (f64, f64) {
    let ways = sweep.points.iter().flat_map(|point| {
        let shares = point.shares();
        [shares.conduction, shares.convection, shares.radiation, shares.vapour]
    });
    let tens = ways.map(|share| 10.0 * share);
    tens.fold((0.0, PERCENT.outside(1.0)), |(least, most), share| {
        (10.0 * share.floor().min(least / 10.0), 10.0 * share.ceil().max(most / 10.0))
    })
}

fn series(sweep: &GapSweep, label: &str, of: TimeOf) -> Option<Series> {
    let points: Vec<(f64, f64)> = sweep
        .points
        .iter()
        .filter_map(|p| of(p).t().map(|t| (MILLIMETRES.outside(p.gap), t)))
        .collect();
    (!points.is_empty()).then(|| line(label, points))
}

/// A line, or a marker where there is one point.
fn line(label: &str, points: Vec<(f64, f64)>) -> Series {
    let trace = if points.len() > 1 { Trace::Line } else { Trace::Points };
    Series { label: label.to_owned(), points, trace }
}

fn heading(sweep: &GapSweep, sentence: &str) -> Heading {
    let which = match sweep.swept {
        Swept::BehindPly(ply) => format!("the gap behind ply {ply}"),
        Swept::Behind => "the gap behind the last ply".to_owned(),
        Swept::Place(place) => format!("the gap {}", place.words()),
        Swept::All if sweep.layup.gaps().next().is_none() => "loft between all plies".to_owned(),
        Swept::All => "all gaps together".to_owned(),
    };
    let name = &sweep.layup.name;
    Heading {
        title: format!("{name}: {which}"),
        subtitle: sentence.to_owned(),
        source: format!("layup {name}, exposure {}", sweep.exposure.name),
        summary: format!("Times and the heat's ways against the thickness of the gap. {sentence}"),
    }
}
