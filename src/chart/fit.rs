//! A fit: readings and fitted curve above, what is left below.

use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading};
use crate::chart::lines::{Level, LineChart, LinePanel, Series, Trace, line_chart};
use crate::study::fit::fitting::Fit;
use crate::study::fit::readings::Readings;

/// Most curves drawn each in its own look.
const CURVES_APART: usize = 3;

/// Readings of a curve that are drawn beside the fit; what is left is drawn of all.
const POINTS_DRAWN: usize = 24;

/// The chart of a fit as SVG.
///
/// - `sentence`: what was fitted, in words
///
/// Errors: a value that is not finite.
pub fn fit_chart(fit: &Fit, sentence: &str) -> Result<String, ChartError> {
    let read = fit.readings.values();
    let groups = groups(fit);
    let at = places(fit);
    let curves = matches!(fit.readings, Readings::Curves(_));
    let (x, y, left) = match curves {
        true => ("time [s]", "rise of the disc [K]", "readings less fit [K]"),
        false => ("rise of the disc [K]", "time [s]", "times less fit [s]"),
    };
    let points = |range: &std::ops::Range<usize>, values: &[f64]| -> Vec<(f64, f64)> {
        range.clone().map(|i| (at[i], values[i])).collect()
    };
    let dots =
        |label: &str, points| Series { label: label.to_owned(), points, trace: Trace::Points };
    let line = |label: &str, values: &[f64]| {
        let mut points: Vec<(f64, f64)> = at.iter().copied().zip(values.iter().copied()).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.dedup_by(|a, b| a.0 == b.0);
        let trace = if points.len() > 1 { Trace::Line } else { Trace::Points };
        Series { label: label.to_owned(), points, trace }
    };
    let most_read = read.iter().chain(&fit.before).copied().fold(0.0, f64::max);
    let least_read = read.iter().copied().fold(0.0, f64::min);
    let mut above = LinePanel::new(match curves {
        // noise about zero needs no interval of the axis of its own
        true => Axis::new(y).over(least_read.min(-0.02 * most_read), 1.02 * most_read),
        false => Axis::new(y),
    });
    above.series = groups
        .iter()
        .enumerate()
        .map(|(i, (label, range))| {
            let every = range.len().div_ceil(POINTS_DRAWN);
            // each specimen begins a little later, so that none lies upon another
            let first = i * every / groups.len();
            let thinned: Vec<(f64, f64)> =
                points(range, &read).into_iter().skip(first).step_by(every).collect();
            let label = if every > 1 { format!("{label} (1 of {every})") } else { label.clone() };
            dots(&label, thinned)
        })
        .collect();
    above.series.push(line("before the fit", &fit.before));
    above.series.push(line("fit", &fit.after));
    let residuals: Vec<f64> = read.iter().zip(&fit.after).map(|(read, fit)| read - fit).collect();
    // no marker on the frame
    let ends =
        residuals.iter().fold((0.0f64, 0.0f64), |(low, high), x| (low.min(*x), high.max(*x)));
    let axis = Axis::new(left);
    let mut below = LinePanel::new(match ends {
        (0.0, 0.0) => axis,
        (low, high) => axis.over(1.15 * low, 1.15 * high),
    });
    below.height = 150.0;
    below.title = "What is left".to_owned();
    below.series =
        groups.iter().map(|(label, range)| dots(label, points(range, &residuals))).collect();
    below.levels.push(Level { y: 0.0, label: String::new() });
    let most = at.iter().copied().fold(0.0, f64::max);
    let name = &fit.layup.name;
    line_chart(&LineChart {
        heading: Heading {
            title: format!("{name}: fitted to the bench"),
            subtitle: sentence.to_owned(),
            source: format!("layup {name}, exposure {}", fit.exposure.name),
            summary: format!("Readings of the bench, the fit and what is left. {sentence}"),
        },
        x_axis: Axis::new(x).over(0.0, if curves { most } else { 1.05 * most }),
        panels: vec![above, below],
        beside: None,
    })
}

/// Readings by curve; all in one where there are many.
fn groups(fit: &Fit) -> Vec<(String, std::ops::Range<usize>)> {
    match &fit.readings {
        Readings::Curves(curves) if curves.len() <= CURVES_APART => {
            let mut from = 0;
            let group = |(i, n): (usize, usize)| {
                let range = from..from + n;
                from += n;
                let label = if curves.len() == 1 {
                    "readings".into()
                } else {
                    format!("specimen {}", i + 1)
                };
                (label, range)
            };
            curves.iter().map(|curve| curve.points.len()).enumerate().map(group).collect()
        }
        _ => vec![("readings".to_owned(), 0..fit.readings.count())],
    }
}

/// Where each reading stands on the horizontal axis.
fn places(fit: &Fit) -> Vec<f64> {
    match &fit.readings {
        Readings::Curves(curves) => {
            curves.iter().flat_map(|curve| curve.points.iter().map(|point| point.0)).collect()
        }
        Readings::Times { times, .. } => times.iter().map(|timed| timed.rise).collect(),
    }
}
