//! The one record of a quilting; terminal, JSON, CSV and chart are views of it.

use crate::bench::outcome::{DiscFigures, Numerics, Outcome, PlyFate, When};
use crate::garment::exposure::Exposure;
use crate::garment::layup::{Layup, Quilting};
use crate::study::patch::Patch;
use crate::study::quilt::burnt::BurntArea;
use crate::study::quilt::path::Path;

/// A quilted layup exposed.
#[derive(Debug, Clone, PartialEq)]
pub struct Quilted {
    /// The layup with the quilting that was computed.
    pub layup: Layup,
    /// The exposure.
    pub exposure: Exposure,
    /// The quilting.
    pub quilting: Quilting,
    /// Share of the area under stitch lines [–].
    pub stitch_share: f64,
    /// Mass of thread per area [kg/m²]; none when the thread is not known.
    pub thread: Option<f64>,
    /// Points of the quadrature over the lofted part of a cell.
    pub n_points: usize,
    /// The same layup flat, its plies as listed.
    pub flat: Outcome,
    /// In front of the one copper disc, if asked for.
    pub disc: Option<QuiltedDisc>,
    /// In front of skin, each place its own, if asked for.
    pub skin: Option<QuiltedSkin>,
    /// A patch over part of it; `disc` and `skin` are then those beside it.
    pub patch: Option<QuiltedPatch>,
    /// With heat sideways, if asked for.
    pub sideways: Option<Sideways>,
}

/// Times with heat sideways.
#[derive(Debug, Clone, PartialEq)]
pub struct Sideways {
    /// Conductivity of the plies along over that through them [–].
    pub along: f64,
    /// Columns from the middle of a stitch line to the middle of a cell.
    pub n_columns: usize,
    /// 12 K, 24 K and Stoll's time of the one disc, if asked for.
    pub disc: Option<[When; 3]>,
    /// Second-degree burn behind the middle of the stitch line and behind the middle of the cell, if asked for.
    pub skin: Option<[When; 2]>,
}

/// A patch or embroidery over part of a quilting.
#[derive(Debug, Clone, PartialEq)]
pub struct QuiltedPatch {
    /// The patch.
    pub patch: Patch,
    /// The one disc behind places beside the patch and under it, if asked for.
    pub both: Option<PatchedDisc>,
    /// The disc behind a quilting that the patch covers all over, if asked for.
    pub under_disc: Option<DiscAnswer>,
    /// Skin under the patch, each place its own, if asked for.
    pub under_skin: Option<QuiltedSkin>,
}

/// What the one disc reads behind places beside a patch and under it.
#[derive(Debug, Clone, PartialEq)]
pub struct PatchedDisc {
    /// The figures; their error is that of mesh and step.
    pub figures: DiscFigures,
    /// What the points over the cell leave open, as in [`QuiltedDisc::area_errors`].
    pub area_errors: [Option<f64>; 3],
    /// When the first ply at any place passes its limit [s].
    pub t_valid: Option<f64>,
    /// How the numbers were obtained; nodes of all paths.
    pub numerics: Numerics,
}

impl Quilted {
    /// Share of the whole area that has a second-degree burn by `t` [s], under a patch and beside it.
    pub fn burnt_by(&self, t: f64) -> Option<f64> {
        let beside = self.skin.as_ref()?.burnt.by(t);
        let Some(patched) = &self.patch else { return Some(beside) };
        let (share, under) = (patched.patch.share, patched.under_skin.as_ref()?.burnt.by(t));
        Some((1.0 - share) * beside + share * under)
    }
}

/// What the copper disc reads behind a quilted layup.
#[derive(Debug, Clone, PartialEq)]
pub struct QuiltedDisc {
    /// All paths into the one disc.
    pub shared: DiscAnswer,
    /// What the points over the cell leave open in 12 K, 24 K and Stoll's time [s]; none where
    /// a time was not reached.
    pub area_errors: [Option<f64>; 3],
    /// The stitch line's pressed plies everywhere.
    pub pressed: DiscAnswer,
    /// The loft of the cell's centre everywhere.
    pub lofted: DiscAnswer,
    /// Share of the disc's heat that came through stitch lines up to its rise of 24 K, or to the end
    /// if that is not reached [–].
    pub stitch_heat_share: f64,
    /// Up to when that was counted [s].
    pub t_heat: f64,
}

/// A disc's figures and how they were obtained.
#[derive(Debug, Clone, PartialEq)]
pub struct DiscAnswer {
    /// The figures; their error is that of mesh and step.
    pub figures: DiscFigures,
    /// What became of each ply on its worst path, outermost first.
    pub plies: Vec<PlyFate>,
    /// How the numbers were obtained; nodes of all paths.
    pub numerics: Numerics,
    /// Rise of the disc over time `(t [s], rise [K])`.
    pub rise: Vec<(f64, f64)>,
}

/// What skin suffers behind a quilted layup.
#[derive(Debug, Clone, PartialEq)]
pub struct QuiltedSkin {
    /// Name of the skin model.
    pub skin: String,
    /// The paths, outwards from the stitch line, and what happens behind each.
    pub places: Vec<SkinPlace>,
    /// The area burnt to second degree over time.
    pub burnt: BurntArea,
    /// What the points over the cell leave open in that share, at any time [–].
    pub area_error: f64,
    /// What became of each ply on its worst path, outermost first.
    pub plies: Vec<PlyFate>,
    /// How the numbers were obtained; work of all paths together.
    pub numerics: Numerics,
}

/// Skin behind one path.
#[derive(Debug, Clone, PartialEq)]
pub struct SkinPlace {
    /// The path.
    pub path: Path,
    /// Basal layer reaches 44 °C.
    pub basal_44: When,
    /// First, second and third degree.
    pub degrees: [When; 3],
}

impl QuiltedSkin {
    /// Skin behind the stitch line.
    pub fn stitch_line(&self) -> &SkinPlace {
        &self.places[0]
    }

    /// Skin behind the middle of a cell.
    pub fn centre(&self) -> &SkinPlace {
        &self.places[self.places.len() - 1]
    }
}
