//! Claim: no drawing of the program has words over words or over a curve, every axis is named with its unit, the
//! notice stands on the sheet, and one colour has one meaning in all of them.
//! Source: boxes of words by the widths of DejaVu Sans 2.37 that the charts are laid out with; the table of
//! meanings of `chart::meanings`.
//! Tolerance: half a pixel of rim; the inner 70 % of the type's height, which small letters fill.

use std::fs;
use std::path::Path;

use stillair::chart::meanings::{Meaning, meaning};
use stillair::chart::{Weight, text_width};

use crate::run::{folder, stillair};

/// Drawing units per pixel.
const FINE: f64 = 4.0;
/// Grid lines, and what sets lines off from what lies below: words may stand on both.
const BELOW_WORDS: [Meaning; 2] = [Meaning::Grid, Meaning::Paper];

/// Each drawing of the program, with how many axes carry a unit; `@` stands for the file.
#[rustfmt::skip]
const DRAWN: [(&str, usize); 25] = [
    ("expose three-ply-loose --behind disc --against en-469-xf1 --error 5 --chart @", 2),
    ("expose three-ply-loose --behind skin --error 5 --chart @", 2),
    ("expose three-ply-loose --for 4 --until 60 --error 5 --chart @", 2),
    ("expose three-ply-quilted-blank --error 5 --chart @", 2),
    ("expose two-ply-outer-knit --exposure radiant-20 --until 300 --error 5 --chart @", 2),
    ("gap three-ply-loose --points 12 --error 5 --chart @", 2),
    ("gap three-ply-loose two-ply-outer-knit --gap 1 --points 8 --error 5 --chart @", 2),
    ("gap three-ply-loose two-ply-outer-knit published-assembly-1 --gap 1 --error 5 --map --chart @", 3),
    ("rank three-ply-loose single-outer-195 two-ply-outer-knit --against en-469-xf1 --error 5 --chart @", 1),
    ("rank three-ply-loose single-outer-195 two-ply-outer-knit --by mass --error 5 --chart @", 1),
    ("odds two-ply-outer-knit --against en-469-xf1 --sets 16 --rows 16 --specimens 3 --error 5 --chart @", 1),
    ("lots three-ply-quilted-blank examples/rolls.csv --against fia-8856-2018-overall --error 5 --chart @", 1),
    ("lots three-ply-loose examples/rolls.csv --flat --exposure radiant-40 --error 5 --chart @", 1),
    ("pressed three-ply-loose --error 5 --chart @", 1),
    ("patch three-ply-loose --ply patch-aramid-400 --share 30 --thread 2 --error 5 --chart @", 1),
    ("quilt three-ply-quilted-blank --error 5 --chart @", 2),
    ("quilt three-ply-quilted-blank --pattern channels --patch outer-aramid-150 --patch-share 20 --error 5 --chart @", 2),
    ("quilt three-ply-quilted-blank --error 5 --sweep @", 3),
    ("quilt three-ply-quilted-blank --versus none,channels,square,diamond --error 5 --chart @", 2),
    ("suit refuelling-coverall --flat --error 5 --chart @", 0),
    ("body refuelling-coverall --for 4,8 --chart @", 0),
    ("seek tests/harden/brief.toml --error 5 --chart @", 2),
    ("fit single-outer-195 --free conductivity:1 --hti12 3 --hti24 5 --chart @", 1),
    ("verify --only measured --chart @", 2),
    ("quilt three-ply-quilted-blank --pitch 30 --for 4 --error 5 --chart @", 2),
];

/// Words with their box.
struct Words {
    text: String,
    /// Left, upper, right and lower end.
    ends: [f64; 4],
}

/// A drawn line.
struct Line {
    points: Vec<(f64, f64)>,
    ink: Option<Meaning>,
}

/// A sheet taken apart.
#[derive(Default)]
struct Sheet {
    words: Vec<Words>,
    lines: Vec<Line>,
    /// Colours that no chart should have.
    unknown: Vec<String>,
}

/// An attribute of a tag.
fn attribute<'a>(tag: &'a str, key: &str) -> Option<&'a str> {
    let at = tag.find(&format!(" {key}=\""))? + key.len() + 3;
    tag[at..].split('"').next()
}

fn number(tag: &str, key: &str) -> f64 {
    attribute(tag, key).and_then(|text| text.parse().ok()).unwrap_or(0.0)
}

/// What a colour of a tag means.
fn ink(tag: &str, key: &str) -> Option<Result<Meaning, String>> {
    let colour = attribute(tag, key).filter(|colour| *colour != "none")?;
    let part = |i: usize| u8::from_str_radix(&colour[i..i + 2], 16).unwrap();
    let alpha = attribute(tag, "opacity").map_or(1.0, |text| text.parse().unwrap());
    let found = meaning([part(1), part(3), part(5)], alpha);
    Some(found.ok_or_else(|| format!("{colour} at {alpha}")))
}

