//! Claim: no text meets another or leaves the sheet.
//! Source: outlines of DejaVu Sans 2.37, laid out by the library usvg.
//! Tolerance: 0.5 px of a sheet 760 px wide, the rim of a letter.

use proptest::prelude::*;
use resvg::usvg::{self, Node, Rect};

use crate::chart::{gallery, made_up};
use stillair::chart::line_chart;
use stillair::chart::lines::{EventMark, Level, PointMark};

/// Inked boxes of all texts with their words, and the sheet [px].
fn boxes(svg: &str) -> (Vec<(String, Rect)>, Rect) {
    let mut options = usvg::Options::default();
    let fonts = options.fontdb_mut();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    let tree = usvg::Tree::from_str(svg, &options).expect("well-formed SVG");
    let mut found = Vec::new();
    gather(tree.root(), &mut found);
    let size = tree.size();
    let sheet = Rect::from_xywh(0.0, 0.0, size.width(), size.height());
    (found, sheet.expect("a sheet with an area"))
}

fn gather(group: &usvg::Group, found: &mut Vec<(String, Rect)>) {
    for node in group.children() {
        match node {
            Node::Text(text) => {
                let words = text.chunks().iter().map(|c| c.text()).collect::<String>();
                let ink = text.flattened().bounding_box().transform(text.abs_transform());
                found.push((words, ink.expect("a transform that can be undone")));
            }
            Node::Group(inner) => gather(inner, found),
            _ => {}
        }
    }
}

fn faults(svg: &str) -> Vec<String> {
    const RIM: f32 = 0.5;
    let (texts, sheet) = boxes(svg);
    let mut faults = Vec::new();
    for (i, (words, a)) in texts.iter().enumerate() {
        let inside = a.left() >= 0.0
            && a.top() >= 0.0
            && a.right() <= sheet.right()
            && a.bottom() <= sheet.bottom();
        if !inside {
            faults.push(format!("\"{words}\" leaves the sheet: {a:?}"));
        }
        for (others, b) in &texts[i + 1..] {
            let wide = a.right().min(b.right()) - a.left().max(b.left());
            let high = a.bottom().min(b.bottom()) - a.top().max(b.top());
            if wide > RIM && high > RIM {
                faults.push(format!("\"{words}\" meets \"{others}\" by {wide} by {high}"));
            }
        }
    }
    faults
}

#[test]
fn no_text_meets_another() {
    for (name, svg) in gallery() {
        let (texts, _) = boxes(&svg);
        assert!(texts.len() > 8, "{name} has {} texts", texts.len());
        assert_eq!(faults(&svg), Vec::<String>::new(), "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn no_text_meets_another_wherever_things_happen(
        events in prop::collection::vec((0.0..30.0f64, 4usize..28), 0..8),
        levels in prop::collection::vec((0.0..500.0f64, 4usize..28), 0..7),
        marks in prop::collection::vec((0.0..30.0f64, 0.0..500.0f64, 4usize..20), 0..7),
    ) {
        let words = |n: usize| "word on ".chars().cycle().take(n).collect::<String>();
        let mut chart = made_up::lines();
        let panel = &mut chart.panels[0];
        panel.events =
            events.iter().map(|(x, n)| EventMark { x: *x, label: words(*n) }).collect();
        panel.levels = levels.iter().map(|(y, n)| Level { y: *y, label: words(*n) }).collect();
        panel.marks = marks
            .iter()
            .map(|(x, y, n)| PointMark { x: *x, y: *y, label: words(*n) })
            .collect();
        let svg = line_chart(&chart).expect("a chart");
        prop_assert_eq!(faults(&svg), Vec::<String>::new());
    }
}
