//! A chart into a file, as SVG or as PNG by the file's ending.

use std::fs;
use std::io;
use std::path::Path;

use crate::chart::error::ChartError;

/// Writes a chart as SVG or PNG, as the ending says.
///
/// The file is written beside its place under a temporary name and then renamed, so what stood
/// there before stays whole until the new one is.
///
/// Errors: an ending other than .svg and .png, a place that cannot be written to, PNG without the feature `png`.
pub fn write_chart(svg: &str, path: &Path) -> Result<(), ChartError> {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("").to_ascii_lowercase();
    let bytes = match ending.as_str() {
        "svg" => svg.as_bytes().to_vec(),
        "png" => svg_to_png(svg)?,
        _ => return Err(ChartError::UnknownFormat { path: path.to_owned() }),
    };
    let name = path.file_name().and_then(|n| n.to_str()).unwrap_or("chart");
    let beside = path.with_file_name(format!(".{name}.{}.part", std::process::id()));
    let written = fs::write(&beside, bytes).and_then(|()| fs::rename(&beside, path));
    written.map_err(|e| {
        // nothing more can be done if the remains cannot be taken away either
        let _ = fs::remove_file(&beside);
        ChartError::Unwritable { path: path.to_owned(), reason: reason(&e) }
    })
}

/// The system's reason without its number.
fn reason(e: &io::Error) -> String {
    match e.kind() {
        io::ErrorKind::NotFound => "the folder does not exist".to_owned(),
        io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        io::ErrorKind::IsADirectory => "there is a folder of that name".to_owned(),
        _ => e.to_string(),
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
