//! The paths of heat through a cell: the stitch line, points of the lofted part, its edge and centre.

use crate::garment::layup::Quilting;
use crate::study::quilt::cell::Cell;
use crate::study::quilt::gauss::gauss_legendre;

/// Where in a cell a path lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Under a stitch line: the plies pressed, no air.
    StitchLine,
    /// At the edge of a stitch line: the plies at their own thickness, no loft. Counts no area.
    Edge,
    /// Somewhere between edge and centre.
    Between,
    /// The middle of the cell, where the loft is highest. Counts no area.
    Centre,
}

impl Place {
    /// The words used in output.
    pub fn words(self) -> &'static str {
        match self {
            Place::StitchLine => "stitch line",
            Place::Edge => "edge of the stitch line",
            Place::Between => "between",
            Place::Centre => "cell centre",
        }
    }
}

/// One path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Path {
    /// Where it lies.
    pub place: Place,
    /// Distance from the middle of the nearest stitch line [m]; 0 for the stitch line itself.
    pub distance: f64,
    /// Share of the lofted area between the stitch line's edge and here [–]; 0 for the stitch line.
    pub lofted: f64,
    /// Share of the cell's area that it stands for [–]; they add up to 1.
    pub share: f64,
    /// Air that the plies take in between them here [m].
    pub air: f64,
}

/// The paths of a quilting, outwards from the stitch line: stitch line, edge, `n_points` between, centre.
///
/// The points are those of Gauss–Legendre in the share of the lofted area, in which the area's
/// weight is exact whatever the pattern. A stitch line without width counts no area.
///
/// Panics: if `n_points` is 0.
pub fn paths(quilting: &Quilting, n_points: usize) -> Vec<Path> {
    let cell = Cell::of(quilting);
    let loft = quilting.loft.value;
    let stitch_share = cell.stitch_share();
    let at = |place, lofted: f64, share| Path {
        place,
        distance: cell.distance(lofted),
        lofted,
        share,
        air: loft * cell.height(lofted),
    };
    let stitch = Path {
        place: Place::StitchLine,
        distance: 0.0,
        lofted: 0.0,
        share: stitch_share,
        air: 0.0,
    };
    let points = gauss_legendre(n_points).into_iter();
    let between = points.map(|(a, w)| at(Place::Between, a, w * (1.0 - stitch_share)));
    let mut all = vec![stitch, at(Place::Edge, 0.0, 0.0)];
    all.extend(between);
    all.push(at(Place::Centre, 1.0, 0.0));
    all
}
