//! The share of a cell's area that has a second-degree burn, as time goes on.

use crate::study::quilt::path::{Path, Place};

/// A path's second-degree burn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burn {
    /// When [s]; none if it does not happen within the run.
    pub t: Option<f64>,
    /// Burn integral at the basal layer at the end of the run [–].
    pub omega: f64,
    /// End of the run [s].
    pub t_end: f64,
}

/// Burn times over a cell, straight between paths in the share of the area.
#[derive(Debug, Clone, PartialEq)]
pub struct BurntArea {
    stitch_share: f64,
    stitch: Option<f64>,
    pieces: Vec<Piece>,
}

/// A part of the lofted area that burns, the time straight between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    /// Places in the share of the lofted area [–].
    from: f64,
    to: f64,
    /// Times there [s].
    t_from: f64,
    t_to: f64,
}

impl BurntArea {
    /// From paths in their order and the burn of each.
    ///
    /// Between a path that burns and its neighbour that does not, the area burns up to where the
    /// logarithm of the burn integral, straight between the two, is 0.
    pub fn new(paths: &[Path], burns: &[Burn]) -> BurntArea {
        let all = paths.iter().zip(burns);
        let stitch = all.clone().find(|(path, _)| path.place == Place::StitchLine);
        let nodes: Vec<(f64, Burn)> = all
            .filter(|(path, _)| path.place != Place::StitchLine)
            .map(|(path, burn)| (path.lofted, *burn))
            .collect();
        let pieces = nodes.windows(2).filter_map(|pair| piece(pair[0], pair[1])).collect();
        BurntArea {
            stitch_share: stitch.map_or(0.0, |(path, _)| path.share),
            stitch: stitch.and_then(|(_, burn)| burn.t),
            pieces,
        }
    }

    /// Share of the area burnt by `t` [s] [–].
    pub fn by(&self, t: f64) -> f64 {
        let stitch = if self.stitch.is_some_and(|at| at <= t) { self.stitch_share } else { 0.0 };
        let lofted: f64 = self
            .pieces
            .iter()
            .map(|piece| {
                let (early, late) = (piece.t_from.min(piece.t_to), piece.t_from.max(piece.t_to));
                let done = if late > early { (t - early) / (late - early) } else { 1.0 };
                if t < early { 0.0 } else { (piece.to - piece.from) * done.min(1.0) }
            })
            .sum();
        stitch + (1.0 - self.stitch_share) * lofted
    }

    /// When skin under the stitch line burns [s]; none if it does not.
    pub fn at_stitch_line(&self) -> Option<f64> {
        self.stitch
    }

    /// When a place of the lofted part burns [s]; none if it does not.
    ///
    /// - `a`: share of the lofted area between the stitch line's edge and there [–]
    pub fn at(&self, a: f64) -> Option<f64> {
        let piece = self.pieces.iter().find(|piece| piece.from <= a && a <= piece.to)?;
        let share = (a - piece.from) / (piece.to - piece.from);
        Some(piece.t_from + share * (piece.t_to - piece.t_from))
    }

    /// Times at which the curve bends or jumps, in order [s].
    pub fn breakpoints(&self) -> Vec<f64> {
        let stitch = self.stitch.filter(|_| self.stitch_share > 0.0);
        let mut all: Vec<f64> =
            self.pieces.iter().flat_map(|piece| [piece.t_from, piece.t_to]).chain(stitch).collect();
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }

    /// When a share of the area [–] is burnt [s]; none if it never is.
    pub fn time_of(&self, share: f64) -> Option<f64> {
        let breakpoints = self.breakpoints();
        let (mut early, mut late) = (0.0, *breakpoints.last()?);
        if self.by(late) < share {
            return None;
        }
        // halving until the bits stand still
        for _ in 0..80 {
            let middle = 0.5 * (early + late);
            if self.by(middle) >= share { late = middle } else { early = middle }
        }
        Some(late)
    }

