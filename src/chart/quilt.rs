//! A quilting as a picture: the cell by its burn times, the area burnt over time, the cut to scale;
//! and the bench's time over pitch and loft.

use crate::bench::figure::figure_name;
use crate::chart::canvas::{Anchor, Canvas, Rect, Stroke};
use crate::chart::contour::{Dark, FieldChart, Fill, Shape, TopScale, field_chart_under};
use crate::chart::error::ChartError;
use crate::chart::frame::{Axis, Heading, MARGIN, Plot, SHEET, Sheet, X_AXIS, bold, most_ticks};
use crate::chart::legend::{Entry, Legend, Swatch};
use crate::chart::lines::PointMark;
use crate::chart::palette::{Dash, FLAME, LOOKS};
use crate::chart::quilt_map::{BurnColours, UNBURNT, draw_bar, draw_map, side, time_range};
use crate::chart::quilt_section::Section;
use crate::chart::scale::{ticks, widened};
use crate::chart::text::number;
use crate::garment::fabric::Role;
use crate::garment::layup::Layup;
use crate::garment::target::Figure;
use crate::physics::units::{GRAMS_PER_AREA, MILLIMETRES, PERCENT};
use crate::study::quilt::burnt::BurntArea;
use crate::study::quilt::cell::Cell;
use crate::study::quilt::outcome::{Quilted, QuiltedSkin};
use crate::study::quilt::sweep::Sweep;

/// Side of the plan view [px].
const MAP: f64 = 240.0;

/// The chart of a quilting before skin as SVG.
///
/// - `headline`: what it comes to, in a few words; may be empty
///
/// Errors: no run before skin.
pub fn quilt_chart(quilted: &Quilted, headline: &str) -> Result<String, ChartError> {
    let Some(skin) = &quilted.skin else {
        return Err(ChartError::Empty { part: "the run in front of skin".to_owned() });
    };
    let heading = heading(quilted, skin, headline);
    let mut sheet = Sheet::begin(&heading, SHEET);
    let cell = Cell::of(&quilted.quilting);
    let top = sheet.top + 18.0;
    let colours = BurnColours { burnt: &skin.burnt, range: colour_range(&skin.burnt) };
    let where_to = if quilted.patch.is_some() { "beside the patch, " } else { "" };
    let words = format!("One cell from above, {where_to}second-degree burn");
    sheet.canvas.text(&words, (MARGIN, top - 8.0), bold(11.5), Anchor::Start);
    draw_plan(&mut sheet.canvas, &cell, &colours, top);
    let right = MARGIN + 54.0 + MAP + 118.0;
    let bottom = draw_area(&mut sheet.canvas, quilted, skin, (right, top));
    let section = Section::new(&quilted.layup, &quilted.quilting);
    let top = bottom.max(top + MAP + X_AXIS + 16.0) + 22.0;
    let words = format!("Cut across a cell, {where_to}to scale");
    sheet.canvas.text(&words, (MARGIN, top), bold(11.5), Anchor::Start);
    let bottom = section.draw_below(&mut sheet.canvas, (MARGIN, top), SHEET - 2.0 * MARGIN);
    sheet.finish(bottom)
}

/// Range of the colours: all burn times, or the run where nothing burns.
fn colour_range(burnt: &BurntArea) -> (f64, f64) {
    time_range(burnt.breakpoints().into_iter().chain(burnt.at_stitch_line()))
}

/// The cell from above with its colour bar.
fn draw_plan(canvas: &mut Canvas, cell: &Cell, colours: &BurnColours, top: f64) {
    let rect = Rect { x: MARGIN + 54.0, y: top + 8.0, w: MAP, h: MAP };
    let reach = 500.0 * side(cell);
    let plot = Plot::new(rect, (-reach, reach), (-reach, reach));
    draw_map(canvas, cell, colours, &plot);
    plot.edges(canvas);
    let marks = ticks(-reach, reach, most_ticks(MAP, 42.0));
    plot.x_axis(canvas, &marks, "across [mm]");
    plot.y_axis(canvas, &marks, "along [mm]", 54.0);
    let bar = Rect { x: rect.x + MAP + 16.0, y: rect.y, w: 14.0, h: rect.h };
    draw_bar(canvas, colours.range, bar, "time to second-degree burn [s]");
}

