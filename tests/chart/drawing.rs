//! Claim: a chart carries notice, units and a name, lies inside its view box, is the same bytes
//! each time, and cuts lines at the frame instead of bending them along it.
//! Source: W3C, Scalable Vector Graphics 1.1, sections 7.7 (view box) and 9.6 (polyline).
//! Tolerance: none; drawing units are whole numbers.

use crate::chart::{gallery, made_up};
use stillair::chart::contour::Fill;
use stillair::chart::lines::{LineChart, LinePanel, Series, Trace};
use stillair::chart::{Asked, Axis, TargetMark, Which, exposure_chart, field_chart, line_chart};

/// Values of an attribute in all tags of a name.
fn values<'a>(svg: &'a str, tag: &str, key: &str) -> Vec<&'a str> {
    let (open, key) = (format!("<{tag} "), format!(" {key}=\""));
    svg.split(open.as_str())
        .skip(1)
        .filter_map(|rest| {
            let tag = rest.split('>').next()?;
            // the blank before the key keeps `x` from matching `x1`
            let from = tag.find(&key).map(|i| i + key.len());
            let from = from.or(tag.strip_prefix(&key[1..]).map(|_| key.len() - 1))?;
            tag[from..].split('"').next()
        })
        .collect()
}

fn points(list: &str) -> Vec<(f64, f64)> {
    list.split_whitespace()
        .map(|pair| {
            let (x, y) = pair.split_once(',').expect("a pair");
            (x.parse().expect("a number"), y.parse().expect("a number"))
        })
        .collect()
}

fn view_box(svg: &str) -> (f64, f64) {
    let numbers: Vec<f64> =
        values(svg, "svg", "viewBox")[0].split(' ').map(|n| n.parse().expect("a number")).collect();
    (numbers[2], numbers[3])
}

#[test]
fn every_chart_carries_notice_name_and_role() {
    for (name, svg) in gallery() {
        let words: String = values_of_text(&svg).join(" ").replace("&apos;", "'");
        assert!(words.contains(stillair::NOTICE), "{name}: the notice is not on the sheet");
        let head = svg.split('>').next().unwrap_or("");
        assert!(head.contains("role=\"img\"") && head.contains("aria-label=\""), "{name}");
        assert!(svg.contains("<title>") && svg.contains("<desc>"), "{name}");
        assert!(words.contains(env!("CARGO_PKG_VERSION")), "{name}: no version");
    }
}

fn values_of_text(svg: &str) -> Vec<String> {
    svg.split("<text ")
        .skip(1)
        .filter_map(|rest| rest.split_once('>')?.1.split("</text>").next())
        .map(|text| text.trim().to_owned())
        .collect()
}

#[test]
fn axes_name_their_units() {
    for (name, svg) in gallery().into_iter().filter(|(name, _)| *name != "stack") {
        let labels = values_of_text(&svg);
        let with_unit = labels.iter().filter(|t| t.contains('[') && t.ends_with(']')).count();
        let expected = if matches!(name, "bars" | "tornado") { 1 } else { 2 };
        assert!(with_unit >= expected, "{name}: {labels:?}");
    }
}

#[test]
fn no_prediction_is_called_by_a_forbidden_word() {
    for (name, svg) in gallery() {
        let words = values_of_text(&svg).join(" ").to_lowercase();
        for forbidden in [" pass ", "fail", " safe", "certified"] {
            assert!(!words.contains(forbidden), "{name} says {forbidden}");
        }
    }
}

#[test]
fn everything_lies_inside_the_view_box() {
    for (name, svg) in gallery() {
        assert!(!svg.contains("NaN") && !svg.contains("inf\""), "{name}");
        let (w, h) = view_box(&svg);
        let inside = |x: f64, y: f64| {
            assert!((0.0..=w).contains(&x) && (0.0..=h).contains(&y), "{name}: {x}, {y}");
        };
        for tag in ["polyline", "polygon"] {
            for list in values(&svg, tag, "points") {
                points(list).into_iter().for_each(|(x, y)| inside(x, y));
            }
        }
        for (tag, x, y) in [("rect", "x", "y"), ("text", "x", "y"), ("circle", "cx", "cy")] {
            let number = |s: &&str| s.parse::<f64>().expect("a number");
            let xs: Vec<f64> = values(&svg, tag, x).iter().map(number).collect();
            let ys: Vec<f64> = values(&svg, tag, y).iter().map(number).collect();
            assert_eq!(xs.len(), ys.len());
            xs.into_iter().zip(ys).for_each(|(x, y)| inside(x, y));
        }
    }
}

#[test]
fn the_same_data_give_the_same_bytes() {
    assert_eq!(gallery(), gallery());
}

/// One line that leaves the range above and below, at the sampling of a coarse step.
fn swinging() -> LineChart {
    let mut panel = LinePanel::new(Axis::new("temperature [°C]").over(-1.0, 1.0));
    let points = (0..=50).map(|i| f64::from(i) * 0.2).map(|x| (x, 2.0 * x.sin())).collect();
    panel.series = vec![Series { label: "swing".to_owned(), points, trace: Trace::Line }];
    LineChart {
        heading: made_up::heading("A swing"),
        x_axis: Axis::new("time [s]").over(0.5, 9.0),
        panels: vec![panel],
        beside: None,
    }
}

