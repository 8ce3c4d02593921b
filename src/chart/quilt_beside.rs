//! A layup unquilted and under several patterns: a cell of each by its burn times, the area burnt over
//! time together, and the cut to scale.

use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::error::ChartError;
use crate::chart::frame::{
    Heading, MARGIN, Plot, SHEET, Sheet, X_AXIS, bold, hairline, most_ticks, set,
};
use crate::chart::legend::{Entry, Legend, Swatch, draw_marker};
use crate::chart::palette::{Dash, GREY, LOOKS, Marker};
use crate::chart::quilt_map::{BurnColours, UNBURNT, draw_bar, draw_map, side, time_range};
use crate::chart::quilt_section::Section;
use crate::chart::scale::{ticks, widened};
use crate::physics::units::{MILLIMETRES, PERCENT};
use crate::study::quilt::beside::Way;
use crate::study::quilt::cell::Cell;

/// Largest side of a plan view [px].
const MAP_MOST: f64 = 168.0;
/// Room of the colour bar with its label [px].
const BAR: f64 = 84.0;
/// Room between two plan views [px].
const BETWEEN: f64 = 14.0;
/// Height of the curves' plot [px].
const CURVES: f64 = 200.0;
/// Most ways that fit beside each other.
pub const MOST: usize = 4;

/// What the chart says in words.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BesideWords {
    /// Title, circumstances and headlines.
    pub heading: Heading,
    /// The lines under each way's plan view.
    pub captions: Vec<Vec<String>>,
}

/// The chart as SVG.
///
/// Errors: no way, more than [`MOST`], none of them quilted before skin.
pub fn quilt_beside_chart(ways: &[Way], words: &BesideWords) -> Result<String, ChartError> {
    let quilted: Vec<_> = ways.iter().filter_map(Way::quilted).collect();
    let Some(first) = quilted.first().filter(|_| ways.len() <= MOST) else {
        return Err(ChartError::Empty { part: "ways of quilting beside each other".to_owned() });
    };
    let mut sheet = Sheet::begin(&words.heading, SHEET);
    let top = sheet.top + 18.0;
    sheet.canvas.text(
        "From above, by the time to a second-degree burn; all to one scale",
        (MARGIN, top - 8.0),
        bold(11.5),
        Anchor::Start,
    );
    let bottom = draw_maps(&mut sheet.canvas, ways, words, top + 4.0);
    let bottom = draw_curves(&mut sheet.canvas, ways, bottom + 26.0);
    let section = Section::new(&first.layup, &first.quilting);
    let top = bottom + 24.0;
    let words = format!("Cut across a cell of {}, to scale", first.quilting.pattern.word());
    sheet.canvas.text(&words, (MARGIN, top), bold(11.5), Anchor::Start);
    let bottom = section.draw_below(&mut sheet.canvas, (MARGIN, top), SHEET - 2.0 * MARGIN);
    sheet.finish(bottom)
}

/// Range of all burn times, for one scale of colours.
fn range(ways: &[Way]) -> (f64, f64) {
    time_range(ways.iter().flat_map(|way| {
        let places = way.quilted().and_then(|quilted| quilted.skin.as_ref());
        let breakpoints = places.map_or(Vec::new(), |skin| skin.burnt.breakpoints());
        let ends = [way.at_stitch_line(), way.at_centre()].into_iter().flatten();
        breakpoints.into_iter().chain(ends.filter_map(|when| when.t()))
    }))
}

