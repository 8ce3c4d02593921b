//! Where labels go so that they cover neither each other nor the data.

use crate::chart::canvas::Rect;

/// Centres of labels in a column moved as little as possible until none meets its neighbour.
///
/// Order is kept and all stay inside `low`..`high`; if the room is too small the heights shrink evenly.
/// Least squares under the order: the pool-adjacent-violators method of isotonic regression.
///
/// Source: Barlow, Bartholomew, Bremner, Brunk, Statistical Inference under Order Restrictions, 1972 (from memory).
pub(crate) fn spread(wanted: &[f64], heights: &[f64], low: f64, high: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|a, b| wanted[*a].total_cmp(&wanted[*b]).then(a.cmp(b)));
    let total: f64 = heights.iter().sum();
    let shrink = if total > high - low { (high - low) / total } else { 1.0 };
    // distance of each centre from the first label's upper edge when all touch
    let mut offsets = Vec::with_capacity(order.len());
    let mut edge = 0.0;
    for i in &order {
        offsets.push(edge + heights[*i] * shrink / 2.0);
        edge += heights[*i] * shrink;
    }
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (i, offset) in order.iter().zip(&offsets) {
        blocks.push((wanted[*i] - offset, 1));
        while let [.., (a, na), (b, nb)] = blocks[..] {
            if a <= b {
                break;
            }
            let mean = (a * na as f64 + b * nb as f64) / (na + nb) as f64;
            blocks.truncate(blocks.len() - 2);
            blocks.push((mean, na + nb));
        }
    }
    let mut placed = vec![0.0; wanted.len()];
    let starts = blocks.iter().flat_map(|(start, n)| std::iter::repeat_n(*start, *n));
    for ((i, offset), start) in order.iter().zip(&offsets).zip(starts) {
        placed[*i] = start.min(high - edge).max(low) + offset;
    }
    placed
}

/// What a label near a point should keep clear of.
#[derive(Debug, Default)]
pub(crate) struct Obstacles {
    /// Boxes already taken by labels: never covered.
    pub taken: Vec<Rect>,
    /// Points of lines and markers: covered as little as possible.
    pub points: Vec<(f64, f64)>,
    /// Points of guides that may be covered where nothing better is near.
    pub guides: Vec<(f64, f64)>,
}

/// What it costs to lie on a line or a marker at all, beside which a leader of any length is cheap.
const OVER_DATA: f64 = 120.0;
/// The same for a guide: rather a leader than a line through the words.
const OVER_GUIDE: f64 = 40.0;

impl Obstacles {
    /// Adds points along a polyline close enough that no label slips between.
    pub fn add_line(&mut self, line: &[(f64, f64)]) {
        self.points.extend(along(line));
    }

    /// The same for a guide.
    pub fn add_guide(&mut self, line: &[(f64, f64)]) {
        self.guides.extend(along(line));
    }

