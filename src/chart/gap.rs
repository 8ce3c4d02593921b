//! A sweep of air gaps: times above, shares of the gap's heat below.

use crate::bench::figure::figure_name;
use crate::bench::outcome::When;
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{EventMark, LineChart, LinePanel, Series, Trace, line_chart};
use crate::chart::text::number;
use crate::garment::target::Figure;
use crate::physics::units::{MILLIMETRES, PERCENT};
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
    let mut times = LinePanel::new(Axis::new("time [s]"));
    times.title = "Times against the gap".to_owned();
    let lines: [(&str, TimeOf); 3] = [
        (rise, |point| point.rise24),
        ("Stoll crossing", |point| point.stoll),
        ("second-degree burn", |point| point.second_degree),
    ];
    times.series = lines.into_iter().filter_map(|(label, of)| series(sweep, label, of)).collect();
    let (least, most) = share_range(sweep);
    let mut shares = LinePanel::new(Axis::new("share [%]").over(least, most));
    shares.height = 170.0;
    let several = if sweep.plies.len() > 1 { "the gaps" } else { "the gap" };
    shares.title = format!("How the heat crosses {several} up to {rise}");
    let ways: [(&str, ShareOf); 4] = [
        ("conduction of air at rest", |s| s.conduction),
        ("added by moving air", |s| s.convection),
        ("radiation", |s| s.radiation),
        ("vapour", |s| s.vapour),
    ];
    shares.series = ways
        .into_iter()
        .map(|(label, of)| {
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
        shares.events.push(EventMark { x, label: String::new() });
    }
    let ends = sweep.points.iter().map(|point| MILLIMETRES.outside(point.gap));
    let (low, high) = ends.fold((f64::INFINITY, 0.0f64), |(lo, hi), x| (lo.min(x), hi.max(x)));
    let axis = Axis::new("thickness of the gap [mm]");
    let x_axis =
        if low < high { axis.over(if low < 0.2 * high { 0.0 } else { low }, high) } else { axis };
    line_chart(&LineChart {
        heading: heading(sweep, sentence),
        x_axis,
        panels: vec![times, shares],
        beside: None,
    })
}

/// Axis of the shares [%]: 0 to 100, and further in tens where vapour carries heat outwards, against
/// the rest.
fn share_range(sweep: &GapSweep) -> (f64, f64) {
    let ways = sweep.points.iter().flat_map(|point| {
        let shares = point.shares();
        [shares.conduction, shares.convection, shares.radiation, shares.vapour]
    });
    let tens = ways.map(|share| 10.0 * share);
    tens.fold((0.0, 100.0), |(least, most), share| {
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
