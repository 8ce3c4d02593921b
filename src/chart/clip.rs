//! Lines cut at the range, with the crossing interpolated; nothing is ever clamped.

/// Paper or data coordinates of a window, `x0 < x1`, `y0 < y1`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Window {
    pub x0: f64,
    pub y0: f64,
    pub x1: f64,
    pub y1: f64,
}

impl Window {
    /// Whether a point lies inside or on the edge.
    pub fn holds(&self, (x, y): (f64, f64)) -> bool {
        self.x0 <= x && x <= self.x1 && self.y0 <= y && y <= self.y1
    }
}

/// The part of the segment `a`–`b` inside the window, as shares of its length.
///
/// Source: Liang, Barsky, ACM Transactions on Graphics 3 (1984), a new concept and method for line clipping (from memory).
fn inside(a: (f64, f64), b: (f64, f64), window: &Window) -> Option<(f64, f64)> {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let mut enter: f64 = 0.0;
    let mut leave: f64 = 1.0;
    let edges = [
        (-dx, a.0 - window.x0),
        (dx, window.x1 - a.0),
        (-dy, a.1 - window.y0),
        (dy, window.y1 - a.1),
    ];
    for (slope, room) in edges {
        if slope == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if slope < 0.0 {
            enter = enter.max(room / slope);
        } else {
            leave = leave.min(room / slope);
        }
    }
    (enter <= leave).then_some((enter, leave))
}

/// The pieces of a polyline inside the window.
pub(crate) fn clip_line(points: &[(f64, f64)], window: &Window) -> Vec<Vec<(f64, f64)>> {
    let mut pieces: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut open = false;
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let Some((enter, leave)) = inside(a, b, window) else {
            open = false;
            continue;
        };
        let at = |share: f64| match share {
            0.0 => a,
            1.0 => b,
            // rounding must not carry the crossing over the edge again
            _ => (
                (a.0 + share * (b.0 - a.0)).clamp(window.x0, window.x1),
                (a.1 + share * (b.1 - a.1)).clamp(window.y0, window.y1),
            ),
        };
        if !open || enter > 0.0 {
            pieces.push(vec![at(enter)]);
        }
        if let Some(piece) = pieces.last_mut() {
            piece.push(at(leave));
        }
        open = leave >= 1.0;
    }
    pieces
}

/// A polygon cut at one edge after the other.
///
/// Source: Sutherland, Hodgman, Communications of the ACM 17 (1974), reentrant polygon clipping (from memory).
pub(crate) fn clip_polygon(points: &[(f64, f64)], window: &Window) -> Vec<(f64, f64)> {
    let cut = |ring: Vec<(f64, f64)>, room: &dyn Fn((f64, f64)) -> f64| {
        let mut kept = Vec::with_capacity(ring.len() + 4);
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            let (ra, rb) = (room(a), room(b));
            if ra >= 0.0 {
                kept.push(a);
            }
            if (ra > 0.0 && rb < 0.0) || (ra < 0.0 && rb > 0.0) {
                let share = ra / (ra - rb);
                kept.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            }
        }
        kept
    };
    let ring = cut(points.to_vec(), &|p| p.0 - window.x0);
    let ring = cut(ring, &|p| window.x1 - p.0);
    let ring = cut(ring, &|p| p.1 - window.y0);
    cut(ring, &|p| window.y1 - p.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const UNIT: Window = Window { x0: 0.0, y0: 0.0, x1: 1.0, y1: 1.0 };

    #[test]
    fn the_crossing_is_interpolated() {
        let pieces = clip_line(&[(-1.0, 0.0), (1.0, 1.0), (3.0, 0.0)], &UNIT);
        assert_eq!(pieces, [vec![(0.0, 0.5), (1.0, 1.0), (1.0, 1.0)]]);
    }

    #[test]
    fn a_line_that_leaves_and_returns_is_two_pieces() {
        let pieces = clip_line(&[(0.0, 0.5), (0.25, 1.5), (0.5, 0.5)], &UNIT);
        assert_eq!(pieces, [vec![(0.0, 0.5), (0.125, 1.0)], vec![(0.375, 1.0), (0.5, 0.5)]]);
    }

    proptest! {
        #[test]
        fn nothing_lies_outside(points in prop::collection::vec((-3.0..3.0f64, -3.0..3.0f64), 2..30)) {
            for piece in clip_line(&points, &UNIT) {
                for p in piece {
                    prop_assert!(UNIT.holds(p), "{p:?}");
                }
            }
        }
    }
}