    /// The best free box of `size` near `at` inside `frame`, which is then taken.
    ///
    /// None if every place near the point meets another label.
    pub fn place(&mut self, at: (f64, f64), size: (f64, f64), frame: Rect) -> Option<Rect> {
        const TURNS: [(f64, f64); 12] = [
            (1.0, -0.6),
            (1.0, 0.6),
            (-1.0, -0.6),
            (-1.0, 0.6),
            (0.0, -1.0),
            (0.0, 1.0),
            (1.0, 0.0),
            (-1.0, 0.0),
            (0.5, -1.0),
            (-0.5, -1.0),
            (0.5, 1.0),
            (-0.5, 1.0),
        ];
        let mut best: Option<(f64, Rect)> = None;
        for (ring, reach) in
            [6.0, 14.0, 26.0, 42.0, 62.0, 86.0, 115.0, 150.0, 190.0].into_iter().enumerate()
        {
            for (turn, (dx, dy)) in TURNS.into_iter().enumerate() {
                let x = at.0 + dx * (reach + size.0 / 2.0) - size.0 / 2.0;
                let y = at.1 + dy * (reach + size.1 / 2.0) - size.1 / 2.0;
                let rect = Rect { x, y, w: size.0, h: size.1 };
                if !frame.contains(&rect) || self.taken.iter().any(|t| t.meets(&rect)) {
                    continue;
                }
                let cost = self.cost(at, &rect) + ring as f64 * 6.0 + turn as f64 * 0.1;
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, rect));
                }
            }
        }
        let (_, rect) = best?;
        self.taken.push(rect);
        // what comes after keeps clear of the leader
        self.points.extend(along(&[at, nearest(&rect, at)]));
        Some(rect)
    }

    /// What a box and its leader from `at` cover.
    fn cost(&self, at: (f64, f64), rect: &Rect) -> f64 {
        let covered =
            |points: &[(f64, f64)]| points.iter().filter(|p| holds(rect, **p)).count() as f64;
        let leader = along(&[at, nearest(rect, at)]);
        let near = |p: &(f64, f64), q: &(f64, f64)| (p.0 - q.0).hypot(p.1 - q.1) < 3.0;
        let far_from_start = |q: &&(f64, f64)| (q.0 - at.0).hypot(q.1 - at.1) > 12.0;
        let crossed = leader
            .iter()
            .filter(far_from_start)
            .filter(|q| self.points.iter().any(|p| near(p, q)))
            .count() as f64;
        let through =
            leader.iter().any(|q| self.taken.iter().any(|t| far_from_start(&q) && holds(t, *q)));
        // words on a line cannot be read: rather a longer leader
        let (over_data, over_guides) = (covered(&self.points), covered(&self.guides));
        3.0 * over_data
            + if over_data > 0.0 { OVER_DATA } else { 0.0 }
            + over_guides
            + if over_guides > 0.0 { OVER_GUIDE } else { 0.0 }
            + 5.0 * crossed
            + if through { 60.0 } else { 0.0 }
    }
}

/// The point of a box nearest to a place.
pub(crate) fn nearest(rect: &Rect, at: (f64, f64)) -> (f64, f64) {
    (at.0.clamp(rect.x, rect.x + rect.w), at.1.clamp(rect.y, rect.y + rect.h))
}

/// Where a leader from a marker's middle towards `to` leaves the marker.
pub(crate) fn rim(at: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let length = (to.0 - at.0).hypot(to.1 - at.1).max(6.0);
    (at.0 + 6.0 * (to.0 - at.0) / length, at.1 + 6.0 * (to.1 - at.1) / length)
}

/// Points along a polyline, at most 4 px apart.
fn along(line: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut points = Vec::new();
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let n = ((b.0 - a.0).hypot(b.1 - a.1) / 4.0).ceil().clamp(1.0, 400.0) as usize;
        for i in 0..=n {
            let share = i as f64 / n as f64;
            points.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
        }
    }
    points
}

fn holds(rect: &Rect, (x, y): (f64, f64)) -> bool {
    rect.x - 2.0 <= x
        && x <= rect.x + rect.w + 2.0
        && rect.y - 2.0 <= y
        && y <= rect.y + rect.h + 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn spread_keeps_gap_order_and_room(wanted in prop::collection::vec(0.0..200.0f64, 1..12)) {
            let heights: Vec<f64> = (0..wanted.len()).map(|i| 8.0 + 4.0 * (i % 3) as f64).collect();
            let placed = spread(&wanted, &heights, 0.0, 200.0);
            for i in 0..wanted.len() {
                let half = heights[i] / 2.0;
                prop_assert!(placed[i] >= half - 1e-6 && placed[i] <= 200.0 - half + 1e-6);
                for j in 0..wanted.len() {
                    if wanted[i] < wanted[j] {
                        let apart = (heights[i] + heights[j]) / 2.0;
                        prop_assert!(placed[j] - placed[i] >= apart - 1e-6, "{wanted:?} {placed:?}");
                    }
                }
            }
        }
    }
}
