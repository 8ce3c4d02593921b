//! Claim: a PNG has twice the chart's size and shows it.
//! Source: W3C, Portable Network Graphics, second edition, section 11.2.2 (image header).
//! Tolerance: none.

use std::collections::BTreeSet;

use crate::chart::gallery;
use stillair::chart::{ChartError, svg_to_png};

#[test]
fn a_picture_has_twice_the_size_and_is_not_blank() {
    for (name, svg) in gallery() {
        let size = |key: &str| -> u32 {
            let from = svg.split_once(&format!(" {key}=\"")).expect("a size").1;
            from.split('"').next().expect("a number").parse().expect("a number")
        };
        let png = svg_to_png(&svg).expect(name);
        assert_eq!(png[..8], [0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A], "{name}");
        let field =
            |at: usize| u32::from_be_bytes([png[at], png[at + 1], png[at + 2], png[at + 3]]);
        assert_eq!((field(16), field(20)), (2 * size("width"), 2 * size("height")), "{name}");
        let picture = resvg::tiny_skia::Pixmap::decode_png(&png).expect(name);
        let colours: BTreeSet<[u8; 3]> =
            picture.pixels().iter().map(|p| [p.red(), p.green(), p.blue()]).collect();
        assert!(colours.len() > 20, "{name}: {} colours", colours.len());
        let dark = picture.pixels().iter().filter(|p| p.red() < 100 && p.green() < 100).count();
        assert!(dark * 500 > picture.pixels().len(), "{name}: {dark} dark pixels, no text?");
        assert!(picture.pixels().iter().all(|p| p.alpha() == 255), "{name}: paper is opaque");
    }
}

#[test]
fn no_drawing_no_picture() {
    assert!(matches!(svg_to_png("<svg"), Err(ChartError::Render { .. })));
}
