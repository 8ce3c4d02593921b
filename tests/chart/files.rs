//! Claim: the ending of a chart's file says which bytes go into it, and one that says nothing is told.

use std::path::Path;

use crate::chart::made_up;
use stillair::chart::{ChartError, chart_bytes, stack_chart};

fn chart() -> String {
    stack_chart(&made_up::heading("cut"), &made_up::stack()).expect("a chart")
}

#[test]
fn an_svg_is_the_drawing_itself() {
    for name in ["cut.svg", "cut.SVG"] {
        assert_eq!(chart_bytes(chart(), Path::new(name)).expect(name), chart().into_bytes());
    }
}

#[test]
fn an_unknown_ending_is_told() {
    for name in ["cut.pdf", "cut", ".svg"] {
        let error = chart_bytes(chart(), Path::new(name)).expect_err(name);
        assert!(matches!(error, ChartError::UnknownFormat { .. }), "{name}");
        let text = error.to_string();
        assert!(text.contains(name) && text.contains(".svg or .png"), "{text}");
        assert!(text.contains("\n  expected: ") && text.contains("\n  mend: "), "{text}");
    }
}

/// Source: the first eight bytes are the PNG signature, W3C PNG specification, section 5.2.
#[cfg(feature = "png")]
#[test]
fn a_png_is_one_by_its_signature() {
    let bytes = chart_bytes(chart(), Path::new("cut.png")).expect("a picture");
    assert_eq!(bytes[..8], [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n']);
}

#[cfg(not(feature = "png"))]
#[test]
fn without_the_feature_a_png_is_refused_by_name() {
    let error = chart_bytes(chart(), Path::new("cut.png")).expect_err("no feature");
    assert_eq!(error, ChartError::FeatureMissing { feature: "png" });
    assert!(error.to_string().contains("`png`"));
}