fn words(tag: &str, text: &str) -> Words {
    let text = text.trim().replace("&apos;", "'").replace("&lt;", "<").replace("&gt;", ">");
    let text = text.replace("&quot;", "\"").replace("&amp;", "&");
    let bold = attribute(tag, "font-weight") == Some("bold");
    let size = number(tag, "font-size");
    let weight = if bold { Weight::Bold } else { Weight::Regular };
    let width = text_width(&text, size, weight);
    let before = match attribute(tag, "text-anchor") {
        Some("middle") => 0.5 * width,
        Some("end") => width,
        _ => 0.0,
    };
    let (x, y) = (number(tag, "x"), number(tag, "y"));
    let rim = 0.5 * FINE;
    let (from, to) = (rim - before, width - before - rim);
    let (over, under) = (0.15 * size, 0.85 * size);
    let ends = match attribute(tag, "transform") {
        // reads upwards
        Some(_) => [x + over, y - to, x + under, y - from],
        None => [x + from, y + over, x + to, y + under],
    };
    Words { text, ends }
}

fn taken_apart(svg: &str) -> Sheet {
    let mut sheet = Sheet::default();
    for piece in svg.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
        let (name, _) = tag.split_once(' ').unwrap_or((tag, ""));
        if matches!(name, "svg" | "title" | "desc") || name.starts_with('/') {
            continue;
        }
        let inks = ["fill", "stroke"].map(|key| ink(tag, key));
        for unknown in inks.iter().flatten().filter_map(|ink| ink.clone().err()) {
            sheet.unknown.push(unknown);
        }
        match name {
            "text" => sheet.words.push(words(tag, text)),
            "polyline" | "line" => {
                let pair = |pair: &str| {
                    let (x, y) = pair.split_once(',').unwrap();
                    (x.parse().unwrap(), y.parse().unwrap())
                };
                let points = attribute(tag, "points").unwrap_or("").split_whitespace().map(pair);
                let mut points: Vec<(f64, f64)> = points.collect();
                if name == "line" {
                    points.push((number(tag, "x1"), number(tag, "y1")));
                    points.push((number(tag, "x2"), number(tag, "y2")));
                }
                let ink = inks[1].clone().and_then(Result::ok);
                sheet.lines.push(Line { points, ink });
            }
            _ => {}
        }
    }
    sheet
}

/// Whether a straight line from `a` to `b` enters a box.
fn enters([left, top, right, bottom]: [f64; 4], a: (f64, f64), b: (f64, f64)) -> bool {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, room) in [(-dx, a.0 - left), (dx, right - a.0), (-dy, a.1 - top), (dy, bottom - a.1)]
    {
        if step == 0.0 && room < 0.0 {
            return false;
        }
        if step < 0.0 {
            from = from.max(room / step);
        }
        if step > 0.0 {
            to = to.min(room / step);
        }
    }
    from <= to
}

/// All that is wrong with a drawing.
///
/// - `n_units`: how many axes carry a unit, at least
fn flaws(svg: &str, n_units: usize) -> Vec<String> {
    let sheet = taken_apart(svg);
    let mut found = Vec::new();
    for (i, one) in sheet.words.iter().enumerate() {
        let [left, top, right, bottom] = one.ends;
        for other in &sheet.words[i + 1..] {
            let [x0, y0, x1, y1] = other.ends;
            if left < x1 && x0 < right && top < y1 && y0 < bottom {
                found.push(format!("`{}` over `{}`", one.text, other.text));
            }
        }
        let over = |line: &&Line| {
            let below = line.ink.is_some_and(|ink| BELOW_WORDS.contains(&ink));
            !below && line.points.windows(2).any(|pair| enters(one.ends, pair[0], pair[1]))
        };
        if let Some(line) = sheet.lines.iter().find(over) {
            found.push(format!("`{}` over a line of {:?}", one.text, line.ink));
        }
    }
    let with_unit = |words: &&Words| words.text.contains('[') && words.text.ends_with(']');
    let n_named = sheet.words.iter().filter(with_unit).count();
    if n_named < n_units {
        found.push(format!("{n_named} axes with a unit, not {n_units}"));
    }
    let all = sheet.words.iter().map(|words| words.text.as_str()).collect::<Vec<_>>().join(" ");
    if !all.contains(stillair::NOTICE) {
        found.push("no notice".to_owned());
    }
    found.extend(sheet.unknown.into_iter().map(|colour| format!("{colour} has no meaning")));
    found.dedup();
    found
}