/// The plan views in a row, captions below and the colour bar behind; returns the lower end [px].
fn draw_maps(canvas: &mut Canvas, ways: &[Way], words: &BesideWords, top: f64) -> f64 {
    let n = ways.len() as f64;
    let room = SHEET - 2.0 * MARGIN - BAR - BETWEEN * (n - 1.0);
    let map = (room / n).min(MAP_MOST);
    // one scale for all: the widest cell is shown whole
    let cells = ways.iter().filter_map(Way::quilted).map(|quilted| Cell::of(&quilted.quilting));
    let reach = 0.5 * cells.map(|cell| side(&cell)).fold(0.0, f64::max);
    let range = range(ways);
    for (i, way) in ways.iter().enumerate() {
        let x = MARGIN + i as f64 * (map + BETWEEN);
        canvas.text(way.name(), (x, top + 12.0), bold(11.0), Anchor::Start);
        let rect = Rect { x, y: top + 20.0, w: map, h: map };
        let mm = MILLIMETRES.outside(reach);
        let plot = Plot::new(rect, (-mm, mm), (-mm, mm));
        match way.quilted().and_then(|quilted| Some((quilted, quilted.skin.as_ref()?))) {
            Some((quilted, skin)) => {
                let colours = BurnColours { burnt: &skin.burnt, range };
                draw_map(canvas, &Cell::of(&quilted.quilting), &colours, &plot);
            }
            None => {
                let burnt = way.at_centre().and_then(|when| when.t());
                canvas.block(rect, burnt.map_or(UNBURNT, |t| BurnColours::shade(range, t)));
            }
        }
        canvas.outline(rect, hairline(GREY));
        for (j, line) in words.captions.get(i).into_iter().flatten().enumerate() {
            let y = rect.y + map + 15.0 + 13.0 * j as f64;
            canvas.text(line, (x, y), set(10.0, GREY), Anchor::Start);
        }
    }
    let x = MARGIN + n * (map + BETWEEN);
    let bar = Rect { x, y: top + 20.0, w: 12.0, h: map };
    draw_bar(canvas, range, bar, "second degree [s]");
    let lines = words.captions.iter().map(Vec::len).max().unwrap_or(0);
    top + 20.0 + map + 15.0 + 13.0 * lines as f64
}

/// The area burnt over time, a line a way, each marked where the disc notices; returns the lower end [px].
fn draw_curves(canvas: &mut Canvas, ways: &[Way], top: f64) -> f64 {
    let words = "Area burnt to second degree, and when the disc notices (Stoll)";
    canvas.text(words, (MARGIN, top - 8.0), bold(11.5), Anchor::Start);
    let width = SHEET - MARGIN - 10.0 - MARGIN - 50.0;
    let rect = Rect { x: MARGIN + 50.0, y: top + 6.0, w: width, h: CURVES };
    let curves: Vec<Vec<(f64, f64)>> = ways.iter().map(Way::burnt_curve).collect();
    let ends = curves.iter().filter_map(|curve| curve.last()).map(|end| end.0);
    let last = ends.chain(ways.iter().filter_map(Way::noticed)).fold(0.0, f64::max);
    let t_last = widened(0.0, if last > 0.0 { 1.05 * last } else { 1.0 }, 8).1;
    let whole = PERCENT.outside(1.0);
    let plot = Plot::new(rect, (0.0, t_last), (0.0, whole));
    let (t_ticks, y_ticks) = (ticks(0.0, t_last, most_ticks(width, 46.0)), ticks(0.0, whole, 5));
    plot.grid(canvas, &t_ticks, &y_ticks);
    let mut entries = Vec::new();
    // wider lines lie below, so that equal ones are both seen
    for (i, (way, curve)) in ways.iter().zip(&curves).enumerate() {
        let look = LOOKS[i];
        let width = 1.75 + 1.0 * (ways.len() - 1 - i) as f64;
        let dash = if i == 0 { Dash::Full } else { look.dash };
        let stroke = Stroke { width, ink: look.ink, dash };
        let end = curve.last().map(|(_, share)| (t_last, *share));
        let points = curve.iter().copied().chain(end);
        let points: Vec<_> = points.map(|(t, share)| plot.at(t, PERCENT.outside(share))).collect();
        canvas.line(&points, stroke);
        let thin = Stroke { width: width.min(3.0), ..stroke };
        entries.push(Entry { swatch: Swatch::Line(thin), label: way.name().to_owned() });
    }
    for (i, way) in ways.iter().enumerate() {
        if let Some(t) = way.noticed() {
            let at = plot.at(t, PERCENT.outside(way.burnt_by(t)));
            draw_marker(canvas, Marker::Circle, at, LOOKS[i].ink);
        }
    }
    if ways.iter().any(|way| way.noticed().is_some()) {
        let swatch = Swatch::Point(Marker::Circle, GREY);
        entries.push(Entry { swatch, label: "the disc notices".to_owned() });
    }
    plot.edges(canvas);
    plot.x_axis(canvas, &t_ticks, "time [s]");
    plot.y_axis(canvas, &y_ticks, "share of the area [%]", 48.0);
    let legend = Legend::new(entries, SHEET - 2.0 * MARGIN);
    let y = rect.y + rect.h + X_AXIS + 6.0;
    legend.draw(canvas, MARGIN, y);
    y + legend.height()
}