/// The area burnt over time; returns its lower end [px].
fn draw_area(
    canvas: &mut Canvas,
    quilted: &Quilted,
    skin: &QuiltedSkin,
    (x, top): (f64, f64),
) -> f64 {
    let words = "Area burnt to second degree";
    canvas.text(words, (x, top - 8.0), bold(11.5), Anchor::Start);
    let width = SHEET - MARGIN - 10.0 - x - 50.0;
    let rect = Rect { x: x + 50.0, y: top + 8.0, w: width, h: MAP };
    let curves = burnt_curves(quilted, skin);
    let marks = disc_marks(quilted);
    let last = skin.burnt.breakpoints().last().copied().unwrap_or(0.0);
    let ends = curves.iter().filter_map(|curve| curve.points.last());
    let last = marks.iter().map(|mark| mark.0).chain(ends.map(|end| end.0)).fold(last, f64::max);
    let t_last = widened(0.0, if last > 0.0 { 1.1 * last } else { quilted.exposure.t_end }, 6).1;
    let whole = PERCENT.outside(1.0);
    let plot = Plot::new(rect, (0.0, t_last), (0.0, whole));
    let (t_ticks, y_ticks) = (ticks(0.0, t_last, most_ticks(width, 46.0)), ticks(0.0, whole, 5));
    let mut entries = Vec::new();
    if let Some(t) = quilted.exposure.duration {
        let w = plot.x.place(t.min(t_last)) - rect.x;
        canvas.block(Rect { w, ..rect }, FLAME);
        let label = format!("exposed for {} s", number(t, 1));
        entries.push(Entry { swatch: Swatch::Patch(FLAME), label });
    }
    plot.grid(canvas, &t_ticks, &y_ticks);
    for (i, (t, label)) in marks.iter().enumerate() {
        let look = LOOKS[1 + i];
        let stroke = Stroke { width: 1.5, ink: look.ink, dash: look.dash };
        let at = plot.x.place(*t);
        canvas.line(&[(at, rect.y), (at, rect.y + rect.h)], stroke);
        entries.push(Entry { swatch: Swatch::Line(stroke), label: label.clone() });
    }
    for (i, curve) in curves.iter().enumerate().rev() {
        let end = curve.points.last().map(|(_, share)| (t_last, *share));
        let points = curve.points.iter().copied().chain(end);
        let points: Vec<_> = points.map(|(t, share)| plot.at(t, PERCENT.outside(share))).collect();
        let look = LOOKS[curve.look];
        let (width, dash) = if i == 0 { (2.0, Dash::Full) } else { (1.5, look.dash) };
        let stroke = Stroke { width, ink: look.ink, dash };
        canvas.line(&points, stroke);
        entries.insert(0, Entry { swatch: Swatch::Line(stroke), label: curve.label.to_owned() });
    }
    plot.edges(canvas);
    plot.x_axis(canvas, &t_ticks, "time [s]");
    plot.y_axis(canvas, &y_ticks, "share of the area [%]", 48.0);
    if skin.burnt.by(quilted.exposure.t_end) < 1.0 - 1e-9 {
        let label = "on the plan: not burnt".to_owned();
        entries.push(Entry { swatch: Swatch::Patch(UNBURNT), label });
    }
    let legend = Legend::column(entries, width + 50.0);
    let y = rect.y + rect.h + X_AXIS + 4.0;
    legend.draw(canvas, x, y);
    y + legend.height()
}

/// An area burnt over time.
struct BurntCurve {
    label: &'static str,
    look: usize,
    points: Vec<(f64, f64)>,
}

/// The area burnt; with a patch all of it, then that beside the patch and under it.
fn burnt_curves(quilted: &Quilted, skin: &QuiltedSkin) -> Vec<BurntCurve> {
    let curve = |label, look, points| BurntCurve { label, look, points };
    let under = quilted.patch.as_ref().and_then(|patched| patched.under_skin.as_ref());
    let Some(under) = under else { return vec![curve("area burnt", 0, skin.burnt.curve())] };
    let mut breakpoints: Vec<f64> =
        skin.burnt.breakpoints().into_iter().chain(under.burnt.breakpoints()).collect();
    breakpoints.sort_by(f64::total_cmp);
    let by = |t: f64| (t, quilted.burnt_by(t).unwrap_or(0.0));
    // just before a bend and at it, for a stitch line's jump
    let ends = breakpoints.iter().flat_map(|t| [(*t, by(t * (1.0 - 1e-12)).1), by(*t)]);
    let all = std::iter::once((0.0, 0.0)).chain(ends).collect();
    vec![
        curve("area burnt, all of it", 0, all),
        curve("of that beside the patch", 3, skin.burnt.curve()),
        curve("of that under the patch", 4, under.burnt.curve()),
    ]
}

/// When the one disc crosses Stoll's curve and is 24 K warmer.
fn disc_marks(quilted: &Quilted) -> Vec<(f64, String)> {
    let Some(disc) = &quilted.disc else { return Vec::new() };
    let both = quilted.patch.as_ref().and_then(|patched| patched.both.as_ref());
    let figures = both.map_or(&disc.shared.figures, |both| &both.figures);
    let name = figure_name(Figure::Rise24, &quilted.exposure);
    [(figures.stoll.t(), "disc's Stoll crossing"), (figures.rise24.t(), name)]
        .into_iter()
        .filter_map(|(t, name)| Some((t?, format!("{name} {} s", number(t?, 1)))))
        .collect()
}