    /// Points of the curve `(t [s], share [–])` from `t` = 0; a jump has two points at its time.
    pub fn curve(&self) -> Vec<(f64, f64)> {
        let mut points = vec![(0.0, 0.0)];
        for t in self.breakpoints() {
            let jumps = self.stitch == Some(t) && self.stitch_share > 0.0;
            if jumps {
                points.push((t, self.by(t) - self.stitch_share));
            }
            points.push((t, self.by(t)));
        }
        points
    }

    /// Largest difference to another curve at any time [–].
    pub fn distance(&self, other: &BurntArea) -> f64 {
        let times = self.breakpoints().into_iter().chain(other.breakpoints());
        times.map(|t| (self.by(t) - other.by(t)).abs()).fold(0.0, f64::max)
    }
}

/// The area between two neighbouring paths that burns; none if neither does.
fn piece((a, one): (f64, Burn), (b, other): (f64, Burn)) -> Option<Piece> {
    // how far the burnt area reaches from a path that burns towards one that does not
    let reach = |burns: Burn, not: Burn| {
        let (above, below) =
            (libm::log(burns.omega.max(1.0)), libm::log(not.omega.clamp(1e-300, 1.0)));
        if above > below { (b - a) * above / (above - below) } else { 0.0 }
    };
    let made = match (one.t, other.t) {
        (Some(t_from), Some(t_to)) => Piece { from: a, to: b, t_from, t_to },
        (Some(t), None) => {
            Piece { from: a, to: a + reach(one, other), t_from: t, t_to: t.max(other.t_end) }
        }
        (None, Some(t)) => {
            Piece { from: b - reach(other, one), to: b, t_from: t.max(one.t_end), t_to: t }
        }
        (None, None) => return None,
    };
    (made.to > made.from).then_some(made)
}

#[cfg(test)]
mod tests {
    use super::{Burn, BurntArea};
    use crate::study::quilt::path::{Path, Place};
    use approx::assert_relative_eq;

    fn path(place: Place, lofted: f64, share: f64) -> Path {
        Path { place, distance: 0.0, lofted, share, air: 0.0 }
    }

    fn burn(t: Option<f64>, omega: f64) -> Burn {
        Burn { t, omega, t_end: 60.0 }
    }

    #[test]
    fn the_stitch_line_jumps_and_the_loft_follows() {
        let paths = [
            path(Place::StitchLine, 0.0, 0.1),
            path(Place::Edge, 0.0, 0.0),
            path(Place::Between, 0.5, 0.9),
            path(Place::Centre, 1.0, 0.0),
        ];
        let burns = [Some(4.0), Some(5.0), Some(7.0), Some(8.0)].map(|t| burn(t, 9.0));
        let area = BurntArea::new(&paths, &burns);
        for (t, expected) in [(3.9, 0.0), (4.0, 0.1), (6.0, 0.325), (7.0, 0.55), (8.0, 1.0)] {
            assert_relative_eq!(area.by(t), expected, max_relative = 1e-12);
        }
        assert_relative_eq!(area.time_of(0.55).unwrap(), 7.0, max_relative = 1e-12);
        assert_eq!(area.time_of(0.05), Some(4.0));
        assert_eq!(area.curve()[..3], [(0.0, 0.0), (4.0, 0.0), (4.0, 0.1)]);
    }

    #[test]
    fn the_area_ends_where_the_burn_integral_is_one() {
        let paths = [path(Place::Edge, 0.0, 0.0), path(Place::Centre, 1.0, 0.0)];
        // ln Ω falls from +1 to −3: a quarter of the way lies above 0
        let burns = [burn(Some(10.0), 1f64.exp()), burn(None, (-3f64).exp())];
        let area = BurntArea::new(&paths, &burns);
        assert_relative_eq!(area.by(60.0), 0.25, max_relative = 1e-12);
        assert_eq!(area.time_of(0.5), None);
        let nothing = BurntArea::new(&paths, &[burn(None, 0.0), burn(None, 0.0)]);
        assert_eq!((nothing.by(1e9), nothing.time_of(0.1)), (0.0, None));
    }
}