fn drawn(words: &str, file: &Path) -> String {
    let path = file.to_str().unwrap();
    let words: Vec<&str> =
        words.split(' ').map(|word| if word == "@" { path } else { word }).collect();
    let (_, err, code) = stillair(&words, "2");
    assert_eq!(code, 0, "{words:?}\n{err}");
    fs::read_to_string(file).unwrap()
}

#[test]
fn no_drawing_of_the_program_has_a_flaw() {
    let folder = folder("flaws");
    let mut wrong = Vec::new();
    for (i, (command, n_units)) in DRAWN.into_iter().enumerate() {
        let svg = drawn(command, &folder.join(format!("{i}.svg")));
        let found = flaws(&svg, n_units);
        wrong.extend(found.into_iter().map(|flaw| format!("{command}: {flaw}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_kind_of_chart_over_made_up_numbers_keeps_to_it() {
    for (name, svg) in super::gallery() {
        let found = flaws(&svg, 0);
        assert!(found.is_empty(), "{name}: {found:?}");
    }
}

/// A sheet with its notice and one axis with a unit, and what is added to it.
fn with(more: &str) -> String {
    let text = |x: f64, y: f64, words: &str| {
        format!(
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"start\" font-size=\"40\" opacity=\"1\" \
             fill=\"#22262B\">\n{words}\n</text>"
        )
    };
    let notice = text(0.0, 900.0, stillair::NOTICE);
    let axis = text(0.0, 800.0, "time [s]");
    format!("<svg>{notice}{axis}{more}</svg>")
}

#[test]
fn a_bad_drawing_is_found_out() {
    let words = |x: f64, y: f64| {
        format!(
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"start\" font-size=\"40\" opacity=\"1\" \
             fill=\"#22262B\">\nsome words\n</text>"
        )
    };
    let line = |ink: &str| {
        format!(
            "<polyline fill=\"none\" opacity=\"1\" stroke=\"{ink}\" points=\"0,118 900,122 \"/>"
        )
    };
    let block = |ink: &str| format!("<rect opacity=\"1\" fill=\"{ink}\" stroke=\"none\"/>");
    assert_eq!(flaws(&with(&words(100.0, 100.0)), 1), Vec::<String>::new());
    for (more, expected) in [
        (words(100.0, 100.0) + &words(150.0, 110.0), "over `some words`"),
        (words(100.0, 100.0) + &line("#D55E00"), "over a line of Some(Series(1))"),
        (block("#12E345"), "#12E345 at 1 has no meaning"),
    ] {
        let found = flaws(&with(&more), 1);
        assert!(found.iter().any(|flaw| flaw.contains(expected)), "{expected}: {found:?}");
    }
    // a grid line is no curve
    assert_eq!(flaws(&with(&(words(100.0, 100.0) + &line("#E1E4E8"))), 1), Vec::<String>::new());
    assert_eq!(flaws(&with(""), 2), ["1 axes with a unit, not 2"]);
    assert_eq!(flaws("<svg></svg>", 0), ["no notice"]);
}

/// The darkest of a scale is where skin is worst off: the shortest time.
#[test]
fn dark_is_the_shortest_time_in_maps_and_fields() {
    let folder = folder("dark");
    // whether the longest time stands on top of the scale
    for (i, (command, longest_first)) in [
        (
            "gap three-ply-loose two-ply-outer-knit --gap 1 --gaps 0,1,6 --error 5 --map --chart @",
            true,
        ),
        ("quilt three-ply-quilted-blank --error 5 --sweep @", true),
        ("quilt three-ply-quilted-blank --error 5 --chart @", false),
    ]
    .into_iter()
    .enumerate()
    {
        let svg = drawn(command, &folder.join(format!("scale-{i}.svg")));
        let mut bar = scale(&svg);
        if !longest_first {
            bar.reverse();
        }
        assert!(bar.len() > 4, "{command}: {bar:?}");
        // from the longest time on
        assert!(bar.windows(2).all(|pair| pair[0] < pair[1] + 1e-3), "{command}: {bar:?}");
        assert!(bar[0] < 0.35 && bar[bar.len() - 1] > 0.65, "{command}: {bar:?}");
    }
}

/// Places on the ramp of the scale's narrow blocks, from the top down.
fn scale(svg: &str) -> Vec<f64> {
    let mut found: Vec<(f64, f64)> = svg
        .split("<rect ")
        .skip(1)
        .filter_map(|rest| rest.split('>').next())
        .map(|tag| format!(" {tag}"))
        .filter(|tag| number(tag, "width") > 0.0 && number(tag, "width") <= 18.0 * FINE)
        .filter_map(|tag| match ink(&tag, "fill") {
            Some(Ok(Meaning::Ramp(share))) => Some((number(&tag, "y"), share)),
            _ => None,
        })
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|(_, share)| share).collect()
}