#[test]
fn lines_are_cut_at_the_frame_and_never_run_along_it() {
    let svg = line_chart(&swinging()).expect("a chart");
    let strokes = values(&svg, "polyline", "stroke");
    let lists = values(&svg, "polyline", "points");
    let of = |ink: &str| -> Vec<Vec<(f64, f64)>> {
        let chosen = strokes.iter().zip(&lists).filter(|(stroke, _)| **stroke == ink);
        chosen.map(|(_, list)| points(list)).collect()
    };
    // the frame is the only line of three corners in the ink of the text
    let frame = of("#22262B").into_iter().find(|line| line.len() == 3).expect("a frame");
    let (left, top, right, bottom) = (frame[0].0, frame[0].1, frame[2].0, frame[1].1);
    // the first line in the series' ink is the legend's
    let pieces = &of("#005A9C")[1..];
    assert!(pieces.len() >= 4, "the swing crosses the range several times: {}", pieces.len());
    let mut crossings = 0;
    for piece in pieces {
        for (x, y) in piece {
            assert!((left..=right).contains(x) && (top..=bottom).contains(y), "{x}, {y}");
        }
        for pair in piece.windows(2) {
            let along = pair[0].1 == pair[1].1 && (pair[0].1 == top || pair[0].1 == bottom);
            assert!(!along, "runs along the frame: {pair:?}");
        }
        crossings += piece.iter().filter(|(_, y)| *y == top || *y == bottom).count();
    }
    // between 0.5 and 9, |2 sin x| = 1 where x = kπ ± π/6: six times (0.5236 to 8.9012)
    assert_eq!(crossings, 6);
    let scale = (right - left) / 8.5;
    let first = left + (std::f64::consts::PI / 6.0 - 0.5) * scale;
    let found = pieces[0].last().expect("a point").0;
    // straight between samples 0.2 apart errs by at most 0.2²/8 · |2 sin x| / |2 cos x| = 0.003
    assert!((found - first).abs() <= 0.003 * scale + 1.0, "{found} {first}");
}

#[test]
fn files_stay_below_200_kb() {
    for (name, svg) in gallery() {
        assert!(svg.len() < 200_000, "{name}: {} bytes", svg.len());
    }
    for fill in [Fill::Contours, Fill::Cells] {
        let mut chart = made_up::plan(fill);
        chart.xs = (0..300).map(f64::from).collect();
        chart.ys = chart.xs.clone();
        // a linear congruence: neighbouring nodes have nothing in common
        chart.values = (0..90_000u64)
            .map(|i| (i.wrapping_mul(6_364_136_223_846_793_005) >> 33) as f64 / f64::from(1 << 30))
            .collect();
        let svg = field_chart(&chart).expect("a chart");
        assert!(svg.len() < 200_000, "noise as {fill:?}: {} bytes", svg.len());
        assert!(svg.contains("nodes each way"), "the thinning is told");
    }
}

/// Each moment stands in the panel whose figure it is of, and the answer above the chart.
#[test]
fn what_is_asked_of_an_exposure_is_drawn() {
    let mark = |of_skin, t, label: &str| TargetMark { of_skin, t, label: label.to_owned() };
    let asked = Asked {
        marks: vec![mark(false, 5.0, "asks HTI24 ≥ 5 s"), mark(true, 6.0, "needed 6.0 s")],
        answers: vec!["own-target: too close to call against 5 s.".to_owned()],
    };
    let drawn = |which| exposure_chart(&made_up::outcome(0.0), which, &asked).expect("a chart");
    let (disc, skin) = (drawn(Which::Disc), drawn(Which::Skin));
    assert!(disc.contains("asks HTI24 ≥ 5 s") && !disc.contains("needed 6.0 s"));
    assert!(skin.contains("needed 6.0 s") && !skin.contains("asks HTI24"));
    let both = drawn(Which::Both);
    for svg in [&disc, &skin, &both] {
        assert!(svg.contains("too close to call against 5"), "{svg}");
    }
    assert!(both.contains("asks HTI24 ≥ 5 s") && both.contains("needed 6.0 s"));
    // beyond what the curves tell it is left out, as every mark is
    let far = Asked { marks: vec![mark(false, 1e6, "far off")], ..Asked::default() };
    let svg = exposure_chart(&made_up::outcome(0.0), Which::Disc, &far).expect("a chart");
    assert!(!svg.contains("far off"));
}

#[test]
fn an_exposure_names_its_times_by_the_method() {
    let flame =
        exposure_chart(&made_up::outcome(0.0), Which::Disc, &Asked::default()).expect("a chart");
    assert!(flame.contains("HTI12 3.9 s") && flame.contains("Stoll crossing"));
    let radiant =
        exposure_chart(&made_up::outcome(1.0), Which::Disc, &Asked::default()).expect("a chart");
    assert!(radiant.contains("RHTI24 8.5 s") && !radiant.contains("Stoll"));
    let skin =
        exposure_chart(&made_up::outcome(0.0), Which::Skin, &Asked::default()).expect("a chart");
    assert!(skin.contains("second degree 12.6 s") && !skin.contains("third degree"));
    assert!(skin.contains("twill decomposes (370 °C)"));
}