fn heading(quilted: &Quilted, skin: &QuiltedSkin, headline: &str) -> Heading {
    let (layup, quilting) = (&quilted.layup, &quilted.quilting);
    let time =
        |t: Option<f64>| t.map_or("never".to_owned(), |t| format!("{}\u{a0}s", number(t, 1)));
    let (stitch, centre) = (skin.burnt.at_stitch_line(), skin.centre().degrees[1].t());
    let patch = quilted.patch.as_ref().map_or(String::new(), |patched| {
        let share = number(PERCENT.outside(patched.patch.share), 0);
        format!(", {} over {share}\u{a0}% of the area", patched.patch.fabric.name)
    });
    Heading {
        title: match headline {
            "" => format!("{}: where skin burns behind a quilting", layup.name),
            headline => format!("{}: {headline}", layup.name),
        },
        subtitle: format!(
            "{}, pitch {}, stitch lines {} wide pressed to {}{}; {}; second degree at the \
             stitch line {}, at the cell centre {}. No measured comparison of stitched and \
             unstitched layups was found.",
            quilting.pattern.word(),
            mm(quilting.pitch.value),
            mm(quilting.stitch_width.value),
            mm(quilting.pressed.value),
            patch,
            exposure_words(quilted),
            time(stitch),
            time(centre)
        ),
        source: format!(
            "layup {}, exposure {}, skin {}",
            layup.name, quilted.exposure.name, skin.skin
        ),
        summary: format!(
            "A cell of the quilting coloured by the time to a second-degree burn: {} at the stitch \
             line, {} at the centre; the area burnt over time; the layup cut through to scale.",
            time(stitch),
            time(centre)
        ),
    }
}

/// A length in millimetres with as many decimals as it needs, at most two.
fn mm(m: f64) -> String {
    let text = number(MILLIMETRES.outside(m), 2);
    format!("{}\u{a0}mm", text.trim_end_matches('0').trim_end_matches('.'))
}

fn exposure_words(quilted: &Quilted) -> String {
    let name = &quilted.exposure.name;
    match quilted.exposure.duration {
        Some(t) => format!("{name} for {} s", number(t, 1)),
        None => format!("{name}, continuous"),
    }
}

/// Mass of the felts and of the other plies, in words.
fn masses(layup: &Layup) -> String {
    let of = |felts: bool| -> f64 {
        let plies = layup.plies().filter(|ply| (ply.fabric.role == Role::Felt) == felts);
        GRAMS_PER_AREA.outside(plies.map(|ply| ply.fabric.areal_density.value).sum::<f64>())
    };
    let (felt, rest) = (number(of(true), 0), number(of(false), 0));
    match of(true) > 0.0 {
        true => format!("{felt} g/m² of felt and {rest} g/m² of other plies"),
        false => format!("{rest} g/m² of plies"),
    }
}

/// The bench's time over pitch and loft, the thread's mass above, as SVG.
///
/// - `figure`: name of the figure, such as HTI24
///
/// Errors: as [`field_chart`](crate::chart::field_chart).
pub fn sweep_chart(sweep: &Sweep, figure: &str) -> Result<String, ChartError> {
    let in_mm = |all: &[f64]| all.iter().map(|m| MILLIMETRES.outside(*m)).collect::<Vec<f64>>();
    let (xs, ys) = (in_mm(&sweep.plan.pitches), in_mm(&sweep.plan.lofts));
    let quilting = &sweep.quilting;
    let (pitch, loft) =
        (MILLIMETRES.outside(quilting.pitch.value), MILLIMETRES.outside(quilting.loft.value));
    let inside = |at: f64, all: &[f64]| all[0] <= at && at <= all[all.len() - 1];
    let mark = (inside(pitch, &xs) && inside(loft, &ys)).then(|| PointMark {
        x: pitch,
        y: loft,
        label: "this quilting".to_owned(),
    });
    let above = quilting.thread.as_ref().map(|thread| {
        let marks = ticks(xs[0], xs[xs.len() - 1], 8).values.into_iter().map(|x| {
            let cell = Cell { pitch: MILLIMETRES.inside(x), ..Cell::of(quilting) };
            (x, number(GRAMS_PER_AREA.outside(thread.value * cell.line_length()), 1))
        });
        TopScale {
            label: format!("thread [g/m²], beside {}", masses(&sweep.layup)),
            marks: marks.collect(),
        }
    });
    let chart = FieldChart {
        heading: Heading {
            title: format!("{}: {figure} over pitch and loft", sweep.layup.name),
            subtitle: format!(
                "{}, stitch lines {} wide pressed to {}, one copper disc behind all of it, {}. \
                 No measured comparison of stitched and unstitched layups was found.",
                quilting.pattern.word(),
                mm(quilting.stitch_width.value),
                mm(quilting.pressed.value),
                sweep.exposure.name
            ),
            source: format!("layup {}, exposure {}", sweep.layup.name, sweep.exposure.name),
            summary: String::new(),
        },
        x_label: "pitch [mm]".to_owned(),
        y_label: "loft at the cell centre [mm]".to_owned(),
        xs,
        ys,
        values: sweep.points.iter().map(|point| point.rise24.value).collect(),
        value: Axis::new(format!("{figure} [s]")),
        dark: Dark::Low,
        fill: Fill::Contours,
        shape: Shape::Diagram,
        lines: Vec::new(),
        marks: mark.into_iter().collect(),
    };
    field_chart_under(&chart, above.as_ref())
}
