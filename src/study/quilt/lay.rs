//! What lies at each path: the plies pressed or lofted, laid out for the solver in one shape.

use crate::bench::assemble::{Assembly, Backing, Setup, assemble};
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::{Entry, Gap, Layup, Ply, Quilting};
use crate::garment::stitched::{listed_gaps, solid_thickness, takes_air};
use crate::study::patch::{Patch, with_patch};
use crate::study::quilt::cell::Cell;
use crate::study::quilt::error::QuiltError;
use crate::study::quilt::path::{Path, Place};
use crate::study::quilt::pressing::{CLOSED, at_factor};

/// Refuses a quilting that cannot be.
///
/// Errors: [`QuiltError`].
pub fn check(layup: &Layup, quilting: &Quilting) -> Result<(), QuiltError> {
    let n_plies = layup.plies().count();
    if n_plies < 2 {
        return Err(QuiltError::TooFewPlies { n_plies });
    }
    if layup.pressure.is_some() {
        return Err(QuiltError::UnderPressure);
    }
    let cell = Cell::of(quilting);
    if cell.stitch_width >= cell.pitch {
        let Cell { stitch_width, pitch, .. } = cell;
        return Err(QuiltError::StitchTooWide { stitch_width, pitch });
    }
    let (pressed, plies) = (quilting.pressed.value, layup.plies_thickness());
    if pressed > plies * (1.0 + 1e-9) {
        return Err(QuiltError::PressedTooThick { pressed, plies });
    }
    let solid = solid_thickness(layup);
    if pressed <= solid {
        return Err(QuiltError::PressedTooThin { pressed, solid });
    }
    if quilting.loft.value > 0.0 && !takes_air(layup).contains(&true) {
        return Err(QuiltError::NoPlaceForLoft);
    }
    Ok(())
}

/// Presses the stitch lines of plies that were `before` [m] thick, and are no longer, in the same
/// proportion as before.
///
/// Common practice, no source: a stitch draws a thicker stack together to the same share of it.
pub fn press_in_proportion(layup: &mut Layup, before: f64) {
    let thickness = layup.plies_thickness();
    if let Some(quilting) = layup.quilting.as_mut().filter(|_| thickness != before) {
        quilting.pressed.value *= thickness / before;
    }
}

/// The layup as it lies at a path.
///
/// Under a stitch line every ply is pressed by the same factor, so that together they have the
/// quilting's pressed thickness, and gaps between plies are closed: only the voids of the faces are
/// left. Elsewhere plies keep their own thickness, listed gaps theirs, and the path's air is shared
/// equally between the joints of the plies that can open, on top of a listed gap and of the voids
/// of the two faces. A gap behind the innermost ply stays as listed everywhere.
pub fn layup_at(layup: &Layup, quilting: &Quilting, path: &Path) -> Layup {
    let opens = takes_air(layup);
    let n_open = opens.iter().filter(|open| **open).count();
    let listed = listed_gaps(layup);
    let factor = match path.place {
        Place::StitchLine => quilting.pressed.value / layup.plies_thickness(),
        _ => 1.0,
    };
    let anyone_has_air = |j: usize| opens[j] && (listed[j] > 0.0 || quilting.loft.value > 0.0);
    let here = |ply: &Ply| Ply { fabric: at_factor(&ply.fabric, factor), ..ply.clone() };
    let plies: Vec<Ply> = layup.plies().map(here).collect();
    let mut stack = Vec::new();
    for (j, ply) in plies.iter().enumerate() {
        stack.push(Entry::Ply(Box::new(ply.clone())));
        let gap = match opens.get(j) {
            // between the innermost ply and what is behind
            None => listed[j],
            Some(_) if !anyone_has_air(j) => 0.0,
            Some(_) => {
                let open = match path.place {
                    Place::StitchLine => 0.0,
                    _ => listed[j] + path.air / n_open as f64,
                };
                open.max(CLOSED)
            }
        };
        if gap > 0.0 {
            let thickness = Known::new(gap, Provenance::Estimated, "quilting");
            stack.push(Entry::Gap(Gap { thickness }));
        }
    }
    Layup { stack, quilting: None, ..layup.clone() }
}

/// Lays the paths out for the solver, all in the shape of the unpressed layup.
///
/// Pressed slabs keep the number of cells of unpressed ones, each cell scaled.
///
/// - `patch`: what lies on all of them, not pressed by the stitches; none for the bare quilting
pub fn assemblies(
    (layup, patch): (&Layup, Option<&Patch>),
    quilting: &Quilting,
    paths: &[Path],
    (exposure, backing): (&Exposure, Backing),
    setup: &Setup,
) -> Vec<Assembly> {
    let laid = |layup: Layup| assemble(&worn(layup, patch), exposure, backing, setup);
    let flat = laid(layup.clone());
    let at = |path: &Path| laid(layup_at(layup, quilting, path));
    paths.iter().map(|path| at(path).cut_like(&flat)).collect()
}

/// The layup with the patch, if there is one, on it.
pub fn worn(layup: Layup, patch: Option<&Patch>) -> Layup {
    match patch {
        Some(patch) => with_patch(&layup, patch),
        None => layup,
    }
}
