//! A chart as a file holds it, as SVG or as PNG by the file's ending.

use std::path::Path;

use crate::chart::error::ChartError;

/// A chart's bytes in the format that the ending of `path` names; nothing is written.
///
/// Errors: an ending other than .svg and .png, PNG without the feature `png`.
pub fn chart_bytes(svg: String, path: &Path) -> Result<Vec<u8>, ChartError> {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("").to_ascii_lowercase();
    match ending.as_str() {
        "svg" => Ok(svg.into_bytes()),
        "png" => svg_to_png(&svg),
        _ => Err(ChartError::UnknownFormat { path: path.to_owned() }),
    }
}

/// A chart as PNG at twice its size, set in the font that the program carries.
///
/// Errors: the drawing is not well-formed SVG.
#[cfg(feature = "png")]
pub fn svg_to_png(svg: &str) -> Result<Vec<u8>, ChartError> {
    use resvg::{tiny_skia, usvg};
    const ENLARGED: f32 = 2.0;
    let failed = |reason: String| ChartError::Render { reason };
    let mut options = usvg::Options::default();
    let fonts = options.fontdb_mut();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    fonts.set_sans_serif_family("DejaVu Sans");
    let tree = usvg::Tree::from_str(svg, &options).map_err(|e| failed(e.to_string()))?;
    let size = tree.size();
    let whole = |length: f32| (length * ENLARGED).round() as u32;
    let mut picture = tiny_skia::Pixmap::new(whole(size.width()), whole(size.height()))
        .ok_or_else(|| failed("the drawing has no area".to_owned()))?;
    let enlarged = tiny_skia::Transform::from_scale(ENLARGED, ENLARGED);
    resvg::render(&tree, enlarged, &mut picture.as_mut());
    picture.encode_png().map_err(|e| failed(e.to_string()))
}

/// A chart as PNG needs the feature `png`, which this build leaves out.
///
/// Errors: always.
#[cfg(not(feature = "png"))]
pub fn svg_to_png(_svg: &str) -> Result<Vec<u8>, ChartError> {
    Err(ChartError::FeatureMissing { feature: "png" })
}
