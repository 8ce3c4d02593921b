//! The demo's quilted blank and the questions put to it.

use std::path::Path as File;

use stillair::bench::expose::{Behind, Question};
use stillair::garment::exposure::Exposure;
use stillair::garment::known::{Known, Provenance};
use stillair::garment::layup::{Layup, Pattern, Quilting};
use stillair::garment::skin::Skin;
use stillair::shelf::layup::read::read_layup_text;
use stillair::shelf::materials::Shelf;
use stillair::study::quilt::run::Asked;

/// The shelf, and what is exposed to what.
pub struct Rig {
    pub layup: Layup,
    pub exposure: Exposure,
    pub skin: Skin,
}

/// A layup of the shelf before the flame bench.
pub fn rig(layup: &str) -> Rig {
    let shelf = Shelf::built_in().unwrap();
    let (text, path) = (shelf.layup_text(layup).unwrap(), shelf.layup_path(layup).unwrap());
    let mut exposure = shelf.exposure("flame-80").unwrap().clone();
    exposure.t_end = 120.0;
    Rig {
        layup: read_layup_text(text, File::new(path), &shelf).unwrap(),
        exposure,
        skin: shelf.skin("f1930-iso13506").unwrap().clone(),
    }
}

impl Rig {
    /// The layup under a quilting and what is asked of it.
    pub fn case<'a>(&'a self, quilting: &'a Quilting, question: &'a Question<'a>) -> Asked<'a> {
        Asked { layup: &self.layup, quilting, exposure: &self.exposure, question, patch: None }
    }

    /// The question at 0.5 % error.
    pub fn question(&self, behind: Behind) -> Question<'_> {
        Question::plain(behind, &self.skin, 5e-3)
    }
}

/// A quilting in millimetres: pitch, stitch-line width, loft, pressed thickness.
pub fn quilting(pattern: Pattern, [pitch, width, loft, pressed]: [f64; 4]) -> Quilting {
    let known = |mm: f64| Known::new(1e-3 * mm, Provenance::Invented, "");
    Quilting {
        pattern,
        pitch: known(pitch),
        stitch_width: known(width),
        loft: known(loft),
        pressed: known(pressed),
        thread: Some(Known::new(1.2e-4, Provenance::Invented, "")),
    }
}

/// Whether two values agree to a relative tolerance; never for what is not finite.
#[track_caller]
pub fn agree(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(got.is_finite() && expected.is_finite(), "{what}: {got} and {expected}");
    let off = (got - expected).abs() / expected.abs().max(1e-300);
    assert!(off <= tolerance, "{what}: {got} is not {expected}, off by {off:.1e}");
}
